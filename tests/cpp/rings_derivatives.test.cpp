// Derivatives of the ring models against differences of fourth order.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/model.hpp>

using namespace fitwright;

namespace {

template <class Inputs>
void compare(const char* name, const Inputs& in, std::initializer_list<const char*> metals,
             std::vector<int> choices) {
    const fields::Model& model = fields::model_named(name);
    std::vector<const materials::Material*> materials;
    for (const char* metal : metals)
        materials.push_back(&cases::metal(metal));
    const fields::Context context{materials.data(), choices.data(), nullptr};
    const std::vector<double> x = cases::numbers(in);
    const auto inputs = fields::leaves_of(*model.inputs);
    const auto outputs = fields::leaves_of(*model.outputs);
    std::vector<double> y(outputs.size());
    std::vector<double> d(inputs.size() * outputs.size());
    fields::jacobian(model, x.data(), y.data(), d.data(), context);
    int compared = 0;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const fields::Range& range = inputs[i].field->range;
        const double h = 1e-5 * std::fabs(x[i]);
        if (h == 0.0 || !std::isfinite(x[i]) || x[i] - 2 * h <= range.low ||
            x[i] + 2 * h >= range.high)
            continue; // worked out, or at an end of its range
        // Seat and bore are nominal sizes here and told with the interference.
        if (inputs[i].path.ends_with("seat") || inputs[i].path == "ring.bore")
            continue;
        const auto moved = [&](double step) {
            auto there = x;
            there[i] += step;
            std::vector<double> answer(outputs.size());
            fields::evaluate(model, there.data(), answer.data(), context);
            return answer;
        };
        const auto low = moved(-h), high = moved(h);
        const auto low2 = moved(-2 * h), high2 = moved(2 * h);
        for (std::size_t j = 0; j < outputs.size(); ++j) {
            const double slope = (8 * (high[j] - low[j]) - (high2[j] - low2[j])) / (12 * h);
            const double noise = 2e-14 * (std::fabs(y[j]) + 100.0 * outputs[j].field->standard) / h;
            INFO(name << ": d " << outputs[j].path << " / d " << inputs[i].path);
            CHECK(d[j * inputs.size() + i] == Approx(slope).epsilon(1e-6).margin(noise));
            ++compared;
        }
    }
    CHECK(compared > 40);
}

} // namespace

TEST_CASE("derivatives of the ring models are those of their answers", "[derivatives]") {
    const std::initializer_list<const char*> eight{"4340", "52100", "4340", "52100",
                                                   "4340", "4340",  "4340", "4340"};
    compare("rings.nest", cases::nest(), eight, {0, 0, 0, 0, 0, 0, 0, 0, 3, 0});
    compare("rings.nest", cases::nest(), eight, {0, 0, 0, 1, 0, 0, 0, 0, 3, 1});
    compare("rings.stepped", cases::stepped(), {"4340", "52100"}, {1});
    compare("rings.hot_ring", cases::hot_ring(), {"52100"}, {0, 0});
    compare("rings.hot_ring", cases::hot_ring(), {"52100"}, {1, 1});
    compare("rings.overhang", cases::overhang(), {"4340", "52100"}, {});
    compare("rings.slip", cases::slip(), {"4340", "52100"}, {});
}
