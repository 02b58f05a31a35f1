// Property tables of a metal against temperature as the formulas see them: plain numbers.
#pragma once

#include <fitwright/number/basic.hpp>

namespace fitwright::materials {

using namespace number;

inline constexpr int table_limit = 12; // points a property table may have

// y(t) = first + sum over k of slope_change[k] * max(0, t - knot[k]). It goes on straight beyond the
// last knot, but the temperature range of the material is a rule, so that no one is served there.
struct Table {
    int count;
    double first;
    double knot[table_limit];
    double slope_change[table_limit];
};
struct Material {
    Table modulus;        // Young's modulus [Pa] against temperature [degC]
    Table expansion;      // mean coefficient from 20 degC to the temperature [1/K]
    Table yield;          // yield or 0.2 % proof stress [Pa]
    double poisson;       // [-]
    double density;       // [kg/m3]
    double lowest;        // temperature range of the data [degC]
    double highest;       // [degC]
    double heating_limit; // highest temperature a finished part may see in the oven [degC]
    // Only heat that takes time asks for these; a material of one's own may leave them out (`told`).
    Table conductivity{};  // thermal conductivity [W/(m K)]
    Table heat_capacity{}; // specific heat [J/(kg K)]
};

// Whether a property was given at all: no property of a metal is zero everywhere.
FITWRIGHT_INLINE bool told(const Table& table) { return table.count > 0 || table.first != 0.0; }

// Says what a shown calculation reads where a table is read (fitwright/explain); nothing to other numbers.
template <class T>
FITWRIGHT_INLINE const T& looked_up(const Table&, const T&, const T& value) {
    return value;
}

template <class T>
struct ValueSlope {
    T value;
    T slope;
};
template <class T>
FITWRIGHT_INLINE ValueSlope<T> value_and_slope(const Table& table, const T& t) {
    T value(table.first);
    T slope(0.0);
    for (int k = 0; k < table.count; ++k) {
        const auto beyond = t > T(table.knot[k]);
        value += select(beyond, (t - table.knot[k]) * table.slope_change[k], T(0.0));
        slope += select(beyond, T(table.slope_change[k]), T(0.0));
    }
    return {looked_up(table, t, value), slope};
}
template <class T>
FITWRIGHT_INLINE T at(const Table& table, const T& t) {
    T value(table.first);
    for (int k = 0; k < table.count; ++k)
        value += (number::larger(T(table.knot[k]), t) - table.knot[k]) * table.slope_change[k];
    return looked_up(table, t, value);
}

inline constexpr double reference_temperature = 20.0; // ISO 1

// Free growth per unit of length from 20 degC to t: alpha_m(t) (t - 20).
template <class T>
FITWRIGHT_INLINE T free_growth(const Material& m, const T& expansion_factor, const T& t) {
    return named("free growth",
                 at(m.expansion, t) * expansion_factor * (t - reference_temperature));
}

} // namespace fitwright::materials
