// The loaded bearing with every ball in it, for pictures and lives.
#pragma once

#include <array>
#include <fitwright/bearings/equilibrium.hpp>
#include <vector>

namespace fitwright::bearings {

// Everything of one bearing, ball by ball; ball k stands at 2 pi k/Z from the first.
struct BallByBall {
    EquilibriumOutputs<double> outputs;
    std::vector<double> inner_load, outer_load, inner_angle, outer_angle;
    std::vector<double> inner_peak, outer_peak, centrifugal_force, gyroscopic_moment;
    // Forces per displacement: axial, radial, radial across, about the first ball, about 90 degrees.
    std::array<double, 25> stiffness;
    int iterations;

    BallLoads loads() const {
        return {static_cast<int>(inner_load.size()), inner_load.data(), outer_load.data(),
                inner_angle.data(), outer_angle.data()};
    }
};
// Throws DomainError.
BallByBall equilibrium(const EquilibriumInputs<double>&, const materials::Material& rings,
                       const materials::Material& balls);
// Throws Fault; for a job, which has the contacts and the clearance of its state already.
template <class T>
struct LoadedBearing;
BallByBall ball_by_ball(const LoadedBearing<double>&, const materials::Material& balls);

} // namespace fitwright::bearings
