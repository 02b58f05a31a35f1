// Contact of two curved bodies in a point (Hertz), exact, for any two materials.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>

#define FITWRIGHT_BODY(FIELD, RANGED, PART, CHOICE)                                                \
    FIELD(curvature_x, curvature, from_to(-1e5, 1e5), 0.0,                                         \
          "1 over the radius in the first principal plane; negative when hollow, 0 when flat")     \
    FIELD(curvature_y, curvature, from_to(-1e5, 1e5), 0.0,                                         \
          "1 over the radius in its second principal plane, square to the first")                  \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of this body over the table value of its material")
FITWRIGHT_DECLARE(bearings, Body, true, "one of two bodies that touch", FITWRIGHT_BODY)

#define FITWRIGHT_HERTZ_INPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    PART(bearings::Body, first)                                                                    \
    PART(bearings::Body, second)                                                                   \
    FIELD(angle, angle, from_to(-3.15, 3.15), 0.0,                                                 \
          "between the first principal planes of the two bodies")                                  \
    FIELD(load, force, from_to(0.0, 1e9), required, "force that presses the bodies together")
FITWRIGHT_DECLARE(bearings, HertzInputs, false, "two bodies in contact", FITWRIGHT_HERTZ_INPUTS)

#define FITWRIGHT_HERTZ_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                       \
    FIELD(semi_major, fine, unlimited(), 1e-6, "larger half axis of the contact ellipse")          \
    FIELD(semi_minor, fine, unlimited(), 1e-6, "smaller half axis of the contact ellipse")         \
    FIELD(contact_stress, stress, unlimited(), 1e6, "largest pressure, amid the contact")          \
    FIELD(approach, fine, unlimited(), 1e-6, "how far the bodies come together by pressing flat")  \
    FIELD(stiffness, contact_constant, unlimited(), 1e9, "K in load = K approach^1.5")             \
    FIELD(ellipticity, ratio, unlimited(), 1.0, "larger over smaller half axis")                   \
    FIELD(curvature_difference, ratio, unlimited(), 1.0,                                           \
          "F(rho): difference over sum of the relative curvatures; 0 round, towards 1 long")       \
    FIELD(greatest_shear, stress, unlimited(), 1e6,                                                \
          "largest shear in the first body, at 45 degrees under the middle of the contact")        \
    FIELD(shear_depth, fine, unlimited(), 1e-6, "depth of that shear under the surface")           \
    FIELD(orthogonal_shear, stress, unlimited(), 1e6,                                              \
          "amplitude of the largest shear parallel to the surface, rolling along the minor axis")  \
    FIELD(orthogonal_depth, fine, unlimited(), 1e-6, "depth of that shear under the surface")
FITWRIGHT_DECLARE(bearings, HertzOutputs, false, "size, stress and approach of a contact",
                  FITWRIGHT_HERTZ_OUTPUTS)

#define FITWRIGHT_LINE_BODY(FIELD, RANGED, PART, CHOICE)                                           \
    FIELD(modulus_factor, ratio, from_to(0.5, 2.0), 1.0,                                           \
          "Young's modulus of this body over the table value of its material")
FITWRIGHT_DECLARE(bearings, LineBody, true, "one of two bodies that touch along a line",
                  FITWRIGHT_LINE_BODY)

#define FITWRIGHT_LINE_INPUTS(FIELD, RANGED, PART, CHOICE)                                         \
    FIELD(first_curvature, curvature, from_to(-1e5, 1e5), required,                                \
          "1 over the radius of the first body across the line; negative when hollow")             \
    FIELD(second_curvature, curvature, from_to(-1e5, 1e5), 0.0,                                    \
          "1 over the radius of the second body across the line")                                  \
    FIELD(length, size, above(0.0, 10.0), required, "length of the line")                          \
    FIELD(load, force, from_to(0.0, 1e9), required, "force that presses the bodies together")      \
    PART(bearings::LineBody, first)                                                                \
    PART(bearings::LineBody, second)
FITWRIGHT_DECLARE(bearings, LineInputs, false, "two bodies in contact along a line",
                  FITWRIGHT_LINE_INPUTS)

#define FITWRIGHT_LINE_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                        \
    FIELD(half_width, fine, unlimited(), 1e-6, "half the width of the contact strip")              \
    FIELD(contact_stress, stress, unlimited(), 1e6, "largest pressure, along the middle")          \
    FIELD(greatest_shear, stress, unlimited(), 1e6, "largest shear, at 45 degrees below")          \
    FIELD(shear_depth, fine, unlimited(), 1e-6, "depth of that shear under the surface")           \
    FIELD(orthogonal_shear, stress, unlimited(), 1e6,                                              \
          "amplitude of the largest shear parallel to the surface, rolling across the line")       \
    FIELD(orthogonal_depth, fine, unlimited(), 1e-6, "depth of that shear under the surface")
FITWRIGHT_DECLARE(bearings, LineOutputs, false, "width and stresses of a line contact",
                  FITWRIGHT_LINE_OUTPUTS)

namespace fitwright::bearings {

struct LineContact {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};
struct Hertz {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++: throws DomainError.
HertzOutputs<double> hertz(const HertzInputs<double>&, const materials::Material& first,
                           const materials::Material& second);

} // namespace fitwright::bearings
