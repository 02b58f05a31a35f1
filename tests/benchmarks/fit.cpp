// The fit: the library's formulas beside a loop written by hand, and the whole model.
#include "bench.hpp"
#include "packs.hpp"
#include <algorithm>
#include <fitwright/materials/material.hpp>
#include <fitwright/number/philox.hpp>
#include <fitwright/rings/fit.hpp>
#include <models.hpp>

namespace fitwright::bench {

namespace {

// 4096 fits: 15 columns and two of answers stay in the second-level cache.
constexpr int count = 4096;

std::vector<double> scattered(const char* name, double low, double high) {
    std::vector<double> column(count);
    const number::PhiloxKey key{number::stream_key(name, std::string(name).size()), 1};
    for (std::uint64_t k = 0; k < count; ++k)
        column[k] =
            low + (high - low) * number::uniform_open(number::philox({{k, 0, 0, 0}}, key).word[0]);
    return column;
}

} // namespace

void bench_fit(int) {
    const materials::Material& shaft = materials::find("4340").numbers;
    const materials::Material& ring = materials::find("52100").numbers;
    check(shaft.modulus.count == shaft_modulus_hinges &&
              ring.modulus.count == ring_modulus_hinges &&
              shaft.expansion.count == shaft_expansion_hinges &&
              ring.expansion.count == ring_expansion_hinges,
          "the hand-written loop is for property tables of other lengths");

    const auto seat = scattered("seat", 79.99e-3, 80.01e-3);
    const auto shaft_bore = scattered("shaft_bore", 0.0, 40e-3);
    const auto outside = scattered("outside", 100e-3, 110e-3);
    const auto interference = scattered("interference", 20e-6, 60e-6);
    const auto seat_roughness = scattered("seat_roughness", 1e-6, 3e-6);
    const auto ring_roughness = scattered("ring_roughness", 1e-6, 3e-6);
    const auto smoothing = scattered("smoothing", 0.0, 1.0);
    const auto shaft_temperature = scattered("shaft_temperature", -20.0, 150.0);
    const auto ring_temperature = scattered("ring_temperature", -20.0, 150.0);
    const auto speed = scattered("speed", 0.0, 1300.0);
    const auto axial_force = scattered("axial_force", 0.0, 50e3);
    const auto factor = scattered("factor", 0.98, 1.02);
    std::vector<double> by_lanes(count);
    std::vector<double> by_loop(count);
    std::vector<double> broken(count);
    FitColumns columns{seat.data(),
                       shaft_bore.data(),
                       outside.data(),
                       interference.data(),
                       seat_roughness.data(),
                       ring_roughness.data(),
                       smoothing.data(),
                       shaft_temperature.data(),
                       ring_temperature.data(),
                       speed.data(),
                       axial_force.data(),
                       factor.data(),
                       factor.data(),
                       factor.data(),
                       factor.data(),
                       nullptr,
                       nullptr,
                       count};

    // The same fits for the whole model, and in doubles.
    std::vector<std::vector<double>> samples;
    for (std::size_t k = 0; k < count; ++k) {
        auto in = fields::standard_inputs<rings::FitInputs>();
        in.shaft.seat = seat[k];
        in.shaft.bore = shaft_bore[k];
        in.shaft.roughness = seat_roughness[k];
        in.shaft.modulus_factor = in.shaft.expansion_factor = factor[k];
        in.ring.bore = seat[k];
        in.ring.outside = outside[k];
        in.ring.length = 30e-3;
        in.ring.roughness = ring_roughness[k];
        in.ring.smoothing = smoothing[k];
        in.ring.modulus_factor = in.ring.expansion_factor = factor[k];
        in.interference = interference[k];
        in.speed = speed[k];
        in.shaft_temperature = shaft_temperature[k];
        in.ring_temperature = ring_temperature[k];
        in.axial_force = axial_force[k];
        const auto* from = reinterpret_cast<const double*>(&in);
        samples.emplace_back(from, from + sizeof in / sizeof(double));
    }

    const auto lanes = [&] {
        columns.pressure = by_lanes.data();
        at_active_level([&]<class Level>(Level) { fit_by_lanes<Level>(columns, shaft, ring); });
    };
    const auto loop = [&] {
        columns.pressure = by_loop.data();
        at_active_level([&]<class Level>(Level) { fit_by_loop<Level>(columns, shaft, ring); });
    };
    columns.broken = nullptr;
    loop();
    const double unchecked = best_ns(400, count, loop);
    // Both ask the same rules of their inputs.
    columns.broken = broken.data();
    lanes();
    const bool valid = std::all_of(broken.begin(), broken.end(), [](double c) { return c == 0.0; });
    loop();
    check(valid && std::all_of(broken.begin(), broken.end(), [](double c) { return c == 0.0; }),
          "fit: the inputs break a rule");
    int gripping = 0;
    for (std::size_t k = 0; k < count; ++k) {
        // Differences of large and nearly equal terms, so not relative to themselves.
        check(std::fabs(by_lanes[k] - by_loop[k]) <= 1e-4,
              "fit by hand and on lanes differ: " + std::to_string(by_loop[k]) + " and " +
                  std::to_string(by_lanes[k]) + " Pa");
        gripping += by_lanes[k] > 0.0 ? 1 : 0;
    }
    check(gripping > count / 2, "most of the fits must grip");
    const double own = best_ns(400, count, lanes);
    const double hand = best_ns(400, count, loop);
    row("fit, pressure by hand, rules not asked", unchecked, "ns");
    row("fit, pressure by hand", hand, "ns");
    row("fit, pressure by the library's formulas on lanes", own, "ns");
    row("    library over hand", own / hand, "times", 1.5);

    const fields::Model& model = rings::fit_model();
    const materials::Material* both[] = {&shaft, &ring};
    const fields::Context context{both, nullptr, nullptr};
    const int outputs = static_cast<int>(fields::leaves_of(*model.outputs).size());
    Packs packs(model.formulas, samples, outputs);
    packs.run(model.formulas, context, "fit");
    for (int w = 0; w < packs.width; ++w) {
        const auto k = static_cast<std::size_t>(packs.last_pack() + w);
        rings::FitOutputs<double> alone;
        fields::evaluate(model, samples[k].data(), reinterpret_cast<double*>(&alone), context);
        for (int j = 0; j < outputs; ++j)
            check(packs.output(j, w) == reinterpret_cast<const double*>(&alone)[j],
                  "fit on lanes and in doubles differ");
        check(alone.pressure == by_lanes[k], "fit alone and whole differ");
    }
    row("fit, all " + std::to_string(outputs) + " outputs of the model on lanes",
        packs.ns(model.formulas, context, "fit", 100), "ns");
    std::vector<double> out(static_cast<std::size_t>(outputs));
    number::Faults<double> faults;
    row("    the same in doubles",
        best_ns(20, count,
                [&] {
                    for (const auto& s : samples)
                        model.formulas.scalar(s.data(), out.data(), context, faults);
                }),
        "ns");
}

} // namespace fitwright::bench
