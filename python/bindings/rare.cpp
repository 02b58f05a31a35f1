#include "bindings.hpp"
#include <fitwright/study/own_outputs.hpp>
#include <fitwright/study/rare.hpp>

namespace {

using namespace fitwright;
using namespace fitwright::study;

using TiedRows = std::vector<std::tuple<int, int, double>>;
std::vector<Correlation> tied_of(const TiedRows& correlations) {
    std::vector<Correlation> made;
    for (const auto& [first, second, value] : correlations)
        made.push_back({first, second, value});
    return made;
}

// (side, beta, scores, values, shares, first order, second order, evaluations), and (side, why) of those
// that were not found
py::tuple points_of(const System& system, const std::vector<Spread>& spreads,
                    const TiedRows& correlations, int starts) {
    DesignPoints found;
    {
        const py::gil_scoped_release unlocked;
        found = design_points(system, spreads, tied_of(correlations), sides_of(system), starts,
                              keyboard());
    }
    py::list points;
    for (const DesignPoint& p : found.points)
        points.append(py::make_tuple(p.side, p.beta, p.scores, p.values, p.shares, p.first_order,
                                     p.second_order, p.evaluations));
    py::list unfound;
    for (const Unfound& u : found.unfound)
        unfound.append(
            py::make_tuple(u.side, u.why == Unfound::Why::never ? "never" : "unsettled"));
    return py::make_tuple(points, unfound);
}

using PointRow = std::tuple<int, double, std::vector<double>, std::vector<double>,
                            std::vector<double>, double, double, std::int64_t>;
RareStudy make_rare_run(const System& system, const std::vector<Spread>& spreads,
                        const TiedRows& correlations, const std::vector<PointRow>& points,
                        std::uint64_t seed) {
    std::vector<DesignPoint> made;
    for (const auto& [side, beta, scores, values, shares, first, second, evaluations] : points)
        made.push_back({side, beta, scores, values, shares, first, second, evaluations});
    return RareStudy(system, spreads, tied_of(correlations), sides_of(system), made, seed);
}

py::list side_rows(const System& system) {
    py::list rows;
    for (const Side& s : sides_of(system))
        rows.append(py::make_tuple(s.output, s.limit, s.is_least, s.scale));
    return rows;
}

constexpr const char* operation_names[] = {"output",   "input",    "number", "add",
                                           "subtract", "multiply", "divide", "negate",
                                           "absolute", "root",     "least",  "greatest"};

// (state, name, meaning, quantity, scale, steps as (operation, place, value), at least, at most)
using OwnRow = std::tuple<std::string, std::string, std::string, std::string, double,
                          std::vector<std::tuple<std::string, int, double>>, double, double>;
System with_own(const System& system, const std::vector<OwnRow>& told) {
    std::vector<OwnOutput> made;
    for (const auto& [state, name, meaning, quantity, scale, steps, at_least, at_most] : told) {
        OwnOutput o{state, name, meaning, fields::Quantity::ratio, scale, {}, at_least, at_most};
        bool known = false;
        for (const fields::QuantityRow& row : fields::quantities)
            if (quantity == row.name) {
                o.quantity = row.quantity;
                known = true;
            }
        if (!known)
            throw std::invalid_argument("\"" + quantity + "\" is not a quantity");
        for (const auto& [what, place, value] : steps) {
            int number = -1;
            for (int k = 0; k < 12; ++k)
                if (what == operation_names[k])
                    number = k;
            if (number < 0)
                throw std::invalid_argument("\"" + what + "\" is not an operation");
            o.steps.push_back({static_cast<Operation>(number), place, value});
        }
        made.push_back(std::move(o));
    }
    return with_own_outputs(system, made);
}

} // namespace

void bind_rare(py::module_& m) {
    py::class_<RareEstimate>(m, "RareEstimate")
        .def_readonly("probability", &RareEstimate::probability)
        .def_readonly("half", &RareEstimate::half)
        .def_readonly("low", &RareEstimate::low)
        .def_readonly("high", &RareEstimate::high)
        .def_readonly("samples", &RareEstimate::samples)
        .def_readonly("failed", &RareEstimate::failed)
        .def_readonly("effective", &RareEstimate::effective)
        .def_readonly("greatest_share", &RareEstimate::greatest_share)
        .def_readonly("out_of_domain", &RareEstimate::out_of_domain);
    py::class_<RareStudy>(m, "RareRun")
        .def(py::init(&make_rare_run), py::arg("system"), py::arg("spreads"),
             py::arg("correlations"), py::arg("points"), py::arg("seed"))
        .def(
            "advance",
            [](RareStudy& s, std::int64_t samples, int threads) {
                s.advance(samples, threads, keyboard());
            },
            py::arg("samples"), py::arg("threads"), py::call_guard<py::gil_scoped_release>())
        .def("estimate", [](const RareStudy& s) { return s.estimate(); })
        .def(
            "estimate_of", [](const RareStudy& s, std::size_t side) { return s.estimate(side); },
            py::arg("side"));
    m.def("design_points", &points_of, py::arg("system"), py::arg("spreads"),
          py::arg("correlations"), py::arg("starts"));
    m.def("sides", &side_rows, py::arg("system"));
    m.def("rare_problem", &problem_of_rare, py::arg("spreads"));
    m.def("with_own_outputs", &with_own, py::arg("system"), py::arg("outputs"));
}
