// What a job and a study's system of any kind answer alike, as methods of their classes.
#pragma once

#include "bindings.hpp"
#include <fitwright/job/job.hpp>

inline constexpr const char* level_names[] = {"quick", "history", "heating"};
inline fitwright::job::Level level_named(const std::string& level) {
    for (int i = 0; i < fitwright::job::level_count; ++i)
        if (level == level_names[i])
            return static_cast<fitwright::job::Level>(i);
    throw fitwright::DomainError({fitwright::Problem{
        "level", "\"" + level + "\" is not a level; there are quick, history, heating"}});
}

template <class Asked>
py::list input_rows(const Asked& a) {
    py::list rows;
    for (const fitwright::job::InputPath& in : a.inputs())
        rows.append(py::make_tuple(in.path, fitwright::fields::row_of(in.field->quantity).name,
                                   in.field->meaning, in.field->standard));
    return rows;
}
template <class Asked>
py::list output_rows(const Asked& a) {
    py::list rows;
    for (const fitwright::job::OutputPath& out : a.outputs())
        rows.append(py::make_tuple(out.state, out.path,
                                   fitwright::fields::row_of(out.field->quantity).name,
                                   out.field->meaning));
    return rows;
}
template <class Limits>
py::list limit_rows(const Limits& limits) {
    py::list rows;
    for (const fitwright::job::Limit& l : limits)
        rows.append(py::make_tuple(l.output, l.at_least, l.at_most));
    return rows;
}
template <class Asked>
py::list finding_rows(const Asked& a, const std::vector<double>& outputs) {
    py::list rows;
    for (const fitwright::job::Finding& f : a.findings(outputs))
        rows.append(
            py::make_tuple(f.output, f.value, f.limit, f.is_least, f.margin, f.reserve, f.scale));
    return rows;
}
inline py::list problem_rows(const std::vector<fitwright::Problem>& problems) {
    py::list list;
    for (const fitwright::Problem& p : problems)
        list.append(py::make_tuple(p.path, p.text));
    return list;
}

// (values of all outputs, derivatives: outputs x inputs, whether some hold on one side only)
inline py::tuple slope_rows(const fitwright::fields::Slopes& s, std::size_t rows,
                            std::size_t columns) {
    py::array_t<double> matrix({rows, columns});
    std::copy(s.derivatives.begin(), s.derivatives.end(), matrix.mutable_data());
    return py::make_tuple(s.outputs, matrix, s.one_sided);
}
template <class Asked>
py::tuple jacobian_of(const Asked& a) {
    fitwright::fields::Slopes result;
    {
        const py::gil_scoped_release unlocked;
        result = a.jacobian(keyboard());
    }
    return slope_rows(result, a.outputs().size(), a.inputs().size());
}
template <class Asked>
py::tuple slopes_by(const Asked& a, const std::vector<int>& outputs,
                    const std::vector<int>& leaves) {
    fitwright::fields::Slopes result;
    {
        const py::gil_scoped_release unlocked;
        result = a.slopes(outputs, leaves, keyboard());
    }
    return slope_rows(result, outputs.size(), leaves.size());
}
template <class Asked>
py::array_t<bool> one_sided_of(const Asked& a) {
    std::vector<char> flags;
    {
        const py::gil_scoped_release unlocked;
        flags = a.one_sided(keyboard());
    }
    py::array_t<bool> matrix({a.outputs().size(), a.inputs().size()});
    std::copy(flags.begin(), flags.end(), matrix.mutable_data());
    return matrix;
}
template <class Asked>
py::list sweep_of(const Asked& a, const std::vector<int>& leaves,
                  const std::vector<std::vector<double>>& columns, const std::vector<int>& outputs,
                  int threads) {
    std::vector<std::vector<double>> results;
    {
        const py::gil_scoped_release unlocked;
        results = a.sweep(leaves, columns, outputs, threads, keyboard());
    }
    py::list list;
    for (const auto& c : results)
        list.append(py::array_t<double>(py::ssize_t(c.size()), c.data()));
    return list;
}

template <class Asked>
void bind_asked(py::class_<Asked>& c) {
    c.def("copy", [](const Asked& a) { return a; })
        .def("inputs", &input_rows<Asked>)
        .def("outputs", &output_rows<Asked>)
        .def("limits", [](const Asked& a) { return limit_rows(a.limits()); })
        .def("usual_limits", [](const Asked& a) { return limit_rows(a.usual_limits()); })
        .def("leaf", &Asked::leaf, py::arg("path"))
        .def("output", &Asked::output, py::arg("state"), py::arg("path"))
        .def("values", &Asked::values)
        .def(
            "value",
            [](const Asked& a, int leaf) { return a.values().at(static_cast<std::size_t>(leaf)); },
            py::arg("leaf"))
        .def(
            "set",
            [](Asked& a, int leaf, double value) {
                a.values().at(static_cast<std::size_t>(leaf)); // refuses what is no leaf
                a.set(leaf, value);
            },
            py::arg("leaf"), py::arg("value"))
        .def("set_limit", &Asked::set_limit, py::arg("pattern"), py::arg("state"),
             py::arg("at_least"), py::arg("at_most"))
        .def("problems", [](const Asked& a) { return problem_rows(a.problems()); })
        .def(
            "evaluate", [](const Asked& a) { return a.evaluate(keyboard()); },
            py::call_guard<py::gil_scoped_release>())
        .def("findings", &finding_rows<Asked>, py::arg("outputs"))
        .def("jacobian", &jacobian_of<Asked>)
        .def("slopes", &slopes_by<Asked>, py::arg("outputs"), py::arg("leaves"))
        .def("one_sided", &one_sided_of<Asked>)
        .def("sweep", &sweep_of<Asked>, py::arg("leaves"), py::arg("columns"), py::arg("outputs"),
             py::arg("threads"))
        .def(
            "solve",
            [](const Asked& a, int leaf, int output, double target, double lower, double upper) {
                return a.solve(leaf, output, target, lower, upper, keyboard());
            },
            py::arg("leaf"), py::arg("output"), py::arg("target"), py::arg("lower"),
            py::arg("upper"), py::call_guard<py::gil_scoped_release>());
}
