// Random jobs and states on which every bound of the quick level is held against the history: one to
// five rings, seated or not, some that slide on, unlike metals, speed, heat, thrust both ways, and every
// friction, settling and torque somewhere between its ends, ring by ring.
#pragma once

#include "cases.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <string>
#include <vector>

namespace hunt {

using namespace fitwright;

// The numbers a job is made from, each from 0 to 1, in the order they are asked for. An adversary moves
// them; the job they stand for follows.
class Numbers {
public:
    explicit Numbers(std::uint64_t seed)
        : random_(seed) {}
    double next() {
        if (at_ == all_.size())
            all_.push_back(std::uniform_real_distribution<double>()(random_));
        return all_[at_++];
    }
    double from(double low, double high) { return low + (high - low) * next(); }
    int pick(int n) { return std::min(n - 1, static_cast<int>(next() * n)); }
    bool chance(double share) { return next() < share; }
    // An end as often as not.
    double between(double low, double high) {
        const double x = next();
        return x < 0.3 ? low : x > 0.7 ? high : low + (high - low) * (x - 0.3) / 0.4;
    }
    void rewind() { at_ = 0; }
    std::vector<double>& all() { return all_; }

private:
    std::mt19937_64 random_;
    std::vector<double> all_;
    std::size_t at_ = 0;
};

// What the quick level was told (with ends) and what the history runs with (between them).
struct Pair {
    job::Job told, true_one;
};

class Values {
public:
    explicit Values(Pair& pair)
        : pair_(pair) {
        const auto& inputs = pair.told.inputs();
        for (std::size_t i = 0; i < inputs.size(); ++i)
            leaves_[inputs[i].path] = static_cast<int>(i);
    }
    void both(const std::string& path, double value) {
        pair_.told.set(leaves_.at(path), value);
        pair_.true_one.set(leaves_.at(path), value);
    }
    // Somewhere between two ends.
    void ranged(const std::string& path, double low, double high, Numbers& numbers) {
        const int leaf = leaves_.at(path);
        pair_.told.set(leaf, numbers.from(low, high));
        pair_.told.set(leaf + 1, low);
        pair_.told.set(leaf + 2, high);
        const double is = numbers.between(low, high);
        for (int k = 0; k < 3; ++k)
            pair_.true_one.set(leaf + k, is);
    }

private:
    Pair& pair_;
    std::map<std::string, int> leaves_;
};

inline materials::Entry random_metal(Numbers& n) {
    switch (n.pick(5)) {
    case 0:
        return cases::even_metal(n.from(68e9, 74e9), n.from(22e-6, 24e-6), 0.33);
    case 1:
        return cases::even_metal(n.from(105e9, 120e9), n.from(9e-6, 18e-6), 0.34);
    default:
        return cases::even_metal(n.from(195e9, 212e9), n.from(10.5e-6, 12.8e-6), 0.29);
    }
}

inline Pair random_job(Numbers& n, int states) {
    const int rings = 1 + n.pick(5);
    job::Plan plan;
    plan.shaft = random_metal(n);
    plan.nut = random_metal(n);
    if (n.chance(0.5))
        plan.lock = random_metal(n);
    plan.seats = {"main"};
    plan.has_shoulder = n.chance(0.4);
    std::vector<bool> slides;
    for (int i = 0; i < rings; ++i) {
        slides.push_back(n.chance(0.25));
        job::RingPlan ring{"ring" + std::to_string(i), "main", random_metal(n), !slides.back()};
        ring.press_against = n.chance(0.3) ? stack::Reaction::outside : stack::Reaction::shaft;
        plan.rings.push_back(ring);
    }
    const bool has_bearing = n.chance(0.7);
    const int inner = n.pick(rings);
    const bool split = n.chance(0.5) && inner + 1 < rings;
    if (has_bearing) {
        plan.bearing = job::BearingPlan{plan.shaft, plan.shaft, {}};
        plan.bearing->inner_rings.push_back(plan.rings[static_cast<std::size_t>(inner)].name);
        if (split)
            plan.bearing->inner_rings.push_back(
                plan.rings[static_cast<std::size_t>(inner + 1)].name);
    }
    plan.states = {"built"};
    for (int s = 0; s < states; ++s)
        plan.states.push_back("state" + std::to_string(s));

    // Dimensions that the structure of the plan does not hang on come after it.
    Pair pair{job::Job(plan), job::Job(plan)};
    Values give(pair);
    const double d = n.from(0.03, 0.15);
    const double bore = n.chance(0.3) ? 0.0 : d * n.from(0.1, 0.7);
    give.both("shaft.bore", bore);
    give.both("shaft.shoulder_roughness", n.chance(0.3) ? 0.0 : n.from(0.4e-6, 4e-6));
    give.both("seats.main.diameter", d);
    if (plan.has_shoulder) {
        give.both("shoulder.outside", d * n.from(1.12, 1.6));
        give.both("shoulder.length", d * n.from(0.09, 0.8));
        give.both("shoulder.land_inside", d * n.from(1.0, 1.06));
        if (n.chance(0.5))
            give.both("shoulder.beyond", d * n.from(0.8, 1.1));
    }
    double capacity = 0.0; // of all seats, roughly
    for (int i = 0; i < rings; ++i) {
        const std::string ring = "rings." + plan.rings[static_cast<std::size_t>(i)].name + ".";
        const bool slide = slides[static_cast<std::size_t>(i)];
        const double interference = d * (slide ? n.from(-6e-4, 0.5e-4) : n.from(0.1e-4, 10e-4));
        const double outside = d * n.from(1.15, 1.8);
        const double length = d * n.from(0.12, 0.8);
        const double contact = length * n.from(0.75, 1.0);
        give.both(ring + "bore", d - interference);
        give.both(ring + "outside", outside);
        give.both(ring + "length", length);
        give.both(ring + "contact_length", contact);
        give.both(ring + "smoothing", 0.0);
        give.both(ring + "face_roughness", n.chance(0.3) ? 0.0 : n.from(0.4e-6, 4e-6));
        const double least = n.from(0.02, 0.2);
        give.ranged(ring + "friction", least, least * n.from(1.0, 2.0), n);
        const double overhang = n.chance(0.5) ? 0.0 : n.from(0.0, 0.6);
        give.ranged(ring + "overhang", overhang, std::min(1.0, overhang + n.from(0.0, 0.4)), n);
        const double settles = n.from(0.0, 1e-6);
        give.ranged(ring + "settling", settles, settles + n.from(0.0, 1.5e-6), n);
        const double pressure =
            100e9 * std::max(0.0, interference) / d * (1.0 - d * d / (outside * outside));
        const double hold = 0.15 * pressure * fields::pi * d * contact;
        give.both(ring + "press", n.chance(0.4) ? 0.0 : hold * n.from(0.0, 1.5));
        capacity += hold;
    }
    if (plan.lock) {
        give.both("lock.bore", d * 0.97);
        give.both("lock.outside", d * n.from(1.1, 1.4));
        give.both("lock.thickness", n.from(0.001, 0.004));
        give.both("lock.face_roughness", n.from(0.0, 6e-6));
        const double settles = n.from(0.0, 2e-6);
        give.ranged("lock.settling", settles, settles + n.from(0.0, 2e-6), n);
    }
    const double thread = std::max(d * 0.94, bore * 1.2);
    give.both("nut.diameter", thread);
    give.both("nut.pitch", n.from(0.02, 0.04) * thread);
    give.both("nut.height", d * n.from(0.15, 0.4));
    give.both("nut.outside", d * n.from(1.2, 1.5));
    give.both("nut.face_inside", d);
    give.both("nut.face_outside", d * 1.18);
    give.both("nut.face_roughness", n.from(0.0, 4e-6));
    const double thread_friction = n.from(0.08, 0.14);
    give.ranged("nut.thread_friction", thread_friction, thread_friction * n.from(1.0, 1.6), n);
    const double face_friction = n.from(0.08, 0.14);
    give.ranged("nut.face_friction", face_friction, face_friction * n.from(1.0, 1.6), n);
    const double settles = n.from(0.0, 1e-6);
    give.ranged("nut.settling", settles, settles + n.from(0.0, 1e-6), n);
    // From far less than the seats take to far more; 150 MPa of the shaft at most.
    const double most = 150e6 * (d * d - bore * bore) * fields::pi / 4.0;
    const double preload = std::min(most, n.chance(0.5) ? capacity * n.from(0.3, 3.0) + 2e3
                                                        : most * n.from(0.05, 1.0));
    const double torque = preload * 0.165 * thread;
    give.ranged("nut.torque", torque, torque * (n.chance(0.5) ? 1.0 : n.from(1.0, 1.2)), n);
    if (has_bearing) {
        const double ball = d * 0.15;
        give.both("bearing.balls", 12.0);
        give.both("bearing.ball_diameter", ball);
        const auto& in = pair.told.values();
        double least = 1e9;
        for (int i = inner; i <= inner + (split ? 1 : 0); ++i)
            least = std::min(
                least, in[static_cast<std::size_t>(pair.told.leaf(
                           "rings." + plan.rings[static_cast<std::size_t>(i)].name + ".outside"))]);
        give.both("bearing.pitch_diameter", (d + least) * 0.5 + ball);
        give.both("bearing.inner_curvature", 0.52);
        give.both("bearing.outer_curvature", 0.53);
        give.both("bearing.clearance", 150e-6);
    }
    for (int s = 0; s < states; ++s) {
        const std::string state = "states.state" + std::to_string(s) + ".";
        give.both(state + "speed", n.chance(0.4) ? 0.0 : n.from(0.0, 110.0) / d);
        const double shaft = n.from(-10.0, 110.0);
        give.both(state + "shaft_temperature", shaft);
        const bool together = n.chance(0.3);
        const double all = n.from(-20.0, 25.0);
        for (const job::RingPlan& ring : plan.rings)
            give.both(state + "lags." + ring.name, together ? all : n.from(-20.0, 25.0));
        give.both(state + "lags.nut", n.from(-8.0, 8.0));
        if (plan.lock)
            give.both(state + "lags.lock", n.from(-8.0, 8.0));
        if (has_bearing && n.chance(0.6))
            give.both(state + "thrust", preload * n.from(-2.5, 1.5));
    }
    return pair;
}

// The history meets equilibrium to 1e-8 of its forces, or to 1e-5 and 0.02 N where its search was long: a
// part that nothing holds shows that much.
inline constexpr double solver_force = 0.05;

// How far a bound is kept, over the nut's force (that of tightening or of the state); negative: it is broken.
struct Kept {
    double slack = 1e9;
    std::string what;
};
struct Found {
    int states = 0, unsolved = 0, refused = 0, opened = 0;
    Kept worst;
    std::vector<double> broken_by; // the numbers of the worst one
    Kept tightest;                 // of bounds that say something: not of those at nothing
};

inline void hold(const Pair& pair, const std::vector<double>& bounds,
                 const std::vector<double>& history, const std::string& state,
                 const std::string& step, double scale, Found& found) {
    const auto bound = [&](const char* path) {
        return bounds[static_cast<std::size_t>(pair.told.output(state, path))];
    };
    const job::Job at_history = pair.true_one.at(job::Level::history);
    const auto true_value = [&](const char* path) {
        return history[static_cast<std::size_t>(at_history.output(step, path))];
    };
    const double shoulder = true_value("shoulder.clamp");
    const double nut = true_value("nut.clamp");
    const double force = std::max({scale, shoulder, nut});
    const auto check = [&](double is, const char* path, double sign) {
        const double limit = bound(path);
        const double slack = ((is - limit) * sign + solver_force) / force;
        const auto less = [&](Kept& than) {
            if (slack < than.slack)
                than = {slack, std::string(path) + " in " + step};
        };
        less(found.worst);
        if (limit > 0.02 * scale)
            less(found.tightest);
    };
    check(shoulder, "shoulder.clamp_low", 1.0);
    check(shoulder, "shoulder.clamp_high", -1.0);
    check(nut, "nut.force_low", 1.0);
    check(nut, "nut.force_high", -1.0);
    ++found.states;
    found.opened += shoulder == 0.0 ? 1 : 0;
}

// What must hold with all of a job: `numbers` tell it.
inline void hunt_one(Numbers& numbers, int states, Found& found) {
    numbers.rewind();
    const Pair pair = random_job(numbers, states);
    std::vector<double> bounds, history;
    try {
        bounds = pair.told.evaluate();
    } catch (const DomainError&) {
        ++found.refused;
        return;
    }
    try {
        history = pair.true_one.at(job::Level::history).evaluate();
    } catch (const DomainError&) {
        ++found.unsolved;
        return;
    }
    const double scale = bounds[static_cast<std::size_t>(pair.told.output("built", "nut.preload"))];
    hold(pair, bounds, history, "built", "lock", scale, found);
    for (int s = 0; s < states; ++s) {
        const std::string name = "state" + std::to_string(s);
        hold(pair, bounds, history, name, name, scale, found);
    }
}

// An adversary: moves a few of the numbers, keeps what brings a bound nearer to being broken.
inline void climb(std::uint64_t seed, int steps, int states, Found& all) {
    std::mt19937_64 random(seed * 77 + 1);
    std::uniform_real_distribution<double> uniform;
    Numbers best(seed);
    Found found;
    hunt_one(best, states, found);
    Kept tightest = found.tightest;
    Numbers next = best;
    for (int k = 0; k <= steps; ++k) {
        all.states += found.states;
        all.unsolved += found.unsolved;
        if (found.worst.slack < all.worst.slack) {
            all.worst = found.worst;
            all.broken_by = next.all();
        }
        next = best;
        for (int moves = 1 + static_cast<int>(uniform(random) * 4.0); moves > 0; --moves) {
            const auto i =
                static_cast<std::size_t>(uniform(random) * static_cast<double>(next.all().size()));
            const double x = uniform(random) < 0.4 ? uniform(random)
                                                   : next.all()[i] + (uniform(random) - 0.5) * 0.2;
            next.all()[i] = std::min(0.999999, std::max(0.0, x));
        }
        found = {};
        hunt_one(next, states, found);
        if (found.states > 0 && found.tightest.slack <= tightest.slack) {
            tightest = found.tightest;
            best = next;
        }
    }
    if (tightest.slack < all.tightest.slack)
        all.tightest = tightest;
}

} // namespace hunt
