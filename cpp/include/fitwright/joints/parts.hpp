// What a bolted plate over a bearing's outer ring is made of, as numbers of type T.
#pragma once

#include <fitwright/fields/field.hpp>
#include <fitwright/rings/parts.hpp>

// Frictions and their ranges as for a nut (threads/parts.hpp): oiled steel, common practice.
#define FITWRIGHT_BOLT(FIELD, RANGED, PART, CHOICE)                                                \
    FIELD(diameter, size, from_to(1e-3, 0.3), required, "major diameter of the thread")            \
    FIELD(pitch, size, from_to(1e-4, 0.02), required, "pitch: from thread to thread")              \
    FIELD(shank_diameter, size, from_to(1e-4, 0.3), worked_out,                                    \
          "diameter of the plain shank; that of the thread when left out")                         \
    FIELD(shank_length, size, from_to(0.0, 3.0), 0.0, "length of the plain shank in the grip")     \
    FIELD(head_diameter, size, from_to(1e-3, 1.0), worked_out,                                     \
          "outer diameter of the bearing face under the head or washer; 1.5 times the thread's "   \
          "diameter when left out")                                                                \
    FIELD(hole, size, from_to(1e-3, 1.0), worked_out,                                              \
          "clearance hole in the clamped parts; 1.1 times the thread's diameter when left out")    \
    FIELD(yield_strength, stress, above(0.0, 3e9), worked_out,                                     \
          "yield or 0.2 % proof stress of the property class "                                     \
          "(fw.joints.property_classes()); that of the material when left out")                    \
    FIELD(tensile_strength, stress, above(0.0, 3e9), worked_out,                                   \
          "tensile strength; the yield strength over 0.9 when left out")                           \
    RANGED(thread_friction, ratio, from_to(0.0, 1.0), 0.125, 0.10, 0.15,                           \
           "friction between the threads")                                                         \
    RANGED(head_friction, ratio, from_to(0.0, 1.0), 0.125, 0.10, 0.15,                             \
           "friction under the head or nut that is turned")                                        \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the bolt")     \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(form, "iso_metric|unified", "form of the thread")
FITWRIGHT_DECLARE(joints, Bolt, true, "a bolt, cap screw or stud", FITWRIGHT_BOLT)

#define FITWRIGHT_INTERNAL_THREAD(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(engagement, size, from_to(1e-4, 1.0), required,                                          \
          "length of thread that carries: height of the nut, or depth screwed in less chamfers")   \
    FIELD(bearing_diameter, size, from_to(1e-3, 1.0), worked_out,                                  \
          "outer diameter of the bearing face of a nut; that of the head when left out")           \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0,                                \
          "temperature of the nut or tapped part")                                                 \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(joints, InternalThread, true, "the nut, or the tapped part a bolt goes into",
                  FITWRIGHT_INTERNAL_THREAD)

#define FITWRIGHT_CLAMPED_LAYER(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(thickness, size, from_to(1e-5, 3.0), worked_out,                                         \
          "thickness along the bolt; always to be given")                                          \
    FIELD(outside, size, from_to(1e-3, 10.0), worked_out,                                          \
          "diameter round the bolt over which there is material: twice the distance to the "       \
          "nearest edge; no limit when left out")                                                  \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the layer")    \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(joints, ClampedLayer, true, "one of the parts a bolt clamps",
                  FITWRIGHT_CLAMPED_LAYER)

#define FITWRIGHT_RING_PLATE_PART(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(outside, size, from_to(1e-3, 10.0), required, "outside diameter of the plate")           \
    FIELD(hole, size, from_to(0.0, 10.0), 0.0, "diameter of the hole in it; 0: none")              \
    FIELD(thickness, size, from_to(1e-5, 1.0), required, "thickness of the plate")                 \
    FIELD(heel_diameter, size, from_to(1e-3, 10.0), worked_out,                                    \
          "outermost diameter at which the plate can touch the housing; its outside when left "    \
          "out, less where the rim is relieved")                                                   \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the plate")    \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(joints, ClampPlate, true, "the plate bolted over a ring",
                  FITWRIGHT_RING_PLATE_PART)

#define FITWRIGHT_PLATED_RING(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(outside, size, from_to(1e-3, 10.0), required, "outside diameter of the ring")            \
    FIELD(inside, size, from_to(1e-3, 10.0), required,                                             \
          "inner diameter of its section beside the raceway: where the faces end")                 \
    FIELD(width, size, from_to(1e-4, 1.0), required, "width of the ring at 20 degC, as measured")  \
    FIELD(contact_diameter, size, from_to(1e-3, 10.0), worked_out,                                 \
          "diameter at which the plate bears on it; the mean of its face when left out")           \
    FIELD(raceway_place, ratio, from_to(0.0, 1.0), 0.5,                                            \
          "where thrust enters, from the shoulder (0) to the plate (1)")                           \
    FIELD(face_compliance, compliance, from_to(0.0, 1e-6), 0.0,                                    \
          "of each clamped face of the ring, all round")                                           \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the ring")     \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(joints, PlatedRing, true, "the outer ring under the plate", FITWRIGHT_PLATED_RING)

#define FITWRIGHT_PLATED_POCKET(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(depth, size, from_to(1e-4, 1.0), required,                                               \
          "from the shoulder to the face under the plate, at 20 degC, as measured")                \
    FIELD(shoulder_inside, size, from_to(1e-3, 10.0), worked_out,                                  \
          "inner diameter of the shoulder's face; that of the ring's face when left out")          \
    FIELD(shim, size, from_to(0.0, 0.05), 0.0,                                                     \
          "thickness of shims between plate and housing; they count as depth")                     \
    FIELD(temperature, temperature, from_to(-273.15, 2000.0), 20.0, "temperature of the housing")  \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)
FITWRIGHT_DECLARE(joints, Pocket, true, "the pocket of the housing the outer ring sits in",
                  FITWRIGHT_PLATED_POCKET)
