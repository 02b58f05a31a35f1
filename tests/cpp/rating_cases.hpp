// What the tests of ratings, lives and running bearings share: examples, and how a refusal reads.
#pragma once

#include "bearings_cases.hpp"
#include "catch.hpp"

#include <fitwright/bearings/rating.hpp>
#include <fitwright/bearings/service.hpp>
#include <fitwright/fields/error.hpp>
#include <string>

namespace rating_cases {

using namespace fitwright;
using namespace fitwright::bearings;
using bearings_cases::degree;

// An invented bearing of 16 balls on 125 mm, at a contact angle.
inline BallRow<double> row_at(double angle) {
    auto in = fields::standard_inputs<DynamicRatingInputs>();
    in.row.balls = 16.0;
    in.row.ball_diameter = 22e-3;
    in.row.pitch_diameter = 125e-3;
    in.row.contact_angle = angle;
    return in.row;
}
inline DynamicRatingInputs<double> loaded(double angle, double radial, double axial) {
    auto in = fields::standard_inputs<DynamicRatingInputs>();
    in.row = row_at(angle);
    in.radial_load = radial;
    in.axial_load = axial;
    return in;
}
inline ModifiedLifeInputs<double> oiled() {
    auto in = fields::standard_inputs<ModifiedLifeInputs>();
    in.dynamic_rating = 90e3;
    in.static_rating = 80e3;
    in.equivalent_load = 6e3;
    in.pitch_diameter = 0.08;
    in.speed = 300.0;
    in.oil.viscosity_40 = 68e-6;
    in.oil.viscosity_100 = 8.7e-6;
    return in;
}
inline CreepInputs<double> dragged() {
    auto in = fields::standard_inputs<CreepInputs>();
    in.inner.pressure = 20e6;
    in.inner.seat_diameter = 0.08;
    in.inner.length = 0.03;
    in.outer.clamp_force = 10e3;
    in.outer.seat_diameter = 0.15;
    in.outer.length = 0.03;
    in.oil.viscosity = 20e-6;
    in.pitch_diameter = 0.115;
    in.speed = 300.0;
    in.axial_load = 9e3;
    in.static_rating = 100e3;
    in.equivalent_static_load = 4e3;
    return in;
}

template <class F>
std::string refusal(const F& f) {
    try {
        f();
    } catch (const DomainError& e) {
        return e.what();
    }
    return "";
}
inline bool says(const std::string& text, const char* part) {
    return text.find(part) != std::string::npos;
}

} // namespace rating_cases
