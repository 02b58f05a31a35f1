// The calculation of one model, shown: its own formula run on a number that records.
#pragma once

#include <fitwright/explain/lines.hpp>
#include <fitwright/fields/model.hpp>

namespace fitwright::explain {

// All of one call. Throws DomainError where evaluate() does.
class Calculation {
public:
    // `metals` are the names of context.materials, in order; the context outlives this.
    Calculation(const fields::Model& model, const double* inputs, const fields::Context& context,
                const std::vector<std::string>& metals);
    const Recording& recording() const { return recording_; }
    const Words& words() const { return words_; }
    std::vector<Line> lines(int output) const { return lines_of(recording_, words_, {output}); }
    double value(int output) const;

private:
    Recording recording_;
    Words words_;
};

// Whether the model has a formula to show; else it finds its outputs in steps, of time or of a search.
bool has_formula(const fields::Model& model);

} // namespace fitwright::explain
