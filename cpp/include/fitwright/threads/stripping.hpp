// Whether the threads shear off before the shaft end yields.
#pragma once

#include <fitwright/fields/model.hpp>
#include <fitwright/threads/parts.hpp>

#define FITWRIGHT_STRIPPING_INPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    PART(threads::Nut, nut)                                                                        \
    FIELD(preload, force, from_to(0.0, 1e8), required, "force the threads carry")                  \
    FIELD(external_major, size, from_to(1e-5, 3.0), worked_out,                                    \
          "least major diameter of the shaft's thread; the nominal one when left out")             \
    FIELD(external_pitch, size, from_to(1e-5, 3.0), worked_out,                                    \
          "least pitch diameter of the shaft's thread; the basic one when left out")               \
    FIELD(internal_minor, size, from_to(1e-5, 3.0), worked_out,                                    \
          "greatest minor diameter of the nut's thread; the basic one when left out")              \
    FIELD(internal_pitch, size, from_to(1e-5, 3.0), worked_out,                                    \
          "greatest pitch diameter of the nut's thread; the basic one when left out")              \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft's thread")                                                     \
    FIELD(nut_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                            \
          "temperature of the nut's thread")                                                       \
    FIELD(shaft_bore, size, from_to(0.0, 3.0), 0.0, "bore of the shaft under the thread")
FITWRIGHT_DECLARE(threads, StrippingInputs, true, "the threads of shaft and nut and their force",
                  FITWRIGHT_STRIPPING_INPUTS)

#define FITWRIGHT_STRIPPING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                   \
    FIELD(external_area, area, unlimited(), 1e-6, "area that shears in the shaft's thread")        \
    FIELD(internal_area, area, unlimited(), 1e-6, "area that shears in the nut's thread")          \
    FIELD(external_shear, stress, unlimited(), 1e6, "shear in the shaft's thread")                 \
    FIELD(internal_shear, stress, unlimited(), 1e6, "shear in the nut's thread")                   \
    FIELD(external_use, ratio, at_most(0.5), 1.0,                                                  \
          "that shear over yield/sqrt(3) of the shaft; half, since the first threads carry more "  \
          "than their share (common practice)")                                                    \
    FIELD(internal_use, ratio, at_most(0.5), 1.0, "that shear over yield/sqrt(3) of the nut")      \
    FIELD(strength_ratio, ratio, unlimited(), 1.0,                                                 \
          "strength of the shaft's thread over strength of the nut's: above 1 the nut strips "     \
          "first")                                                                                 \
    FIELD(stripping_force, force, unlimited(), 1e3, "force at which the weaker thread shears")     \
    FIELD(yield_force, force, unlimited(), 1e3, "force at which the stress area yields")           \
    FIELD(needed_height, size, unlimited(), 1e-3,                                                  \
          "engaged length from which on the shaft end yields before a thread shears")              \
    FIELD(flank_pressure, stress, unlimited(), 1e6, "mean pressure on the flanks that touch")      \
    FIELD(face_pressure, stress, unlimited(), 1e6, "mean pressure under the face of the nut")
FITWRIGHT_DECLARE(threads, StrippingOutputs, false, "what the threads bear",
                  FITWRIGHT_STRIPPING_OUTPUTS)

namespace fitwright::threads {

struct Stripping {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

} // namespace fitwright::threads
