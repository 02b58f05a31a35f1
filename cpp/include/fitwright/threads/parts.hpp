// The clamp nut and the end of the shaft it runs on, as numbers of type T.
#pragma once

#include <fitwright/fields/field.hpp>
#include <fitwright/rings/parts.hpp>

// Friction of an oiled steel thread and nut face, range by common practice.
#define FITWRIGHT_NUT(FIELD, RANGED, PART, CHOICE)                                                 \
    FIELD(diameter, size, from_to(1e-5, 3.0), required, "major diameter of the ISO metric thread") \
    FIELD(pitch, size, from_to(1e-5, 0.05), required, "pitch of the thread, single start")         \
    FIELD(height, size, from_to(1e-5, 1.0), required, "engaged length of the thread")              \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside diameter of the nut that carries") \
    FIELD(face_inside, size, from_to(1e-5, 6.3), required, "inner diameter of the bearing face")   \
    FIELD(face_outside, size, from_to(1e-5, 6.3), required, "outer diameter of the bearing face")  \
    RANGED(thread_friction, ratio, from_to(0.0, 1.0), 0.125, 0.10, 0.15,                           \
           "friction between the threads")                                                         \
    RANGED(face_friction, ratio, from_to(0.0, 1.0), 0.125, 0.10, 0.15,                             \
           "friction under the face of the nut")                                                   \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(hand, "right|left", "hand of the thread")
FITWRIGHT_DECLARE(threads, Nut, true, "a clamp nut on an ISO metric thread of the shaft",
                  FITWRIGHT_NUT)
