// Heat through time: one ring on one shaft from the oven to room temperature, and its derivatives.
#include "bench.hpp"
#include <fitwright/fields/model.hpp>
#include <fitwright/heat/slip_on.hpp>
#include <fitwright/materials/material.hpp>
#include <models.hpp>

namespace fitwright::bench {

void bench_heat(int) {
    const materials::Material& shaft = materials::find("4340").numbers;
    const materials::Material& ring = materials::find("52100").numbers;
    auto in = fields::standard_inputs<heat::SlipOnInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080038;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.slip_clearance = 50e-6;
    const auto out = heat::slip_on(in, shaft, ring);
    auto finer = in;
    finer.cells = 200.0;
    finer.tolerance = 1e-6;
    const auto wanted = heat::slip_on(finer, shaft, ring);
    check(close(out.window, wanted.window, 0.01) && close(out.grab, wanted.grab, 0.01) &&
              close(out.time_to_room, wanted.time_to_room, 0.01),
          "heat.slip_on: times with 100 cells and with twice as many, small steps");
    check(out.energy_error < 1e-6, "heat.slip_on: energy");
    row("heat.slip_on, 100 cells, oven to room, window twice",
        best_ns(20, 1.0, [&] { heat::slip_on(in, shaft, ring); }) * 1e-6, "ms", 5.0);
    const fields::Model& model = heat::slip_on_model();
    const materials::Material* both[] = {&shaft, &ring};
    const fields::Context context{both, nullptr, nullptr};
    const std::size_t n = sizeof in / sizeof(double);
    std::vector<double> values(sizeof out / sizeof(double));
    std::vector<double> slopes(values.size() * n);
    const auto* numbers = reinterpret_cast<const double*>(&in);
    row("    with all derivatives",
        best_ns(3, 1.0,
                [&] { fields::jacobian(model, numbers, values.data(), slopes.data(), context); }) *
            1e-6,
        "ms");
    check(values[2] == out.window, "heat.slip_on: value beside its derivatives");
}

} // namespace fitwright::bench
