#include "bindings.hpp"
#include <fitwright/fields/rules.hpp>
#include <fitwright/job/job.hpp>
#include <fitwright/study/column.hpp>
#include <fitwright/study/inverse.hpp>
#include <fitwright/study/joined.hpp>
#include <fitwright/study/standard.hpp>
#include <fitwright/study/study.hpp>
#include <limits>

namespace {

using namespace fitwright;
using namespace fitwright::study;

constexpr const char* shape_names[] = {
    "normal", "truncated_normal", "uniform", "triangular", "lognormal", "beta", "measured"};
constexpr const char* readings_names[] = {"these_parts", "one_part", "process"};
constexpr const char* design_names[] = {"plain", "latin_hypercube", "sobol"};

template <std::size_t N>
int place_in(const char* const (&names)[N], const std::string& name) {
    std::string known;
    for (std::size_t i = 0; i < N; ++i) {
        if (name == names[i])
            return static_cast<int>(i);
        known += (i > 0 ? ", " : "") + std::string(names[i]);
    }
    throw std::invalid_argument("\"" + name + "\" must be one of " + known);
}

const char* shape_name(const Spread& s) { return shape_names[static_cast<int>(s.shape)]; }

Spread make_spread(const std::string& path, int leaf, int low_leaf, int high_leaf,
                   const std::string& shape, double middle, double deviation, double low,
                   double high, const std::vector<double>& measured, const std::string& of,
                   double repeatability) {
    return completed({leaf, low_leaf, high_leaf, path,
                      static_cast<Shape>(place_in(shape_names, shape)), middle, deviation, low,
                      high, measured, static_cast<Readings>(place_in(readings_names, of)),
                      repeatability});
}

using Pairs = std::vector<std::tuple<int, int, double>>;
std::vector<Correlation> correlations_of(const Pairs& correlations) {
    std::vector<Correlation> made;
    for (const auto& [first, second, value] : correlations)
        made.push_back({first, second, value});
    return made;
}

using LimitRows = std::vector<std::tuple<int, double, double>>;
std::vector<Tracked> tracked_of(const LimitRows& limits) {
    std::vector<Tracked> made;
    for (const auto& [output, at_least, at_most] : limits)
        made.push_back({output, at_least, at_most});
    return made;
}

using Scales = std::vector<std::tuple<double, double, double>>;
Study make_study(const System& j, const std::vector<Spread>& spreads, const LimitRows& tracked,
                 std::uint64_t seed, std::int64_t count, const std::string& design,
                 const Pairs& correlations, const LimitRows& held, const Scales& scales,
                 int threads) {
    Extras extras{tracked_of(held), {}, threads, keyboard()};
    for (const auto& [from, per_unit, shift] : scales)
        extras.scales.push_back({from, per_unit, shift});
    return Study(subject_of(j), spreads, tracked_of(tracked), seed, count,
                 static_cast<Design>(place_in(design_names, design)), correlations_of(correlations),
                 extras);
}

// The standard of the job beside what is told, by place among the spreads.
Pairs standard_correlations(const job::Job& j, const std::vector<Spread>& spreads,
                            const Pairs& told) {
    Pairs all;
    for (const Correlation& c : with_standard(j, spreads, correlations_of(told)))
        all.emplace_back(c.first, c.second, c.value);
    return all;
}

// (contributions and their shares: outputs x spreads, linear deviation per output, which are one-sided)
py::tuple contributions_of(const System& j, const std::vector<Spread>& spreads,
                           const std::vector<int>& outputs, const Pairs& correlations) {
    // At the middle of what the study draws: there an input with ends is one number.
    System middle = j;
    for (const Spread& s : spreads)
        for (const int end : {s.low_leaf, s.high_leaf})
            if (end >= 0)
                middle.set(end, j.values()[static_cast<std::size_t>(s.leaf)]);
    // Of what scatters alone, and as the derivatives lie there.
    std::vector<int> leaves;
    std::vector<Spread> there;
    const auto place = [&](int leaf) {
        if (leaf >= 0)
            leaves.push_back(leaf);
        return leaf < 0 ? -1 : static_cast<int>(leaves.size()) - 1;
    };
    for (Spread s : spreads) {
        s.leaf = place(s.leaf);
        s.low_leaf = place(s.low_leaf);
        s.high_leaf = place(s.high_leaf);
        there.push_back(s);
    }
    fields::Slopes derivatives;
    std::vector<char> flags;
    {
        const py::gil_scoped_release unlocked;
        derivatives = middle.slopes(outputs, leaves, keyboard());
        flags = middle.one_sided(outputs, leaves, keyboard());
    }
    const std::vector<double> parts = contributions(derivatives.derivatives, leaves.size(), there);
    py::array_t<double> matrix({outputs.size(), spreads.size()});
    std::copy(parts.begin(), parts.end(), matrix.mutable_data());
    py::array_t<bool> one_sided({outputs.size(), spreads.size()});
    bool* flag = one_sided.mutable_data();
    for (std::size_t o = 0; o < outputs.size(); ++o)
        for (const Spread& s : there) {
            bool any = false;
            for (const int leaf : {s.leaf, s.low_leaf, s.high_leaf})
                any = any ||
                      (leaf >= 0 && flags[o * leaves.size() + static_cast<std::size_t>(leaf)] != 0);
            *flag++ = any;
        }
    const std::vector<Correlation> tied = correlations_of(correlations);
    const std::vector<double> part_shares = linear_shares(parts, spreads.size(), tied);
    py::array_t<double> shares({outputs.size(), spreads.size()});
    std::copy(part_shares.begin(), part_shares.end(), shares.mutable_data());
    return py::make_tuple(matrix, shares, linear_deviation(parts, spreads.size(), tied), one_sided);
}

// The rule that a sample breaks, in words: the sample is asked once more, for the value.
std::string fault_text_of(const Study& s, System j, const FaultKind& kind) {
    const int rule = number::rule_of(kind.code);
    const int place = number::place_of(kind.code);
    const std::vector<double> inputs = s.sample(kind.first);
    if (rule == 1) { // of the input itself
        const auto i = static_cast<std::size_t>(place);
        const auto& input = j.inputs()[i];
        return input.path + ": " + fields::range_problem(inputs[i], *input.field);
    }
    const std::string path = j.path_of({rule, place, 0.0});
    for (std::size_t i = 0; i < inputs.size(); ++i)
        j.set(static_cast<int>(i), inputs[i]);
    try {
        j.evaluate(keyboard());
    } catch (const DomainError& e) {
        for (const Problem& p : e.problems())
            if (p.path == path)
                return p.path + ": " + p.text;
    }
    return path + ": " + rules::row_of(rule).sentence;
}
// (what is broken, first sample, how many), the most often broken first
py::list faults_of(const Study& s, const System& j) {
    py::list rows;
    for (const FaultKind& kind : s.faults())
        rows.append(py::make_tuple(fault_text_of(s, j, kind), kind.first, kind.count));
    return rows;
}

template <class T>
py::bytes packed(const std::vector<T>& values) {
    return {reinterpret_cast<const char*>(values.data()), values.size() * sizeof(T)};
}
template <class T>
std::vector<T> unpacked(const py::handle& data) {
    const std::string bytes = py::cast<py::bytes>(data);
    std::vector<T> values(bytes.size() / sizeof(T));
    std::copy_n(bytes.data(), values.size() * sizeof(T), reinterpret_cast<char*>(values.data()));
    return values;
}
py::tuple block_state(const Block& b) {
    return py::make_tuple(b.first_chunk, b.chunks, packed(b.sums), packed(b.counts),
                          packed(b.fault_codes), packed(b.bins), packed(b.columns),
                          packed(b.faults));
}
Block block_from(const py::tuple& t) {
    if (t.size() != 8)
        throw std::invalid_argument("not a block of a study");
    return {t[0].cast<std::int64_t>(),    t[1].cast<std::int64_t>(), unpacked<double>(t[2]),
            unpacked<std::int64_t>(t[3]), unpacked<double>(t[4]),    unpacked<std::int64_t>(t[5]),
            unpacked<double>(t[6]),       unpacked<double>(t[7])};
}

} // namespace

void bind_study(py::module_& m) {
    py::class_<Spread>(m, "Spread")
        .def(py::init(&make_spread), py::arg("path"), py::arg("leaf"), py::arg("low_leaf"),
             py::arg("high_leaf"), py::arg("shape"), py::arg("middle"), py::arg("deviation"),
             py::arg("low"), py::arg("high"), py::arg("measured") = std::vector<double>{},
             py::arg("of") = "these_parts",
             py::arg_v("repeatability", std::numeric_limits<double>::quiet_NaN(), "..."))
        .def_readonly("path", &Spread::path)
        .def_readonly("leaf", &Spread::leaf)
        .def_readonly("low_leaf", &Spread::low_leaf)
        .def_readonly("high_leaf", &Spread::high_leaf)
        .def_property_readonly("standard_deviation", &standard_deviation)
        .def("problem", [](const Spread& s) { return problem_of(s); })
        .def_property_readonly("shape", &shape_name)
        .def_readonly("middle", &Spread::middle)
        .def_readonly("deviation", &Spread::deviation)
        .def_readonly("low", &Spread::low)
        .def_readonly("high", &Spread::high)
        .def_readonly("measured", &Spread::measured)
        .def_property_readonly(
            "of", [](const Spread& r) { return readings_names[static_cast<int>(r.of)]; })
        .def_readonly("repeatability", &Spread::repeatability)
        .def(
            "between",
            [](Spread s, double low, double high) {
                s.low = low;
                s.high = high;
                return s;
            },
            py::arg("low"), py::arg("high"))
        .def("moved", &moved, py::arg("step"))
        .def("quantile", &quantile, py::arg("u"));
    py::class_<Quantile>(m, "Quantile")
        .def_readonly("value", &Quantile::value)
        .def_readonly("error", &Quantile::error);
    py::class_<Statistics>(m, "Statistics")
        .def_readonly("count", &Statistics::count)
        .def_readonly("mean", &Statistics::mean)
        .def_readonly("deviation", &Statistics::deviation)
        .def_readonly("skewness", &Statistics::skewness)
        .def_readonly("least", &Statistics::least)
        .def_readonly("greatest", &Statistics::greatest)
        .def_readonly("least_at", &Statistics::least_at)
        .def_readonly("greatest_at", &Statistics::greatest_at)
        .def_readonly("passed", &Statistics::passed)
        .def_readonly("bins_from", &Statistics::bins_from)
        .def_readonly("bin_width", &Statistics::bin_width)
        .def_readonly("bins", &Statistics::bins)
        .def("quantile", &quantile_of, py::arg("share"));
    using Numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;
    m.def(
        "statistics_of",
        [](const Numbers& column, double at_least, double at_most) {
            const std::span<const double> numbers(column.data(),
                                                  static_cast<std::size_t>(column.size()));
            const py::gil_scoped_release release;
            return statistics_of(numbers, at_least, at_most);
        },
        py::arg("column"), py::arg("at_least"), py::arg("at_most"));
    m.def(
        "correlation_squares",
        [](const Numbers& column, const Numbers& inputs) {
            const auto count = static_cast<std::size_t>(column.size());
            const auto all = static_cast<std::size_t>(inputs.size());
            return correlation_squares({column.data(), count}, {inputs.data(), all},
                                       count == 0 ? 0 : all / count);
        },
        py::arg("column"), py::arg("inputs"));
    py::class_<Block>(m, "Block")
        .def_readonly("first_chunk", &Block::first_chunk)
        .def_readonly("chunks", &Block::chunks)
        .def_property_readonly("columns",
                               [](const Block& b) {
                                   return py::array_t<double>(py::ssize_t(b.columns.size()),
                                                              b.columns.data());
                               })
        .def("state", &block_state)
        .def_static("from_state", &block_from, py::arg("state"))
        .def(py::pickle(&block_state, &block_from));
    py::class_<Study>(m, "StudyRun")
        .def(py::init(&make_study), py::arg("job"), py::arg("spreads"), py::arg("tracked"),
             py::arg("seed"), py::arg("count"), py::arg("design") = "plain",
             py::arg("correlations") = Pairs{}, py::arg("held") = LimitRows{},
             py::arg("scales") = Scales{}, py::arg("threads") = 1,
             py::call_guard<py::gil_scoped_release>())
        .def(
            "run_block",
            [](const Study& s, std::int64_t first_chunk, std::int64_t chunks, int threads,
               const std::vector<int>& kept) {
                return s.run_block(first_chunk, chunks, threads, kept, keyboard());
            },
            py::arg("first_chunk"), py::arg("chunks"), py::arg("threads"), py::arg("kept"),
            py::call_guard<py::gil_scoped_release>())
        .def("merge", &Study::merge, py::arg("block"))
        .def("problem_of", &Study::problem_of, py::arg("block"), py::arg("kept"))
        .def(
            "advance",
            [](Study& s, std::int64_t samples, int threads) {
                s.advance(samples, threads, keyboard());
            },
            py::arg("samples"), py::arg("threads"), py::call_guard<py::gil_scoped_release>())
        .def_property_readonly("count", &Study::count)
        .def_property_readonly("done", &Study::done)
        .def_property_readonly("all_passed", &Study::all_passed)
        .def_property_readonly("stages", &Study::stages)
        .def("passed_to", &Study::passed_to, py::arg("stage"))
        .def_property_readonly("chunk_samples", &Study::chunk_samples)
        .def_property_readonly("first_samples", &Study::first_samples)
        .def_property_readonly("scales",
                               [](const Study& r) {
                                   Scales all;
                                   for (const Scale& one : r.scales())
                                       all.emplace_back(one.bins_from, one.bins_per_unit,
                                                        one.shift);
                                   return all;
                               })
        .def_property_readonly("out_of_domain", &Study::out_of_domain)
        .def_property_readonly("first_fault", &Study::first_fault)
        .def("faults_of", &faults_of, py::arg("job"))
        .def("statistics", &Study::statistics, py::arg("tracked"))
        .def("sample", &Study::sample, py::arg("index"));
    m.def("process_spread", &process_spread, py::arg("path"), py::arg("leaf"), py::arg("low"),
          py::arg("high"), py::arg("cp"), py::arg("cpk"), py::arg("towards_high"));
    m.def(
        "correlation_problem",
        [](const Pairs& correlations, std::size_t spreads) {
            return problem_of(correlations_of(correlations), spreads);
        },
        py::arg("correlations"), py::arg("spread_count"));
    m.def("contributions", &contributions_of, py::arg("job"), py::arg("spreads"),
          py::arg("outputs"), py::arg("correlations") = Pairs{});
    m.def("standard_spreads", &standard_spreads, py::arg("job"));
    m.def("standard_correlations", &standard_correlations, py::arg("job"), py::arg("spreads"),
          py::arg("told"));
    m.def(
        "joined_rate",
        [](const std::vector<std::tuple<std::int64_t, std::int64_t, std::int64_t>>& levels) {
            std::vector<LevelCount> counts;
            for (const auto& [samples, before, passed] : levels)
                counts.push_back({samples, before, passed});
            const JoinedRate r = joined_rate(counts);
            return py::make_tuple(r.rate, r.interval.low, r.interval.high);
        },
        py::arg("levels"));
    m.def(
        "interval_of_share",
        [](std::int64_t passed, std::int64_t count) {
            const Interval i = interval_of_share(passed, count);
            return std::make_pair(i.low, i.high);
        },
        py::arg("passed"), py::arg("count"));
}
