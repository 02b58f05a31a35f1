// The job on which the study is compared with array programs: 6 rings, 4 states, 36 inputs that
// scatter, 12 outputs. Closed form, made of the library's own pieces.
#pragma once

#include "rings/detail/overhang.hpp"
#include "stack/detail/quick.hpp"
#include "threads/detail/tightening.hpp"
#include <fitwright/fields/formula.hpp>

namespace fitwright::rules {
extern const number::Rule interference_sensible, ring_outside_above_seat, shaft_bore_below_seat,
    surface_speed, temperature_in_material_range;
} // namespace fitwright::rules

namespace fitwright::bench {

inline constexpr int study_rings = 6;
inline constexpr int study_states = 4;

template <class T>
struct StudyRing {
    T seat, bore, outside, length, seat_roughness, bore_roughness, friction, modulus, expansion;
};
template <class T>
struct StudyState {
    T shaft_temperature, ring_temperature, speed, thrust;
};
template <class T>
struct StudyInputs {
    StudyRing<T> rings[study_rings]; // from the shoulder to the nut
    T shaft_bore, shaft_modulus, shaft_expansion;
    T torque, thread_friction, face_friction;
    StudyState<T> states[study_states]; // the first is tightening, cold
};
template <class T>
struct StudyOutputs {
    struct State {
        T clamp_low, least_pressure, largest_use;
    } states[study_states];
};
inline constexpr int study_inputs = sizeof(StudyInputs<double>) / sizeof(double);
inline constexpr int study_outputs = sizeof(StudyOutputs<double>) / sizeof(double);

// The nut does not scatter.
struct StudyNut {
    static constexpr double diameter = 76e-3, pitch = 2e-3, height = 20e-3, outside = 105e-3;
    static constexpr double face_inside = 80e-3, face_outside = 100e-3;
};

struct StudyJob {
    // The joint of rings::joint_of in one state; compliances and growths, alike for all rings, are
    // handed in: the array programs work them out once per state too.
    template <class T>
    FITWRIGHT_INLINE static void in_state(rings::Joint<T>& j, const T& interference,
                                          const T& shaft_soft, const T& ring_soft,
                                          const T& shaft_warm, const T& ring_warm, const T& w2) {
        using namespace number;
        j.shaft_compliance = shaft_soft;
        j.ring_compliance = ring_soft;
        j.shaft_warm = shaft_warm;
        j.ring_warm = ring_warm;
        j.interference =
            interference - j.smoothing_loss + j.diameter * (shaft_warm - ring_warm) -
            (rings::own_face_growth(j.ring, w2 * ring_soft, j.ring.inner, j.ring.outer) -
             rings::own_face_growth(j.shaft, w2 * shaft_soft, j.shaft.outer, j.shaft.inner));
        const T r2 = square(j.ring.inner);
        const double nus = j.shaft.poisson;
        const double nur = j.ring.poisson;
        j.flexibility = j.diameter * ((r2 * j.shaft_span * 2.0 - (1.0 + nus)) * shaft_soft +
                                      (r2 * j.ring_span * 2.0 + (1.0 + nur)) * ring_soft);
        j.ring_force_loss = j.diameter * j.ring_span * ring_soft * (nur / fields::pi);
        j.shaft_force_loss = j.diameter * j.shaft_span * shaft_soft * (nus / fields::pi);
    }

    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context& context,
                    number::Faults<T>& faults) {
        using namespace number;
        const auto& in = *reinterpret_cast<const StudyInputs<T>*>(inputs);
        auto& out = *reinterpret_cast<StudyOutputs<T>*>(outputs);
        const materials::Material& ms = *context.materials[0];
        const materials::Material& mr = *context.materials[1];

        threads::Nut<T> nut;
        nut.diameter = T(StudyNut::diameter);
        nut.pitch = nut.lead = T(StudyNut::pitch);
        nut.outside = T(StudyNut::outside);
        nut.face_inside = T(StudyNut::face_inside);
        nut.face_outside = T(StudyNut::face_outside);
        const threads::ThreadGeometry<T> thread =
            threads::thread_geometry(nut, in.shaft_bore, faults);
        const T preload =
            in.torque / (threads::thread_part(thread, in.thread_friction, true, faults) +
                         threads::face_part(thread, in.face_friction));

        // What no state changes, once: sections, spans, interference after smoothing.
        rings::Joint<T> joints[study_rings];
        T softer[study_rings]; // 1/modulus factor of the ring
        for (int i = 0; i < study_rings; ++i) {
            const StudyRing<T>& r = in.rings[i];
            rings::Joint<T>& j = joints[i];
            const T interference = r.seat - r.bore;
            faults.place = i + 1;
            faults.require(in.shaft_bore < r.seat, rules::shaft_bore_below_seat, in.shaft_bore);
            faults.require(r.outside > r.seat, rules::ring_outside_above_seat, r.outside);
            faults.require(abs(interference) < r.seat * 0.01, rules::interference_sensible,
                           interference);
            j.diameter = r.seat;
            j.shaft = {in.shaft_bore * 0.5, r.seat * 0.5, T(0.0), ms.poisson, ms.density};
            j.ring = {r.seat * 0.5, r.outside * 0.5, T(0.0), mr.poisson, mr.density};
            j.shaft_span = rings::per_span(j.shaft);
            j.ring_span = rings::per_span(j.ring);
            j.smoothing_loss =
                smaller((r.seat_roughness + r.bore_roughness) * 0.8, positive(interference));
            softer[i] = 1.0 / r.modulus;
        }
        T gained_when_tightened(0.0);
        for (int s = 0; s < study_states; ++s) {
            const StudyState<T>& state = in.states[s];
            faults.place = 0;
            faults.require((state.shaft_temperature >= T(ms.lowest)) &
                               (state.shaft_temperature <= T(ms.highest)),
                           rules::temperature_in_material_range, state.shaft_temperature);
            faults.require((state.ring_temperature >= T(mr.lowest)) &
                               (state.ring_temperature <= T(mr.highest)),
                           rules::temperature_in_material_range, state.ring_temperature);
            const T shaft_soft =
                1.0 / (materials::at(ms.modulus, state.shaft_temperature) * in.shaft_modulus);
            const T ring_soft = 1.0 / materials::at(mr.modulus, state.ring_temperature);
            const T shaft_warm =
                materials::free_growth(ms, in.shaft_expansion, state.shaft_temperature);
            const T ring_warm = materials::free_growth(mr, T(1.0), state.ring_temperature);
            const T w2 = state.speed * state.speed;
            T gained(0.0);
            T compliance(0.0);
            for (int i = 0; i < study_rings; ++i) {
                const StudyRing<T>& r = in.rings[i];
                faults.place = i + 1;
                faults.require(state.speed * r.outside <= T(rings::surface_speed_limit),
                               rules::surface_speed, state.speed);
                rings::Joint<T>& j = joints[i];
                in_state(j, r.seat - r.bore, shaft_soft, ring_soft * softer[i], shaft_warm,
                         ring_warm * r.expansion, w2);
                gained += r.length * (j.ring_warm - j.shaft_warm);
                compliance +=
                    r.length *
                    (j.ring_span * j.ring_compliance + j.shaft_span * j.shaft_compliance) *
                    (1.0 / fields::pi);
            }
            // Axial force in each ring and in the shaft under it.
            T ring_force[study_rings];
            T shaft_force[study_rings];
            T reached = preload;
            if (s == 0) {
                gained_when_tightened = gained;
                for (int i = study_rings - 1; i >= 0; --i) {
                    const T behind = reached;
                    reached = stack::force_passed(joints[i], in.rings[i].length,
                                                  in.rings[i].friction, T(1.0), behind);
                    ring_force[i] = shaft_force[i] = (behind + reached) * 0.5;
                }
            } else {
                reached = positive(preload + (gained - gained_when_tightened) / compliance);
                for (int i = 0; i < study_rings; ++i) {
                    ring_force[i] = reached + state.thrust;
                    shaft_force[i] = reached;
                }
            }
            T capacity(0.0);
            T least(1e300);
            T use(0.0);
            for (int i = 0; i < study_rings; ++i) {
                const rings::Joint<T>& j = joints[i];
                const StudyRing<T>& r = in.rings[i];
                const T p = rings::pressure_under(j, ring_force[i], shaft_force[i]);
                capacity += r.friction * p * j.diameter * r.length * fields::pi *
                            (rings::overhang_excess(j, r.length) + 1.0);
                least = smaller(p, least);
                const rings::At<T> bore = rings::at_inner_face(j.ring);
                const auto by_p = rings::pressure_stresses(j.ring, j.ring_span, p, T(0.0), bore);
                const auto by_w = rings::rotation_stresses(j.ring, state.speed, bore, false);
                use = larger(use, rings::von_mises(rings::Stresses<T>{
                                      by_p.radial + by_w.radial, by_p.hoop + by_w.hoop,
                                      -ring_force[i] * j.ring_span * (1.0 / fields::pi)}));
            }
            out.states[s] = {s == 0 ? reached : positive(reached + state.thrust - capacity), least,
                             use / materials::at(mr.yield, state.ring_temperature)};
        }
    }
};

// The peak: a loop that only multiplies and adds, in one instruction where the level has one; 24
// operations a round and double of a register.
template <class Level>
double multiply_add(long rounds, double start);

} // namespace fitwright::bench
