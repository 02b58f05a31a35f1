#include "bindings.hpp"
#include <fitwright/heat/seating.hpp>
#include <fitwright/heat/slip_on.hpp>

namespace {

using namespace fitwright;

py::dict slip_on_curve(const std::vector<double>& numbers, const materials::Entry& shaft,
                       const materials::Entry& ring) {
    heat::SlipOnInputs<double> in;
    if (numbers.size() * sizeof(double) != sizeof in)
        throw py::value_error("not the inputs of heat.slip_on");
    std::memcpy(&in, numbers.data(), sizeof in);
    heat::Cooling c;
    {
        const py::gil_scoped_release unlocked;
        c = heat::slip_on_curve(in, shaft.numbers, ring.numbers);
    }
    return py::dict(py::arg("time") = column(c.time), py::arg("bore") = column(c.bore),
                    py::arg("seat") = column(c.seat), py::arg("ring_mean") = column(c.ring_mean),
                    py::arg("shaft_mean") = column(c.shaft_mean),
                    py::arg("ring_bore") = column(c.ring_bore),
                    py::arg("ring_outside") = column(c.ring_outside),
                    py::arg("shaft_surface") = column(c.shaft_surface));
}

std::vector<double>
seating_together(const std::vector<std::tuple<int, double, double, double>>& slices,
                 double press_force) {
    std::vector<heat::GripSlice> all;
    for (const auto& [ring, length, grip, parting] : slices)
        all.push_back({ring, length, grip, parting});
    return heat::seating_together(all, press_force);
}

} // namespace

void bind_heat(py::module_& m) {
    m.def("slip_on_curve", &slip_on_curve, py::arg("inputs"), py::arg("shaft"), py::arg("ring"));
    m.def("seating_together", &seating_together, py::arg("slices"), py::arg("press_force"));
}
