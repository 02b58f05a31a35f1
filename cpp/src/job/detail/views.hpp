// What the contributions to a job hand to each other.
#pragma once

#include "bearings/detail/service.hpp"
#include "bearings/detail/thrust.hpp"
#include "inputs.hpp"
#include "stack/detail/bounds.hpp"
#include "stack/detail/shoulder.hpp"

namespace fitwright::job {

// What the states share.
template <class T>
struct Assembly {
    threads::ThreadGeometry<T> thread;
    threads::Tightening<T> tightened;
    bearings::BearingContacts<T> contacts;
    stack::TightenedBy<T> by;
    T press[ring_limit];             // greatest force of a press while this ring was the last
    T greatest_torque;               // of all steps and the tool's scatter
    stack::FirstTightening<T> first; // without the nut's opening
    T built_opening, built_compliance;
    T built_pressure[ring_limit];
    T built_clearance[seal_limit];
    bearings::ServiceBearing<T> rated; // where there is a service
    bearings::DutyCycle<T> duty;
};

template <class T>
struct Scene { // one state
    stack::Member<T> members[ring_limit];
    stack::Loop<T> loop;
    stack::NutBody<T> body;
    stack::Washer<T> washer;
    T washer_softness, nut_softness;
    stack::ShoulderGives<T> shoulder; // where it is told
    T nut_warm, shaft_warm;
};

} // namespace fitwright::job
