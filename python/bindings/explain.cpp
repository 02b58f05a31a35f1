#include "bindings.hpp"
#include <algorithm>
#include <fitwright/explain/job.hpp>
#include <fitwright/explain/model.hpp>
#include <numeric>

namespace {

using namespace fitwright;

constexpr const char* kinds[] = {"input",    "formula",  "property", "root",
                                 "equation", "searched", "stepped"};

py::dict line_dict(const explain::Line& line) {
    using py::arg;
    return py::dict(arg("kind") = kinds[static_cast<int>(line.kind)], arg("name") = line.name,
                    arg("symbol") = explain::symbol(line.name), arg("meaning") = line.meaning,
                    arg("formula") = line.formula, arg("numbers") = line.numbers,
                    arg("latex") = line.latex, arg("latex_numbers") = line.latex_numbers,
                    arg("value") = line.value, arg("result") = line.result, arg("unit") = line.unit,
                    arg("latex_result") = line.latex_result, arg("because") = line.because,
                    arg("leaf") = line.leaf, arg("where") = line.where);
}

py::list line_list(const std::vector<explain::Line>& lines) {
    py::list all;
    for (const explain::Line& line : lines)
        all.append(line_dict(line));
    return all;
}

py::list explain_model(const std::string& name, const std::vector<double>& inputs,
                       const std::vector<const materials::Entry*>& materials,
                       const std::vector<int>& choices, int output) {
    const fields::Model& model = fields::model_named(name);
    std::vector<const materials::Material*> metals;
    std::vector<std::string> names;
    for (const materials::Entry* e : materials) {
        metals.push_back(&e->numbers);
        names.push_back(e->name);
    }
    const explain::Calculation all(model, inputs.data(), {metals.data(), choices.data(), nullptr},
                                   names);
    return line_list(all.lines(output));
}

// Inputs that an output of any level changes with where the job stands.
std::vector<int> hangs_on(const job::Job& j, int output) {
    std::vector<int> leaves;
    for (std::size_t i = 0; i < j.inputs().size(); ++i)
        if (j.values()[i] < 1e300) // told, or a standard value
            leaves.push_back(static_cast<int>(i));
    job::Job::Jacobian found;
    {
        const py::gil_scoped_release unlocked;
        found = j.slopes({output}, leaves, keyboard());
    }
    std::vector<int> some;
    for (std::size_t i = 0; i < leaves.size(); ++i)
        if (found.derivatives[i] != 0.0)
            some.push_back(leaves[i]);
    return some;
}

} // namespace

void bind_explain(py::module_& m) {
    m.def("explain", &explain_model, py::arg("model"), py::arg("inputs"), py::arg("materials"),
          py::arg("choices"), py::arg("output"));
    m.def("hangs_on", &hangs_on, py::arg("job"), py::arg("output"));
    using explain::JobCalculation;
    py::class_<JobCalculation>(m, "JobCalculation")
        .def(py::init<const job::Job&>(), py::arg("job"))
        .def(
            "lines",
            [](const JobCalculation& c, const std::vector<int>& outputs) {
                return line_list(c.lines(outputs));
            },
            py::arg("outputs"))
        .def("limits", [](const JobCalculation& c) {
            py::list rows;
            for (const JobCalculation::Limit& limit : c.limits())
                rows.append(py::make_tuple(limit.path, limit.sentence, limit.compared, limit.room));
            return rows;
        });
}
