// Rings with a temperature profile: told to users, instantiated for double, and profiles in cells.
#include "all_models.hpp"
#include "detail/hot_ring.hpp"
#include "fields/at_level.hpp"
#include <stdexcept>
#include <string>

namespace fitwright::rings {

const fields::Model& hot_ring_model() {
    static const fields::Model model{
        {"rings", "hot_ring",
         "Stress in a ring that is hotter on one face than on the other, and how its faces move.",
         "hoop = E [m(b) (1 + a^2/r^2)/2 + m(r) (1 - a^2/r^2)/2 - e(r)], e = alpha_m (T - 20), "
         "m(r) its mean by area from the bore to r; faces move by m(b)",
         "Elastic, free ring, profile by radius alone, Young's modulus of the mean temperature.",
         "Timoshenko & Goodier, Theory of Elasticity, ch. 13 (disc and long cylinder)",
         "fw.rings.hot_ring(bore=\"80 mm\", outside=\"120 mm\", bore_temperature=\"60 degC\", "
         "outside_temperature=\"110 degC\", material=\"4340\").hoop_stress"},
        &fields::Declared<HotRingInputs>::declaration,
        &fields::Declared<HotRingOutputs>::declaration,
        fields::all_formulas<HotRing>(&HotRing::run<double>)};
    return model;
}

HotRingOutputs<double> hot_ring(const HotRingInputs<double>& inputs,
                                const materials::Material& material, bool is_linear, bool is_long) {
    return fields::evaluate<HotRingOutputs<double>>(hot_ring_model(), inputs, {&material},
                                                    {is_linear ? 1 : 0, is_long ? 1 : 0});
}

CellProfile cell_profile(const materials::Material& material, std::span<const double> edges,
                         std::span<const double> temperatures, double expansion_factor) {
    if (temperatures.empty() || edges.size() != temperatures.size() + 1)
        throw std::invalid_argument(std::to_string(temperatures.size()) +
                                    " cells need one edge more, not " +
                                    std::to_string(edges.size()));
    CellProfile p{0.0, 0.0};
    const double whole = edges.back() * edges.back() - edges.front() * edges.front();
    for (std::size_t k = 0; k < temperatures.size(); ++k) {
        if (!(edges[k + 1] > edges[k]) || edges[k] < 0.0)
            throw std::invalid_argument("edge " + std::to_string(k + 2) +
                                        " of the cells is not above the one before");
        const double share = (edges[k + 1] * edges[k + 1] - edges[k] * edges[k]) / whole;
        p.mean_temperature += share * temperatures[k];
        p.mean_strain +=
            share * materials::free_growth(material, expansion_factor, temperatures[k]);
    }
    return p;
}

double face_stress(const materials::Material& material, const CellProfile& profile,
                   double face_temperature, double expansion_factor, double modulus_factor) {
    return materials::at(material.modulus, profile.mean_temperature) * modulus_factor *
           (profile.mean_strain -
            materials::free_growth(material, expansion_factor, face_temperature));
}

} // namespace fitwright::rings
