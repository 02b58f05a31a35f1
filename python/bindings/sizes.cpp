#include "bindings.hpp"
#include <fitwright/sizes/bearing_classes.hpp>
#include <fitwright/sizes/iso286.hpp>
#include <fitwright/sizes/measured.hpp>
#include <fitwright/sizes/threads.hpp>
#include <map>

namespace {

using namespace fitwright::sizes;

std::pair<Column, Column> limits_of_many(const std::string& class_text, const Column& nominal) {
    const ToleranceClass wanted = parse_class(class_text);
    const std::vector<py::ssize_t> shape(nominal.shape(), nominal.shape() + nominal.ndim());
    Column lower(shape);
    Column upper(shape);
    const auto count = static_cast<std::size_t>(nominal.size());
    const std::span<const double> from(nominal.data(), count);
    const std::span<double> low(lower.mutable_data(), count);
    const std::span<double> high(upper.mutable_data(), count);
    {
        const py::gil_scoped_release release;
        limits_of(wanted, from, low, high);
    }
    return {lower, upper};
}

std::pair<double, double> ends(const SizeRange& range) { return {range.lower, range.upper}; }

Feature feature_of(bool hole) { return hole ? Feature::hole : Feature::shaft; }

void bind_threads(py::module_& m) {
    py::class_<ThreadLimits>(m, "ThreadLimits")
        .def_readonly("name", &ThreadLimits::name)
        .def_property_readonly("internal",
                               [](const ThreadLimits& t) { return t.feature == Feature::hole; })
        .def_readonly("series", &ThreadLimits::series)
        .def_readonly("nominal", &ThreadLimits::nominal)
        .def_readonly("pitch", &ThreadLimits::pitch)
        .def_readonly("basic_pitch_diameter", &ThreadLimits::basic_pitch_diameter)
        .def_readonly("basic_minor", &ThreadLimits::basic_minor)
        .def_readonly("root", &ThreadLimits::root)
        .def_readonly("fundamental_deviation", &ThreadLimits::fundamental_deviation)
        .def_property_readonly("major", [](const ThreadLimits& t) { return ends(t.major); })
        .def_property_readonly("pitch_diameter",
                               [](const ThreadLimits& t) { return ends(t.pitch_diameter); })
        .def_property_readonly("minor", [](const ThreadLimits& t) { return ends(t.minor); });
    py::class_<ThreadFit>(m, "ThreadFit")
        .def_readonly("name", &ThreadFit::name)
        .def("internal", [](const ThreadFit& f) { return f.internal; })
        .def("external", [](const ThreadFit& f) { return f.external; })
        .def_readonly("clearance_least", &ThreadFit::clearance_least)
        .def_readonly("clearance_greatest", &ThreadFit::clearance_greatest);
    m.def(
        "thread",
        [](const std::string& text, bool internal) { return thread(text, feature_of(internal)); },
        py::arg("text"), py::arg("internal"));
    m.def("thread_fit", [](const std::string& text) { return thread_fit(text); }, py::arg("text"));
    m.def("metric_series", [] {
        std::vector<std::tuple<double, int, double, std::vector<double>>> rows;
        for (const MetricPitches& row : metric_series())
            rows.emplace_back(row.nominal, row.choice, row.coarse, row.fine);
        return rows;
    });
}

// What is not told keeps its standard value.
Reading reading_of(const std::vector<double>& readings, const std::map<std::string, double>& told) {
    Reading in;
    in.readings = readings;
    const std::pair<const char*, double Reading::*> fields[] = {
        {"correction", &Reading::correction},
        {"gauge_uncertainty", &Reading::gauge_uncertainty},
        {"repeatability", &Reading::repeatability},
        {"part_temperature", &Reading::part_temperature},
        {"gauge_temperature", &Reading::gauge_temperature},
        {"part_expansion", &Reading::part_expansion},
        {"gauge_expansion", &Reading::gauge_expansion},
        {"temperature_uncertainty", &Reading::temperature_uncertainty},
        {"difference_uncertainty", &Reading::difference_uncertainty},
        {"expansion_uncertainty", &Reading::expansion_uncertainty},
        {"expansion_difference_uncertainty", &Reading::expansion_difference_uncertainty}};
    for (const auto& [name, field] : fields)
        if (const auto found = told.find(name); found != told.end())
            in.*field = found->second;
    return in;
}

void bind_measured(py::module_& m) {
    py::class_<Reading>(m, "SizeReading")
        .def(py::init(&reading_of), py::arg("readings"), py::arg("told"));
    py::class_<MeasuredSize>(m, "MeasuredSize")
        .def_readonly("size", &MeasuredSize::size)
        .def_readonly("factor", &MeasuredSize::factor)
        .def_readonly("uncertainty", &MeasuredSize::uncertainty)
        .def_readonly("gauge_part", &MeasuredSize::gauge_part)
        .def_readonly("degrees_of_freedom", &MeasuredSize::degrees_of_freedom)
        .def(
            "corrected",
            [](const MeasuredSize& made, const Reading& in) {
                std::vector<double> sizes;
                for (const double r : in.readings)
                    sizes.push_back((r + in.correction) * made.factor);
                return sizes;
            },
            py::arg("reading"))
        .def("budget", [](const MeasuredSize& made) {
            std::vector<std::tuple<std::string, double, double, double>> rows;
            for (const BudgetLine& line : made.budget)
                rows.emplace_back(line.source, line.contribution, line.sensitivity,
                                  line.degrees_of_freedom);
            return rows;
        });
    m.def("measured_size", [](const Reading& in) { return measured_size(in); }, py::arg("reading"));
}

} // namespace

void bind_sizes(py::module_& m) {
    bind_threads(m);
    bind_measured(m);
    py::class_<Limits>(m, "SizeLimits")
        .def_readonly("name", &Limits::name)
        .def_property_readonly("hole", [](const Limits& s) { return s.feature == Feature::hole; })
        .def_readonly("nominal", &Limits::nominal)
        .def_readonly("lower", &Limits::lower)
        .def_readonly("upper", &Limits::upper)
        .def_property_readonly("lower_deviation",
                               [](const Limits& s) { return s.deviations.lower; })
        .def_property_readonly("upper_deviation",
                               [](const Limits& s) { return s.deviations.upper; });
    py::class_<Fit>(m, "SizeFit")
        .def_readonly("name", &Fit::name)
        .def("hole", [](const Fit& f) { return f.hole; })
        .def("shaft", [](const Fit& f) { return f.shaft; })
        .def_readonly("interference_least", &Fit::interference_least)
        .def_readonly("interference_greatest", &Fit::interference_greatest);
    m.def("size_limits", [](const std::string& size) { return limits(size); }, py::arg("size"));
    m.def("size_fit", [](const std::string& text) { return fit(text); }, py::arg("text"));
    m.def(
        "size_fit_of", [](const Limits& hole, const Limits& shaft) { return fit(hole, shaft); },
        py::arg("hole"), py::arg("shaft"));
    m.def("size_limits_of", &limits_of_many, py::arg("class_"), py::arg("nominal"));
    m.def("standard_tolerance", &standard_tolerance, py::arg("grade"), py::arg("nominal"));
    m.def("bearing_bore", &bearing_bore, py::arg("nominal"), py::arg("class_"));
    m.def("bearing_outside", &bearing_outside, py::arg("nominal"), py::arg("class_"));
    m.def(
        "bearing_clearance",
        [](double bore, const std::string& group) {
            const Clearance c = bearing_clearance(bore, group);
            return std::pair{c.least, c.greatest};
        },
        py::arg("bore"), py::arg("group"));
    m.def("tolerance_classes", [] {
        std::vector<std::string> names;
        for (const ToleranceClass& c : tolerance_classes())
            names.push_back(text(c));
        return names;
    });
}
