// The combined equilibrium in double: for lanes one by one, and with every ball for whoever asks.
#include "detail/equilibrium.hpp"
#include "all_models.hpp"
#include <fitwright/bearings/ball_by_ball.hpp>
#include <fitwright/fields/error.hpp>

namespace fitwright::bearings {

bool equilibrium_of_one(const double* inputs, double* outputs, const void* context) {
    constexpr int count = sizeof(EquilibriumOutputs<double>) / sizeof(double);
    number::Faults<double> faults;
    outputs[count] = 0.0;
    try {
        Equilibrium::run(inputs, outputs, *static_cast<const fields::Context*>(context), faults);
    } catch (const Fault& f) {
        for (int i = 0; i < count; ++i)
            outputs[i] = 0.0;
        outputs[count] = f.rule + 4096.0 * f.place;
        return false;
    }
    return true;
}

namespace {

BallByBall told_of(const EquilibriumOutputs<double>& outputs, const BallTable& table) {
    BallByBall all;
    all.outputs = outputs;
    const auto column = [&](BallColumn c) {
        return std::vector<double>(table.column[c], table.column[c] + table.balls);
    };
    all.inner_load = column(inner_load_column);
    all.outer_load = column(outer_load_column);
    all.inner_angle = column(inner_angle_column);
    all.outer_angle = column(outer_angle_column);
    all.inner_peak = column(inner_peak_column);
    all.outer_peak = column(outer_peak_column);
    all.centrifugal_force = column(centrifugal_column);
    all.gyroscopic_moment = column(gyroscopic_column);
    for (std::size_t i = 0; i < all.stiffness.size(); ++i)
        all.stiffness[i] = table.stiffness[i];
    all.iterations = table.iterations;
    return all;
}

} // namespace

BallByBall equilibrium(const EquilibriumInputs<double>& inputs, const materials::Material& rings,
                       const materials::Material& balls) {
    // By the model first: it turns a broken rule into a sentence.
    auto outputs =
        fields::evaluate<EquilibriumOutputs<double>>(equilibrium_model(), inputs, {&rings, &balls});
    const materials::Material* both[] = {&rings, &balls};
    BallTable table;
    number::Faults<double> faults;
    equilibrium_on(inputs, outputs, {both, nullptr, nullptr}, &table, faults);
    return told_of(outputs, table);
}

BallByBall ball_by_ball(const LoadedBearing<double>& loaded, const materials::Material& balls) {
    BallTable table;
    number::Faults<double> faults;
    const auto outputs = loaded_state(loaded, balls, &table, faults);
    return told_of(outputs, table);
}

} // namespace fitwright::bearings
