// The ring alone as a chain: bore, outside and both end faces in the same surroundings.
#pragma once

#include "in_time.hpp"
#include "ring_on_shaft.hpp"
#include <fitwright/heat/warming.hpp>

namespace fitwright::rules {
extern const number::Rule no_convergence, outside_above_bore, oven_in_material_range,
    skin_in_material_range, soaked_already, start_in_material_range, target_between, target_reached;
} // namespace fitwright::rules

namespace fitwright::heat {

// Largest difference between two cells, on the way.
template <class T>
struct Across {
    T largest = T(0.0);
    void see(const Chain<T>& c, const T* t) {
        int cold = 0;
        while (!c.is_cell(cold))
            ++cold;
        int warm = cold;
        for (int i = cold; i < c.nodes; ++i)
            if (c.is_cell(i)) {
                if (t[i] < t[cold])
                    cold = i;
                if (t[i] > t[warm])
                    warm = i;
            }
        const T across = t[warm] - t[cold];
        // At the end of a heating the same difference is seen again, with its own derivative.
        if (across >= largest)
            largest = across;
    }
    void operator()(const March<T>& m) { see(m.chain, m.now); }
};

template <class T>
T all_heat(const March<T>& m) {
    T sum(0.0);
    for (int i = 0; i < m.chain.nodes; ++i)
        if (m.chain.is_cell(i))
            sum += m.chain.template heat_content<T>(i, m.now[i]);
    return sum;
}

// Returns the first cell.
template <class T, class Inputs>
int ring_alone(Chain<T>& c, const Inputs& in, const Film<T>& film, const materials::Material& mr,
               Faults<T>& faults) {
    faults.place = 1;
    faults.require(in.ring.outside > in.ring.bore, rules::outside_above_bore, in.ring.outside);
    faults.place = 0;
    require_heat_data(mr, 1, faults);
    c.metal[0] = metal_of(mr);
    for (Film<T>& f : c.films)
        f = film;
    return add_body(c, 0,
                    BodyOf<T>{Shape::cylinder, in.ring.bore * 0.5, in.ring.outside * 0.5,
                              static_cast<int>(value_of(in.cells)), films::ring_bore,
                              films::ring_outside, films::ring_ends, 2.0 / in.ring.length});
}

template <class T>
T hottest_of_body(const Chain<T>& c, int which, const T* t) {
    T most(-kelvin);
    for (int i = 0; i < c.nodes; ++i)
        if (c.is_cell(i) && c.body[i] == which)
            most = larger(most, t[i]);
    return most;
}
// Heat put in from outside can drive a skin far beyond what is known of the metal.
template <class T>
bool require_ring_known(const Chain<T>& c, int which, const T* t, const materials::Material& mr,
                        Faults<T>& faults) {
    const T hottest = hottest_of_body(c, which, t);
    const auto known = hottest <= T(mr.highest);
    faults.require(known, rules::skin_in_material_range, hottest);
    return known;
}

template <class T>
void require_solved(bool solved, const T& time, Faults<T>& faults) {
    faults.require(T(solved ? 1.0 : 0.0) > T(0.0), rules::no_convergence, time);
}

template <class T>
void soak_run(const SoakInputs<T>& in, const T& film, SoakOutputs<T>& out,
              const materials::Material& mr, Faults<T>& faults) {
    Chain<T> c;
    ring_alone(c, in, Film<T>{film, in.emissivity, in.oven}, mr, faults);
    const double span = abs(value_of(in.oven) - value_of(in.start));
    March<T> m(c, value_of(in.tolerance) * span, 1e-3);
    for (int i = 0; i < c.nodes; ++i)
        m.now[i] = in.start;
    m.settle();
    const T before = all_heat(m);
    Across<T> across;
    const Reached<T> r = march_to(m, Watch<T>{Event::near, in.core_within, in.oven}, 1e8, across);
    require_solved(m.converged && r.happened, r.time, faults);
    out.soak_time = r.time;
    out.largest_difference = across.largest;
    const T change = all_heat(m) - before;
    out.energy_error =
        abs(change + m.given_off) / larger(larger(abs(change), abs(m.given_off)), T(1e-9));
}

template <class T>
void soak_outputs(const SoakInputs<T>& in, SoakOutputs<T>& out, const materials::Material& mr,
                  Faults<T>& faults) {
    faults.require((in.oven >= T(mr.lowest)) & (in.oven <= T(mr.highest)),
                   rules::oven_in_material_range, in.oven);
    faults.require((in.start >= T(mr.lowest)) & (in.start <= T(mr.highest)),
                   rules::start_in_material_range, in.start);
    faults.require(abs(in.oven - in.start) > in.core_within, rules::soaked_already, in.start);
    if (!materials::told(mr.conductivity) || !(abs(in.oven - in.start) > in.core_within)) {
        require_heat_data(mr, 1, faults);
        out = SoakOutputs<T>{};
        return;
    }
    soak_run(in, in.oven_film_low, out, mr, faults);
    out.soak_time_high = out.soak_time;
    soak_run(in, in.oven_film, out, mr, faults);
    const T k = materials::at(mr.conductivity, in.oven);
    out.biot = (in.oven_film + in.emissivity * (4.0 * stefan_boltzmann) * cube(in.oven + kelvin)) *
               (in.ring.outside - in.ring.bore) * 0.25 / k;
}

template <class T>
void induction_outputs(const InductionInputs<T>& in, InductionOutputs<T>& out,
                       const materials::Material& mr, bool outside, Faults<T>& faults) {
    faults.require((in.start >= T(mr.lowest)) & (in.start <= T(mr.highest)),
                   rules::start_in_material_range, in.start);
    const auto between = (in.target > in.start) & (in.target <= T(mr.highest));
    faults.require(between, rules::target_between, in.target);
    Chain<T> c;
    const int first = ring_alone(c, in, Film<T>{in.air_film, in.emissivity, in.room}, mr, faults);
    if (!between || !materials::told(mr.conductivity)) {
        out = InductionOutputs<T>{};
        return;
    }
    const int cells = c.nodes - first - 1;
    const T face = (outside ? in.ring.outside : in.ring.bore) * fields::pi;
    heat_skin(c, first, cells, (in.ring.outside - in.ring.bore) * (0.5 / cells), outside,
              in.heat_flux, face, in.skin_depth);
    March<T> m(c, value_of(in.tolerance) * value_of(in.target - in.start), 1e-3);
    for (int i = 0; i < c.nodes; ++i)
        m.now[i] = in.start;
    m.settle();
    const T before = all_heat(m);
    Across<T> across;
    const Reached<T> r = march_to(m, Watch<T>{Event::mean, in.target, T(0.0)}, 1e6, across);
    if (!require_ring_known(c, 0, m.now, mr, faults)) {
        out = InductionOutputs<T>{};
        return;
    }
    faults.require(T(r.happened ? 1.0 : 0.0) > T(0.0), rules::target_reached,
                   mean_of_body(c, 0, m.now));
    require_solved(m.converged, r.time, faults);
    out.heating_time = r.time;
    const T late = r.lateness;
    T end[node_limit] = {};
    for (int i = 0; i < c.nodes; ++i)
        end[i] = c.is_cell(i) ? m.now[i] + m.rate(i) * late : m.now[i];
    across.see(c, end);
    out.largest_difference = across.largest;
    out.gradient_margin = in.gradient_limit - across.largest;
    out.hottest = hottest_of_body(c, 0, end);
    out.limit_margin = mr.heating_limit - out.hottest;
    out.flux_allowed = in.heat_flux * in.gradient_limit / larger(across.largest, T(1e-9));
    const T put_in = in.heat_flux * face * r.time;
    out.energy_error = abs(all_heat(m) - before + m.given_off - put_in) / put_in;
}

template <class T>
void Soak::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    if constexpr (is_lanes<T>)
        lane_by_lane(&Soak::alone, inputs, static_cast<int>(sizeof(SoakInputs<T>) / sizeof(T)),
                     outputs, static_cast<int>(sizeof(SoakOutputs<T>) / sizeof(T)), context,
                     faults);
    else
        soak_outputs(*reinterpret_cast<const SoakInputs<T>*>(inputs),
                     *reinterpret_cast<SoakOutputs<T>*>(outputs), *context.materials[0], faults);
}

template <class T>
void Induction::run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
    if constexpr (is_lanes<T>)
        lane_by_lane(&Induction::alone, inputs,
                     static_cast<int>(sizeof(InductionInputs<T>) / sizeof(T)), outputs,
                     static_cast<int>(sizeof(InductionOutputs<T>) / sizeof(T)), context, faults);
    else
        induction_outputs(*reinterpret_cast<const InductionInputs<T>*>(inputs),
                          *reinterpret_cast<InductionOutputs<T>*>(outputs), *context.materials[0],
                          context.choices[0] == 1, faults);
}

} // namespace fitwright::heat
