// Torque to preload and back, and what the thread feels.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/threads/parts.hpp>

#define FITWRIGHT_TIGHTEN_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(threads::Nut, nut)                                                                        \
    FIELD(torque, torque, from_to(0.0, 1e7), required, "torque on the nut")                        \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")          \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the thread")
FITWRIGHT_DECLARE(threads, TightenInputs, true, "a nut, the shaft it runs on, and the torque",
                  FITWRIGHT_TIGHTEN_INPUTS)

#define FITWRIGHT_TORQUE_INPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    PART(threads::Nut, nut)                                                                        \
    FIELD(preload, force, from_to(0.0, 1e8), required, "wanted force under the nut")               \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")          \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the thread")
FITWRIGHT_DECLARE(threads, TorqueInputs, true, "a nut, the shaft it runs on, and the preload",
                  FITWRIGHT_TORQUE_INPUTS)

#define FITWRIGHT_TIGHTENING(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(torque, torque, unlimited(), 10.0, "torque on the nut")                                  \
    FIELD(preload, force, unlimited(), 1e3, "force under the nut at the nominal friction")         \
    FIELD(preload_low, force, unlimited(), 1e3, "force at the high end of both frictions")         \
    FIELD(preload_high, force, unlimited(), 1e3, "force at the low end of both frictions")         \
    FIELD(thread_torque, torque, unlimited(), 10.0,                                                \
          "part of the torque that twists the shaft end")                                          \
    FIELD(pitch_torque, torque, unlimited(), 10.0,                                                 \
          "part of it that lifts the force: preload times lead/(2 pi)")                            \
    FIELD(flank_torque, torque, unlimited(), 10.0, "part of it lost by friction on the flanks")    \
    FIELD(face_torque, torque, unlimited(), 10.0, "part of the torque lost under the face")        \
    FIELD(efficiency, ratio, unlimited(), 1.0, "pitch torque over torque")                         \
    FIELD(loosening_torque, torque, unlimited(), 10.0,                                             \
          "torque that turns the nut back, at the low end of both frictions; negative: it runs "   \
          "back by itself")                                                                        \
    FIELD(loosening_torque_high, torque, unlimited(), 10.0,                                        \
          "the same at the high end of both frictions")                                            \
    FIELD(lead_angle, angle, unlimited(), 0.01, "lead angle at the pitch diameter")                \
    FIELD(self_locking_friction, ratio, unlimited(), 0.1,                                          \
          "thread friction below which the thread alone lets go")                                  \
    FIELD(self_locking_margin, ratio, at_least(0.0), 0.1,                                          \
          "low end of the thread friction less that friction")                                     \
    FIELD(letting_go_friction, ratio, unlimited(), 0.1,                                            \
          "one friction of thread and face below which the nut lets go by itself")                 \
    FIELD(pitch_diameter, size, unlimited(), 1e-3, "pitch diameter d2")                            \
    FIELD(root_diameter, size, unlimited(), 1e-3, "root diameter d3 of the external thread")       \
    FIELD(stress_area, area, unlimited(), 1e-6, "stress area of the shaft end")                    \
    FIELD(root_area, area, unlimited(), 1e-6,                                                      \
          "area at the root of the shaft's thread; of unified threads the one that tables print, " \
          "at d - 1.299 P")                                                                        \
    FIELD(tension, stress, unlimited(), 1e6, "tension at the stress area")                         \
    FIELD(torsion, stress, unlimited(), 1e6, "shear by the thread torque while tightening")        \
    FIELD(von_mises, stress, unlimited(), 1e6, "von Mises stress of the shaft end")                \
    FIELD(yield_use, ratio, at_most(0.9), 1.0, "von Mises stress over yield of the shaft end")     \
    FIELD(yield_use_high, ratio, at_most(0.9), 1.0,                                                \
          "the same at the low end of both frictions, where the force is highest")                 \
    FIELD(face_pressure, stress, unlimited(), 1e6, "mean pressure under the face of the nut")
FITWRIGHT_DECLARE(threads, Tightening, false, "what tightening a nut gives", FITWRIGHT_TIGHTENING)

namespace fitwright::threads {

struct Tighten {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Torque {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++; the nut's own material is not needed here. Throws DomainError.
Tightening<double> tighten(const TightenInputs<double>&, const materials::Material& shaft,
                           NutKind kind = {});
Tightening<double> torque(const TorqueInputs<double>&, const materials::Material& shaft,
                          NutKind kind = {});

} // namespace fitwright::threads
