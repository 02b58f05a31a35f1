// The solver does not know where stiffness comes from, and what it must bear at the ends of what is
// allowed; in a study it runs lane by lane.
#include "../../cpp/src/stack/detail/bar_stack.hpp"
#include "../../cpp/src/stack/detail/history_path.hpp"
#include "catch.hpp"
#include "history_cases.hpp"

#include <cmath>

using namespace fitwright;
using namespace fitwright::stack;
using namespace cases;

namespace {

// Bars of a stack that grips everywhere, as full matrices of their contact points: what a condensed
// finite-element body is. It has no idea of bars.
class Condensed {
public:
    using Load = std::vector<bodies::Strip<double>>;
    void begin() { bars_.begin(); }
    void add(double length, double contact, double diameter, int elements, bool) {
        bars_.add(length, contact, diameter, elements);
        points_ = bars_.points();
        points_.reach = points_.count - 1;
    }
    const bodies::Points<double>& points() const { return points_; }
    double stiffness(int part) const { return bars_.stiffness(part); }
    double length(int part) const { return bars_.length(part); }
    void place(int part, const Load& load, double movement, double* u) const {
        bars_.place(part, load, movement, u);
    }

    bool astray() const { return false; }
    int loaded() const { return points_.count; }
    void follow(double*) const {}
    void at(const Load& load, const std::vector<char>& on, bool) {
        on_ = on;
        const auto n = static_cast<std::size_t>(points_.count);
        const std::size_t seats = points_.seats.size();
        // While it grips all is linear in the interference too: asked where it surely grips.
        const double more = 1e-3;
        const std::vector<double> still(n, 0.0);
        const Answer once = ask(load, more, still);
        const Answer twice = ask(load, 2.0 * more, still);
        force_ = normal_ = {};
        for (std::size_t i = 0; i < n; ++i)
            force_.push_back(2.0 * once.force[i] - twice.force[i]);
        for (std::size_t i = 0; i < seats; ++i)
            normal_.push_back(2.0 * once.normal[i] - twice.normal[i]);
        k_.assign(n * n, 0.0);
        normal_k_.assign(seats * n, 0.0);
        for (std::size_t j = 0; j < n; ++j) {
            std::vector<double> u = still;
            u[j] = 1e-6;
            const Answer moved = ask(load, more, u);
            for (std::size_t i = 0; i < n; ++i)
                k_[i * n + j] = (moved.force[i] - once.force[i]) * 1e6;
            for (std::size_t i = 0; i < seats; ++i)
                normal_k_[i * n + j] = (moved.normal[i] - once.normal[i]) * 1e6;
        }
    }
    template <class Friction>
    void respond(const double* u, double* force, double* normal, bodies::Band& k,
                 Friction& friction) {
        respond(u, force, normal);
        const auto n = static_cast<std::size_t>(points_.count);
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                k.add(static_cast<int>(i), static_cast<int>(j), k_[i * n + j]);
        for (std::size_t s = 0; s < points_.seats.size(); ++s) {
            const bodies::SeatAt<double>& seat = points_.seats[s];
            const bodies::FrictionAt t = friction(s, normal[s], seat.moved(u));
            seat.push(force, t.force);
            for (int i = 0; i < 4; ++i) {
                for (int j = 0; j < 4; ++j)
                    k.add(seat.point[i], seat.point[j],
                          seat.weight[i] * t.by_movement * seat.weight[j]);
                for (std::size_t j = 0; j < n; ++j)
                    k.add(seat.point[i], static_cast<int>(j),
                          seat.weight[i] * t.by_normal * normal_k_[s * n + j]);
            }
        }
    }
    void respond(const double* u, double* force, double* normal) const {
        const auto n = static_cast<std::size_t>(points_.count);
        for (std::size_t i = 0; i < n; ++i) {
            force[i] += force_[i];
            for (std::size_t j = 0; j < n; ++j)
                force[i] += k_[i * n + j] * u[j];
        }
        for (std::size_t i = 0; i < points_.seats.size(); ++i) {
            normal[i] = normal_[i];
            for (std::size_t j = 0; j < n; ++j)
                normal[i] += normal_k_[i * n + j] * u[j];
        }
    }

private:
    struct Answer {
        std::vector<double> force, normal;
    };
    Answer ask(Load load, double more, const std::vector<double>& u) {
        for (bodies::Strip<double>& s : load)
            s.interference += more;
        bars_.at(load, on_, true);
        Answer a{std::vector<double>(u.size(), 0.0),
                 std::vector<double>(points_.seats.size(), 0.0)};
        bodies::Band k;
        k.size(points_.count, 3);
        auto smooth = [](std::size_t, double, double) { return bodies::FrictionAt{}; };
        bars_.respond(u.data(), a.force.data(), a.normal.data(), k, smooth);
        return a;
    }

    bodies::Bars<double> bars_;
    bodies::Points<double> points_;
    std::vector<char> on_;
    std::vector<double> force_, normal_, k_, normal_k_;
};

} // namespace

TEST_CASE("a condensed body plugs in where bars did", "[history]") {
    History<double> h = reference_stack({0.030, 0.020});
    h.states.push_back(h.states[0]);
    h.states[1].strips[0].ring_free += 60e-6;
    h.states[1].strips[0].interference -= 5e-6;
    h.steps = {slip_on(0, 1),
               press(12e3, Reaction::shaft),
               state(0),
               step(StepKind::release),
               step(StepKind::nut_on),
               tighten(90e3),
               state(1),
               state(0),
               step(StepKind::loosen)};
    const auto bars = stack::history(h);
    Steps<double, BarStack<double, Condensed>> steps;
    HistoryResult<double> full;
    REQUIRE(steps.run(h, full));
    for (std::size_t k = 2; k < h.steps.size(); ++k)
        for (std::size_t f = 0; f < bars.steps[k].faces.size(); ++f) {
            CAPTURE(k, f);
            CHECK(full.steps[k].faces[f].force ==
                  Approx(bars.steps[k].faces[f].force).margin(0.002 * 90e3));
            CHECK(full.steps[k].faces[f].gap == Approx(bars.steps[k].faces[f].gap).margin(0.03e-6));
        }
}

TEST_CASE("a part that touches nowhere is one bar: the same forces", "[history]") {
    History<double> h = demo_stack(); // its fourth ring slides on
    h.steps = demo_steps();
    const HistoryResult<double> fine = stack::history(h);
    h.whole_open_parts = true;
    const HistoryResult<double> whole = stack::history(h);
    CHECK(fine.seat_begin[4] - fine.seat_begin[3] == 2 * h.elements);
    CHECK(whole.seat_begin[4] - whole.seat_begin[3] == 2);
    for (std::size_t k = 0; k < h.steps.size(); ++k) {
        CAPTURE(k);
        const double small = 1e-7 * 60e3;
        CHECK(std::fabs(whole.steps[k].nut_force - fine.steps[k].nut_force) < small);
        CHECK(std::fabs(whole.steps[k].pull_force - fine.steps[k].pull_force) < small);
        for (std::size_t f = 0; f < h.parts.size(); ++f) {
            CHECK(std::fabs(whole.steps[k].faces[f].force - fine.steps[k].faces[f].force) < small);
            CHECK(std::fabs(whole.steps[k].faces[f].gap - fine.steps[k].faces[f].gap) < 1e-12);
            CHECK(std::fabs(whole.steps[k].seat_force[f] - fine.steps[k].seat_force[f]) < small);
        }
    }
}

TEST_CASE("a part taken to touch nowhere that touches after all is taken again", "[history]") {
    // The second ring carries the thrust into the shaft, which is squeezed and swells under the first.
    History<double> h = reference_stack({0.030, 0.020});
    h.states[0].strips[0].interference = -1e-9;
    h.thrust_inner = h.thrust_outer = 1;
    h.states.push_back(h.states[0]);
    h.states[1].thrust = 40e3;
    h.steps = {slip_on(0, 1), step(StepKind::nut_on), tighten(100.0), state(1)};
    const HistoryResult<double> fine = stack::history(h);
    double pressure = 0.0;
    for (int j = fine.seat_begin[0]; j < fine.seat_begin[1]; ++j)
        pressure = std::max(pressure, fine.steps[3].seats[static_cast<std::size_t>(j)].pressure);
    REQUIRE(pressure > 0.0);
    h.whole_open_parts = true;
    const HistoryResult<double> again = stack::history(h);
    CHECK(again.seat_begin == fine.seat_begin);
    for (std::size_t k = 0; k < h.steps.size(); ++k)
        for (std::size_t f = 0; f < fine.steps[k].faces.size(); ++f)
            CHECK(again.steps[k].faces[f].force == fine.steps[k].faces[f].force);
}

TEST_CASE("numbers at their limits", "[history]") {
    const auto usual = [](History<double> h) {
        const int last = static_cast<int>(h.parts.size()) - 1;
        h.steps = {slip_on(0, last),
                   press(10e3, Reaction::shaft),
                   state(0),
                   step(StepKind::release),
                   step(StepKind::nut_on),
                   tighten(60e3),
                   step(StepKind::lock),
                   state(0),
                   step(StepKind::loosen)};
        for (int k = 0; k < 3; ++k)
            h.steps.push_back(step(StepKind::pull));
        h.steps.resize(h.steps.size() - 3 + std::min<std::size_t>(3, h.parts.size()));
        const auto r = stack::history(h);
        for (const auto& s : r.steps) {
            CHECK(s.imbalance <= 0.01);
            CHECK(s.dissipated >= -1e-9);
        }
        return r;
    };
    // No friction: all of it arrives, nothing stays, nothing holds.
    auto smooth = usual(reference_stack({0.04, 0.02}, 0.0));
    CHECK(smooth.steps[5].faces[0].force == Approx(60e3).epsilon(1e-6));
    CHECK(smooth.steps[8].faces[0].force == Approx(0.0).margin(1.0));
    CHECK(smooth.steps[9].pull_force == Approx(0.0).margin(1.0));
    for (const auto& s : smooth.steps)
        CHECK(s.dissipated == 0.0);
    // Friction of one: this nut does not reach the shoulder at all.
    const auto rough = usual(reference_stack({0.04, 0.02}, 1.0));
    CHECK(rough.steps[5].faces[0].force == 0.0);
    // No interference: no grip, and still a clamp.
    const auto slack = usual(reference_stack({0.04, 0.02}, 0.15, 0.0, 0.0));
    CHECK(slack.steps[5].faces[0].force == Approx(60e3).epsilon(1e-6));
    CHECK(slack.steps[2].faces[0].gap == 0.0);
    // One ring, and forty.
    usual(reference_stack({0.04}));
    const auto forty = usual(reference_stack(std::vector<double>(40, 0.010)));
    for (std::size_t f = 1; f <= 40; ++f)
        CHECK(forty.steps[5].faces[f].force >= forty.steps[5].faces[f - 1].force);
}

namespace {

// A model that only knows double: torque's force, friction and interference in, clamp and gap out.
bool seat_alone(const double* in, double* out, const void*) {
    History<double> h = demo_stack(in[0], in[1]);
    h.steps = demo_steps();
    h.steps[5].force = in[2];
    thread_local HistoryRun<double> run;
    thread_local HistoryResult<double> result;
    if (!run.run(h, result))
        return false;
    out[0] = result.steps[8].nut_force;
    out[1] = result.steps[8].faces[0].force;
    out[2] = result.steps[3].faces[0].gap;
    return true;
}

} // namespace

TEST_CASE("lanes run a history one after the other", "[history]") {
    using L = number::Lanes<number::lane_count, number::Isa<0>>;
    L in[3], out[3];
    for (int k = 0; k < number::lane_count; ++k) {
        in[0].set_lane(k, 1e-6 * k);
        in[1].set_lane(k, 0.10 + 0.01 * k);
        in[2].set_lane(k, k == 1 ? 900e3 : 50e3 + 2e3 * k); // more than the thread carries
    }
    const auto ok = number::per_lane(&seat_alone, in, 3, out, 3, nullptr);
    for (int k = 0; k < number::lane_count; ++k) {
        CHECK(ok.lane(k) == (k != 1));
        const double alone[] = {in[0].lane(k), in[1].lane(k), in[2].lane(k)};
        double answer[3] = {};
        if (seat_alone(alone, answer, nullptr))
            for (int j = 0; j < 3; ++j)
                CHECK(out[j].lane(k) == answer[j]);
    }
}
