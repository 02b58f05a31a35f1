// From the oven to a gripping joint: how long there is, when it grabs, when it is cold.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/heat/oven.hpp>
#include <fitwright/heat/transient_parts.hpp>
#include <vector>

#define FITWRIGHT_SLIP_ON_INPUTS(FIELD, RANGED, PART, CHOICE)                                      \
    PART(rings::Shaft, shaft)                                                                      \
    PART(rings::Ring, ring)                                                                        \
    FIELD(interference, fine, from_to(-0.1, 0.1), worked_out, "seat minus bore at 20 degC")        \
    FIELD(shaft_temperature, temperature, from_to(-273.15, 2000.0), 20.0,                          \
          "temperature of the shaft when the ring comes")                                          \
    FITWRIGHT_OVEN_PLAN(FIELD)                                                                     \
    FIELD(carry_time, time, from_to(0.0, 3600.0), 5.0,                                             \
          "from the oven until the ring is over its seat")                                         \
    FIELD(slide_time, time, from_to(0.0, 3600.0), 5.0,                                             \
          "from there until it stands against its shoulder")                                       \
    FIELD(least_clearance, fine, from_to(0.0, 0.01), worked_out,                                   \
          "clearance on diameter at which the ring must be home; a third of the slip clearance "   \
          "when left out")                                                                         \
    FITWRIGHT_AIR(FIELD, RANGED)                                                                   \
    FITWRIGHT_JOINT_HEAT(FIELD, RANGED)                                                            \
    FIELD(room_band, difference, from_to(0.01, 50.0), 2.0,                                         \
          "all of ring and shaft within this of the room counts as cold")                          \
    FITWRIGHT_CUT(FIELD)
FITWRIGHT_DECLARE(heat, SlipOnInputs, false, "a hot ring, its seat, and how it gets there",
                  FITWRIGHT_SLIP_ON_INPUTS)

#define FITWRIGHT_SLIP_ON_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(oven_setting, temperature, unlimited(), 10.0,                                            \
          "temperature the ring leaves the oven with")                                             \
    FIELD(start_clearance, fine, unlimited(), 1e-6, "clearance on diameter as it leaves the oven") \
    FIELD(window, time, unlimited(), 10.0,                                                         \
          "working window: from the oven until the clearance has fallen to the least one")         \
    FIELD(window_low, time, unlimited(), 10.0,                                                     \
          "the same where air and joint take heat as fast as they may (ends of their ranges)")     \
    FIELD(time_left, time, at_least(0.0), 10.0,                                                    \
          "working window, where heat goes fastest, less the time to carry and slide the ring")    \
    FIELD(grab, time, unlimited(), 10.0, "from the oven until the clearance is zero")              \
    FIELD(ring_at_touch, temperature, unlimited(), 10.0, "mean temperature of the ring then")      \
    FIELD(shaft_at_touch, temperature, unlimited(), 10.0,                                          \
          "mean temperature of the shaft under it then")                                           \
    FIELD(time_to_room, time, unlimited(), 100.0,                                                  \
          "until all is as cold as the room, within its band")                                     \
    FIELD(energy_error, ratio, at_most(1e-6), 1e-6,                                                \
          "heat the parts lost less heat given off, over the larger")
FITWRIGHT_DECLARE(heat, SlipOnOutputs, false, "how long a hot ring can be worked with",
                  FITWRIGHT_SLIP_ON_OUTPUTS)

namespace fitwright::heat {

struct SlipOn {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
    // In doubles, from any level; the fault as rule + 4096 place, 0 when none.
    static double alone(const double* inputs, double* outputs, const fields::Context&) noexcept;
};

// From C++: throws DomainError.
SlipOnOutputs<double> slip_on(const SlipOnInputs<double>&, const materials::Material& shaft,
                              const materials::Material& ring);

// What a picture needs: one value per step of time.
struct Cooling {
    std::vector<double> time;                  // s from the oven
    std::vector<double> bore, seat;            // diameters [m]
    std::vector<double> ring_mean, shaft_mean; // degC
    std::vector<double> ring_bore, ring_outside, shaft_surface;
};
Cooling slip_on_curve(const SlipOnInputs<double>&, const materials::Material& shaft,
                      const materials::Material& ring);

} // namespace fitwright::heat
