#include "models.hpp"
#include <stdexcept>

namespace fitwright::fields {

std::span<const Model* const> all_models() {
    static const Model* const models[] = {
        &rings::thick_ring_model(),
        &rings::fit_model(),
        &rings::seal_model(),
        &rings::face_gap_model(),
        &rings::nest_model(),
        &rings::stepped_model(),
        &rings::elastic_plastic_fit_model(),
        &rings::hot_ring_model(),
        &rings::slip_model(),
        &rings::overhang_model(),
        &heat::oven_model(),
        &heat::chill_model(),
        &heat::body_model(),
        &heat::soak_model(),
        &heat::induction_model(),
        &heat::slip_on_model(),
        &heat::seating_model(),
        &heat::take_off_model(),
        &heat::loosen_model(),
        &threads::tighten_model(),
        &threads::torque_model(),
        &threads::friction_model(),
        &threads::breakaway_model(),
        &threads::turn_of_nut_model(),
        &threads::stretch_model(),
        &threads::scatter_model(),
        &threads::stripping_model(),
        &threads::nut_growth_model(),
        &threads::lock_tabs_model(),
        &threads::hand_model(),
        &stack::wedge_model(),
        &bearings::hertz_model(),
        &bearings::line_contact_model(),
        &bearings::mounted_model(),
        &bearings::static_rating_model(),
        &bearings::dynamic_rating_model(),
        &bearings::roller_rating_model(),
        &bearings::basic_life_model(),
        &bearings::modified_life_model(),
        &bearings::reference_life_model(),
        &bearings::creep_model(),
        &bearings::frequencies_model(),
        &bearings::service_model(),
        &bearings::housing_fit_model(),
        &bearings::pair_model(),
        &bearings::thrust_equilibrium_model(),
        &bearings::equilibrium_model(),
        &joints::bolted_joint_model(),
        &joints::bolt_pattern_model(),
        &joints::plate_model(),
        &joints::ring_plate_model(),
        &joints::outer_ring_model(),
        &tooling::column_model(),
        &tooling::weld_model(),
        &tooling::press_sleeve_model(),
        &tooling::puller_model(),
        &tooling::holding_fixture_model(),
        &tooling::nut_driver_model(),
        &tooling::wrench_adapter_model(),
        &tooling::multiplier_model(),
    };
    return models;
}

const Model& model_named(const std::string& name) {
    for (const Model* m : all_models())
        if (name == std::string(m->text.room) + "." + m->text.name)
            return *m;
    throw std::invalid_argument("there is no model " + name);
}

} // namespace fitwright::fields
