// The thrusts that keep the balls on one half of a split inner ring, state by state, after the quick
// level has found clearance and gap. Four times as dear as the balls themselves: not for the quick level.
#pragma once

#include "views.hpp"

namespace fitwright::job {

inline constexpr double no_half_asked = 1e9; // N

template <class T>
void write_arches(const T* inputs, T* outputs, const Layout& at, Faults<T>& faults) {
    const Inputs<T> job{inputs, at};
    const bearings::Bearing<T>& bearing = job.bearing();
    faults.place = Place::bearing;
    const auto contacts =
        bearings::contact_constants(bearing, *at.balls, *at.ring_materials[at.inner_first],
                                    job.ring(at.inner_first).modulus_factor, faults);
    for (int s = 0; s < at.states; ++s) {
        const State<T>& state = job.state(s);
        const auto& found = *reinterpret_cast<const BearingOutputs<T>*>(
            outputs + s * at.outputs_per_state + at.bearing_out_at);
        auto& out = *reinterpret_cast<ArchOutputs<T>*>(outputs + at.arches_at +
                                                       s * Inputs<T>::template size<ArchOutputs>());
        faults.place = s * Place::per_state + Place::bearing;
        bearings::ThrustOutputs<T> band;
        bearings::write_arch_band(band, bearing, contacts, *at.balls, found.clearance, state.speed,
                                  faults);
        out.arch_thrust = band.arch_thrust;
        out.arch_limit = band.arch_limit;
        const T thrust = abs(state.thrust);
        const T within = smaller(thrust - band.arch_thrust, band.arch_limit - thrust);
        // At speed so light a thrust that the balls climb the outer groove frees them too.
        const auto free_beside = (within < T(0.0)) & (found.arch_gap >= T(0.0));
        const auto asked = (thrust > T(0.0)) & (bearing.shim > T(0.0)) & !free_beside;
        out.arch_margin = select(asked, within, T(no_half_asked));
    }
}

} // namespace fitwright::job
