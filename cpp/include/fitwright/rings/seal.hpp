// Running clearance of a seal between a ring and a stator, and of a face against the casing.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>

#define FITWRIGHT_SEAL_ROTOR(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(bore, size, from_to(0.0, 3.15), 0.0, "bore of the ring; 0 when solid")                   \
    FIELD(outside, size, from_to(1e-5, 6.3), required,                                             \
          "outside diameter of the ring, free and at 20 degC")                                     \
    FIELD(surface, size, from_to(1e-5, 6.3), worked_out,                                           \
          "diameter that seals, measured free and at 20 degC; outside or bore when left out")      \
    FIELD(fit_pressure, stress, from_to(0.0, 1e10), 0.0,                                           \
          "pressure of the fit on the ring's other face, running")                                 \
    FIELD(built_pressure, stress, from_to(0.0, 1e10), worked_out,                                  \
          "the same as built, at rest and 20 degC; the running one when left out")                 \
    FIELD(axial_stress, stress, from_to(-1e10, 1e10), 0.0,                                         \
          "axial stress of the ring, running; a clamped ring has a negative one")                  \
    FIELD(built_axial_stress, stress, from_to(-1e10, 1e10), worked_out,                            \
          "the same as built; the running one when left out")                                      \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature, running")        \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(rings, SealRotor, true, "the turning ring of a seal", FITWRIGHT_SEAL_ROTOR)

#define FITWRIGHT_SEAL_STATOR(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(diameter, size, from_to(1e-5, 6.3), required,                                            \
          "bore of the stator round the ring, or outside of the stator in it, as built at 20 "     \
          "degC")                                                                                  \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature, running")        \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion of this part over the table value of its material")
FITWRIGHT_DECLARE(rings, SealStator, true, "the standing part of a seal", FITWRIGHT_SEAL_STATOR)

#define FITWRIGHT_SEAL_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    PART(rings::SealRotor, rotor)                                                                  \
    PART(rings::SealStator, stator)                                                                \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of rotation")                               \
    FIELD(offset, fine, from_to(0.0, 0.1), 0.0,                                                    \
          "distance between the axes of rotor and stator, running")                                \
    FIELD(touch_clearance, fine, from_to(-0.01, 0.1), 0.0,                                         \
          "least radial clearance that counts as running free")                                    \
    CHOICE(surface, "outside|bore",                                                                \
           "outside: the ring turns in the stator; bore: it turns round the stator")
FITWRIGHT_DECLARE(rings, SealInputs, false, "a seal and the state it is in", FITWRIGHT_SEAL_INPUTS)

#define FITWRIGHT_SEAL_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(built_clearance, fine, unlimited(), 1e-5,                                                \
          "clearance on diameter as built, at rest and 20 degC, with the growth by the fit")       \
    FIELD(clearance, fine, at_least(0.0), 1e-5, "clearance on diameter, running")                  \
    FIELD(least_radial, fine, unlimited(), 1e-5,                                                   \
          "least clearance on one side, running: half of it less the offset")                      \
    FIELD(closing, fine, unlimited(), 1e-5, "clearance on diameter lost from built to running")    \
    FIELD(rotor_growth, fine, unlimited(), 1e-6,                                                   \
          "growth of the diameter that seals, from free at 20 degC to running")                    \
    FIELD(stator_growth, fine, unlimited(), 1e-6, "growth of the stator's diameter")               \
    FIELD(touch_margin, fine, at_least(0.0), 1e-5,                                                 \
          "least radial clearance less what counts as running free; below 0 it touches")
FITWRIGHT_DECLARE(rings, SealOutputs, false, "what is left of a clearance", FITWRIGHT_SEAL_OUTPUTS)

#define FITWRIGHT_AXIAL_PATH(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(length, size, from_to(0.0, 30.0), required,                                              \
          "length at 20 degC from the datum, where rotor and casing are held, to the face")        \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "mean temperature, running")   \
    FIELD(strain, ratio, from_to(-0.01, 0.01), 0.0,                                                \
          "mean axial strain by load, speed and grip, positive longer; rings.fit tells that of a " \
          "ring and of the shaft under it, less the heat")                                         \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion of this part over the table value of its material")
FITWRIGHT_DECLARE(rings, AxialPath, true, "a length of rotor or casing from the datum to a face",
                  FITWRIGHT_AXIAL_PATH)

#define FITWRIGHT_FACE_GAP_INPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    PART(rings::AxialPath, rotor)                                                                  \
    PART(rings::AxialPath, casing)                                                                 \
    FIELD(built_gap, fine, from_to(-0.1, 0.1), required,                                           \
          "gap between the faces as built, at rest and 20 degC")                                   \
    FIELD(movement, fine, from_to(-0.1, 0.1), 0.0,                                                 \
          "movement of the rotor away from the datum by end play and the give of the bearing")     \
    FIELD(touch_clearance, fine, from_to(-0.01, 0.1), 0.0,                                         \
          "least gap that counts as running free")                                                 \
    CHOICE(rotor_growth, "closes|opens",                                                           \
           "what the rotor does to the gap when it grows away from the datum")
FITWRIGHT_DECLARE(rings, FaceGapInputs, false, "two faces and the state they are in",
                  FITWRIGHT_FACE_GAP_INPUTS)

#define FITWRIGHT_FACE_GAP_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FIELD(rotor_expansion, fine, unlimited(), 1e-6, "growth of the rotor's length, and its move")  \
    FIELD(casing_expansion, fine, unlimited(), 1e-6, "growth of the casing's length")              \
    FIELD(difference, fine, unlimited(), 1e-6, "rotor less casing: the differential expansion")    \
    FIELD(gap, fine, at_least(0.0), 1e-5, "gap between the faces, running")                        \
    FIELD(touch_margin, fine, at_least(0.0), 1e-5,                                                 \
          "gap less what counts as running free; below 0 the faces touch")
FITWRIGHT_DECLARE(rings, FaceGapOutputs, false, "what is left of a gap", FITWRIGHT_FACE_GAP_OUTPUTS)

namespace fitwright::rings {

struct Seal {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct FaceGap {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throw DomainError.
SealOutputs<double> seal(const SealInputs<double>&, const materials::Material& rotor,
                         const materials::Material& stator, bool at_bore = false);
FaceGapOutputs<double> face_gap(const FaceGapInputs<double>&, const materials::Material& rotor,
                                const materials::Material& casing, bool growth_opens = false);

} // namespace fitwright::rings
