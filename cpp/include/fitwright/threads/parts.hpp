// The clamp nut and the end of the shaft it runs on, as numbers of type T; jack screws too.
#pragma once

#include <fitwright/fields/field.hpp>
#include <fitwright/rings/parts.hpp>

// Friction of an oiled steel thread and nut face, range by common practice.
#define FITWRIGHT_NUT(FIELD, RANGED, PART, CHOICE)                                                 \
    FIELD(diameter, size, from_to(1e-5, 3.0), required, "major diameter of the thread")            \
    FIELD(pitch, size, from_to(1e-5, 0.05), required, "pitch: from thread to thread")              \
    FIELD(lead, size, from_to(1e-5, 0.6), worked_out,                                              \
          "advance in one turn: starts times the pitch; the pitch (one start) when left out")      \
    FIELD(height, size, from_to(1e-5, 1.0), required, "engaged length of the thread")              \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside diameter of the nut that carries") \
    FIELD(face_inside, size, from_to(1e-5, 6.3), required, "inner diameter of the bearing face")   \
    FIELD(face_outside, size, from_to(1e-5, 6.3), required, "outer diameter of the bearing face")  \
    RANGED(thread_friction, ratio, from_to(0.0, 1.0), 0.125, 0.10, 0.15,                           \
           "friction between the threads")                                                         \
    RANGED(face_friction, ratio, from_to(0.0, 1.0), 0.125, 0.10, 0.15,                             \
           "friction under the face of the nut")                                                   \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(hand, "right|left", "hand of the thread")                                               \
    CHOICE(form, "iso_metric|unified|trapezoidal|acme|square", "form of the thread")               \
    CHOICE(face_law, "even_pressure|mean",                                                         \
           "diameter the face rubs at: 2/3 (D^3 - d^3)/(D^2 - d^2) by even pressure, or the "      \
           "mean (D + d)/2 of a face worn in")
FITWRIGHT_DECLARE(threads, Nut, true, "a clamp nut on a thread of the shaft", FITWRIGHT_NUT)

namespace fitwright::threads {

// The choices of a nut, in the order they are declared in.
enum Hand : int { right, left };
enum Form : int { iso_metric, unified, trapezoidal, acme, square_thread };
enum FaceLaw : int { even_pressure, mean };
struct NutKind {
    int hand = right;
    int form = iso_metric;
    int face_law = even_pressure;
};

} // namespace fitwright::threads
