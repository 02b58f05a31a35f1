// What the models of heating and cooling share: the air around, the joint of ring and shaft, and how
// finely time and radius are cut.
#pragma once

#include <fitwright/fields/field.hpp>

// Still air and radiation over moving air; bright steel over scaled steel. common practice
#define FITWRIGHT_AIR(FIELD, RANGED)                                                               \
    FIELD(room, temperature, from_to(-50.0, 100.0), 20.0, "temperature of the air around")         \
    RANGED(air_film, film, from_to(0.1, 5000.0), 8.0, 5.0, 25.0,                                   \
           "heat transfer coefficient of the air, without radiation")                              \
    FIELD(emissivity, ratio, from_to(0.0, 1.0), 0.3,                                               \
          "emissivity of the surfaces: 0.1 to 0.3 bright steel, 0.8 scaled or oiled black")

// The contact conductance of Cooper, Mikic and Yovanovich: 1.25 k m/s (p/H)^0.95; constants of ground
// steel, from memory. The standing distance of the gas: common practice.
#define FITWRIGHT_JOINT_HEAT(FIELD, RANGED)                                                        \
    FIELD(                                                                                         \
        gas_conductivity, conductivity, from_to(0.001, 2.0), 0.029,                                \
        "conductivity of what fills the gap of the joint: air at 70 degC when left out, oil 0.13") \
    RANGED(standing_gap, fine, from_to(2e-7, 1e-3), 5e-6, 2e-6, 15e-6,                             \
           "distance that rough surfaces and the temperature jump of the gas keep at touch")       \
    FIELD(asperity_height, fine, from_to(5e-8, 1e-4), 1.1e-6,                                      \
          "root mean square height of the peaks of both surfaces together")                        \
    FIELD(asperity_slope, ratio, from_to(0.01, 1.0), 0.12, "mean slope of the peaks")              \
    FIELD(contact_hardness, stress, from_to(1e8, 2e10), 3e9, "hardness of the softer surface")     \
    RANGED(contact_factor, ratio, from_to(0.01, 100.0), 1.0, 0.3, 3.0,                             \
           "contact conductance over that of the published form")                                  \
    FIELD(shaft_goes_on, count, from_to(0.0, 2.0), 2.0,                                            \
          "sides on which the shaft goes on beyond the ring and draws heat off: 0, 1 or 2")

#define FITWRIGHT_CUT(FIELD)                                                                       \
    FIELD(cells, count, from_to(10.0, 250.0), 100.0,                                               \
          "cells along the radius, of all parts together")                                         \
    FIELD(tolerance, ratio, from_to(1e-8, 1e-2), 1e-4,                                             \
          "error allowed in one step of time, as a share of the largest temperature difference")
