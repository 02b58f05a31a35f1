// The formula of a job on enclosures. What has no form of its own that serves them is told here,
// before the templates that look for it.
#pragma once

#include <fitwright/materials/table.hpp>
#include <fitwright/number/enclosure.hpp>

namespace fitwright::rings {

// The inverse of the growth A(t) (t - 20), which rises with temperature: ends to ends, and slopes
// from those of the table.
number::Enclosure temperature_for_growth(const materials::Material& m,
                                         const number::Enclosure& expansion_factor,
                                         const number::Enclosure& growth);

} // namespace fitwright::rings

#include "rings/detail/thick_ring.hpp"

namespace fitwright::rings {

// A norm of the stresses: no slope of it by one of them is beyond 1, also where all are equal.
number::Enclosure von_mises(const Stresses<number::Enclosure>& s);

} // namespace fitwright::rings

#include "job/detail/quick.hpp"

namespace fitwright::job {

// The balance of the balls at speed, and life and creep that rest on it, are not enclosed: all that is
// told of them is which inputs they hang on. Their slopes would need the balance to be proved to have
// one solution over a whole box.
inline void rate_bearing(Assembly<number::Enclosure>&, const Inputs<number::Enclosure>&,
                         number::Faults<number::Enclosure>&) {}
void write_running(number::Enclosure* outputs, const Inputs<number::Enclosure>& job, int s,
                   Assembly<number::Enclosure>& assembly,
                   number::Faults<number::Enclosure>& faults);
// Nor are the models of plate and tools.
void write_attached(number::Enclosure* all, number::Enclosure* outputs, int number,
                    const Inputs<number::Enclosure>& job, int s,
                    const Assembly<number::Enclosure>& assembly,
                    number::Faults<number::Enclosure>& faults);
void write_duty(number::Enclosure* outputs, const Layout& at,
                const Assembly<number::Enclosure>& assembly);

} // namespace fitwright::job
