#include <fitwright/explain/model.hpp>

#include "explain/detail/formulas.hpp"
#include "explain/detail/record.hpp"
#include <fitwright/fields/error.hpp>

namespace fitwright::explain {

fields::Formula<Number> formula_of(const fields::Model& model) {
    const std::string name = std::string(model.text.room) + "." + model.text.name;
    for (const auto formulas : {ring_formulas(), heat_and_thread_formulas(), bearing_formulas(),
                                joint_and_tooling_formulas()})
        for (const NamedFormula& f : formulas)
            if (name == f.model)
                return f.formula;
    return nullptr;
}

bool has_formula(const fields::Model& model) { return formula_of(model) != nullptr; }

std::vector<Number> record_inputs(Recording& recording, const double* values, std::size_t count) {
    std::vector<Number> inputs;
    for (std::size_t i = 0; i < count; ++i)
        inputs.push_back(Number::at(
            values[i], recording.add(Operation::input, values[i], -1, -1, -1, double(i))));
    return inputs;
}

void record_outputs(Recording& recording, const std::vector<Number>& outputs,
                    std::vector<OutputName>& names) {
    const Recording::Open open(&recording);
    std::vector<char> taken(recording.nodes.size(), 0);
    for (std::size_t i = 0; i < names.size(); ++i) {
        int node = outputs[i].node();
        const Operation o = recording.at(node).operation;
        if (o == Operation::input || o == Operation::constant ||
            taken[static_cast<std::size_t>(node)])
            node = recording.add(Operation::same, outputs[i].told(), node);
        taken.resize(recording.nodes.size(), 0);
        taken[static_cast<std::size_t>(node)] = 1;
        names[i].node = node;
    }
}

Calculation::Calculation(const fields::Model& model, const double* inputs,
                         const fields::Context& context, const std::vector<std::string>& metals) {
    const std::vector<fields::Leaf> leaves = fields::leaves_of(*model.inputs);
    const std::vector<fields::Leaf> answers = fields::leaves_of(*model.outputs);
    std::vector<double> values(answers.size());
    fields::evaluate(model, inputs, values.data(), context);

    for (const fields::Leaf& leaf : leaves)
        words_.inputs.push_back({leaf.path, leaf.field->meaning, leaf.field->quantity});
    for (const fields::Leaf& leaf : answers)
        words_.outputs.push_back({leaf.path, leaf.field->meaning, leaf.field->quantity, -1});
    for (std::size_t i = 0; i < metals.size(); ++i)
        words_.metals.push_back({context.materials[i], metals[i]});
    words_.where = [places = model.places](const Node& n) {
        const auto place = static_cast<std::size_t>(n.place);
        return place < places.size() ? std::string(places[place]) : std::string();
    };

    const std::vector<Number> in = record_inputs(recording_, inputs, leaves.size());
    std::vector<Number> out(answers.size(), Number(0.0));
    if (const auto formula = formula_of(model)) {
        const Recording::Open open(&recording_);
        number::Faults<Number> faults;
        faults.place = 0;
        formula(in.data(), out.data(), context, faults);
    } else {
        for (const Number& x : in)
            if (x.told() < 1e300) // told, or a standard value
                recording_.lists.push_back(x.node());
        const int count = static_cast<int>(recording_.lists.size());
        for (std::size_t i = 0; i < out.size(); ++i)
            out[i] =
                Number::at(values[i], recording_.add(Operation::stepped, values[i], -1, 0, count));
    }
    record_outputs(recording_, out, words_.outputs);
}

double Calculation::value(int output) const {
    return recording_.at(words_.outputs[static_cast<std::size_t>(output)].node).value;
}

} // namespace fitwright::explain
