// The tables of a material hold between two temperatures: outside them nothing is computed.
#pragma once

#include <fitwright/materials/table.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::rules {
extern const number::Rule temperature_in_material_range;
} // namespace fitwright::rules

namespace fitwright::materials {

template <class T>
FITWRIGHT_INLINE void require_in_range(const Material& m, const T& temperature,
                                       number::Faults<T>& faults) {
    faults.require((temperature >= T(m.lowest)) & (temperature <= T(m.highest)),
                   rules::temperature_in_material_range, temperature);
}

template <class T>
T modulus_at(const Material& m, const T& factor, const T& temperature, number::Faults<T>& faults) {
    require_in_range(m, temperature, faults);
    return at(m.modulus, temperature) * factor;
}

} // namespace fitwright::materials
