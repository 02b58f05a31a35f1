#include "bindings.hpp"
#include <cstring>
#include <fitwright/materials/material.hpp>

namespace {

using namespace fitwright::materials;
using Points = std::vector<std::pair<double, double>>;

Entry own_material(const std::string& name, const std::string& title, const Points& modulus,
                   const Points& expansion, const Points& yield, const Points& conductivity,
                   const Points& heat_capacity, double poisson, double density, double lowest,
                   double highest, double heating_limit, const std::vector<std::string>& sources) {
    const auto optional = [](const Points& points) {
        return points.empty() ? Table{} : table_of(points);
    };
    return {name,
            title,
            {table_of(modulus), table_of(expansion), table_of(yield), poisson, density, lowest,
             highest, heating_limit, optional(conductivity), optional(heat_capacity)},
            sources};
}

// All a material holds, as plain values that can be sent anywhere.
py::tuple material_state(const Entry& e) {
    return py::make_tuple(e.name, e.title,
                          py::bytes(reinterpret_cast<const char*>(&e.numbers), sizeof e.numbers),
                          e.sources);
}
Entry material_from(const py::tuple& t) {
    const std::string numbers = t.size() == 4 ? std::string(py::cast<py::bytes>(t[2])) : "";
    if (numbers.size() != sizeof(Material))
        throw std::invalid_argument("not a material of this version");
    Entry e{t[0].cast<std::string>(),
            t[1].cast<std::string>(),
            {},
            t[3].cast<std::vector<std::string>>()};
    std::memcpy(&e.numbers, numbers.data(), sizeof e.numbers);
    return e;
}

// A number [degC], or text and quantities with their unit, as everywhere.
double told_temperature(const py::object& temperature) {
    if (py::isinstance<py::float_>(temperature) || py::isinstance<py::int_>(temperature))
        return argument<double>("temperature", temperature, "a number [degC]");
    const py::module_ units = py::module_::import("fitwright.fields.units");
    return units.attr("one_number")("temperature", temperature, "temperature").cast<double>();
}

} // namespace

void bind_materials(py::module_& m) {
    py::class_<Entry>(
        m, "Material",
        "A metal: elastic, thermal and strength data against temperature, with sources.\n\n"
        "Made by fw.materials.material(name) or fw.materials.own(...); SI, degC inside.")
        .def(py::init([](const py::args& given, const py::kwargs& named) -> Entry {
            // Where one is meant by its name, it is that.
            if (given.size() == 1 && named.empty() && py::isinstance<py::str>(given[0]))
                return find(py::cast<std::string>(given[0]));
            if (given.size() == 1 && named.empty() && py::isinstance<Entry>(given[0]))
                return py::cast<const Entry&>(given[0]);
            throw fitwright::DomainError({fitwright::Problem{
                "Material", "takes the name of a metal of the library (fw.materials.library() "
                            "shows them); one of your own is made by fw.materials.own(name, "
                            "modulus=..., expansion=..., ...)"}});
        }))
        .def("__repr__",
             [](const Entry& e) { return "<Material " + e.name + ": " + e.title + ">"; })
        .def_readonly("name", &Entry::name)
        .def_readonly("title", &Entry::title)
        .def_readonly("sources", &Entry::sources)
        .def_property_readonly("poisson", [](const Entry& e) { return e.numbers.poisson; })
        .def_property_readonly("density", [](const Entry& e) { return e.numbers.density; })
        .def_property_readonly("lowest", [](const Entry& e) { return e.numbers.lowest; })
        .def_property_readonly("highest", [](const Entry& e) { return e.numbers.highest; })
        .def_property_readonly("heating_limit",
                               [](const Entry& e) { return e.numbers.heating_limit; })
        .def(
            "at",
            [](const Entry& e, const py::object& property, const py::object& temperature) {
                return value_of(e, argument<std::string>("property", property, "text"),
                                told_temperature(temperature));
            },
            py::arg("property"), py::arg("temperature"))
        .def(
            "knots",
            [](const Entry& e, const py::object& property) {
                const Table& t =
                    table_named(e, argument<std::string>("property", property, "text"));
                return std::vector<double>(t.knot, t.knot + t.count);
            },
            py::arg("property"))
        .def("state", &material_state)
        .def_static("from_state", &material_from, py::arg("state"))
        .def(py::pickle(&material_state, &material_from));
    m.def("require_heat_data", &require_heat_data, py::arg("material"));
    m.def("material_names", [] {
        std::vector<std::string> names;
        for (const Entry& e : library())
            names.push_back(e.name);
        return names;
    });
    m.def("find_material", &find, py::arg("name"), py::return_value_policy::reference);
    m.def("own_material", &own_material, py::arg("name"), py::arg("title"), py::arg("modulus"),
          py::arg("expansion"), py::arg("yield_points"), py::arg("conductivity"),
          py::arg("heat_capacity"), py::arg("poisson"), py::arg("density"), py::arg("lowest"),
          py::arg("highest"), py::arg("heating_limit"), py::arg("sources"));
}
