// A bearing under thrust, radial load and moment: the solution's derivatives and what it means.
// Solved in double (ring_solve.cpp); then each ball and the ring take one more Newton step on the
// number type, which carries the derivatives (implicit functions: dx = -(df/dx)^-1 df).
#pragma once

#include "materials/range.hpp"
#include "ring_solve.hpp"
#include <fitwright/number/per_lane.hpp>
#include <fitwright/number/power.hpp>

namespace fitwright::rules {
extern const number::Rule balls_flung_out, clearance_below_groove, contact_shallow,
    no_loaded_balance, thrust_on_arch;
} // namespace fitwright::rules

namespace fitwright::bearings {

// Columns of the table of balls, as `run` fills it for double when the context asks for it.
enum BallColumn : int {
    inner_load_column,
    outer_load_column,
    inner_angle_column,
    outer_angle_column,
    inner_peak_column,
    outer_peak_column,
    centrifugal_column,
    gyroscopic_column,
    ball_columns
};
struct BallTable {
    double column[ball_columns][ball_limit];
    double stiffness[ring_freedoms * ring_freedoms];
    int balls, iterations;
};

// Answers the code of the broken rule behind the outputs (baseline; equilibrium.cpp).
bool equilibrium_of_one(const double* inputs, double* outputs, const void* context);

// What a state hands over: all numbers, one after the other. Its loads are thrust, radial load, that
// across, moment and that across.
template <class T>
struct LoadedBearing {
    Bearing<T> bearing;
    BearingContacts<T> contacts;
    T clearance, speed, outer_control;
    T loads[ring_freedoms];
};

// How the ring moves with the inputs; its values stay those of the solution, to the bit.
template <class T>
FITWRIGHT_INLINE void ring_slopes(const RingAnswer<T>& a, const T* loads, const double* scale,
                                  T* move) {
    if constexpr (has_derivatives<T>) {
        double matrix[ring_freedoms * ring_freedoms];
        for (int i = 0; i < ring_freedoms * ring_freedoms; ++i)
            matrix[i] = value_of(a.stiffness[i]);
        double right[ring_freedoms];
        double step[ring_freedoms];
        for (int d = 0; d < T::directions; ++d) {
            for (int i = 0; i < ring_freedoms; ++i)
                right[i] = (loads[i] - a.force[i]).d.lane(d);
            solve_small(matrix, right, step, scale);
            for (int i = 0; i < ring_freedoms; ++i)
                move[i].d.set_lane(d, step[i]);
        }
    }
}

inline constexpr double permanent_mark = 4200e6;      // ISO 76, ball bearings
inline constexpr double no_load_contact_safety = 1e6; // the cube of 100

template <class T>
EquilibriumOutputs<T> equilibrium_state(const LoadedBearing<T>& in, const RunningBearing<T>& r,
                                        const RingSolution& s, BallTable* table,
                                        Faults<T>& faults) {
    const Bearing<T>& b = in.bearing;
    const BearingContacts<T>& c = in.contacts;
    const T& thrust = in.loads[0];
    const double arm = value_of(r.arm);
    const double scale[ring_freedoms] = {1.0, 1.0, 1.0, arm, arm};
    T move[ring_freedoms];
    for (int i = 0; i < ring_freedoms; ++i)
        move[i] = T(s.move[i]);
    RingAnswer<T> answer;
    BallForces<T> forces;
    BallState<T> state;
    // Derivatives: once with the ring held, then with the ring where that puts it.
    for (int round = has_derivatives<T> ? 0 : 1; round < 2; ++round) {
        clear(answer);
        for (int k = 0; k < r.balls; ++k) {
            if (!s.loaded[k])
                continue;
            const BallForces<double>& f = s.forces[k];
            const BallForces<T> near{T(f.axial), T(f.radial), T(f.centrifugal), T(f.friction)};
            forces = ball_step(ball_state(near, r.ball), near,
                               ball_place(r, move, s.cosine[k], s.sine[k]));
            add_ball(answer, r, ball_state(forces, r.ball), forces, s.cosine[k], s.sine[k]);
        }
        if (round == 0)
            ring_slopes(answer, in.loads, scale, move);
    }

    EquilibriumOutputs<T> out;
    out.axial_displacement = move[0] - r.shim * 0.5;
    out.radial_displacement = move[1];
    out.radial_displacement_across = move[2];
    out.tilt = move[3];
    out.tilt_across = move[4];
    out.axial_stiffness = answer.stiffness[0];
    out.radial_stiffness = answer.stiffness[ring_freedoms + 1];
    out.radial_stiffness_across = answer.stiffness[2 * ring_freedoms + 2];
    const T inner_depth = r.ball.inner_length;
    const T back = fields::given(b.back_shoulder, smaller(b.inner_shoulder, b.outer_shoulder));
    T greatest(0.0);
    T least(1e300);
    T greatest_outer(0.0);
    T angle_high(-10.0);
    T angle_low(10.0);
    out.inner_edge = T(1e300);
    out.outer_edge = T(1e300);
    out.arch_gap = inner_depth;
    out.gyroscopic_friction = T(0.0);
    T inner_sum(0.0);
    T outer_sum(0.0);
    bool any_loaded = false;
    for (int k = 0; k < r.balls; ++k) {
        const auto place = ball_place(r, move, s.cosine[k], s.sine[k]);
        T inner_load(0.0);
        T outer_load, inner_angle, outer_angle, centrifugal;
        T moment(0.0);
        if (s.loaded[k]) {
            any_loaded = true;
            const BallForces<double>& f = s.forces[k];
            const BallForces<T> near{T(f.axial), T(f.radial), T(f.centrifugal), T(f.friction)};
            forces = ball_step(ball_state(near, r.ball), near, place);
            state = ball_state(forces, r.ball);
            inner_load = state.inner.load;
            outer_load = state.outer.load;
            inner_angle = angle_of(state.inner.sine, state.inner.cosine);
            outer_angle = angle_of(state.outer.sine, state.outer.cosine);
            centrifugal = forces.centrifugal;
            moment = forces.friction * b.ball_diameter;
            const auto backward = state.inner.sine < T(0.0);
            faults.require(!backward | (back > T(0.0)), rules::thrust_on_arch, thrust);
            faults.require(state.inner.reach - inner_depth + state.outer.reach -
                                   r.ball.outer_length <
                               b.ball_diameter * 0.05,
                           rules::contact_shallow, thrust);
            const T inner_major = c.inner.semi_major * cbrt(inner_load);
            const T outer_major = c.outer.semi_major * cbrt(outer_load);
            out.inner_edge =
                smaller(out.inner_edge, left_to_edge(b.inner_curvature, b.ball_diameter,
                                                     T(select(backward, back, b.inner_shoulder)),
                                                     abs(inner_angle), inner_major));
            out.outer_edge =
                smaller(out.outer_edge, left_to_edge(b.outer_curvature, b.ball_diameter,
                                                     T(select(backward, back, b.outer_shoulder)),
                                                     abs(outer_angle), outer_major));
            out.gyroscopic_friction =
                larger(out.gyroscopic_friction,
                       larger(T(state.share.v * abs(forces.friction) / inner_load),
                              T((2.0 - state.share.v) * abs(forces.friction) / outer_load)));
            if (value_of(r.shim) > 0.0) {
                const T towards = r.back ? -state.inner.sine : state.inner.sine;
                const T reach = state.inner.reach;
                const T left = inner_depth * inner_depth - reach * reach +
                               r.shim * (reach * towards * 2.0 - r.shim);
                out.arch_gap = smaller(
                    out.arch_gap, left / (inner_depth + sqrt(inner_depth * inner_depth - left)));
            }
            angle_high = larger(angle_high, outer_angle);
            angle_low = smaller(angle_low, outer_angle);
        } else {
            const auto loose = loose_ball(place, r.ball);
            outer_load = loose.centrifugal;
            centrifugal = loose.centrifugal;
            inner_angle = T(0.0);
            outer_angle = T(0.0);
        }
        greatest = larger(greatest, inner_load);
        least = smaller(least, inner_load);
        inner_sum += cube(inner_load);
        outer_sum += power(outer_load, 10.0 / 3.0);
        greatest_outer = larger(greatest_outer, outer_load);
        if constexpr (!has_derivatives<T>)
            if (table != nullptr) {
                table->column[inner_load_column][k] = inner_load;
                table->column[outer_load_column][k] = outer_load;
                table->column[inner_angle_column][k] = inner_angle;
                table->column[outer_angle_column][k] = outer_angle;
                table->column[inner_peak_column][k] = c.inner.pressure * cbrt(inner_load);
                table->column[outer_peak_column][k] = c.outer.pressure * cbrt(outer_load);
                table->column[centrifugal_column][k] = centrifugal;
                table->column[gyroscopic_column][k] = moment;
            }
    }
    if constexpr (!has_derivatives<T>)
        if (table != nullptr) {
            table->balls = r.balls;
            table->iterations = s.iterations;
            for (int i = 0; i < ring_freedoms * ring_freedoms; ++i)
                table->stiffness[i] = answer.stiffness[i];
        }
    if (!any_loaded) {
        out.inner_edge = inner_depth;
        out.outer_edge = r.ball.outer_length;
        angle_high = T(0.0);
        angle_low = T(0.0);
    }
    faults.kink(!any_loaded);
    out.greatest_inner_load = greatest;
    out.least_inner_load = least;
    out.greatest_outer_load = greatest_outer;
    out.inner_peak = c.inner.pressure * cbrt(greatest);
    out.outer_peak = c.outer.pressure * cbrt(greatest_outer);
    out.angle_spread = angle_high - angle_low;
    // As the lives of the raceways weigh the loads (reference_life.hpp).
    out.inner_equivalent_load = power(T(inner_sum * (1.0 / r.balls)), 1.0 / 3.0);
    out.outer_equivalent_load = power(T(outer_sum * (1.0 / r.balls)), 0.3);
    const T peak = larger(out.inner_peak, out.outer_peak);
    const auto pressed = peak * 100.0 > T(permanent_mark);
    out.contact_safety =
        select(pressed, cube(permanent_mark / select(pressed, peak, T(permanent_mark))),
               T(no_load_contact_safety));
    return out;
}

// On double and duals: what a job calls for its states.
template <class T>
EquilibriumOutputs<T> loaded_state(const LoadedBearing<T>& in, const materials::Material& balls,
                                   BallTable* table, Faults<T>& faults) {
    auto r =
        running_bearing(in.bearing, in.contacts, balls, in.clearance, in.speed, in.outer_control);
    r.balls = static_cast<int>(smaller(value_of(in.bearing.balls), double(ball_limit)) + 0.5);
    r.back = value_of(in.loads[0]) < 0.0;
    const RunningBearing<double> values{
        r.ball.values(),  value_of(r.lift), value_of(r.arm), value_of(r.friction_arm),
        value_of(r.shim), r.balls,          r.back};
    double loads[ring_freedoms];
    for (int i = 0; i < ring_freedoms; ++i)
        loads[i] = value_of(in.loads[i]);
    RingSolution solution;
    const double a = value_of(in.contacts.groove_distance);
    solve_ring(values, loads, value_of(in.contacts.stiffness) * a * sqrt(a), solution);
    faults.require(solution.converged,
                   solution.passed ? rules::balls_flung_out : rules::no_loaded_balance, in.speed);
    return equilibrium_state(in, r, solution, table, faults);
}

// The model. Lanes go one by one.
template <class T>
void equilibrium_on(const EquilibriumInputs<T>& in, EquilibriumOutputs<T>& out,
                    const fields::Context& context, BallTable* table, Faults<T>& faults) {
    const materials::Material& rings = *context.materials[0];
    const materials::Material& balls = *context.materials[1];
    faults.place = 2;
    materials::require_in_range(balls, in.ball_temperature, faults);
    faults.place = 1;
    LoadedBearing<T> loaded;
    loaded.bearing = in.bearing;
    loaded.contacts = contact_constants(in.bearing, balls, rings, in.modulus_factor, faults);
    const T growth =
        in.bearing.ball_diameter *
        materials::free_growth(balls, in.bearing.expansion_factor, in.ball_temperature);
    const T clearance = state_clearance(in.bearing, in.inner_growth, in.outer_growth, growth);
    const auto touches = clearance < loaded.contacts.groove_distance * 2.0;
    faults.require(touches, rules::clearance_below_groove, clearance);
    arch_radial_play(in.bearing, clearance, faults);
    faults.place = 0;
    loaded.clearance = select(touches, clearance, T(0.0));
    loaded.speed = in.speed;
    loaded.outer_control = in.outer_control;
    loaded.loads[0] = in.thrust;
    loaded.loads[1] = in.radial_load;
    loaded.loads[2] = in.radial_load_across;
    loaded.loads[3] = in.moment;
    loaded.loads[4] = in.moment_across;
    out = loaded_state(loaded, balls, table, faults);
}

template <int W, class Level>
void equilibrium_on(const EquilibriumInputs<Lanes<W, Level>>& in,
                    EquilibriumOutputs<Lanes<W, Level>>& out, const fields::Context& context,
                    BallTable*, Faults<Lanes<W, Level>>& faults) {
    using L = Lanes<W, Level>;
    constexpr int inputs = sizeof in / sizeof(L);
    constexpr int outputs = sizeof out / sizeof(L);
    L answers[outputs + 1];
    per_lane(&equilibrium_of_one, reinterpret_cast<const L*>(&in), inputs, answers, outputs + 1,
             &context);
    for (int i = 0; i < outputs; ++i)
        reinterpret_cast<L*>(&out)[i] = answers[i];
    faults.code = select(faults.code == L(0.0), answers[outputs], faults.code);
}

template <class T>
void Equilibrium::run(const T* inputs, T* outputs, const fields::Context& context,
                      Faults<T>& faults) {
    equilibrium_on(*reinterpret_cast<const EquilibriumInputs<T>*>(inputs),
                   *reinterpret_cast<EquilibriumOutputs<T>*>(outputs), context, nullptr, faults);
}

} // namespace fitwright::bearings
