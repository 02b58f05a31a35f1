// The models of all rooms, one accessor each; models.cpp lists them.
#pragma once

#include <fitwright/fields/model.hpp>

namespace fitwright::rings {
const fields::Model& thick_ring_model();
const fields::Model& fit_model();
const fields::Model& seal_model();
const fields::Model& face_gap_model();
const fields::Model& nest_model();
const fields::Model& stepped_model();
const fields::Model& elastic_plastic_fit_model();
const fields::Model& hot_ring_model();
const fields::Model& slip_model();
const fields::Model& overhang_model();
} // namespace fitwright::rings
namespace fitwright::heat {
const fields::Model& oven_model();
const fields::Model& chill_model();
const fields::Model& body_model();
const fields::Model& soak_model();
const fields::Model& induction_model();
const fields::Model& slip_on_model();
const fields::Model& seating_model();
const fields::Model& take_off_model();
const fields::Model& loosen_model();
} // namespace fitwright::heat
namespace fitwright::threads {
const fields::Model& tighten_model();
const fields::Model& torque_model();
const fields::Model& friction_model();
const fields::Model& breakaway_model();
const fields::Model& turn_of_nut_model();
const fields::Model& stretch_model();
const fields::Model& scatter_model();
const fields::Model& stripping_model();
const fields::Model& nut_growth_model();
const fields::Model& lock_tabs_model();
const fields::Model& hand_model();
} // namespace fitwright::threads
namespace fitwright::stack {
const fields::Model& wedge_model();
} // namespace fitwright::stack
namespace fitwright::bearings {
const fields::Model& hertz_model();
const fields::Model& line_contact_model();
const fields::Model& mounted_model();
const fields::Model& static_rating_model();
const fields::Model& dynamic_rating_model();
const fields::Model& roller_rating_model();
const fields::Model& basic_life_model();
const fields::Model& modified_life_model();
const fields::Model& reference_life_model();
const fields::Model& creep_model();
const fields::Model& frequencies_model();
const fields::Model& service_model();
const fields::Model& housing_fit_model();
const fields::Model& pair_model();
const fields::Model& thrust_equilibrium_model();
const fields::Model& equilibrium_model();
} // namespace fitwright::bearings
namespace fitwright::joints {
const fields::Model& bolted_joint_model();
const fields::Model& bolt_pattern_model();
const fields::Model& plate_model();
const fields::Model& ring_plate_model();
const fields::Model& outer_ring_model();
} // namespace fitwright::joints
namespace fitwright::tooling {
const fields::Model& column_model();
const fields::Model& weld_model();
const fields::Model& press_sleeve_model();
const fields::Model& puller_model();
const fields::Model& holding_fixture_model();
const fields::Model& nut_driver_model();
const fields::Model& wrench_adapter_model();
const fields::Model& multiplier_model();
} // namespace fitwright::tooling
