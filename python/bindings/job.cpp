#include "asked.hpp"
#include <fitwright/job/job.hpp>
#include <optional>
#include <sstream>

py::dict declaration_dict(const fitwright::fields::Declaration& d);

namespace {

using namespace fitwright;
using namespace fitwright::job;

py::dict job_tables() {
    py::dict tables;
    for (const TableOfParts& t : tables_of_parts())
        tables[t.table] = declaration_dict(*t.declaration);
    return tables;
}

// The words of a choice stand in its declaration, separated by '|'.
template <class Choice>
Choice choice_of(const char* words, const std::string& word) {
    std::istringstream all(words);
    std::string one;
    for (int i = 0; std::getline(all, one, '|'); ++i)
        if (one == word)
            return static_cast<Choice>(i);
    throw std::invalid_argument("\"" + word + "\" is none of " + words);
}
template <class Choice>
std::string word_of(const char* words, Choice choice) {
    std::istringstream all(words);
    std::string one;
    for (int i = 0; std::getline(all, one, '|') && i < static_cast<int>(choice); ++i) {
    }
    return one;
}

stack::Reaction reaction_of(const std::string& word) {
    return word == "shaft" ? stack::Reaction::shaft : stack::Reaction::outside;
}

StepPlan step_of(const py::dict& given) {
    StepPlan step;
    step.name = py::cast<std::string>(given["name"]);
    step.kind =
        choice_of<stack::StepKind>(FITWRIGHT_STEP_KINDS, py::cast<std::string>(given["kind"]));
    step.against = reaction_of(py::cast<std::string>(given["against"]));
    step.state = py::cast<std::string>(given["state"]);
    step.parts = py::cast<std::vector<std::string>>(given["parts"]);
    step.first = py::cast<std::string>(given["first"]);
    step.last = py::cast<std::string>(given["last"]);
    step.times = py::cast<int>(given["times"]);
    return step;
}
py::list step_rows(const Job& j) {
    py::list rows;
    for (const StepPlan& s : j.plan().steps)
        rows.append(py::make_tuple(s.name, word_of(FITWRIGHT_STEP_KINDS, s.kind),
                                   s.against == stack::Reaction::shaft ? "shaft" : "outside",
                                   s.state, s.parts));
    return rows;
}

// A plate or a tool as Python tells it.
AttachedPlan attached_of(const py::dict& given) {
    AttachedPlan a;
    a.name = py::cast<std::string>(given["name"]);
    a.kind = py::cast<std::string>(given["kind"]);
    a.rings = py::cast<std::vector<std::string>>(given["rings"]);
    for (const py::handle material : given["materials"])
        a.materials.push_back(py::cast<const materials::Entry&>(material));
    a.choices = py::cast<std::vector<int>>(given["choices"]);
    return a;
}

py::dict attached_rows() {
    py::dict rows;
    for (const AttachedKind& k : attached_kinds()) {
        py::dict known;
        for (const KnownInput& input : k.known)
            known[input.input] = input.told_by;
        rows[k.name.c_str()] =
            py::dict(py::arg("model") = k.model, py::arg("serves_rings") = k.serves_rings,
                     py::arg("known") = known, py::arg("known_materials") = k.known_materials);
    }
    return rows;
}

Plan make_plan(
    const materials::Entry& shaft, const materials::Entry& nut, bool left_hand,
    const materials::Entry* lock, const materials::Entry* balls, const materials::Entry* outer_ring,
    const std::vector<std::string>& inner_rings, const std::vector<std::string>& seats,
    const std::vector<std::tuple<std::string, std::string, const materials::Entry*, bool,
                                 std::string, int>>& rings,
    const std::vector<std::tuple<std::string, std::string, const materials::Entry*, bool>>& seals,
    const std::vector<std::string>& states, const std::vector<py::dict>& steps, int nut_form,
    int nut_face_law, int rotation, int lock_tabs, int lock_slots, bool has_torque_window,
    bool has_runouts, bool has_ring_loads, const std::optional<std::vector<int>>& service,
    bool pocket, const std::string& thread_class,
    const std::optional<materials::Entry>& pocket_material, const std::optional<py::dict>& plate,
    bool plate_at_nut, const std::vector<py::dict>& tools, bool has_shoulder, bool in_section,
    const std::vector<std::string>& torque_rings) {
    Plan p;
    p.shaft = shaft;
    p.nut = nut;
    p.left_hand = left_hand;
    p.nut_form = nut_form;
    p.nut_face_law = nut_face_law;
    p.rotation = rotation;
    p.lock_tabs = lock_tabs;
    p.lock_slots = lock_slots;
    p.has_torque_window = has_torque_window;
    p.thread_class = thread_class;
    p.pocket = pocket_material;
    p.has_runouts = has_runouts;
    p.has_ring_loads = has_ring_loads;
    if (lock != nullptr)
        p.lock = *lock;
    if (balls != nullptr && outer_ring != nullptr)
        p.bearing = {*balls, *outer_ring, inner_rings};
    if (service)
        p.service = {static_cast<bearings::BearingKind>(service->at(0)),
                     static_cast<bearings::Grooves>(service->at(1)),
                     static_cast<bearings::Lubrication>(service->at(2)),
                     static_cast<bearings::Cleanliness>(service->at(3)), pocket};
    p.seats = seats;
    for (const auto& [name, seat, material, grips, against, slices] : rings)
        p.rings.push_back({name, seat, *material, grips, reaction_of(against), slices});
    for (const auto& [name, ring, material, at_bore] : seals)
        p.seals.push_back({name, ring, *material, at_bore});
    p.states = states;
    for (const py::dict& given : steps)
        p.steps.push_back(step_of(given));
    if (plate)
        p.plate = attached_of(*plate);
    p.plate_at_nut = plate_at_nut;
    p.has_shoulder = has_shoulder;
    p.in_section = in_section;
    p.torque_rings = torque_rings;
    for (const py::dict& given : tools)
        p.tools.push_back(attached_of(given));
    return p;
}

// One dict per step; seats are columns over all points of all parts, in the order of `begin`.
py::tuple job_history(const Job& j) {
    stack::HistoryResult<double> h;
    {
        const py::gil_scoped_release unlocked;
        h = j.history(keyboard());
    }
    py::list steps;
    for (const auto& s : h.steps) {
        py::array_t<double> seats({s.seats.size(), std::size_t{5}});
        auto at = seats.mutable_unchecked<2>();
        for (std::size_t i = 0; i < s.seats.size(); ++i) {
            const auto& p = s.seats[i];
            const auto row = static_cast<py::ssize_t>(i);
            const double columns[] = {p.place, p.pressure, p.friction, p.slip,
                                      static_cast<double>(p.grip)};
            for (py::ssize_t k = 0; k < 5; ++k)
                at(row, k) = columns[k];
        }
        py::list faces;
        for (const auto& f : s.faces)
            faces.append(py::make_tuple(f.force, f.gap));
        steps.append(
            py::make_tuple(faces, seats, s.seat_force, s.nut_force, s.nut_travel, s.dissipated));
    }
    return py::make_tuple(steps, h.seat_begin);
}

} // namespace

void bind_job(py::module_& m) {
    m.def("count_limits", [] {
        py::dict limits;
        for (const CountLimit& l : count_limits())
            limits[l.name] = py::make_tuple(l.most, l.what);
        return limits;
    });
    m.def("job_tables", &job_tables);
    m.def("attached_kinds", &attached_rows);
    py::class_<Plan>(m, "Plan").def(
        py::init(&make_plan), py::kw_only(), py::arg("shaft"), py::arg("nut"), py::arg("left_hand"),
        py::arg("lock").none(true), py::arg("balls").none(true), py::arg("outer_ring").none(true),
        py::arg("inner_rings"), py::arg("seats"), py::arg("rings"), py::arg("seals"),
        py::arg("states"), py::arg("steps"), py::arg("nut_form") = 0, py::arg("nut_face_law") = 0,
        py::arg("rotation") = 0, py::arg("lock_tabs") = 0, py::arg("lock_slots") = 0,
        py::arg("has_torque_window") = false, py::arg("has_runouts") = false,
        py::arg("has_ring_loads") = false, py::arg("service") = py::none(),
        py::arg("pocket") = false, py::arg("thread_class") = "",
        py::arg("pocket_material") = py::none(), py::arg("plate") = py::none(),
        py::arg("plate_at_nut") = true, py::arg("tools") = std::vector<py::dict>{},
        py::arg("has_shoulder") = false, py::arg("in_section") = false,
        py::arg("torque_rings") = std::vector<std::string>{});
    py::class_<Job> job(m, "Job");
    job.def(py::init<const Plan&>(), py::arg("plan"))
        .def("steps", &step_rows)
        .def("balls", &Job::balls, py::arg("state"))
        .def(
            "at", [](const Job& j, const std::string& level) { return j.at(level_named(level)); },
            py::arg("level"))
        .def("in_section", &Job::in_section, py::arg("fineness") = 1.0)
        .def("in_bars", &Job::in_bars)
        .def("is_in_section", &Job::is_in_section)
        .def("level_of",
             [](const Job& j, int output) {
                 for (int l = 0; l < level_count; ++l)
                     if (output < j.layout().outputs_at(static_cast<Level>(l)))
                         return level_names[l];
                 throw std::out_of_range("no such output");
             })
        .def("level", [](const Job& j) { return level_names[static_cast<int>(j.level())]; })
        .def("history", &job_history);
    bind_asked(job);
}
