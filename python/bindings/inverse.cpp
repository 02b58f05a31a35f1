#include "bindings.hpp"
#include <fitwright/study/inverse.hpp>
#include <limits>

namespace {

using namespace fitwright;
using namespace fitwright::study;

constexpr const char* basis_names[] = {"nominal", "worst_case", "rate"};

Judgement
make_judgement(const std::string& basis, double rate, std::uint64_t seed, std::int64_t samples,
               int threads,
               const std::vector<std::tuple<std::string, std::string, double>>& together) {
    for (int i = 0; i < 3; ++i)
        if (basis == basis_names[i])
            return {static_cast<Basis>(i), rate, seed, samples, threads, together, keyboard()};
    throw std::invalid_argument("\"" + basis + "\" must be nominal, worst_case or rate");
}

constexpr const char* stop_names[] = {"limit", "domain", "range", "already"};

py::tuple row_of(const Reach& r, const Judge& judge) {
    const Side none{-1, std::numeric_limits<double>::quiet_NaN(), true, 1.0};
    const Side& s = r.side < 0 ? none : judge.sides()[static_cast<std::size_t>(r.side)];
    return py::make_tuple(r.value, stop_names[static_cast<int>(r.stop)], s.output, s.limit,
                          s.is_least, r.problem, r.checked, r.proven, r.worst, r.bound);
}

py::list reuse_rows(const System& job, const std::vector<Spread>& spreads, const Judgement& how,
                    const std::vector<int>& leaves) {
    std::vector<Reuse> found;
    const Judge judge(job, spreads, how);
    {
        const py::gil_scoped_release unlocked;
        for (const int leaf : leaves)
            found.push_back(reuse_limits(judge, job, leaf));
    }
    py::list rows;
    const auto told = [&judge](const std::vector<int>& numbers) {
        py::list sides;
        for (const int number : numbers) {
            const Side& s = judge.sides()[static_cast<std::size_t>(number)];
            sides.append(py::make_tuple(s.output, s.limit, s.is_least));
        }
        return sides;
    };
    // (downwards, upwards, limits set aside, those of them that hang on the dimension)
    for (const Reuse& r : found)
        rows.append(py::make_tuple(row_of(r.down, judge), row_of(r.up, judge), told(r.aside),
                                   told(r.moved)));
    return rows;
}

// (value, where, bound, proven, at a corner, boxes, evaluations, out of domain)
py::list extreme_rows(const System& job, const std::vector<Spread>& spreads,
                      const std::vector<std::pair<int, bool>>& wanted, std::int64_t budget,
                      std::int64_t boxes) {
    std::vector<Extreme> found;
    {
        const py::gil_scoped_release unlocked;
        found = extremes(job, edges_of(job, spreads), wanted, budget, boxes, keyboard());
    }
    py::list rows;
    for (const Extreme& e : found)
        rows.append(py::make_tuple(e.value, e.at, e.bound, e.proven, e.corner, e.boxes,
                                   e.evaluations, e.out_of_domain));
    return rows;
}

// (values, evaluated, passed, reserve, rate, output, limit, is_least, problem, judged)
py::tuple solved(const System& job, const std::vector<Spread>& spreads, const Judgement& how,
                 const std::vector<int>& leaves, const std::vector<double>& low,
                 const std::vector<double>& high) {
    const Judge judge(job, spreads, how);
    const Judge nominal(job, spreads, {});
    Best best;
    {
        const py::gil_scoped_release unlocked;
        best = solve_for(judge, nominal, job, leaves, low, high);
    }
    const Verdict& v = best.verdict;
    const Side none{-1, std::numeric_limits<double>::quiet_NaN(), true, 1.0};
    const Side& s = v.side < 0 ? none : judge.sides()[static_cast<std::size_t>(v.side)];
    return py::make_tuple(best.values, v.evaluated, v.passed, v.reserve, v.rate, s.output, s.limit,
                          s.is_least, v.problem, best.judged);
}

Column reserves(const System& job, int row_leaf, const std::vector<double>& rows, int column_leaf,
                const std::vector<double>& columns, const std::vector<int>& fixed,
                const std::vector<std::vector<double>>& fixed_values) {
    std::vector<double> found;
    {
        const py::gil_scoped_release unlocked;
        found = reserve_matrix(job, row_leaf, rows, column_leaf, columns, fixed, fixed_values,
                               keyboard());
    }
    Column matrix({rows.size(), columns.size()});
    std::copy(found.begin(), found.end(), matrix.mutable_data());
    return matrix;
}

py::list allocations(const System& job, const std::vector<Spread>& others,
                     const std::vector<int>& leaves, const std::vector<std::vector<double>>& widths,
                     const std::vector<std::vector<double>>& costs, double rate, std::size_t most) {
    std::vector<Allocated> found;
    {
        const py::gil_scoped_release unlocked;
        found = allocate(job, others, leaves, widths, costs, rate, most, keyboard());
    }
    py::list rows;
    for (const Allocated& a : found)
        rows.append(py::make_tuple(a.options, a.cost, a.linear_rate));
    return rows;
}

// Rings of each kind by shaft, and whether nothing is better. `reserves`: shafts x all sets, the last
// kind fastest.
py::tuple matched(const Column& reserves, const std::vector<int>& counts,
                  const std::vector<std::vector<int>>& start, std::int64_t budget) {
    const std::span<const double> all(reserves.data(), static_cast<std::size_t>(reserves.size()));
    const auto shafts = static_cast<std::size_t>(reserves.shape(0));
    std::vector<int> begin(shafts, 0);
    for (std::size_t k = 0; k < counts.size(); ++k)
        for (std::size_t s = 0; s < shafts; ++s)
            begin[s] = begin[s] * counts[k] + start.at(k).at(s);
    MatchedSets found;
    {
        const py::gil_scoped_release unlocked;
        found = match_sets(all, shafts, counts, begin, budget, keyboard());
    }
    std::vector<std::vector<int>> rings(counts.size(), std::vector<int>(shafts));
    for (std::size_t s = 0; s < shafts; ++s) {
        int rest = found.sets[s];
        for (std::size_t k = counts.size(); k-- > 0;) {
            rings[k][s] = rest % counts[k];
            rest /= counts[k];
        }
    }
    return py::make_tuple(rings, found.proven);
}

Column costs_of(const Column& reserves) {
    Column costs({reserves.shape(0), reserves.shape(1)});
    const auto count = static_cast<std::size_t>(reserves.size());
    assignment_costs({reserves.data(), count}, static_cast<std::size_t>(reserves.shape(0)),
                     {costs.mutable_data(), count});
    return costs;
}

} // namespace

void bind_inverse(py::module_& m) {
    py::class_<Judgement>(m, "Judgement")
        .def(py::init(&make_judgement), py::arg("basis"), py::arg("rate"), py::arg("seed"),
             py::arg("samples"), py::arg("threads"), py::arg("correlations"));
    m.def("reuse_limits", &reuse_rows, py::arg("job"), py::arg("spreads"), py::arg("how"),
          py::arg("leaves"));
    m.def("extremes", &extreme_rows, py::arg("job"), py::arg("spreads"), py::arg("wanted"),
          py::arg("budget"), py::arg("boxes"));
    m.def("solve_for", &solved, py::arg("job"), py::arg("spreads"), py::arg("how"),
          py::arg("leaves"), py::arg("low"), py::arg("high"));
    m.def("reserve_matrix", &reserves, py::arg("job"), py::arg("row_leaf"), py::arg("rows"),
          py::arg("column_leaf"), py::arg("columns"), py::arg("fixed"), py::arg("fixed_values"));
    m.def("assignment_costs", &costs_of, py::arg("reserves"));
    m.def("match_sets", &matched, py::arg("reserves"), py::arg("counts"), py::arg("start"),
          py::arg("budget"));
    m.def("tolerance_spread", &tolerance_spread, py::arg("job"), py::arg("path"), py::arg("width"));
    m.def("allocations", &allocations, py::arg("job"), py::arg("others"), py::arg("leaves"),
          py::arg("widths"), py::arg("costs"), py::arg("rate"), py::arg("most"));
}
