#include "bindings.hpp"
#include <algorithm>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>

namespace {

using namespace fitwright;

py::dict unit_dict(const fields::ShopUnit& u) {
    return py::dict(py::arg("label") = u.label, py::arg("factor") = u.factor,
                    py::arg("offset") = u.offset, py::arg("decimals") = u.decimals);
}

py::list quantity_rows() {
    py::list rows;
    for (const fields::QuantityRow& q : fields::quantities)
        rows.append(py::dict(py::arg("name") = q.name, py::arg("si") = q.si,
                             py::arg("metric") = unit_dict(q.metric),
                             py::arg("inch") = unit_dict(q.inch)));
    return rows;
}

const char* kind_name(fields::Kind kind) {
    constexpr const char* names[] = {"number", "low_end", "high_end", "part", "choice"};
    return names[static_cast<int>(kind)];
}

} // namespace

namespace {

// Parts layer1, layer2, ... of one type are a list to Python: one row of kind "parts", named
// "layers". The choice of that name, how many are there, is part of the list.
struct PartList {
    std::string member; // "layer"
    int count = 0;
};
PartList list_at(const fields::Declaration& d, std::size_t first) {
    const auto named = [&](std::size_t i, const std::string& name) {
        return i < d.fields.size() && d.fields[i].kind == fields::Kind::part &&
               d.fields[i].part == d.fields[first].part && name == d.fields[i].name;
    };
    PartList list{d.fields[first].name, 0};
    if (d.fields[first].kind != fields::Kind::part || list.member.back() != '1')
        return {};
    list.member.pop_back();
    while (named(first + static_cast<std::size_t>(list.count),
                 list.member + std::to_string(list.count + 1)))
        ++list.count;
    return list.count > 1 ? list : PartList{};
}

} // namespace

py::dict declaration_dict(const fields::Declaration& d) {
    py::list list;
    std::vector<std::string> lists;
    for (std::size_t i = 0; i < d.fields.size(); ++i) {
        const fields::Field& f = d.fields[i];
        if (const PartList parts = list_at(d, i); parts.count > 0) {
            lists.push_back(parts.member + "s");
            list.append(py::dict(py::arg("kind") = "parts", py::arg("name") = lists.back(),
                                 py::arg("member") = parts.member, py::arg("count") = parts.count,
                                 py::arg("meaning") = f.part->meaning,
                                 py::arg("part") = declaration_dict(*f.part),
                                 py::arg("words") = py::none()));
            i += static_cast<std::size_t>(parts.count) - 1;
            continue;
        }
        if (f.kind == fields::Kind::choice &&
            std::find(lists.begin(), lists.end(), f.name) != lists.end()) {
            for (const py::handle row : list)
                if (py::str(row["name"]).cast<std::string>() == f.name)
                    row["meaning"] = py::str(f.meaning);
            continue;
        }
        py::dict row(py::arg("kind") = kind_name(f.kind), py::arg("name") = f.name,
                     py::arg("quantity") = fields::row_of(f.quantity).name,
                     py::arg("low") = f.range.low, py::arg("high") = f.range.high,
                     py::arg("low_excluded") = f.range.low_excluded,
                     py::arg("standard") = f.standard, py::arg("meaning") = f.meaning);
        row["part"] = f.part == nullptr ? py::object(py::none()) : declaration_dict(*f.part);
        row["words"] = f.words == nullptr ? py::object(py::none()) : py::str(f.words);
        list.append(row);
    }
    return py::dict(py::arg("name") = d.name, py::arg("meaning") = d.meaning,
                    py::arg("fields") = list, py::arg("has_material") = d.has_material);
}

namespace {

py::list model_rows() {
    py::list rows;
    for (const fields::Model* m : fields::all_models())
        rows.append(
            py::dict(py::arg("room") = m->text.room, py::arg("name") = m->text.name,
                     py::arg("answers") = m->text.answers, py::arg("equation") = m->text.equation,
                     py::arg("validity") = m->text.validity, py::arg("source") = m->text.source,
                     py::arg("example") = m->text.example, py::arg("cautions") = m->text.cautions,
                     py::arg("inputs") = declaration_dict(*m->inputs),
                     py::arg("outputs") = declaration_dict(*m->outputs),
                     py::arg("materials") = fields::materials_of(*m->inputs)));
    return rows;
}

struct Structure {
    std::vector<const materials::Material*> materials;
    std::vector<int> choices;
    fields::Context context() const { return {materials.data(), choices.data(), nullptr}; }
};

Structure structure_of(const std::vector<const materials::Entry*>& entries,
                       std::vector<int> choices) {
    Structure s{{}, std::move(choices)};
    for (const materials::Entry* e : entries)
        s.materials.push_back(&e->numbers);
    return s;
}

std::vector<double> evaluate_once(const std::string& name, const std::vector<double>& inputs,
                                  const std::vector<const materials::Entry*>& materials,
                                  const std::vector<int>& choices) {
    const fields::Model& model = fields::model_named(name);
    const Structure s = structure_of(materials, choices);
    std::vector<double> outputs(fields::leaves_of(*model.outputs).size());
    fields::evaluate(model, inputs.data(), outputs.data(), s.context());
    return outputs;
}

py::list evaluate_batch(const std::string& name, const std::vector<Column>& columns,
                        const std::vector<const materials::Entry*>& materials,
                        const std::vector<int>& choices, std::int64_t count, int threads,
                        const std::vector<int>& wanted) {
    const fields::Model& model = fields::model_named(name);
    const Structure s = structure_of(materials, choices);
    std::vector<const double*> pointers;
    std::vector<std::int64_t> strides;
    for (const Column& c : columns) {
        pointers.push_back(c.data());
        strides.push_back(c.size() == count && count != 1 ? 1 : 0);
    }
    py::list results;
    std::vector<double*> to;
    to.resize(fields::leaves_of(*model.outputs).size(), nullptr);
    for (const int j : wanted) {
        py::array_t<double> column(count);
        to.at(static_cast<std::size_t>(j)) = column.mutable_data();
        results.append(column);
    }
    const py::gil_scoped_release unlocked;
    fields::evaluate(model, {pointers.data(), strides.data(), to.data(), count}, s.context(),
                     threads, keyboard());
    return results;
}

py::tuple jacobian(const std::string& name, const std::vector<double>& inputs,
                   const std::vector<const materials::Entry*>& materials,
                   const std::vector<int>& choices) {
    const fields::Model& model = fields::model_named(name);
    const Structure s = structure_of(materials, choices);
    const std::size_t m = fields::leaves_of(*model.outputs).size();
    std::vector<double> outputs(m);
    py::array_t<double> derivatives({m, inputs.size()});
    fields::jacobian(model, inputs.data(), outputs.data(), derivatives.mutable_data(), s.context());
    return py::make_tuple(outputs, derivatives);
}

} // namespace

void bind_fields(py::module_& m) {
    m.def("quantities", &quantity_rows);
    m.def("models", &model_rows);
    m.def("evaluate", &evaluate_once, py::arg("model"), py::arg("inputs"), py::arg("materials"),
          py::arg("choices"));
    m.def("evaluate_batch", &evaluate_batch, py::arg("model"), py::arg("columns"),
          py::arg("materials"), py::arg("choices"), py::arg("count"), py::arg("threads"),
          py::arg("wanted"));
    m.def("jacobian", &jacobian, py::arg("model"), py::arg("inputs"), py::arg("materials"),
          py::arg("choices"));
}
