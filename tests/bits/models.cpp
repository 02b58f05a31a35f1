// Every model on double, on lanes and on duals: at its published cases, and scattered about them.
#include "../cpp/reference_call.hpp"
#include "bits.hpp"

#include <fitwright/fields/error.hpp>
#include <fitwright/number/philox.hpp>

namespace fitwright::bits {

namespace {

constexpr int scattered = 6;

// What is counted or left out to be worked out stays as it is.
bool scatters(const fields::Field& field, double x) {
    return std::isfinite(x) && x != 0.0 && field.quantity != fields::Quantity::count &&
           !(field.quantity == fields::Quantity::ratio && x == std::floor(x));
}

double evenly(std::uint64_t sample, std::uint64_t input) {
    return number::uniform_open(number::philox({{sample, input, 0, 0}}, {2, 1}).word[0]);
}

void run(const reference::Case& c, Hash& hash) {
    const reference::Call call(c);
    const fields::Model& model = *call.model;
    const std::vector<fields::Leaf> leaves = fields::leaves_of(*model.inputs);
    const std::size_t outputs = fields::leaves_of(*model.outputs).size();
    std::vector<std::vector<double>> columns(leaves.size());
    std::vector<double> answer(outputs);
    for (int k = 0; k <= scattered; ++k) {
        std::vector<double> in = call.inputs;
        for (std::size_t i = 0; k > 0 && i < in.size(); ++i)
            if (scatters(*leaves[i].field, in[i]))
                in[i] *= 1.0 + 2e-3 * (evenly(static_cast<std::uint64_t>(k), i) - 0.5);
        try {
            fields::evaluate(model, in.data(), answer.data(), call.context());
        } catch (const DomainError& e) {
            hash.add(e.problems().front().path);
            continue;
        }
        hash.add(answer);
        for (std::size_t i = 0; i < in.size(); ++i)
            columns[i].push_back(in[i]);
    }
    const std::size_t count = columns.front().size();
    std::vector<const double*> from;
    for (const auto& column : columns)
        from.push_back(column.data());
    std::vector<std::int64_t> strides;
    for (std::size_t i = 0; i < leaves.size(); ++i)
        strides.push_back(std::isfinite(call.inputs[i]) ? 1 : 0);
    std::vector<std::vector<double>> lanes(outputs, std::vector<double>(count));
    std::vector<double*> to;
    for (auto& column : lanes)
        to.push_back(column.data());
    fields::evaluate(model,
                     {from.data(), strides.data(), to.data(), static_cast<std::int64_t>(count)},
                     call.context(), 1);
    for (const auto& column : lanes)
        hash.add(column);
    if (model.formulas.scalar == nullptr)
        return;
    std::vector<double> derivatives(outputs * leaves.size());
    fields::jacobian(model, call.inputs.data(), answer.data(), derivatives.data(), call.context());
    hash.add(derivatives);
}

} // namespace

void models(const Tell& tell) {
    std::string model;
    std::vector<const reference::Case*> of_model;
    const auto finish = [&] {
        if (!of_model.empty())
            tell(model, [&](Hash& hash) {
                for (const reference::Case* c : of_model)
                    run(*c, hash);
            });
        of_model.clear();
    };
    for (const fields::Model* m : fields::all_models()) {
        model = std::string(m->text.room) + "." + m->text.name;
        for (const reference::Case& c : reference::cases)
            if (model == c.model)
                of_model.push_back(&c);
        finish();
    }
}

} // namespace fitwright::bits
