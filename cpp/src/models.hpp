// The models of all rooms, one accessor each; models.cpp lists them.
#pragma once

#include <fitwright/fields/model.hpp>

namespace fitwright::rings {
const fields::Model& thick_ring_model();
const fields::Model& fit_model();
} // namespace fitwright::rings
namespace fitwright::heat {
const fields::Model& oven_model();
} // namespace fitwright::heat
namespace fitwright::threads {
const fields::Model& tighten_model();
const fields::Model& torque_model();
} // namespace fitwright::threads
namespace fitwright::bearings {
const fields::Model& hertz_model();
const fields::Model& line_contact_model();
const fields::Model& mounted_model();
const fields::Model& housing_fit_model();
const fields::Model& pair_model();
const fields::Model& thrust_equilibrium_model();
const fields::Model& equilibrium_model();
} // namespace fitwright::bearings
