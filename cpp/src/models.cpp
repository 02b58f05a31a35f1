#include "models.hpp"
#include <stdexcept>

namespace fitwright::fields {

std::span<const Model* const> all_models() {
    static const Model* const models[] = {&rings::thick_ring_model(),
                                          &rings::fit_model(),
                                          &heat::oven_model(),
                                          &threads::tighten_model(),
                                          &threads::torque_model(),
                                          &bearings::hertz_model(),
                                          &bearings::line_contact_model(),
                                          &bearings::mounted_model(),
                                          &bearings::housing_fit_model(),
                                          &bearings::pair_model(),
                                          &bearings::thrust_equilibrium_model(),
                                          &bearings::equilibrium_model()};
    return models;
}

const Model& model_named(const std::string& name) {
    for (const Model* m : all_models())
        if (name == std::string(m->text.room) + "." + m->text.name)
            return *m;
    throw std::invalid_argument("there is no model " + name);
}

} // namespace fitwright::fields
