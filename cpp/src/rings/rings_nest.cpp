// Nests: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/nest.hpp"
#include "fields/at_level.hpp"

namespace fitwright::rings {

const fields::Model& nest_model() {
    static constexpr const char* places[] = {"",       "layer1", "layer2", "layer3", "layer4",
                                             "layer5", "layer6", "layer7", "layer8"};
    static const fields::Model model{
        {"rings", "nest",
         "What the joints of a nest of rings hold, and what each layer feels and moves, hot and "
         "spinning.",
         "overlap_i = interference_i + inward_i p_(i-1) + outward_i p_(i+1) - flexibility_i p_i; "
         "p_i >= 0, overlap_i <= 0, p_i overlap_i = 0",
         "Elastic; one station of layers of equal length; stresses at the faces of each layer; a "
         "temperature profile by its area mean and its values at the faces.",
         "Timoshenko & Goodier, Theory of Elasticity (thick cylinder, rotating disc, ch. 13); "
         "Cottle, Pang & Stone, The Linear Complementarity Problem (M-matrices); DIN 7190-1 "
         "(smoothing)",
         "fw.rings.nest(layers=[fw.Layer(outside=\"60 mm\", material=\"4340\"), "
         "fw.Layer(outside=\"80 mm\", interference=\"30 um\", material=\"4340\"), "
         "fw.Layer(outside=\"105 mm\", interference=\"38 um\", material=\"52100\")], "
         "speed=\"9000 rpm\").contacts[1].pressure"},
        &fields::Declared<NestInputs>::declaration,
        &fields::Declared<NestOutputs>::declaration,
        fields::all_formulas<Nest>(&Nest::run<double>),
        places};
    return model;
}

NestOutputs<double> nest(const NestInputs<double>& inputs,
                         const std::vector<const materials::Material*>& metals, bool is_long,
                         const std::vector<bool>& is_bonded) {
    if (metals.empty() || metals.size() > static_cast<std::size_t>(nest_limit))
        throw DomainError({{"layers", "a nest has 1 to " + std::to_string(nest_limit) +
                                          " layers, not " + std::to_string(metals.size())}});
    std::vector<int> choices(static_cast<std::size_t>(nest_limit) + 2, 0);
    for (std::size_t k = 0; k < is_bonded.size() && k < metals.size(); ++k)
        choices[k] = is_bonded[k] ? 1 : 0;
    choices[nest_limit] = static_cast<int>(metals.size()) - 1;
    choices[nest_limit + 1] = is_long ? 1 : 0;
    NestOutputs<double> outputs;
    fields::evaluate(nest_model(), reinterpret_cast<const double*>(&inputs),
                     reinterpret_cast<double*>(&outputs), {metals.data(), choices.data(), nullptr});
    return outputs;
}

} // namespace fitwright::rings
