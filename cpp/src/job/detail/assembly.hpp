// Every bore against every seat, thread, land and shoulder it has to pass, on the way on and off.
// Seats that no ring sits on are lands between the thread and the end of the shaft. Lengths are those
// at 20 degC; what heat adds to them is far below what they are told to.
#pragma once

#include "job/detail/slices.hpp"
#include "job/detail/views.hpp"
#include <fitwright/heat/oven.hpp>
#include <fitwright/job/assembly_parts.hpp>

namespace fitwright::rules {
extern const number::Rule no_face_to_bear_on, no_face_under_nut, face_inside_in_thread;
} // namespace fitwright::rules

namespace fitwright::job {

// A pull-off force is told with more room than this share of the interference: it may meet as much.
inline constexpr double pulled_over = 0.1;

template <class T>
struct Way {
    T shaft_warm;             // 1 + growth of the shaft in the first state
    T lands, lands_or_thread; // greatest at 20 degC; lands 0 where there are none
};
template <class T>
Way<T> way_of(const Inputs<T>& job) {
    const Layout& at = job.at;
    Way<T> way{materials::free_growth(*at.shaft, job.rotor().expansion_factor,
                                      job.state(0).shaft_temperature) +
                   1.0,
               T(0.0), job.nut().diameter};
    for (int k = 0; k < at.seats; ++k) {
        bool used = false;
        for (int i = 0; i < at.rings; ++i)
            used = used || at.ring_seat[i] == k;
        if (used)
            continue;
        way.lands = larger(way.lands, job.seat(k).diameter);
        way.lands_or_thread = larger(way.lands_or_thread, job.seat(k).diameter);
    }
    return way;
}

template <class T>
FITWRIGHT_INLINE T margin_if_told(const T& told, const T& margin) {
    return select(fields::is_given(told), margin, T(not_asked));
}
// `told` as a number that is finite in either case.
template <class T>
FITWRIGHT_INLINE T told_or_zero(const T& told) {
    return fields::given(told, T(0.0));
}

template <class T>
void assemble_ring(RingAssembled<T>& out, const Inputs<T>& job, int i, const Way<T>& way,
                   const heat::OvenOutputs<T>& oven, const T& end) {
    const Layout& at = job.at;
    const Ring<T>& ring = job.ring(i);
    const Seat<T>& seat = job.seat(at.ring_seat[i]);
    T others = way.lands_or_thread;
    for (int k = i + 1; k < at.rings; ++k)
        if (at.ring_seat[k] != at.ring_seat[i])
            others = larger(others, job.seat(at.ring_seat[k]).diameter);

    const T temperature = at.ring_grips[i] ? fields::given(ring.oven, oven.oven_needed)
                                           : T(job.state(0).shaft_temperature + job.lag(0, i));
    const T warm =
        materials::free_growth(*at.ring_materials[i], ring.expansion_factor, temperature) + 1.0;
    out.on_bore = ring.bore * warm;
    out.on_greatest = larger(others, seat.diameter) * way.shaft_warm;
    out.on_clearance = out.on_bore - out.on_greatest;

    const T interference = positive(seat.diameter - ring.bore);
    out.off_size = at.ring_grips[i]
                       ? T(larger(ring.bore, seat.diameter + interference * pulled_over))
                       : ring.bore;
    out.off_greatest = others;
    out.off_clearance = out.off_size - others;

    // Its chamfers lie alike at both ends.
    const T contact =
        at.has_slices(i) ? whole_contact(job, i) : fields::given(ring.contact_length, ring.length);
    const T free_end = (whole_length(job, i) - contact) * 0.5;
    out.seat_margin = margin_if_told(seat.end, T(told_or_zero(seat.end) - (end - free_end)));
    out.opening_clearance = margin_if_told(
        ring.opening, T(told_or_zero(ring.opening) - greatest_outside(job, i) * warm));
}

template <class T>
void assemble_nut(NutAssembled<T>& out, const Inputs<T>& job, const threads::ThreadGeometry<T>& g,
                  const Way<T>& way, const T& stack) {
    const Layout& at = job.at;
    const Nut<T>& nut = job.nut();
    out.on_greatest = way.lands;
    out.on_clearance = g.minor_diameter - way.lands;
    const int last = at.rings - 1;
    const T outside = at.has_lock ? job.lock().outside : greatest_outside(job, last);
    const T bore = at.has_lock ? job.lock().bore : job.ring(last).bore;
    out.face_margin = smaller(T(outside - nut.face_outside), T(nut.face_inside - bore));

    T run_on = margin_if_told(nut.thread_start, T(stack - told_or_zero(nut.thread_start)));
    for (int i = 0; i < at.rings; ++i) {
        const Seat<T>& seat = job.seat(at.ring_seat[i]);
        const auto in_the_way = fields::is_given(seat.end) & (seat.diameter > g.minor_diameter);
        run_on = select(in_the_way, smaller(run_on, T(stack - told_or_zero(seat.end))), run_on);
    }
    out.run_on_margin = run_on;
    out.engaged_margin =
        margin_if_told(nut.thread_end, T(told_or_zero(nut.thread_end) - stack - nut.height));
    out.opening_clearance = margin_if_told(nut.opening, T(told_or_zero(nut.opening) - nut.outside));
}

// Of the shoulder's face.
template <class T>
T shoulder_outside(const Inputs<T>& job) {
    return job.at.has_shoulder
               ? T(fields::given(job.shoulder().land_outside, job.shoulder().outside))
               : job.rotor().shoulder_outside;
}

// What no assembly can have: parts that bear on nothing.
template <class T>
void require_faces(const Inputs<T>& job, const threads::ThreadGeometry<T>& g, Faults<T>& faults) {
    const Layout& at = job.at;
    const Nut<T>& nut = job.nut();
    T outside = fields::given(shoulder_outside(job), greatest_outside(job, 0));
    T bore = job.seat(at.ring_seat[0]).diameter;
    // A part that has no face itself is told so where it is used; a shoulder only here.
    auto has_face = fields::is_given(shoulder_outside(job)) | (outside > bore);
    const auto meets = [&](const T& next_bore, const T& next_outside, number::Rule rule) {
        const auto next_has_face = next_outside > next_bore;
        const auto whole = has_face & next_has_face;
        faults.require((!whole) | (smaller(outside, next_outside) > larger(bore, next_bore)), rule,
                       next_outside);
        outside = next_outside;
        bore = next_bore;
        has_face = next_has_face;
    };
    for (int i = 0; i < at.rings; ++i) {
        faults.place = Place::ring + i;
        meets(job.ring(i).bore, greatest_outside(job, i), rules::no_face_to_bear_on);
    }
    if (at.has_lock) {
        faults.place = Place::lock;
        meets(job.lock().bore, job.lock().outside, rules::no_face_to_bear_on);
    }
    faults.place = Place::nut;
    meets(nut.face_inside, nut.face_outside, rules::no_face_under_nut);
    faults.require(nut.face_inside >= g.minor_diameter, rules::face_inside_in_thread,
                   nut.face_inside);
}

// After the ovens, whose settings it takes.
template <class T>
void write_assembly(T* outputs, const Inputs<T>& job, const threads::ThreadGeometry<T>& g,
                    Faults<T>& faults) {
    const Layout& at = job.at;
    const Way<T> way = way_of(job);
    require_faces(job, g, faults);
    T* next = outputs + at.assembled_at;
    const auto take = [&next]<template <class> class Part>() -> Part<T>& {
        T* here = next;
        next += Inputs<T>::template size<Part>();
        return *reinterpret_cast<Part<T>*>(here);
    };
    auto& shoulder = take.template operator()<ShoulderAssembled>();
    auto& nut = take.template operator()<NutAssembled>();
    T stack(0.0);
    if (at.has_lock) {
        const stack::Lock<T>& lock = job.lock();
        auto& out = take.template operator()<LockAssembled>();
        const T temperature = job.state(0).shaft_temperature + job.lag(0, at.lag_of_lock);
        const T warm = materials::free_growth(*at.lock, lock.expansion_factor, temperature) + 1.0;
        out.on_greatest = way.lands_or_thread * way.shaft_warm;
        out.on_clearance = lock.bore * warm - out.on_greatest;
        out.opening_clearance =
            margin_if_told(lock.opening, T(told_or_zero(lock.opening) - lock.outside * warm));
        stack = lock.thickness;
    }
    T end(0.0);
    const T* first_bore = nullptr;
    for (int i = 0; i < at.rings; ++i) {
        end += whole_length(job, i);
        const auto& oven = *reinterpret_cast<const heat::OvenOutputs<T>*>(
            outputs + at.ovens_at + i * Inputs<T>::template size<heat::OvenOutputs>());
        auto& out = take.template operator()<RingAssembled>();
        assemble_ring(out, job, i, way, oven, end);
        if (i == 0)
            first_bore = &out.on_bore;
    }
    stack += end;
    assemble_nut(nut, job, g, way, stack);
    const T told = shoulder_outside(job);
    shoulder.step = margin_if_told(told, T(told_or_zero(told) - *first_bore));
}

} // namespace fitwright::job
