// An invented thrust bearing that the tests of running bearings share.
#pragma once

#include "../../cpp/src/bearings/detail/equilibrium.hpp"
#include "bearings_cases.hpp"

namespace running_cases {

using namespace fitwright;
using namespace fitwright::bearings;
using namespace bearings_cases;

inline materials::Material bearing_steel() {
    materials::Material m = steel;
    m.density = 7800.0;
    return m;
}
inline const materials::Material heavy = bearing_steel();
inline const materials::Material* const both[] = {&heavy, &heavy};
inline const fields::Context context{both, nullptr, nullptr};

// An invented thrust bearing of 110 mm pitch diameter.
inline ThrustInputs<double> example(double thrust, double rpm) {
    return {{14.0, 0.019, 0.110, 0.52, 0.53, 250e-6, 0.0, fields::worked_out, 1.0, 1.0, 0.25, 0.25,
             fields::worked_out},
            60e-6,
            20e-6,
            90.0,
            thrust,
            rpm * fields::pi / 30.0,
            1.0,
            1.0};
}
template <class T>
ThrustOutputs<T> run(const ThrustInputs<T>& in, number::Faults<T>& faults) {
    ThrustOutputs<T> out;
    Thrust::run<T>(&in.bearing.balls, &out.inner_angle, context, faults);
    return out;
}
inline ThrustOutputs<double> run(const ThrustInputs<double>& in) {
    number::Faults<double> faults;
    return run(in, faults);
}
} // namespace running_cases
