#pragma once

#include <algorithm>
#include <fitwright/job/job.hpp>

namespace fitwright::job {

std::vector<Problem> problems_of(const Plan& plan);
Layout layout_of(const Plan& plan); // points into the plan
std::vector<InputPath> inputs_of(const Plan& plan);
std::vector<OutputPath> outputs_of(const Plan& plan);
std::vector<std::string> lag_names(const Plan& plan);
std::string torque_path(const std::string& state, const std::string& ring);
bool has_pocket_fit(const Plan& plan);
bool has_pocket_lag(const Plan& plan);
std::vector<std::string> ring_names(const Plan& plan);
std::vector<std::string> seal_names(const Plan& plan);

// Which of them it is; -1: none.
inline int index_of(const std::vector<std::string>& names, const std::string& name) {
    const auto at = std::find(names.begin(), names.end(), name);
    return at == names.end() ? -1 : static_cast<int>(at - names.begin());
}

// A declared part in the flat arrays: how many numbers, and their paths.
template <template <class> class Part>
int size_of() {
    return static_cast<int>(sizeof(Part<double>) / sizeof(double));
}
template <template <class> class Part>
void add_inputs(const std::string& prefix, std::vector<InputPath>& into) {
    for (const fields::Leaf& leaf : fields::leaves_of(fields::Declared<Part>::declaration))
        into.push_back({prefix + leaf.path, leaf.field});
}
template <template <class> class Part>
void add_outputs(const std::string& state, const std::string& prefix,
                 std::vector<OutputPath>& into) {
    for (const fields::Leaf& leaf : fields::leaves_of(fields::Declared<Part>::declaration))
        into.push_back({state, prefix + leaf.path, leaf.field});
}

} // namespace fitwright::job
