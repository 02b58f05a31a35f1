// The contacts: Hertz's point contact, and a mounted bearing with both contacts of each ball.
#include "bench.hpp"
#include "packs.hpp"
#include <fitwright/bearings/equilibrium.hpp>
#include <fitwright/bearings/hertz.hpp>
#include <fitwright/bearings/mounted.hpp>
#include <models.hpp>

namespace fitwright::bench {

namespace {

void bench_model(const fields::Model& model, const std::vector<std::vector<double>>& samples,
                 const fields::Context& context) {
    const std::string name = std::string(model.text.room) + "." + model.text.name;
    const int outputs = static_cast<int>(fields::leaves_of(*model.outputs).size());
    Packs packs(model.formulas, samples, outputs);
    packs.run(model.formulas, context, model.text.name);
    std::vector<double> alone(static_cast<std::size_t>(outputs));
    for (int w = 0; w < packs.width; ++w) {
        fields::evaluate(model, samples[static_cast<std::size_t>(packs.last_pack() + w)].data(),
                         alone.data(), context);
        for (int j = 0; j < outputs; ++j)
            check(packs.output(j, w) == alone[static_cast<std::size_t>(j)],
                  name + " on lanes and in doubles differ");
    }
    row(name + ", all " + std::to_string(outputs) + " outputs on lanes",
        packs.ns(model.formulas, context, model.text.name, 100), "ns");
    number::Faults<double> faults;
    row("    the same in doubles",
        best_ns(20, static_cast<double>(samples.size()),
                [&] {
                    for (const auto& s : samples)
                        model.formulas.scalar(s.data(), alone.data(), context, faults);
                }),
        "ns");
}

template <class Inputs>
std::vector<double> flat(const Inputs& in) {
    const auto* from = reinterpret_cast<const double*>(&in);
    return {from, from + sizeof in / sizeof(double)};
}

} // namespace

void bench_contacts(int) {
    const materials::Material& steel = materials::find("52100").numbers;
    const materials::Material* both[] = {&steel, &steel};
    const fields::Context context{both, nullptr, nullptr};
    // The bearing of the demo job, its clearance and thrust over their ranges.
    constexpr int count = 256;
    std::vector<std::vector<double>> contacts;
    std::vector<std::vector<double>> mountings;
    std::vector<std::vector<double>> whole; // the same running at speed, inner ring in one piece
    std::vector<std::vector<double>> split;
    std::vector<std::vector<double>> rings; // sixteen balls, thrust, radial load and moment
    for (int k = 0; k < count; ++k) {
        const double share = (k + 0.5) / count;
        auto contact = fields::standard_inputs<bearings::HertzInputs>();
        contact.first.curvature_x = contact.first.curvature_y = 2.0 / 17.462e-3;
        contact.second.curvature_x = -1.0 / (17.462e-3 * (0.51 + 0.02 * share));
        contact.second.curvature_y = 2.0 / 98e-3;
        contact.load = 100.0 + 2000.0 * share;
        contacts.push_back(flat(contact));
        auto mounted = fields::standard_inputs<bearings::MountedInputs>();
        mounted.bearing.balls = 15.0;
        mounted.bearing.ball_diameter = 17.462e-3;
        mounted.bearing.pitch_diameter = 115.5e-3;
        mounted.bearing.inner_curvature = 0.515;
        mounted.bearing.outer_curvature = 0.52;
        mounted.bearing.clearance = 140e-6 + 20e-6 * share;
        mounted.bearing.shim = 160e-6;
        mounted.inner_growth = 40e-6;
        mounted.thrust = 4e3 + 8e3 * share;
        mountings.push_back(flat(mounted));
        auto running = fields::standard_inputs<bearings::ThrustInputs>();
        running.bearing = mounted.bearing;
        running.inner_growth = mounted.inner_growth;
        running.thrust = mounted.thrust;
        running.speed = 1150.0;
        split.push_back(flat(running));
        running.bearing.shim = 0.0;
        whole.push_back(flat(running));
        auto ring = fields::standard_inputs<bearings::EquilibriumInputs>();
        ring.bearing = running.bearing;
        ring.bearing.balls = 16.0;
        ring.inner_growth = running.inner_growth;
        ring.thrust = running.thrust;
        ring.speed = running.speed;
        ring.radial_load = 0.4 * running.thrust;
        ring.moment = 0.005 * running.thrust;
        rings.push_back(flat(ring));
    }
    bench_model(bearings::hertz_model(), contacts, context);
    bench_model(bearings::mounted_model(), mountings, context);
    bench_model(bearings::thrust_equilibrium_model(), whole, context);
    std::printf("  the same with a split inner ring and its band of thrusts:\n");
    bench_model(bearings::thrust_equilibrium_model(), split, context);
    bench_model(bearings::equilibrium_model(), rings, context);
}

} // namespace fitwright::bench
