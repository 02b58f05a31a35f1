#include "bindings.hpp"
#include <fitwright/job/job.hpp>

py::dict declaration_dict(const fitwright::fields::Declaration& d);

namespace {

using namespace fitwright;
using namespace fitwright::job;

py::dict job_tables() {
    py::dict tables;
    for (const TableOfParts& t : tables_of_parts())
        tables[t.table] = declaration_dict(*t.declaration);
    return tables;
}

Plan make_plan(
    const materials::Entry& shaft, const materials::Entry& nut, bool left_hand,
    const materials::Entry* lock, const materials::Entry* balls, const materials::Entry* outer_ring,
    const std::vector<std::string>& inner_rings, const std::vector<std::string>& seats,
    const std::vector<std::tuple<std::string, std::string, const materials::Entry*, bool>>& rings,
    const std::vector<std::string>& states) {
    Plan p;
    p.shaft = shaft;
    p.nut = nut;
    p.left_hand = left_hand;
    if (lock != nullptr)
        p.lock = *lock;
    if (balls != nullptr && outer_ring != nullptr)
        p.bearing = {*balls, *outer_ring, inner_rings};
    p.seats = seats;
    for (const auto& [name, seat, material, grips] : rings)
        p.rings.push_back({name, seat, *material, grips});
    p.states = states;
    return p;
}

py::list pairs(const std::vector<Problem>& problems) {
    py::list list;
    for (const Problem& p : problems)
        list.append(py::make_tuple(p.path, p.text));
    return list;
}

py::list input_rows(const Job& j) {
    py::list rows;
    for (const InputPath& in : j.inputs())
        rows.append(py::make_tuple(in.path, fields::row_of(in.field->quantity).name,
                                   in.field->meaning, in.field->standard));
    return rows;
}
py::list output_rows(const Job& j) {
    py::list rows;
    for (const OutputPath& out : j.outputs())
        rows.append(py::make_tuple(out.state, out.path, fields::row_of(out.field->quantity).name,
                                   out.field->meaning));
    return rows;
}
py::list limit_rows(const Job& j) {
    py::list rows;
    for (const Limit& l : j.limits())
        rows.append(py::make_tuple(l.output, l.at_least, l.at_most));
    return rows;
}
py::list finding_rows(const Job& j, const std::vector<double>& outputs) {
    py::list rows;
    for (const Finding& f : j.findings(outputs))
        rows.append(py::make_tuple(f.output, f.value, f.limit, f.is_least, f.margin, f.reserve));
    return rows;
}

py::tuple job_jacobian(const Job& j) {
    Job::Jacobian result;
    {
        const py::gil_scoped_release unlocked;
        result = j.jacobian();
    }
    py::array_t<double> matrix({j.outputs().size(), j.inputs().size()});
    std::copy(result.derivatives.begin(), result.derivatives.end(), matrix.mutable_data());
    return py::make_tuple(result.outputs, matrix, result.one_sided);
}

py::array_t<bool> job_one_sided(const Job& j) {
    std::vector<char> flags;
    {
        const py::gil_scoped_release unlocked;
        flags = j.one_sided();
    }
    py::array_t<bool> matrix({j.outputs().size(), j.inputs().size()});
    std::copy(flags.begin(), flags.end(), matrix.mutable_data());
    return matrix;
}

py::list job_sweep(const Job& j, const std::vector<int>& leaves,
                   const std::vector<std::vector<double>>& columns, const std::vector<int>& outputs,
                   int threads) {
    std::vector<std::vector<double>> results;
    {
        const py::gil_scoped_release unlocked;
        results = j.sweep(leaves, columns, outputs, threads);
    }
    py::list list;
    for (const auto& c : results)
        list.append(py::array_t<double>(py::ssize_t(c.size()), c.data()));
    return list;
}

} // namespace

void bind_job(py::module_& m) {
    m.def("job_tables", &job_tables);
    py::class_<Plan>(m, "Plan").def(
        py::init(&make_plan), py::kw_only(), py::arg("shaft"), py::arg("nut"), py::arg("left_hand"),
        py::arg("lock").none(true), py::arg("balls").none(true), py::arg("outer_ring").none(true),
        py::arg("inner_rings"), py::arg("seats"), py::arg("rings"), py::arg("states"));
    py::class_<Job>(m, "Job")
        .def(py::init<const Plan&>(), py::arg("plan"))
        .def("copy", [](const Job& j) { return j; })
        .def("inputs", &input_rows)
        .def("outputs", &output_rows)
        .def("limits", &limit_rows)
        .def("leaf", &Job::leaf, py::arg("path"))
        .def("output", &Job::output, py::arg("state"), py::arg("path"))
        .def("values", &Job::values)
        .def("set", &Job::set, py::arg("leaf"), py::arg("value"))
        .def("set_limit", &Job::set_limit, py::arg("pattern"), py::arg("state"),
             py::arg("at_least"), py::arg("at_most"))
        .def("problems", [](const Job& j) { return pairs(j.problems()); })
        .def("evaluate", &Job::evaluate)
        .def("findings", &finding_rows, py::arg("outputs"))
        .def("jacobian", &job_jacobian)
        .def("one_sided", &job_one_sided)
        .def("sweep", &job_sweep, py::arg("leaves"), py::arg("columns"), py::arg("outputs"),
             py::arg("threads"))
        .def("solve", &Job::solve, py::arg("leaf"), py::arg("output"), py::arg("target"),
             py::arg("lower"), py::arg("upper"), py::call_guard<py::gil_scoped_release>());
}
