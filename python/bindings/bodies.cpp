// Parts in section: meshed, condensed, and run through a history.
#include "bindings.hpp"
#include <fitwright/job/job.hpp>
#include <fitwright/stack/section_refinement.hpp>

namespace {

using namespace fitwright;
using bodies::Sections;
using stack::SectionHistory;
using stack::SectionResult;
using Numbers = std::vector<double>;
using Metals = std::vector<const materials::Entry*>;

std::vector<bodies::Slice> slices_of(const std::vector<Numbers>& rows) {
    std::vector<bodies::Slice> slices;
    for (const Numbers& row : rows)
        slices.push_back({row.at(0), row.at(1), row.at(2)});
    return slices;
}

// A section as Python tells it: numbers in the order of the C++ fields, metals at one temperature.
struct Told {
    bodies::StackSection stack;
    Metals metals; // the shaft's, then the rings'
    bodies::Fineness fineness;
};
Told told_of(const std::vector<Numbers>& shaft, const Numbers& shaft_numbers, bool free_end,
             const std::vector<std::pair<std::vector<Numbers>, Numbers>>& rings,
             const Metals& metals, const Numbers& whole, double fineness, int halvings,
             std::int64_t most_unknowns) {
    Told told;
    const double temperature = whole.at(3);
    const auto modulus = [&](std::size_t i) {
        return materials::value_of(*metals.at(i), "modulus", temperature);
    };
    bodies::ShaftSection& s = told.stack.shaft;
    s.slices = slices_of(shaft);
    s.modulus = modulus(0);
    s.poisson = metals.at(0)->numbers.poisson;
    s.behind = shaft_numbers.at(0);
    s.land_inside = shaft_numbers.at(1);
    s.land_outside = shaft_numbers.at(2);
    s.fillet = shaft_numbers.at(3);
    s.thread_start = shaft_numbers.at(4);
    s.thread_length = shaft_numbers.at(5);
    s.far_end = free_end ? bodies::FarEnd::free : bodies::FarEnd::plane;
    for (const auto& [rows, n] : rings) {
        bodies::RingSection r;
        r.slices = slices_of(rows);
        const std::size_t i = told.stack.rings.size() + 1;
        r.modulus = modulus(i);
        r.poisson = metals.at(i)->numbers.poisson;
        r.chamfers = {n.at(0), n.at(1), n.at(2), n.at(3)};
        r.thrust_start = n.at(4);
        r.thrust_length = n.at(5);
        told.stack.rings.push_back(std::move(r));
    }
    told.stack.nut_inside = whole.at(0);
    told.stack.nut_outside = whole.at(1);
    told.stack.start = whole.at(2);
    told.metals = metals;
    told.fineness = {fineness, halvings, most_unknowns};
    return told;
}

// Rows of a history: each ring's friction, face softness, settling; each state's temperatures inside and
// outside of every part, then speed, nut compliance, nut free growth, thrust, settled share; each step.
using StateRow = std::tuple<Numbers, Numbers, Numbers>;
using StepRow = std::tuple<int, int, int, int, int, double, bool>;

SectionHistory<double> history_of(const Told& told, const std::vector<Numbers>& interference,
                                  const std::vector<Numbers>& rings, const Numbers& whole,
                                  const std::vector<StateRow>& states,
                                  const std::vector<StepRow>& steps) {
    SectionHistory<double> h;
    h.interference = interference;
    for (const Numbers& r : rings)
        h.plan.parts.push_back({0.0, 0.0, r.at(0), 0.0, r.at(1), r.at(2), 0.0});
    h.plan.nut = {whole.at(0), whole.at(1), 0.0};
    h.plan.touch_force = whole.at(2);
    h.plan.thrust_inner = static_cast<int>(whole.at(3));
    h.plan.thrust_outer = static_cast<int>(whole.at(4));
    h.plan.refinement = static_cast<int>(whole.at(5));
    for (const auto& [inside, outside, n] : states) {
        h.states.push_back(stack::section_state(told.metals, inside, outside, n.at(0)));
        h.plan.states.push_back({{}, n.at(1), n.at(2), n.at(3), n.at(4)});
    }
    for (const auto& [kind, state, first, last, times, force, on_shaft] : steps)
        h.plan.steps.push_back({static_cast<stack::StepKind>(kind), state, first, last, times,
                                force,
                                on_shaft ? stack::Reaction::shaft : stack::Reaction::outside});
    return h;
}

// Rows of numbers as an array.
template <class Rows, class Fill>
Column table(const Rows& rows, py::ssize_t width, const Fill& fill) {
    Column out({static_cast<py::ssize_t>(rows.size()), width});
    double* at = out.mutable_data();
    for (const auto& row : rows) {
        fill(row, at);
        at += width;
    }
    return out;
}

py::dict step_dict(const Sections& sections, const SectionResult<double>& r, std::size_t k) {
    const stack::StepResult<double>& step = r.history.steps[k];
    const stack::SectionStep<double>& more = r.steps[k];
    py::list face_points, growth;
    const bodies::ContactPoints& points = sections.contacts();
    for (std::size_t i = 0; i < more.faces.size(); ++i) {
        std::size_t at = points.face_begin[i];
        face_points.append(table(more.faces[i], 3, [&](const auto& p, double* out) {
            out[0] = points.face_radius[at++];
            out[1] = p.pressure;
            out[2] = p.gap;
        }));
    }
    for (const Numbers& g : more.growth)
        growth.append(column(g));
    return py::dict(py::arg("faces") = table(step.faces, 2,
                                             [](const auto& f, double* out) {
                                                 out[0] = f.force;
                                                 out[1] = f.gap;
                                             }),
                    py::arg("seats") = table(step.seats, 5,
                                             [](const auto& s, double* out) {
                                                 out[0] = s.place;
                                                 out[1] = s.pressure;
                                                 out[2] = s.friction;
                                                 out[3] = s.slip;
                                                 out[4] = static_cast<double>(s.grip);
                                             }),
                    py::arg("face_points") = face_points, py::arg("growth") = growth,
                    py::arg("mean_pressure") = more.mean_pressure, py::arg("roll") = more.roll,
                    py::arg("seat_force") = step.seat_force, py::arg("nut") = step.nut_force,
                    py::arg("nut_travel") = step.nut_travel, py::arg("pull") = step.pull_force,
                    py::arg("dissipated") = step.dissipated);
}

py::tuple refined_tuple(const stack::Refined& r) {
    constexpr const char* trends[] = {"converges", "settled", "unsteady"};
    return py::make_tuple(r.middle, r.limit, r.error, r.order, trends[static_cast<int>(r.trend)]);
}
py::list refined_list(const std::vector<stack::Refined>& all) {
    py::list list;
    for (const stack::Refined& r : all)
        list.append(refined_tuple(r));
    return list;
}

py::dict refinement_dict(const stack::SectionRefinement& study) {
    py::list steps, seats, peaks;
    for (const stack::RefinedStep& s : study.steps)
        steps.append(py::dict(py::arg("mean_pressure") = refined_list(s.mean_pressure),
                              py::arg("face_force") = refined_list(s.face_force),
                              py::arg("face_gap") = refined_list(s.face_gap),
                              py::arg("growth") = refined_list(s.growth)));
    for (const stack::SeatProfile& s : study.seats)
        seats.append(py::make_tuple(column(s.z), column(s.pressure), column(s.change)));
    for (const stack::Peak& p : study.peaks)
        peaks.append(py::make_tuple(p.z, p.r, refined_tuple(p.von_mises), p.refused, p.text));
    return py::dict(py::arg("steps") = steps, py::arg("seats") = seats, py::arg("peaks") = peaks,
                    py::arg("unknowns") =
                        std::vector<std::size_t>(study.unknowns, study.unknowns + 3));
}

// A stack in section with its last history, for fields.
class Stack {
public:
    Stack(Told told, bodies::Cache* cache)
        : told_(std::move(told))
        , cache_(cache)
        , sections_(std::make_shared<const Sections>(told_.stack, told_.fineness, cache)) {}
    // Of a job, which tells its histories itself.
    explicit Stack(std::shared_ptr<const Sections> sections)
        : sections_(std::move(sections)) {}

    const Sections& sections() const { return *sections_; }
    const Told& told() const { return told_; }
    bodies::Cache* cache() const { return cache_; }

private:
    Told told_;
    bodies::Cache* cache_ = nullptr;
    std::shared_ptr<const Sections> sections_;
};

// What was found, kept for fields of its steps.
struct Found {
    SectionResult<double> result;
};

py::dict field_dict(const Stack& s, const Found& found, std::size_t step, int part) {
    bodies::SectionField field;
    {
        const py::gil_scoped_release unlocked;
        field = s.sections().field(part, found.result.steps.at(step).acts);
    }
    return py::dict(
        py::arg("outwards") = column(field.outwards), py::arg("along") = column(field.along),
        py::arg("radial") = column(field.radial), py::arg("axial") = column(field.axial),
        py::arg("hoop") = column(field.hoop), py::arg("shear") = column(field.shear),
        py::arg("von_mises") = column(field.von_mises));
}

} // namespace

void bind_bodies(py::module_& m) {
    py::class_<bodies::Cache>(m, "SectionCache")
        .def(py::init<std::string>(), py::arg("folder"))
        .def("counts",
             [](const bodies::Cache& c) {
                 return std::vector<int>{c.made(), c.from_memory(), c.from_disk()};
             })
        .def("refused", &bodies::Cache::refused);
    py::class_<Found>(m, "SectionFound")
        .def("steps", [](const Found& f) { return f.result.history.steps.size(); })
        .def("seat_begin", [](const Found& f) { return f.result.history.seat_begin; });
    py::class_<Stack>(m, "Sections")
        .def(py::init([](const std::vector<Numbers>& shaft, const Numbers& shaft_numbers,
                         bool free_end,
                         const std::vector<std::pair<std::vector<Numbers>, Numbers>>& rings,
                         const Metals& metals, const Numbers& whole, double fineness, int halvings,
                         std::int64_t most_unknowns, bodies::Cache* cache) {
                 Told told = told_of(shaft, shaft_numbers, free_end, rings, metals, whole, fineness,
                                     halvings, most_unknowns);
                 const py::gil_scoped_release unlocked;
                 return std::make_unique<Stack>(std::move(told), cache);
             }),
             py::arg("shaft"), py::arg("shaft_numbers"), py::arg("free_end"), py::arg("rings"),
             py::arg("metals"), py::arg("whole"), py::arg("fineness"), py::arg("halvings"),
             py::arg("most_unknowns"), py::arg("cache"), py::keep_alive<1, 6>(),
             py::keep_alive<1, 11>())
        .def_static(
            "of_job", [](const job::Job& j) { return std::make_unique<Stack>(j.sections()); },
            py::arg("job"), py::call_guard<py::gil_scoped_release>())
        .def(
            "run",
            [](const Stack&, const job::Job& j) { return Found{j.section_history(keyboard())}; },
            py::arg("job"), py::call_guard<py::gil_scoped_release>())
        .def("unknowns", [](const Stack& s) { return s.sections().unknowns(); })
        .def("contacts", [](const Stack& s) { return s.sections().contacts().size(); })
        .def(
            "outside",
            [](const Stack& s, int part) {
                return py::make_tuple(column(s.sections().outside_z(part)),
                                      column(s.sections().outside_radius(part)));
            },
            py::arg("part"))
        .def(
            "mesh",
            [](const Stack& s, int part) {
                const bodies::SectionMesh mesh = s.sections().mesh(part);
                py::array_t<int> elements(
                    {static_cast<py::ssize_t>(mesh.elements.size()), py::ssize_t{8}});
                int* at = elements.mutable_data();
                for (const auto& e : mesh.elements)
                    at = std::copy(e.begin(), e.end(), at);
                return py::make_tuple(column(mesh.r), column(mesh.z), elements);
            },
            py::arg("part"))
        .def(
            "history",
            [](const Stack& s, const std::vector<Numbers>& interference,
               const std::vector<Numbers>& rings, const Numbers& whole,
               const std::vector<StateRow>& states, const std::vector<StepRow>& steps) {
                const auto h = history_of(s.told(), interference, rings, whole, states, steps);
                const py::gil_scoped_release unlocked;
                return std::make_unique<Found>(stack::section_history(s.sections(), h));
            },
            py::arg("interference"), py::arg("rings"), py::arg("whole"), py::arg("states"),
            py::arg("steps"))
        .def(
            "step",
            [](const Stack& s, const Found& found, std::size_t step) {
                return step_dict(s.sections(), found.result, step);
            },
            py::arg("found"), py::arg("step"))
        .def("field", &field_dict, py::arg("found"), py::arg("step"), py::arg("part"))
        .def(
            "refinement",
            [](const Stack& s, const std::vector<Numbers>& interference,
               const std::vector<Numbers>& rings, const Numbers& whole,
               const std::vector<StateRow>& states, const std::vector<StepRow>& steps,
               std::size_t looked_at) {
                const auto h = history_of(s.told(), interference, rings, whole, states, steps);
                stack::SectionRefinement study;
                {
                    const py::gil_scoped_release unlocked;
                    study = stack::section_refinement(s.told().stack, h, looked_at,
                                                      s.told().fineness, s.cache());
                }
                return refinement_dict(study);
            },
            py::arg("interference"), py::arg("rings"), py::arg("whole"), py::arg("states"),
            py::arg("steps"), py::arg("looked_at"));
}
