// What heat and speed take off a locked nut: it grows off its flanks.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/threads/parts.hpp>

#define FITWRIGHT_NUT_GROWTH_INPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    PART(threads::Nut, nut)                                                                        \
    FIELD(preload, force, above(0.0, 1e8), required, "force under the nut, cold and at rest")      \
    FIELD(compliance, compliance, above(0.0, 1e-5), required,                                      \
          "of the whole joint, nut and faces included (a job tells it as stack.compliance)")       \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of rotation")                               \
    FIELD(nut_temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the nut")  \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft end")                                                          \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")
FITWRIGHT_DECLARE(threads, NutGrowthInputs, true, "a locked nut and the state it is in",
                  FITWRIGHT_NUT_GROWTH_INPUTS)

#define FITWRIGHT_NUT_GROWTH_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(nut_growth, fine, unlimited(), 1e-6, "growth of the nut at its pitch diameter")          \
    FIELD(shaft_growth, fine, unlimited(), 1e-6, "growth of the shaft end at the same diameter")   \
    FIELD(opening, fine, unlimited(), 1e-6,                                                        \
          "axial play the flanks give: half the difference times the tangent of the flank angle")  \
    FIELD(opening_by_heat, fine, unlimited(), 1e-6, "part of it by heat")                          \
    FIELD(opening_by_speed, fine, unlimited(), 1e-6, "part of it by speed")                        \
    FIELD(nut_compliance, compliance, unlimited(), 1e-9, "of nut and engaged thread alone")        \
    FIELD(preload_lost, force, unlimited(), 1e3, "opening over the compliance of the joint")       \
    FIELD(preload_left, force, at_least(0.0), 1e3, "preload less what is lost")                    \
    FIELD(share_lost, ratio, unlimited(), 1.0, "share of the preload that is lost")                \
    FIELD(loss_speed, speed, unlimited(), 100.0,                                                   \
          "speed at which this opening alone takes the whole preload; 1e6 rad/s: none")            \
    FIELD(hoop_stress, stress, unlimited(), 1e6, "hoop stress of the turning nut at its thread")
FITWRIGHT_DECLARE(threads, NutGrowthOutputs, false, "what heat and speed take off a nut",
                  FITWRIGHT_NUT_GROWTH_OUTPUTS)

namespace fitwright::threads {

struct NutGrowth {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::threads
