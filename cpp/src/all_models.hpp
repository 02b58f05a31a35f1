// The models of all rooms: a room's list is told once, in its own models.hpp, and what follows from it is
// made by the list: serving, the archetype of a number, explanation, the model's function here.
//   FORMULA(room, name, type)   room::type::run<T> in the room's detail/
//   STEPPED(room, name)         steps through time or searches, for double alone
#pragma once

#include "bearings/models.hpp"
#include "heat/models.hpp"
#include "joints/models.hpp"
#include "rings/models.hpp"
#include "stack/models.hpp"
#include "threads/models.hpp"
#include "tooling/models.hpp"
#include <fitwright/fields/model.hpp>

#define FITWRIGHT_ALL_MODELS(FORMULA, STEPPED)                                                     \
    FITWRIGHT_RINGS_MODELS(FORMULA, STEPPED)                                                       \
    FITWRIGHT_HEAT_MODELS(FORMULA, STEPPED)                                                        \
    FITWRIGHT_THREADS_MODELS(FORMULA, STEPPED)                                                     \
    FITWRIGHT_STACK_MODELS(FORMULA, STEPPED)                                                       \
    FITWRIGHT_BEARINGS_MODELS(FORMULA, STEPPED)                                                    \
    FITWRIGHT_JOINTS_MODELS(FORMULA, STEPPED)                                                      \
    FITWRIGHT_TOOLING_MODELS(FORMULA, STEPPED)

namespace fitwright {

#define FITWRIGHT_STEPPED(ROOM, NAME)                                                              \
    namespace ROOM {                                                                               \
    const fields::Model& NAME##_model();                                                           \
    }
#define FITWRIGHT_FORMULA(ROOM, NAME, TYPE) FITWRIGHT_STEPPED(ROOM, NAME)
FITWRIGHT_ALL_MODELS(FITWRIGHT_FORMULA, FITWRIGHT_STEPPED)
#undef FITWRIGHT_FORMULA
#undef FITWRIGHT_STEPPED

} // namespace fitwright
