// A ring with a radial temperature profile: its stress and the movement of its faces.
#pragma once

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/rings/parts.hpp>
#include <span>

#define FITWRIGHT_HOT_RING_INPUTS(FIELD, RANGED, PART, CHOICE)                                     \
    FIELD(bore, size, from_to(0.0, 3.15), required, "bore; 0 for a solid disc or shaft")           \
    FIELD(outside, size, from_to(1e-5, 6.3), required, "outside diameter")                         \
    FIELD(bore_temperature, temperature, from_to(-273.15, 2000.0), required,                       \
          "temperature at the bore (solid: at the centre)")                                        \
    FIELD(outside_temperature, temperature, from_to(-273.15, 2000.0), required,                    \
          "temperature at the outside")                                                            \
    FIELD(radius, size, from_to(0.0, 6.3), worked_out,                                             \
          "where stress and movement are wanted; at the bore when left out")                       \
    FITWRIGHT_MATERIAL_FACTORS(FIELD)                                                              \
    CHOICE(                                                                                        \
        profile, "log|linear",                                                                     \
        "log: steady flow of heat through a hollow ring; linear: straight from bore to outside")   \
    CHOICE(shape, "thin|long",                                                                     \
           "thin: free to shorten everywhere (plane stress); long: plane sections stay plane")
FITWRIGHT_DECLARE(rings, HotRingInputs, true, "a ring hotter on one face than on the other",
                  FITWRIGHT_HOT_RING_INPUTS)

#define FITWRIGHT_HOT_RING_OUTPUTS(FIELD, RANGED, PART, CHOICE)                                    \
    FIELD(mean_temperature, temperature, unlimited(), 10.0,                                        \
          "mean over the section by area: what moves the faces")                                   \
    FIELD(local_temperature, temperature, unlimited(), 10.0, "temperature at the radius")          \
    FIELD(radial_stress, stress, unlimited(), 1e6, "radial stress, positive in tension")           \
    FIELD(hoop_stress, stress, unlimited(), 1e6, "hoop stress")                                    \
    FIELD(long_stress, stress, unlimited(), 1e6, "stress along the shaft")                         \
    FIELD(von_mises, stress, unlimited(), 1e6, "equivalent stress by von Mises")                   \
    FIELD(yield_use, ratio, at_most(0.9), 1.0, "von Mises stress over the yield stress there")     \
    FIELD(growth, fine, unlimited(), 1e-6, "growth of the diameter there, from 20 degC")           \
    FIELD(strain, ratio, unlimited(), 1e-6, "mean axial strain, positive longer")
FITWRIGHT_DECLARE(rings, HotRingOutputs, false, "stress and movement by a temperature profile",
                  FITWRIGHT_HOT_RING_OUTPUTS)

namespace fitwright::rings {

struct HotRing {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context&, number::Faults<T>&);
};

// From C++. Throws DomainError.
HotRingOutputs<double> hot_ring(const HotRingInputs<double>&, const materials::Material&,
                                bool is_linear = false, bool is_long = false);

// A profile in cells, as a calculation of the flow of heat has it: cell k lies between radius
// edges[k] and edges[k + 1] and has one temperature. Thermal strains alpha_m (T - 20) by area, and
// stresses at a place of a free ring. Throws std::invalid_argument when the edges do not rise or
// their number is not one more than that of the temperatures.
struct CellProfile {
    double mean_temperature;
    double mean_strain; // both faces of a free ring grow by this times their diameter
};
CellProfile cell_profile(const materials::Material&, std::span<const double> edges,
                         std::span<const double> temperatures, double expansion_factor = 1.0);
// Hoop stress at the bore and outside for temperatures there (thin; long: over 1 - nu).
double face_stress(const materials::Material&, const CellProfile&, double face_temperature,
                   double expansion_factor = 1.0, double modulus_factor = 1.0);

} // namespace fitwright::rings
