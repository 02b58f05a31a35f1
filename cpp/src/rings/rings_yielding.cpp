// Fits that yield: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/elastic_plastic.hpp"
#include "fields/at_level.hpp"

namespace fitwright::rings {

const fields::Model& elastic_plastic_fit_model() {
    static constexpr const char* places[] = {"", "shaft", "ring"};
    static const fields::Model model{
        {"rings", "elastic_plastic_fit",
         "What a fit holds when ring or shaft yields, and what it leaves when it is taken off.",
         "d radial/d ln r = hoop - radial, d hoop strain/d ln r = radial strain - hoop strain, "
         "yielding by von Mises (or hoop - radial = 2 S/sqrt(3)), S = Re + H x; under modified "
         "Tresca, one metal, solid shaft: 2 ln z - (z d/Do)^2 + 1 = sqrt(3) p/Re, "
         "2 Re z^2/(sqrt(3) E) = interference/d",
         "Plane stress, joined once and slowly, deformation theory; until the whole wall of the "
         "ring or shaft yields; speed and taking off are elastic on top (both are checked); "
         "strengths of one temperature. A fit past yield is for the maker's approved data, not for "
         "bearing rings.",
         "DIN 7190-1 (closed form under modified Tresca); Kachanov, Foundations of the Theory of "
         "Plasticity; integration derived in docs/theory-rings.md",
         "fw.rings.elastic_plastic_fit(shaft=fw.Shaft(seat=\"80 mm\", material=\"1045\"), "
         "ring=fw.Ring(bore=\"80 mm\", outside=\"130 mm\", length=\"60 mm\", material=\"1045\"), "
         "interference=\"180 um\").permanent_bore_growth"},
        &fields::Declared<ElasticPlasticInputs>::declaration,
        &fields::Declared<ElasticPlasticOutputs>::declaration,
        fields::all_formulas<ElasticPlasticFit>(&ElasticPlasticFit::run<double>),
        places};
    return model;
}

ElasticPlasticOutputs<double> elastic_plastic_fit(const ElasticPlasticInputs<double>& inputs,
                                                  const materials::Material& shaft,
                                                  const materials::Material& ring,
                                                  bool modified_tresca) {
    return fields::evaluate<ElasticPlasticOutputs<double>>(
        elastic_plastic_fit_model(), inputs, {&shaft, &ring}, {modified_tresca ? 1 : 0});
}

} // namespace fitwright::rings
