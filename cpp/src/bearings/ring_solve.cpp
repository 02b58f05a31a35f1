// Damped Newton for the inner ring on its balls, each ball solved for the place the ring gives it.
#include "detail/ring_solve.hpp"

namespace fitwright::bearings {

namespace {

constexpr int ring_steps = 60; // at rest a step costs little, and many a valley is long
constexpr int ring_steps_at_rest = 600;
constexpr int ball_steps = 60;
constexpr int line_trials = 6;
// Newton is quadratic: a step of this share leaves an error near the last bit.
constexpr double ball_tolerance = 1e-7;

// A contact's load by its depth over its softness.
double load_at(double depth) { return depth * sqrt(depth); }

// How far from its place a ball in the state is, over its reach.
double miss(const BallState<double>& s, const BallForces<double>& x, const BallPlace<double>& p,
            const BallParameters<double>& b) {
    const double axial = s.axial - p.axial;
    const double lift = s.lift - p.lift;
    const double f = (s.motion.force - x.centrifugal) * b.outer_softness;
    const double m = (s.motion.friction - x.friction) * b.outer_softness;
    const double size = cbrt(larger(x.centrifugal, 1e-30));
    return sqrt(axial * axial + lift * lift + (f * f + m * m) / size / size);
}

// How far the grooves press a ball that would stand still between them, times their distance.
double pressed_still(const BallPlace<double>& p, const BallParameters<double>& b) {
    const double reach = b.inner_length + b.outer_length;
    return p.axial * p.axial + p.lift * (reach * 2.0 + p.lift);
}

// A load that presses the ball as deep as it sits, in the direction it sits.
BallForces<double> first_guess(const BallPlace<double>& p, const LooseBall<double>& l,
                               const BallParameters<double>& b) {
    const double reach = b.inner_length + b.outer_length;
    const double radial = reach + p.lift;
    const double distance = norm2(p.axial, radial);
    const double pressed = pressed_still(p, b) / (distance + reach);
    const double still =
        pressed > 0.0 ? load_at(pressed / (b.inner_softness + b.outer_softness)) : 0.0;
    if (still > l.centrifugal)
        return {still * p.axial / distance, still * radial / distance - l.centrifugal * 0.5,
                l.centrifugal, 0.0};
    if (l.centrifugal == 0.0)
        return {};
    // The ball gives way along the outer groove: hardly more than what flings it out.
    const double load = smaller(load_at(-l.gap / (b.inner_softness + b.outer_softness)),
                                pressed > 0.0 ? 1e300 : l.centrifugal);
    return {load * l.sine, load * l.cosine, l.centrifugal, 0.0};
}

bool balance_ball(const BallPlace<double>& p, const BallParameters<double>& b,
                  BallForces<double>& x, BallState<double>& s) {
    s = ball_state(x, b);
    double off = miss(s, x, p, b);
    for (int i = 0; i < ball_steps; ++i) {
        BallForces<double> next = ball_step(s, x, p);
        double share = 1.0;
        BallForces<double> at{};
        BallState<double> there{};
        double now = 0.0;
        bool nearer = false;
        for (int k = 0; k < 40 && !nearer; ++k) {
            const auto between = [&](double from, double to) { return from + share * (to - from); };
            at = {between(x.axial, next.axial), between(x.radial, next.radial),
                  between(x.centrifugal, next.centrifugal), between(x.friction, next.friction)};
            const bool sensible = at.centrifugal >= 0.0 && at.centrifugal <= b.inertia * 2.0 &&
                                  abs(at.friction) <= b.inertia * 0.3 &&
                                  (at.axial != 0.0 || at.radial != 0.0);
            if (sensible) {
                there = ball_state(at, b);
                now = miss(there, at, p, b);
                nearer = now < off * (1.0 - 0.1 * share) || now <= b.inner_length * 1e-15;
            }
            share *= nearer ? 1.0 : 0.5;
        }
        const double size = norm2(x.axial, x.radial);
        const double step = norm2(at.axial - x.axial, at.radial - x.radial);
        if (!nearer) // at the last digits
            return off <= (b.inner_length + b.outer_length) * 1e-11;
        x = at;
        s = there;
        off = now;
        if (share == 1.0 && step <= size * ball_tolerance)
            return true;
    }
    return false;
}

// Where Newton finds no way: the ball with little speed, and that brought up.
bool bring_up_ball(const BallPlace<double>& p, const BallParameters<double>& b,
                   BallForces<double>& x, BallState<double>& s) {
    BallParameters<double> slower = b;
    double done = 0.0;
    double step = 0.125;
    while (done < 1.0) {
        const double next = smaller(done + step, 1.0);
        slower.inertia = b.inertia * next;
        BallForces<double> from = x;
        if (done == 0.0) {
            LooseBall<double> loose = loose_ball(p, slower);
            loose.centrifugal = slower.inertia * 0.125;
            from = first_guess(p, loose, slower);
        } else {
            from.centrifugal *= next / done;
            from.friction *= next / done;
        }
        if (balance_ball(p, slower, from, s)) {
            x = from;
            done = next;
        } else if (step *= 0.25; step < 0.005) {
            return false;
        }
    }
    return true;
}

struct Attempt {
    RingAnswer<double> answer;
    double off; // forces not yet in balance
    bool ok;
};

Attempt attempt(const RunningBearing<double>& r, const double* move, const double* loads,
                RingSolution& s) {
    Attempt a;
    a.ok = true;
    s.passed = false;
    clear(a.answer);
    for (int k = 0; k < r.balls; ++k) {
        const auto place = ball_place(r, move, s.cosine[k], s.sine[k]);
        // With more centrifugal force than a ball can have it would be farthest from touching.
        LooseBall<double> loose = loose_under(place, r.ball, r.ball.inertia * 0.5);
        if (loose.gap >= 0.0)
            loose = loose_ball(place, r.ball);
        else
            loose.centrifugal = r.ball.inertia * 0.125;
        const bool was = s.loaded[k];
        s.loaded[k] = loose.gap < 0.0;
        if (!s.loaded[k]) {
            s.forces[k] = {0.0, 0.0, loose.centrifugal, 0.0};
            continue;
        }
        BallForces<double> x = s.forces[k];
        if (r.ball.inertia == 0.0) { // at rest both contacts share one line
            x = first_guess(place, loose, r.ball);
            s.loaded[k] = x.axial != 0.0 || x.radial != 0.0;
            s.forces[k] = x;
            if (!s.loaded[k])
                continue;
            add_ball(a.answer, r, ball_state(x, r.ball), x, s.cosine[k], s.sine[k]);
            continue;
        }
        BallState<double> state{};
        bool done = was && balance_ball(place, r.ball, x, state);
        if (!done) {
            x = first_guess(place, loose, r.ball);
            done = balance_ball(place, r.ball, x, state) ||
                   (loose.cosine <= 0.0 && bring_up_ball(place, r.ball, x, state));
        }
        // A groove reaches at most square to its bottom: a ring that has moved away farther is off.
        if (loose.cosine <= 0.0 && (!done || state.inner.cosine <= 0.0)) {
            s.passed = true;
            s.loaded[k] = false;
            s.forces[k] = {0.0, 0.0, loose.centrifugal, 0.0};
            continue;
        }
        a.ok = a.ok && done;
        s.forces[k] = x;
        add_ball(a.answer, r, state, x, s.cosine[k], s.sine[k]);
    }
    double sum = 0.0;
    for (int i = 0; i < ring_freedoms; ++i) {
        const double off = (loads[i] - a.answer.force[i]) / (i < 3 ? 1.0 : r.arm);
        sum += off * off;
    }
    a.off = sqrt(sum);
    return a;
}

double size_of(const RunningBearing<double>& r, const double* loads) {
    double sum = 0.0;
    for (int i = 0; i < ring_freedoms; ++i)
        sum += square(loads[i] / (i < 3 ? 1.0 : r.arm));
    return sqrt(sum);
}

// Where to begin: on the stiff side, where Newton's steps on contacts that harden fall short instead of
// far. All balls under the sum of the loads as a thrust, or pushed in by a load that is all but radial.
void begin(const RunningBearing<double>& r, const double* loads, double force_scale,
           RingSolution& s) {
    const double reach = r.ball.inner_length + r.ball.outer_length;
    const double half = -r.lift;
    const double free = half > 0.0 ? sqrt(half * (2.0 * reach - half)) : 0.0;
    const double soft = r.ball.inner_softness + r.ball.outer_softness;
    const double radial = norm2(loads[1], loads[2]);
    const double tilting = norm2(loads[3], loads[4]) / r.arm;
    const double all = abs(loads[0]) + radial + 2.0 * tilting;
    const double sink = soft * cbrt(square(5.0 * all / r.balls + 1e-9 * force_scale));
    for (double& d : s.move)
        d = 0.0;
    s.move[0] = r.shim * 0.5;
    if (abs(loads[0]) > 0.02 * radial && abs(loads[0]) > 0.02 * tilting) {
        const double each = larger(all / r.balls, force_scale * 1e-12);
        const double open = larger(free, sqrt(reach * sink));
        const auto found =
            balance_under<double>(each, r.lift, each * (reach + r.lift) / open, r.ball);
        const double place =
            found.converged && !found.flung ? ball_state(found.forces, r.ball).axial : open;
        s.move[0] = loads[0] > 0.0 ? place : r.shim - place;
    } else if (radial > 0.02 * tilting) {
        const double out = larger(half, 0.0) + sink;
        s.move[1] = out * loads[1] / radial;
        s.move[2] = out * loads[2] / radial;
    } else if (tilting > 0.0) {
        const double lean = sqrt(free * free + 2.0 * reach * sink) / r.arm / r.arm / tilting;
        s.move[3] = lean * loads[3];
        s.move[4] = lean * loads[4];
    }
}

// Work of the forces not yet in balance along a step.
double work_along(const RingAnswer<double>& a, const double* loads, const double* step) {
    double sum = 0.0;
    for (int i = 0; i < ring_freedoms; ++i)
        sum += (loads[i] - a.force[i]) * step[i];
    return sum;
}

// Newton from where the ring is. At rest, and at speed but for what the angles do to F and M, the loads
// are the slopes of a convex energy: a step is long enough and not too long where the forces left do
// little work along it, whatever their size does meanwhile.
void settle(const RunningBearing<double>& r, const double* loads, double force_scale,
            RingSolution& s) {
    const double scale[ring_freedoms] = {1.0, 1.0, 1.0, r.arm, r.arm};
    const double reach = r.ball.inner_length + r.ball.outer_length;
    const double soft = r.ball.inner_softness + r.ball.outer_softness;
    const double size = size_of(r, loads);
    const double sink = soft * cbrt(square(5.0 * size / r.balls + 1e-9 * force_scale));
    RingSolution trial = s;
    Attempt now = attempt(r, s.move, loads, s);
    const double wanted = 1e-11 * larger(size, force_scale * 1e-9);
    double damping = 0.0;
    const double stiff = sqrt(sink > 0.0 ? sink : reach * 1e-6) / load_at(soft);
    s.converged = false;
    const int rounds = r.ball.inertia > 0.0 ? ring_steps : ring_steps_at_rest;
    for (int round = 0; round < rounds; ++round, ++s.iterations) {
        if (now.off <= wanted && now.ok) {
            s.converged = true;
            break;
        }
        double right[ring_freedoms];
        double matrix[ring_freedoms * ring_freedoms];
        for (int i = 0; i < ring_freedoms; ++i)
            right[i] = loads[i] - now.answer.force[i];
        for (int i = 0; i < ring_freedoms * ring_freedoms; ++i)
            matrix[i] = now.answer.stiffness[i];
        for (int i = 0; i < ring_freedoms; ++i)
            matrix[i * ring_freedoms + i] += damping * stiff * scale[i] * scale[i];
        double step[ring_freedoms];
        solve_small(matrix, right, step, scale);
        // No farther than the grooves are apart.
        double longest = 0.0;
        for (int i = 0; i < ring_freedoms; ++i)
            longest = larger(longest, abs(step[i]) * scale[i]);
        const double most = 0.25 * reach;
        if (longest > most)
            for (double& d : step)
                d *= most / longest;
        const double work = work_along(now.answer, loads, step);
        const bool moves = longest > 1e-10 * reach; // else what is left pulls where nothing resists
        double move[ring_freedoms];
        Attempt next{};
        bool better = false;
        double share = 1.0;
        for (int trials = 0; trials < line_trials && !better; ++trials, share *= 0.5) {
            for (int i = 0; i < ring_freedoms; ++i)
                move[i] = s.move[i] + share * step[i];
            trial = s;
            next = attempt(r, move, loads, trial);
            const double left = work_along(next.answer, loads, step);
            better = next.ok && (next.off < now.off * (1.0 - 0.1 * share) ||
                                 (moves && work > 0.0 && left >= -0.7 * work));
        }
        if (better) {
            for (int i = 0; i < ring_freedoms; ++i)
                trial.move[i] = move[i];
            const int count = s.iterations;
            s = trial;
            s.iterations = count;
            now = next;
            damping = damping > 1e-9 ? damping * 0.1 : 0.0;
        } else {
            if (longest <= 1e-13 * reach && now.ok && now.off <= wanted * 1e4) {
                s.converged = true; // the last digits
                break;
            }
            damping = damping > 0.0 ? damping * 16.0 : 1e-3;
            if (damping > 1e14)
                break;
        }
    }
}

// Light loads on balls flung out: from loads like the centrifugal forces down to the true ones.
void by_loads(const RunningBearing<double>& r, const double* loads, double force_scale, double size,
              RingSolution& s) {
    const double flung = 0.125 * r.ball.inertia * r.balls;
    for (const double ratio : {3.0, 1.3}) {
        double factor = ratio;
        while (factor < 2.0 * flung / size)
            factor *= ratio;
        double more[ring_freedoms];
        for (int i = 0; i < ring_freedoms; ++i)
            more[i] = loads[i] * factor;
        begin(r, more, force_scale, s);
        do {
            for (int i = 0; i < ring_freedoms; ++i)
                more[i] = loads[i] * factor;
            settle(r, more, force_scale, s);
            if (!s.converged || factor == 1.0)
                break;
            factor = factor / ratio < 1.0 + 1e-9 ? 1.0 : factor / ratio;
        } while (true);
        if (s.converged)
            return;
    }
}

} // namespace

void solve_ring(const RunningBearing<double>& r, const double* loads, double force_scale,
                RingSolution& s) {
    for (int k = 0; k < r.balls; ++k) {
        const double angle = 2.0 * fields::pi * k / r.balls;
        s.cosine[k] = cos(angle);
        s.sine[k] = sin(angle);
        s.loaded[k] = false;
    }
    s.iterations = 0;
    begin(r, loads, force_scale, s);
    settle(r, loads, force_scale, s);
    const double size = size_of(r, loads);
    if (s.converged || size == 0.0)
        return;
    by_loads(r, loads, force_scale, size, s);
}

} // namespace fitwright::bearings
