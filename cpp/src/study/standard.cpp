#include <algorithm>
#include <fitwright/study/standard.hpp>
#include <limits>

namespace fitwright::study {

namespace {

constexpr const char* expansion = "expansion_factor";

bool ends_with(const std::string& path, const std::string& name) {
    return path.size() > name.size() &&
           path.compare(path.size() - name.size() - 1, name.size() + 1, "." + name) == 0;
}

// The metal a part is made of, by the path of one of its inputs; null: it tells of none.
const materials::Entry* metal_of(const job::Plan& plan, const std::string& path) {
    const std::string part = path.substr(0, path.rfind('.'));
    if (part == "shaft")
        return &plan.shaft;
    if (part == "nut")
        return &plan.nut;
    if (part == "lock" && plan.lock.has_value())
        return &*plan.lock;
    if (part == "bearing" && plan.bearing.has_value())
        return &plan.bearing->balls;
    for (const job::RingPlan& ring : plan.rings)
        if (part == "rings." + ring.name)
            return &ring.material;
    for (const job::SealPlan& seal : plan.seals)
        if (part == "seals." + seal.name)
            return &seal.material;
    return nullptr;
}

// What two inputs have in common; 0: nothing.
double shared(const job::Plan& plan, const std::string& a, const std::string& b) {
    const auto both = [&](auto holds) { return holds(a) && holds(b); };
    if (both([](const std::string& p) {
            return p == "nut.thread_friction" || p == "nut.face_friction";
        }))
        return one_tin;
    if (both([](const std::string& p) {
            return p.rfind("rings.", 0) == 0 && ends_with(p, "friction");
        }))
        return one_assembly;
    if (both([](const std::string& p) { return ends_with(p, expansion); })) {
        const materials::Entry* first = metal_of(plan, a);
        const materials::Entry* second = metal_of(plan, b);
        if (first != nullptr && second != nullptr && first->name == second->name)
            return one_metal;
    }
    return 0.0;
}

} // namespace

std::vector<Spread> standard_spreads(const job::Job& job) {
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    std::vector<Spread> spreads;
    for (std::size_t i = 0; i < job.inputs().size(); ++i) {
        const std::string& path = job.inputs()[i].path;
        if (!ends_with(path, expansion))
            continue;
        const materials::Entry* metal = metal_of(job.plan(), path);
        if (metal == nullptr)
            continue;
        const double value = job.values()[i];
        spreads.push_back({static_cast<int>(i), -1, -1, path, Shape::normal, value,
                           value * materials::expansion_deviation(*metal), none, none});
    }
    return spreads;
}

std::vector<Correlation> with_standard(const job::Job& job, const std::vector<Spread>& spreads,
                                       const std::vector<Correlation>& told) {
    std::vector<Correlation> all = told;
    for (int i = 0; i < static_cast<int>(spreads.size()); ++i)
        for (int j = i + 1; j < static_cast<int>(spreads.size()); ++j) {
            const double value = shared(job.plan(), spreads[static_cast<std::size_t>(i)].path,
                                        spreads[static_cast<std::size_t>(j)].path);
            const bool is_told = std::any_of(told.begin(), told.end(), [&](const Correlation& c) {
                return (c.first == i && c.second == j) || (c.first == j && c.second == i);
            });
            if (value != 0.0 && !is_told)
                all.push_back({i, j, value});
        }
    return all;
}

} // namespace fitwright::study
