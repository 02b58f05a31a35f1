// Rings on rings at one station along the shaft: core, sleeve, ring and so on, each pressed (or
// bonded) on the one inside it.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>
#include <vector>

#define FITWRIGHT_LAYER(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(bore, size, from_to(0.0, 6.3), worked_out,                                               \
          "bore at 20 degC; left out: solid (first layer), or the nominal size of the outside it " \
          "sits on")                                                                               \
    FIELD(outside, size, from_to(1e-5, 6.3), worked_out,                                           \
          "outside diameter at 20 degC; always to be given")                                       \
    FIELD(                                                                                         \
        interference, fine, from_to(-0.1, 0.1), worked_out,                                        \
        "outside of the layer inside it less its own bore, at 20 degC on diameter; leave it out "  \
        "when both are measured sizes")                                                            \
    FIELD(bore_roughness, fine, from_to(0.0, 1e-3), 0.0,                                           \
          "mean peak-to-valley height Rz of the bore")                                             \
    FIELD(outside_roughness, fine, from_to(0.0, 1e-3), 0.0,                                        \
          "mean peak-to-valley height Rz of the outside")                                          \
    FIELD(smoothing, ratio, from_to(0.0, 1.0), 1.0,                                                \
          "share of the roughness at its bore that is lost by pressing flat")                      \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0,                                \
          "temperature, as the mean over the section by area")                                     \
    FIELD(bore_temperature, temperature, from_to(-273.15, 2000.0), worked_out,                     \
          "temperature at the bore when it is not even; its gradient adds stress, no movement")    \
    FIELD(outside_temperature, temperature, from_to(-273.15, 2000.0), worked_out,                  \
          "temperature at the outside when it is not even")                                        \
    FIELD(axial_stress, stress, from_to(-1e10, 1e10), 0.0,                                         \
          "even axial stress, positive in tension")                                                \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(joint, "pressed|bonded",                                                                \
           "how it sits on the layer inside it: pressed can only push, bonded (plated, sprayed) "  \
           "holds tension too")
FITWRIGHT_DECLARE(rings, Layer, true, "one layer of a nest", FITWRIGHT_LAYER)

// A list of parts: layer1 to layer8 of one type, and the choice `layers` of how many are there.
#define FITWRIGHT_NEST_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    PART(rings::Layer, layer1)                                                                     \
    PART(rings::Layer, layer2)                                                                     \
    PART(rings::Layer, layer3)                                                                     \
    PART(rings::Layer, layer4)                                                                     \
    PART(rings::Layer, layer5)                                                                     \
    PART(rings::Layer, layer6)                                                                     \
    PART(rings::Layer, layer7)                                                                     \
    PART(rings::Layer, layer8)                                                                     \
    FIELD(speed, speed, from_to(0.0, 2e5), 0.0, "speed of rotation")                               \
    FIELD(inner_pressure, stress, from_to(0.0, 1e10), 0.0, "pressure in the innermost bore")       \
    FIELD(outer_pressure, stress, from_to(0.0, 1e10), 0.0, "pressure on the outermost surface")    \
    CHOICE(layers, "1|2|3|4|5|6|7|8", "from the innermost to the outermost")                       \
    CHOICE(shape, "thin|long",                                                                     \
           "thin: free to shorten everywhere (plane stress); long: plane sections stay plane")
FITWRIGHT_DECLARE(rings, NestInputs, false, "a nest of rings and the state it is in",
                  FITWRIGHT_NEST_INPUTS)

#define FITWRIGHT_NEST_CONTACT(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(interference_left, fine, unlimited(), 1e-6,                                              \
          "interference to be taken up here by all the pressures, after roughness, heat, speed "   \
          "and axial stress; it does not count what the neighbours press")                         \
    FIELD(pressure, stress, unlimited(), 1e6, "pressure between the layers; 0 when open")          \
    FIELD(gap, fine, unlimited(), 1e-6, "clearance on diameter when open, else 0")
FITWRIGHT_DECLARE(rings, NestContact, false, "the joint between a layer and the next",
                  FITWRIGHT_NEST_CONTACT)

#define FITWRIGHT_NEST_LAYER(FIELD, RANGED, PART, CHOICE)                                          \
    FIELD(bore_hoop, stress, unlimited(), 1e6, "hoop stress at the bore (solid: at the centre)")   \
    FIELD(bore_radial, stress, unlimited(), 1e6, "radial stress at the bore")                      \
    FIELD(bore_long, stress, unlimited(), 1e6, "stress along the shaft at the bore")               \
    FIELD(bore_von_mises, stress, unlimited(), 1e6, "von Mises stress at the bore")                \
    FIELD(bore_tresca, stress, unlimited(), 1e6, "Tresca stress at the bore")                      \
    FIELD(outside_hoop, stress, unlimited(), 1e6, "hoop stress at the outside")                    \
    FIELD(outside_radial, stress, unlimited(), 1e6, "radial stress at the outside")                \
    FIELD(outside_long, stress, unlimited(), 1e6, "stress along the shaft at the outside")         \
    FIELD(outside_von_mises, stress, unlimited(), 1e6, "von Mises stress at the outside")          \
    FIELD(outside_tresca, stress, unlimited(), 1e6, "Tresca stress at the outside")                \
    FIELD(yield_use, ratio, at_most(0.9), 1.0,                                                     \
          "von Mises stress over the yield stress there, the worse of both faces")                 \
    FIELD(bore_growth, fine, unlimited(), 1e-6, "growth of the bore, from 20 degC before joining") \
    FIELD(outside_growth, fine, unlimited(), 1e-6, "growth of the outside diameter")               \
    FIELD(strain, ratio, unlimited(), 1e-6, "mean axial strain, positive longer")
FITWRIGHT_DECLARE(rings, NestLayer, false, "stress and movement of a layer", FITWRIGHT_NEST_LAYER)

#define FITWRIGHT_NEST_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    PART(rings::NestContact, contact1)                                                             \
    PART(rings::NestContact, contact2)                                                             \
    PART(rings::NestContact, contact3)                                                             \
    PART(rings::NestContact, contact4)                                                             \
    PART(rings::NestContact, contact5)                                                             \
    PART(rings::NestContact, contact6)                                                             \
    PART(rings::NestContact, contact7)                                                             \
    PART(rings::NestLayer, layer1)                                                                 \
    PART(rings::NestLayer, layer2)                                                                 \
    PART(rings::NestLayer, layer3)                                                                 \
    PART(rings::NestLayer, layer4)                                                                 \
    PART(rings::NestLayer, layer5)                                                                 \
    PART(rings::NestLayer, layer6)                                                                 \
    PART(rings::NestLayer, layer7)                                                                 \
    PART(rings::NestLayer, layer8)
FITWRIGHT_DECLARE(rings, NestOutputs, false, "what the joints of a nest hold and its layers feel",
                  FITWRIGHT_NEST_OUTPUTS)

namespace fitwright::rings {

inline constexpr int nest_limit = 8; // layers

struct Nest {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: as many layers as there are metals, from the inside; `is_bonded` (if given) is one per
// layer. Layers and joints that are not there answer 0. Throws DomainError.
NestOutputs<double> nest(const NestInputs<double>&,
                         const std::vector<const materials::Material*>& metals,
                         bool is_long = false, const std::vector<bool>& is_bonded = {});

} // namespace fitwright::rings
