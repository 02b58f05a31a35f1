#include "demo_job.hpp"
#include <limits>

namespace fitwright::bench {

namespace {

using study::Shape;

constexpr double mm = 1e-3;
constexpr double um = 1e-6;
constexpr double kn = 1e3;
constexpr double mpa = 1e6;
constexpr double rpm = 2.0 * fields::pi / 60.0;
constexpr double none = std::numeric_limits<double>::quiet_NaN();

struct Given {
    std::string path;
    double value;
};
struct Scatter {
    std::string path;
    Shape shape;
    double value;
    double deviation;
    double low, high;
};

// Sizes shared by the gripping rings, then what each has of its own.
const std::vector<Given> given{
    {"shaft.bore", 30 * mm},
    {"shaft.shoulder_roughness", 1.6 * um},
    {"seats.main.roughness", 1.6 * um},
    {"rings.sleeve.outside", 100 * mm},
    {"rings.sleeve.length", 32 * mm},
    {"rings.sleeve.contact_length", 29 * mm},
    {"rings.sleeve.roughness", 2.5 * um},
    {"rings.sleeve.overhang", 0.4},
    {"rings.sleeve.overhang_low", 0.0},
    {"rings.sleeve.overhang_high", 0.5},
    {"rings.sleeve.slip_clearance", 30 * um},
    {"rings.inner_thrust.outside", 104 * mm},
    {"rings.inner_thrust.length", 19.5 * mm},
    {"rings.inner_thrust.contact_length", 17 * mm},
    {"rings.inner_thrust.roughness", 1.6 * um},
    {"rings.inner_thrust.overhang", 0.0},
    {"rings.inner_thrust.overhang_low", 0.0},
    {"rings.inner_thrust.overhang_high", 0.2},
    {"rings.inner_thrust.face_roughness", 1 * um},
    {"rings.inner_thrust.settling", 0.3 * um},
    {"rings.inner_thrust.slip_clearance", 30 * um},
    {"rings.inner_back.outside", 104 * mm},
    {"rings.inner_back.length", 19.5 * mm},
    {"rings.inner_back.contact_length", 17 * mm},
    {"rings.inner_back.roughness", 1.6 * um},
    {"rings.inner_back.overhang", 0.4},
    {"rings.inner_back.overhang_low", 0.0},
    {"rings.inner_back.overhang_high", 0.5},
    {"rings.inner_back.face_roughness", 1 * um},
    {"rings.inner_back.settling", 0.3 * um},
    {"rings.inner_back.slip_clearance", 30 * um},
    {"rings.wheel.outside", 118 * mm},
    {"rings.wheel.length", 14 * mm},
    {"rings.wheel.friction", 0.15},
    {"rings.slinger.outside", 102 * mm},
    {"rings.slinger.length", 16 * mm},
    {"rings.slinger.friction", 0.15},
    {"lock.bore", 75.5 * mm},
    {"lock.outside", 98 * mm},
    {"lock.thickness", 1.5 * mm},
    {"lock.face_roughness", 4 * um},
    {"nut.diameter", 75 * mm},
    {"nut.pitch", 2 * mm},
    {"nut.height", 20 * mm},
    {"nut.outside", 104 * mm},
    {"nut.face_inside", 77 * mm},
    {"nut.face_outside", 96 * mm},
    {"bearing.balls", 15},
    {"bearing.ball_diameter", 17.462 * mm},
    {"bearing.pitch_diameter", 115.5 * mm},
    {"bearing.inner_curvature", 0.515},
    {"bearing.outer_curvature", 0.52},
    {"bearing.shim", 160 * um},
    {"states.start.speed", 7000 * rpm},
    {"states.start.shaft_temperature", 35},
    {"states.start.thrust", 4 * kn},
    {"states.full_load.speed", 11000 * rpm},
    {"states.overspeed.speed", 12650 * rpm},
    {"states.overspeed.shaft_temperature", 72},
    {"states.overspeed.thrust", 10 * kn},
    {"states.trip.shaft_temperature", 76},
    {"states.hot_restart.speed", 11000 * rpm},
    {"states.hot_restart.shaft_temperature", 66},
    {"states.hot_restart.thrust", 9 * kn},
};

const std::vector<Scatter> scattered{
    {"nut.thread_friction", Shape::triangular, 0.125, none, 0.10, 0.15},
    {"nut.face_friction", Shape::triangular, 0.125, none, 0.10, 0.15},
    {"nut.torque", Shape::normal, 650, 20, none, none},
    {"nut.settling", Shape::triangular, 0.6 * um, none, 0.3 * um, 1.2 * um},
    {"lock.settling", Shape::triangular, 1 * um, none, 0.5 * um, 2 * um},
    {"bearing.clearance", Shape::uniform, 150 * um, none, 140 * um, 160 * um},
    {"seats.main.diameter", Shape::normal, 80.036 * mm, 1.5 * um, none, none},
    {"rings.sleeve.bore", Shape::normal, 79.995 * mm, 2 * um, none, none},
    {"rings.sleeve.friction", Shape::triangular, 0.15, none, 0.12, 0.18},
    {"rings.sleeve.oven", Shape::normal, 110, 4, none, none},
    {"rings.inner_thrust.bore", Shape::normal, 79.994 * mm, 1.5 * um, none, none},
    {"rings.inner_thrust.friction", Shape::triangular, 0.15, none, 0.12, 0.18},
    {"rings.inner_thrust.oven", Shape::normal, 110, 2.5, none, none},
    {"rings.inner_back.bore", Shape::normal, 79.994 * mm, 1.5 * um, none, none},
    {"rings.inner_back.friction", Shape::triangular, 0.15, none, 0.12, 0.18},
    {"rings.inner_back.oven", Shape::normal, 110, 2.5, none, none},
    {"rings.wheel.bore", Shape::normal, 80.058 * mm, 3 * um, none, none},
    {"rings.wheel.settling", Shape::triangular, 0.6 * um, none, 0.3 * um, 1.2 * um},
    {"rings.slinger.bore", Shape::normal, 80.060 * mm, 3 * um, none, none},
    {"rings.slinger.settling", Shape::triangular, 0.6 * um, none, 0.3 * um, 1.2 * um},
    {"states.full_load.shaft_temperature", Shape::normal, 70, 4, none, none},
    {"states.full_load.thrust", Shape::normal, 9 * kn, 0.8 * kn, none, none},
};

// How much hotter than the shaft, and how far that scatters (0: not at all).
struct Lag {
    const char* part;
    double value, deviation;
};
const std::vector<std::pair<std::string, std::vector<Lag>>> lags{
    {"start",
     {{"sleeve", 11, 1.5},
      {"inner_thrust", 12, 1.5},
      {"inner_back", 12, 1.5},
      {"wheel", 5, 0},
      {"slinger", 6, 0},
      {"lock", 3, 0},
      {"nut", 3, 0},
      {"outer_ring", 7, 0},
      {"balls", 13, 0}}},
    {"full_load",
     {{"sleeve", 5, 1},
      {"inner_thrust", 7, 1},
      {"inner_back", 6, 1},
      {"wheel", 2, 0},
      {"slinger", 2, 0},
      {"lock", 1, 0},
      {"nut", 1, 0},
      {"outer_ring", -3, 1.5},
      {"balls", 9, 0}}},
    {"overspeed",
     {{"sleeve", 6, 1},
      {"inner_thrust", 8, 1},
      {"inner_back", 7, 1},
      {"wheel", 2, 0},
      {"slinger", 2, 0},
      {"lock", 1, 0},
      {"nut", 1, 0},
      {"outer_ring", -3, 0},
      {"balls", 10, 0}}},
    {"trip",
     {{"sleeve", -6, 1},
      {"inner_thrust", -4, 1},
      {"inner_back", -5, 1},
      {"wheel", -5, 0},
      {"slinger", -5, 0},
      {"lock", -2, 0},
      {"nut", -2, 0},
      {"outer_ring", -8, 0},
      {"balls", -2, 0}}},
    {"hot_restart",
     {{"sleeve", 8, 1.5},
      {"inner_thrust", 10, 1.5},
      {"inner_back", 9, 1.5},
      {"wheel", 3, 0},
      {"slinger", 4, 0},
      {"lock", 2, 0},
      {"nut", 2, 0},
      {"outer_ring", 0, 0},
      {"balls", 12, 0}}},
};

job::Plan plan() {
    const auto& steel = [](const char* name) { return materials::find(name); };
    job::Plan p;
    p.shaft = steel("4340");
    p.nut = steel("4140");
    p.left_hand = true;
    p.lock = steel("1020");
    p.bearing = {steel("52100"), steel("52100"), {"inner_thrust", "inner_back"}};
    p.seats = {"main"};
    p.rings = {{"sleeve", "main", steel("4140"), true},
               {"inner_thrust", "main", steel("52100"), true},
               {"inner_back", "main", steel("52100"), true},
               {"wheel", "main", steel("1045"), false},
               {"slinger", "main", steel("1045"), false}};
    p.states = {"cold_build", "start", "full_load", "overspeed", "trip", "hot_restart"};
    return p;
}

void scatter(DemoJob& demo, const Scatter& s) {
    job::Job& job = demo.job;
    const int leaf = job.leaf(s.path);
    job.set(leaf, s.value);
    study::Spread spread{leaf,    -1,          -1,    s.path, s.shape,
                         s.value, s.deviation, s.low, s.high};
    // A field with ends is followed by them.
    const auto next = static_cast<std::size_t>(leaf) + 1;
    if (next < job.inputs().size() && job.inputs()[next].field->kind == fields::Kind::low_end) {
        spread.low_leaf = leaf + 1;
        spread.high_leaf = leaf + 2;
        job.set(leaf + 1, s.low);
        job.set(leaf + 2, s.high);
    }
    demo.spreads.push_back(spread);
}

DemoJob make() {
    DemoJob demo{job::Job(plan()), {}, {}};
    job::Job& job = demo.job;
    for (const Given& g : given)
        job.set(job.leaf(g.path), g.value);
    for (const Scatter& s : scattered)
        scatter(demo, s);
    for (const auto& [state, parts] : lags)
        for (const Lag& lag : parts) {
            const std::string path = "states." + state + ".lags." + lag.part;
            if (lag.deviation > 0.0)
                scatter(demo, {path, Shape::normal, lag.value, lag.deviation, none, none});
            else
                job.set(job.leaf(path), lag.value);
        }
    for (const char* state : {"cold_build", "start", "full_load", "overspeed", "hot_restart"})
        job.set_limit("shoulder.clamp_low", state, 8 * kn, none);
    job.set_limit("nut.force", "*", 20 * kn, none);
    job.set_limit("bearing.clearance", "*", 50 * um, none);
    job.set_limit("bearing.end_play", "cold_build", 0.25 * mm, 0.45 * mm);
    job.set_limit("bearing.inner_stress", "*", none, 2000 * mpa);
    job.set_limit("rings.inner_thrust.ring_hoop", "*", none, 150 * mpa);
    job.set_limit("rings.inner_back.ring_hoop", "*", none, 150 * mpa);
    for (const job::Limit& l : job.limits())
        demo.tracked.push_back({l.output, l.at_least, l.at_most});
    return demo;
}

} // namespace

study::Subject DemoJob::subject() const {
    study::Subject s{&job::quick_formulas(),    job.context(), job.values(), {}, {},
                     job.layout().output_count};
    for (const job::InputPath& in : job.inputs()) {
        s.low.push_back(in.field->range.low);
        s.high.push_back(in.field->range.high);
    }
    return s;
}

const DemoJob& demo_job() {
    static const DemoJob demo = make();
    return demo;
}

} // namespace fitwright::bench
