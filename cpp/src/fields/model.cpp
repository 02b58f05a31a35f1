// Serving models: paths, range checks, one evaluation, batches and derivatives.
#include "asked.hpp"
#include "at_level.hpp"
#include "fault_path.hpp"
#include "kernels.hpp"
#include "parallel.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/level.hpp>
#include <fitwright/fields/rules.hpp>
#include <limits>

namespace fitwright::fields {

namespace {

template <class Visit>
void visit(const Declaration& d, const std::string& prefix, const Visit& at) {
    for (const Field& f : d.fields) {
        const std::string path = prefix + f.name;
        if (f.kind == Kind::part)
            visit(*f.part, path + ".", at);
        else
            at(path, f);
    }
}

void collect_materials(const Declaration& d, const std::string& prefix,
                       std::vector<std::string>& into) {
    if (d.has_material)
        into.push_back(prefix + "material");
    for (const Field& f : d.fields)
        if (f.kind == Kind::part)
            collect_materials(*f.part, prefix + f.name + ".", into);
}

} // namespace

std::vector<Leaf> leaves_of(const Declaration& d) {
    std::vector<Leaf> leaves;
    visit(d, "", [&](const std::string& path, const Field& f) {
        if (f.kind != Kind::choice)
            leaves.push_back({path, &f});
    });
    return leaves;
}

std::vector<Leaf> choices_of(const Declaration& d) {
    std::vector<Leaf> choices;
    visit(d, "", [&](const std::string& path, const Field& f) {
        if (f.kind == Kind::choice)
            choices.push_back({path, &f});
    });
    return choices;
}

std::vector<std::string> materials_of(const Declaration& d) {
    std::vector<std::string> materials;
    collect_materials(d, "", materials);
    return materials;
}

std::vector<double> standard_values(const Declaration& d) {
    std::vector<double> values;
    for (const Leaf& leaf : leaves_of(d))
        values.push_back(leaf.field->standard);
    return values;
}

std::string range_problem(double value, const Field& f) {
    if (std::isinf(value) && value > 0 && std::isinf(f.standard))
        return {}; // to be worked out
    if (!std::isfinite(value))
        return std::isnan(value) && std::isnan(f.standard)
                   ? std::string("must be given (") + f.meaning + ")"
                   : std::string("must be a finite number");
    const bool low = f.range.low_excluded ? value > f.range.low : value >= f.range.low;
    if (low && value <= f.range.high)
        return {};
    std::string text = show(value, f.quantity) + " is outside its range: ";
    text += f.range.low_excluded ? "above " : "from ";
    text += show(f.range.low, f.quantity) + " to " + show(f.range.high, f.quantity);
    // A temperature in kelvin and a speed in rpm are the usual slips of a bare number.
    if (f.quantity == Quantity::temperature)
        text += "; temperatures are degC inside, kelvin is not";
    return text;
}

namespace {

std::string path_of_fault(const Model& model, const std::vector<Leaf>& leaves, const Fault& fault) {
    const std::string field = rules::row_of(fault.rule).field;
    std::string place;
    if (static_cast<std::size_t>(fault.place) < model.places.size())
        place = model.places[static_cast<std::size_t>(fault.place)];
    const std::string candidates[] = {place + "." + field, place + "_" + field, field};
    for (const std::string& c : candidates)
        for (const Leaf& leaf : leaves)
            if (leaf.path == c)
                return c;
    return place.empty() ? field : field.empty() ? place : place + "." + field;
}

} // namespace

std::string path_of_fault(const Model& model, const Fault& fault) {
    return path_of_fault(model, leaves_of(*model.inputs), fault);
}

namespace {

[[noreturn]] void raise(const Model& model, const std::vector<Leaf>& leaves, const Fault& fault,
                        const std::string& where) {
    throw DomainError({{path_of_fault(model, leaves, fault) + where, fault_text(fault)}});
}

void check_ranges(const std::vector<Leaf>& leaves, const double* inputs, const std::string& where) {
    std::vector<Problem> problems;
    for (std::size_t i = 0; i < leaves.size(); ++i)
        if (std::string text = range_problem(inputs[i], *leaves[i].field); !text.empty())
            problems.push_back({leaves[i].path + where, std::move(text)});
    if (!problems.empty())
        throw DomainError(std::move(problems));
}

void evaluate_at(const Model& model, const double* inputs, double* outputs, const Context& context,
                 const std::string& where) {
    const std::vector<Leaf> leaves = leaves_of(*model.inputs);
    check_ranges(leaves, inputs, where);
    number::Faults<double> faults;
    try {
        model.formulas.scalar(inputs, outputs, context, faults);
    } catch (const Fault& fault) {
        raise(model, leaves, fault, where);
    }
}

} // namespace

void evaluate(const Model& model, const double* inputs, double* outputs, const Context& context) {
    evaluate_at(model, inputs, outputs, context, "");
}

void evaluate(const Model& model, const Batch& batch, const Context& context, int threads,
              const Between& between) {
    const std::vector<Leaf> leaves = leaves_of(*model.inputs);
    const std::vector<Leaf> outputs = leaves_of(*model.outputs);
    std::vector<double> sample(leaves.size());
    const auto evaluate_alone = [&](std::int64_t k) {
        for (std::size_t i = 0; i < sample.size(); ++i)
            sample[i] = batch.columns[i][k * batch.strides[i]];
        std::vector<double> results(outputs.size());
        evaluate_at(model, sample.data(), results.data(), context, "[" + std::to_string(k) + "]");
    };
    // What is the same for all samples is checked once; the kernel checks what varies.
    if (batch.count == 0)
        return;
    evaluate_alone(0);

    const std::int64_t slice = model.in_time ? number::lane_count : 4096;
    const std::int64_t bad = run_batch({model.formulas, leaves, outputs.size()}, batch, context,
                                       slice, threads, between);
    if (bad >= 0) {
        evaluate_alone(bad);
        throw std::logic_error(model.text.name +
                               std::string(": lanes and double disagree on sample ") +
                               std::to_string(bad));
    }
}

void jacobian(const Model& model, const double* inputs, double* outputs, double* derivatives,
              const Context& context) {
    evaluate_at(model, inputs, outputs, context, "");
    const int n = static_cast<int>(leaves_of(*model.inputs).size());
    const int m = static_cast<int>(leaves_of(*model.outputs).size());
    at_level(model.formulas, active_level(), [&]<class Level>(Formulas<Level> formulas) {
        AlignedDoubles workspace(static_cast<std::size_t>((n + m) * doubles_per_dual<Level>()));
        JacobianWork work{inputs, n, m, outputs, derivatives, workspace.data(), false, 0.0};
        jacobian_passes(formulas, work, context);
    });
}

} // namespace fitwright::fields
