// The formulas of the rooms on numbers that record, by the names of their models; one file per few rooms, as
// each is compiled there.
#pragma once

#include "all_models.hpp"
#include <fitwright/explain/number.hpp>
#include <fitwright/fields/model.hpp>
#include <span>

namespace fitwright::explain {

struct NamedFormula {
    const char* model; // "rings.fit"
    fields::Formula<Number> formula;
};
// Null: it has none, but steps through time or searches.
fields::Formula<Number> formula_of(const fields::Model& model);

#define FITWRIGHT_NAMED(ROOM, NAME, TYPE) {#ROOM "." #NAME, &ROOM::TYPE::run<Number>},
#define FITWRIGHT_NO_FORMULA(ROOM, NAME)

std::span<const NamedFormula> ring_formulas();
std::span<const NamedFormula> heat_and_thread_formulas();
std::span<const NamedFormula> bearing_formulas();
std::span<const NamedFormula> joint_and_tooling_formulas();

} // namespace fitwright::explain
