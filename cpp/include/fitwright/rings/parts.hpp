// The parts of a fit: a shaft and a ring, as numbers of type T.
#pragma once

#include <fitwright/fields/field.hpp>

#define FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                          \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of this part over the table value of its material")                     \
    FIELD(expansion_factor, ratio, from_to(0.5, 2.0), 1.0,                                         \
          "thermal expansion of this part over the table value of its material")

#define FITWRIGHT_SHAFT(FIELD, RANGED, PART, CHOICE)                                               \
    FIELD(bore, size, from_to(0.0, 3.15), 0.0, "bore of a hollow shaft; 0 when solid")             \
    FIELD(seat, size, from_to(1e-5, 3.15), required, "diameter of the seat at 20 degC")            \
    FIELD(roughness, fine, from_to(0.0, 1e-3), 0.0, "mean peak-to-valley height Rz of the seat")   \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(rings, Shaft, true, "the shaft under a ring", FITWRIGHT_SHAFT)

// Seat friction of ground steel. DIN 7190-1, 5.3, tells 0.12 for what is put on with pressed mineral
// oil, 0.15 for rings that were heated, and 0.20 where both faces were degreased too, as what is sure
// to hold (carried by adoc.fva-service.de, PMID_200241). What holds takes the low end; clamp that
// is lost on the way, the seating gap and a pull take the high end, so that it must not be below the
// 0.20 of clean dry seats, which may have more: a value measured in the shop is better.
#define FITWRIGHT_RING(FIELD, RANGED, PART, CHOICE)                                                \
    FIELD(bore, size, from_to(1e-5, 3.15), required, "bore of the ring at 20 degC")                \
    FIELD(outside, size, from_to(1e-5, 6.3), required,                                             \
          "outside diameter that carries: of the ring's stiff section")                            \
    FIELD(length, size, from_to(1e-5, 3.15), required, "length along the shaft")                   \
    FIELD(contact_length, size, from_to(1e-5, 3.15), worked_out,                                   \
          "length of the cylinder really in contact, without chamfers, grooves and keyways; the "  \
          "length when left out")                                                                  \
    FIELD(roughness, fine, from_to(0.0, 1e-3), 0.0, "mean peak-to-valley height Rz of the bore")   \
    FIELD(                                                                                         \
        smoothing, ratio, from_to(0.0, 1.0), 1.0,                                                  \
        "share of the roughness that is lost by pressing flat: 1 at first joining, 0 to 0.5 for "  \
        "parts joined before and measured since")                                                  \
    RANGED(friction, ratio, from_to(0.0, 1.0), 0.15, 0.12, 0.20, "friction between bore and seat") \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(rings, Ring, true, "a ring on the shaft", FITWRIGHT_RING)
