// Can it be put together, and taken apart again: what a job tells of the way of its parts, and what
// comes of it. On the way on a ring has the temperature of its oven, or slides on as cold as the first
// state; what it passes is the shaft of the first state: the thread, lands beyond it, and every seat
// from the shaft's end to its own. Sizes are told beside every margin, all on diameter.
#pragma once

#include <fitwright/fields/field.hpp>

namespace fitwright::job {

// What stands for a margin nobody asked for: what it needs is not told.
inline constexpr double not_asked = 1.0; // m

} // namespace fitwright::job

// Fields of the parts; each is looked at where it is told.
#define FITWRIGHT_SHAFT_WAY(FIELD)                                                                 \
    FIELD(shoulder_outside, size, from_to(1e-5, 6.3), worked_out,                                  \
          "outside diameter of the shoulder's face; the step it makes is not looked at when left " \
          "out")
#define FITWRIGHT_SEAT_WAY(FIELD)                                                                  \
    FIELD(end, size, from_to(0.0, 10.0), worked_out,                                               \
          "where its cylinder ends, from the shoulder; not looked at when left out")
#define FITWRIGHT_PART_WAY(FIELD)                                                                  \
    FIELD(opening, size, from_to(1e-5, 10.0), worked_out,                                          \
          "least opening it has to go through on its way, as of a cover, a housing or an outer "   \
          "ring; not looked at when left out")
#define FITWRIGHT_NUT_WAY(FIELD)                                                                   \
    FITWRIGHT_PART_WAY(FIELD)                                                                      \
    FIELD(thread_start, size, from_to(0.0, 10.0), worked_out,                                      \
          "where the shaft's full thread begins, from the shoulder; not looked at when left out")  \
    FIELD(thread_end, size, from_to(0.0, 10.0), worked_out,                                        \
          "where the shaft's full thread ends, from the shoulder; not looked at when left out")

#define FITWRIGHT_OPENING_LEFT(FIELD)                                                              \
    FIELD(opening_clearance, size, at_least(0.0), 1e-3,                                            \
          "the opening it has to go through less its own outside, as it is then; 1 m stands for "  \
          "no opening told")

#define FITWRIGHT_RING_ASSEMBLED(FIELD, RANGED, PART, CHOICE)                                      \
    FIELD(on_bore, size, unlimited(), 1e-3,                                                        \
          "its bore as it goes on: at the oven's setting when it grips, cold when it slides")      \
    FIELD(on_greatest, size, unlimited(), 1e-3,                                                    \
          "greatest of what it passes and of its seat, as the shaft is then: thread, lands, "      \
          "seats of the rings that go on after it")                                                \
    FIELD(on_clearance, fine, at_least(0.0), 1e-5,                                                 \
          "on_bore less on_greatest; below 0 it does not get to its seat")                         \
    FIELD(off_size, size, unlimited(), 1e-3,                                                       \
          "the larger of its bore and the seat it leaves, with a tenth of its interference for "   \
          "the pull, at 20 degC")                                                                  \
    FIELD(off_greatest, size, unlimited(), 1e-3,                                                   \
          "greatest of what it passes on the way off, at 20 degC; 0 where there is nothing")       \
    FIELD(off_clearance, size, at_least(0.0), 1e-5,                                                \
          "off_size less off_greatest; below 0 a cold pull meets more than the grip it left")      \
    FIELD(seat_margin, size, at_least(0.0), 1e-3,                                                  \
          "end of its seat less the end of its contact; below 0 it hangs over relief or thread; "  \
          "1 m stands for no end told")                                                            \
    FITWRIGHT_OPENING_LEFT(FIELD)
FITWRIGHT_DECLARE(job, RingAssembled, false, "a ring on its way on and off",
                  FITWRIGHT_RING_ASSEMBLED)

#define FITWRIGHT_LOCK_ASSEMBLED(FIELD, RANGED, PART, CHOICE)                                      \
    FIELD(on_greatest, size, unlimited(), 1e-3, "greatest of what it passes: thread and lands")    \
    FIELD(on_clearance, fine, at_least(0.0), 1e-5,                                                 \
          "its bore less on_greatest; below 0 it does not go over the thread")                     \
    FITWRIGHT_OPENING_LEFT(FIELD)
FITWRIGHT_DECLARE(job, LockAssembled, false, "the locking washer on its way",
                  FITWRIGHT_LOCK_ASSEMBLED)

#define FITWRIGHT_NUT_ASSEMBLED(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(on_greatest, size, unlimited(), 1e-3,                                                    \
          "greatest land it passes before the thread; 0 where there is none")                      \
    FIELD(on_clearance, size, at_least(0.0), 1e-3,                                                 \
          "least minor diameter of its thread less that land; below 0 it does not get to the "     \
          "thread")                                                                                \
    FIELD(face_margin, size, at_least(0.0), 1e-3,                                                  \
          "how far the face of the nut lies within what it bears on, the washer or else the last " \
          "ring, outside or inside, the less of both")                                             \
    FIELD(run_on_margin, size, at_least(0.0), 1e-3,                                                \
          "length of the stack less where the full thread begins and less the end of any seat "    \
          "that the nut cannot run over; below 0 the nut stops before it clamps; 1 m: not told")   \
    FIELD(engaged_margin, size, at_least(0.0), 1e-3,                                               \
          "end of the full thread less stack and height of the nut; below 0 the nut overhangs "    \
          "its thread by that much; 1 m stands for no end told")                                   \
    FITWRIGHT_OPENING_LEFT(FIELD)
FITWRIGHT_DECLARE(job, NutAssembled, false, "the nut on its way", FITWRIGHT_NUT_ASSEMBLED)

#define FITWRIGHT_SHOULDER_ASSEMBLED(FIELD, RANGED, PART, CHOICE)                                  \
    FIELD(step, size, at_least(0.0), 1e-3,                                                         \
          "outside of the shoulder's face less the bore of the first ring as it goes on; below 0 " \
          "the ring is not stopped; 1 m stands for no outside told")
FITWRIGHT_DECLARE(job, ShoulderAssembled, false, "the shoulder the rings go on to",
                  FITWRIGHT_SHOULDER_ASSEMBLED)
