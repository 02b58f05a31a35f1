#include "all_models.hpp"
#include <stdexcept>

namespace fitwright::fields {

std::span<const Model* const> all_models() {
#define FITWRIGHT_STEPPED(ROOM, NAME) &ROOM::NAME##_model(),
#define FITWRIGHT_FORMULA(ROOM, NAME, TYPE) &ROOM::NAME##_model(),
    static const Model* const models[] = {
        FITWRIGHT_ALL_MODELS(FITWRIGHT_FORMULA, FITWRIGHT_STEPPED)};
#undef FITWRIGHT_FORMULA
#undef FITWRIGHT_STEPPED
    return models;
}

const Model& model_named(const std::string& name) {
    for (const Model* m : all_models())
        if (name == std::string(m->text.room) + "." + m->text.name)
            return *m;
    throw std::invalid_argument("there is no model " + name);
}

} // namespace fitwright::fields
