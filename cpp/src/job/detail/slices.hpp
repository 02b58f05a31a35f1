// A ring whose outside has steps. In the loop of forces each slice is a member of its own, with no face
// between it and the next; each is a fit of its own, not held by its neighbours' wall (rings.stepped
// has the wall; docs/theory-rings.md tells how far apart they are). What asks for one ring gets the sum,
// the mean or the worst of the slices, and what flows through a ring of one section the ring of the same
// length and volume.
#pragma once

#include "inputs.hpp"
#include "rings/detail/overhang.hpp"
#include "stack/detail/quick.hpp"

namespace fitwright::job {

template <class T>
rings::Ring<T> ring_of_slice(const Inputs<T>& job, int member) {
    rings::Ring<T> r = job.fit_ring(job.at.member_ring[member]);
    const Slice<T>& s = job.slice(member);
    r.outside = s.outside;
    r.length = s.length;
    r.contact_length = s.contact_length;
    return r;
}

template <class T>
T slice_contact(const Slice<T>& s) {
    return fields::given(s.contact_length, s.length);
}

template <class T>
T whole_contact(const Inputs<T>& job, int ring) {
    T sum(0.0);
    for (int m = job.at.first_member[ring]; m < job.at.first_member[ring + 1]; ++m)
        sum += slice_contact(job.slice(m));
    return sum;
}

template <class T>
T whole_length(const Inputs<T>& job, int ring) {
    if (!job.at.has_slices(ring))
        return job.ring(ring).length;
    T sum(0.0);
    for (int m = job.at.first_member[ring]; m < job.at.first_member[ring + 1]; ++m)
        sum += job.slice(m).length;
    return sum;
}

template <class T>
T greatest_outside(const Inputs<T>& job, int ring) {
    if (!job.at.has_slices(ring))
        return job.ring(ring).outside;
    T most(0.0);
    for (int m = job.at.first_member[ring]; m < job.at.first_member[ring + 1]; ++m)
        most = larger(most, job.slice(m).outside);
    return most;
}

// One section with the length, the contact and the volume of the whole.
template <class T>
rings::Ring<T> even_ring(const Inputs<T>& job, int ring) {
    rings::Ring<T> r = job.fit_ring(ring);
    if (!job.at.has_slices(ring))
        return r;
    T squares(0.0);
    for (int m = job.at.first_member[ring]; m < job.at.first_member[ring + 1]; ++m)
        squares += square(job.slice(m).outside) * job.slice(m).length;
    r.length = whole_length(job, ring);
    r.contact_length = whole_contact(job, ring);
    r.outside = sqrt(squares / r.length);
    return r;
}

// More pressure over that of the plain fit, with the shaft going on at both sides; of slices the most.
template <class T>
T end_effect_of(const stack::Member<T>* members, int first, int end) {
    T most(0.0);
    for (int m = first; m < end; ++m)
        most = larger(most, rings::overhang_excess(members[m].joint, members[m].overhang_length));
    return most;
}

// The ring at its greatest: with the end effect at the high end of its overhang, before the nut presses on it
// (the clamp loosens the fit) or under the greatest force.
template <class T>
rings::Raised<T> raised_most(const stack::Member<T>& m, const rings::FitOutputs<T>& plain,
                             const T& most, const materials::Material& metal,
                             const T& temperature) {
    const T factor = m.overhang_high * rings::overhang_excess(m.joint, m.overhang_length) + 1.0;
    const auto under = [&](const T& force) {
        return rings::raised(m.joint, plain, rings::pressure_under(m.joint, force, force) * factor,
                             force, metal, temperature);
    };
    const rings::Raised<T> free = under(T(0.0));
    const rings::Raised<T> pressed = under(most);
    return {larger(free.hoop, pressed.hoop), larger(free.von_mises, pressed.von_mises),
            larger(free.yield_use, pressed.yield_use)};
}

// Forces and torques add; pressure is the mean over the contact, interference the least; stresses are
// those of the worst slice; growth of the outside is that of the largest; the grip is lost when the
// last slice lets go.
template <class T>
rings::FitOutputs<T> sliced_fit(T* outputs, const stack::Member<T>* members, const Inputs<T>& job,
                                int s, int ring, const T& ring_force, const T& shaft_force,
                                const T& most, rings::Raised<T>& high, Faults<T>& faults) {
    const Layout& at = job.at;
    const State<T>& state = job.state(s);
    const T temperature = state.shaft_temperature + job.lag(s, ring);
    const int first = at.first_member[ring];
    int slice_out = at.slices_out_at;
    for (int m = 0; m < first; ++m)
        slice_out += at.member_slice[m] >= 0 ? Inputs<T>::template size<SliceOutputs>() : 0;
    rings::FitOutputs<T> all;
    T largest(0.0);
    T contact(0.0);
    T length(0.0);
    for (int m = first; m < at.first_member[ring + 1]; ++m) {
        const rings::Ring<T> cut = ring_of_slice(job, m);
        faults.place = s * Place::per_state + Place::slice + m;
        const rings::FitOutputs<T> fit = rings::fit_outputs(
            members[m].joint, cut, ring_force, shaft_force, state.speed, *at.shaft,
            *at.ring_materials[ring], state.shaft_temperature, temperature, faults);
        *reinterpret_cast<SliceOutputs<T>*>(outputs + slice_out) = {
            fit.interference_left, fit.pressure,       fit.holding_force,
            fit.ring_hoop,         fit.ring_yield_use, fit.outside_growth};
        slice_out += Inputs<T>::template size<SliceOutputs>();
        const T here = slice_contact(job.slice(m));
        const rings::Raised<T> raised =
            raised_most(members[m], fit, most, *at.ring_materials[ring], temperature);
        if (m == first) {
            all = fit;
            high = raised;
            all.pressure *= here;
            all.shaft_bore_growth *= cut.length;
            all.ring_strain *= cut.length;
            all.shaft_strain *= cut.length;
        } else {
            high.hoop = larger(high.hoop, raised.hoop);
            high.yield_use = larger(high.yield_use, raised.yield_use);
            all.interference_left = smaller(all.interference_left, fit.interference_left);
            all.pressure += fit.pressure * here;
            all.gap = smaller(all.gap, fit.gap); // loose when all are
            all.holding_force += fit.holding_force;
            all.torque_capacity += fit.torque_capacity;
            all.ring_hoop = larger(all.ring_hoop, fit.ring_hoop);
            all.ring_von_mises = larger(all.ring_von_mises, fit.ring_von_mises);
            all.ring_tresca = larger(all.ring_tresca, fit.ring_tresca);
            all.ring_yield_use = larger(all.ring_yield_use, fit.ring_yield_use);
            const auto worse = fit.shaft_von_mises > all.shaft_von_mises;
            all.shaft_hoop = select(worse, fit.shaft_hoop, all.shaft_hoop);
            all.shaft_von_mises = larger(all.shaft_von_mises, fit.shaft_von_mises);
            all.shaft_yield_use = larger(all.shaft_yield_use, fit.shaft_yield_use);
            const auto wider = cut.outside > largest;
            all.outside_growth = select(wider, fit.outside_growth, all.outside_growth);
            all.shaft_bore_growth += fit.shaft_bore_growth * cut.length;
            all.ring_strain += fit.ring_strain * cut.length;
            all.shaft_strain += fit.shaft_strain * cut.length;
            all.loss_speed = larger(all.loss_speed, fit.loss_speed);
            all.loss_temperature = larger(all.loss_temperature, fit.loss_temperature);
        }
        largest = larger(largest, cut.outside);
        contact += here;
        length += cut.length;
    }
    all.pressure /= contact;
    all.shaft_bore_growth /= length;
    all.ring_strain /= length;
    all.shaft_strain /= length;
    faults.place = s * Place::per_state + Place::ring + ring;
    return all;
}

// For what knows one section for each ring: its strip, from the slices (bodies/detail/strip.hpp). The
// length gives way as the slices in series, and the mean pressure is theirs while all of them grip.
template <class T>
stack::Member<T> even_member(const stack::Member<T>* members, int first, int end) {
    stack::Member<T> whole = members[first];
    if (end - first == 1)
        return whole;
    T length(0.0), contact(0.0), softness(0.0), squares(0.0), grip(0.0), left(0.0), loss(0.0),
        shaft_loss(0.0), coupling(0.0);
    for (int k = first; k < end; ++k) {
        const stack::Member<T>& m = members[k];
        const rings::Joint<T>& j = m.joint;
        length += m.length;
        contact += m.contact_length;
        softness += j.ring_span * m.length;
        squares += square(j.ring.outer) * m.length;
        const T per_gap = m.contact_length / j.flexibility;
        grip += per_gap;
        left += j.interference * per_gap;
        loss += j.ring_force_loss * per_gap;
        shaft_loss += j.shaft_force_loss * per_gap;
        coupling += j.length_coupling * per_gap;
    }
    rings::Joint<T>& j = whole.joint;
    whole.length = length;
    whole.contact_length = contact;
    j.ring.outer = sqrt(squares / length);
    j.ring_span = softness / length;
    j.flexibility = contact / grip;
    j.interference = left / grip;
    j.ring_force_loss = loss / grip;
    j.shaft_force_loss = shaft_loss / grip;
    j.length_coupling = coupling / grip;
    return whole;
}

} // namespace fitwright::job
