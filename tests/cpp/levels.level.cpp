#include "levels.hpp"
#include "../../cpp/src/fields/level_file.hpp"

namespace fitwright::level_test {

using namespace number;

namespace {

template <class Level>
using L = Lanes<lane_count, Level>;
template <class Level>
using D = Dual<direction_count<Level>, Level>;

template <class T, class Level>
struct Kepler {
    T e, m;
    FITWRIGHT_INLINE Residual<T> operator()(const T& x) const {
        return {x - e * sin(x) - m, 1.0 - e * cos(x)};
    }
    FITWRIGHT_INLINE Kepler<Value<T>, Level> values() const { return {value_of(e), value_of(m)}; }
};

template <class T, class Level>
Root<T> solved(const T& e, const T& m) {
    return root(Kepler<T, Level>{e, m}, T(m - 1.0), T(m + 1.0), m, T(1e-3));
}

} // namespace

template <class Level>
void solve_kepler(const KeplerRun& run) {
    using T = L<Level>;
    for (int i = 0; i < run.count; i += T::width) {
        const auto r = solved<T, Level>(T::load(run.eccentricity + i), T::load(run.anomaly + i));
        r.x.store(run.x + i);
        select(r.converged, T(1.0), T(0.0)).store(run.converged + i);
    }
}

template <class Level>
void kepler_slopes(double eccentricity, double anomaly, double* by_eccentricity,
                   double* by_anomaly) {
    using T = D<Level>;
    T e(eccentricity);
    T m(anomaly);
    e.d.set_lane(0, 1.0);
    m.d.set_lane(T::directions - 1, 1.0);
    const auto r = solved<T, Level>(e, m);
    *by_eccentricity = r.x.d.lane(0);
    *by_anomaly = r.x.d.lane(T::directions - 1);
}

template <class Level>
void check_rules(const RulesRun& run) {
    using T = L<Level>;
    for (int i = 0; i < run.count; i += T::width) {
        const T x = T::load(run.x + i);
        const T y = T::load(run.y + i);
        Faults<T> faults;
        faults.place = place_a;
        faults.require(x > T(0.0), rule_a, x);
        faults.place = place_b;
        faults.require(x < T(10.0), rule_b, x);
        faults.require(y > T(0.0), rule_c, y);
        faults.code.store(run.code + i);
    }
}

template <class Level>
void run_per_lane(const PerLaneRun& run) {
    using T = L<Level>;
    const T in[2] = {T::load(run.inputs), T::load(run.inputs + T::width)};
    T out[2] = {0.0, 0.0};
    const auto ok = per_lane(run.model, in, 2, out, 2, run.context);
    out[0].store(run.outputs);
    out[1].store(run.outputs + T::width);
    select(ok, T(1.0), T(0.0)).store(run.ok);
}

template <class Level>
void run_functions(const number_test::FunctionRun& run) {
    number_test::run_at_level<Level>(run);
}

template void solve_kepler<AtLevel>(const KeplerRun&);
template void kepler_slopes<AtLevel>(double, double, double*, double*);
template void check_rules<AtLevel>(const RulesRun&);
template void run_per_lane<AtLevel>(const PerLaneRun&);
template void run_functions<AtLevel>(const number_test::FunctionRun&);

} // namespace fitwright::level_test
