// What the tests of contact and bearing share.
#pragma once

#include "../../cpp/src/bearings/detail/mounted.hpp"
#include "../../cpp/src/bearings/detail/shear.hpp"
#include <cmath>

namespace bearings_cases {

using namespace fitwright;

using D2 = number::Dual<2, number::Isa<0>>;
constexpr double degree = fields::pi / 180.0;

inline materials::Material metal(double modulus, double poisson, double expansion = 0.0) {
    materials::Material m{};
    m.modulus.first = modulus;
    m.expansion.first = expansion;
    m.poisson = poisson;
    m.lowest = -100.0;
    m.highest = 500.0;
    return m;
}
inline const materials::Material steel = metal(206.84e9, 0.3, 12e-6);

} // namespace bearings_cases
