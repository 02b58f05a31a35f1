// The models of this room: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/oven.hpp"
#include "fields/at_level.hpp"

namespace fitwright::heat {

const fields::Model& oven_model() {
    static constexpr const char* places[] = {"", "shaft", "ring"};
    static const fields::Model model{
        {"heat", "oven", "How hot a ring must be to slip on its seat, and whether it may be.",
         "bore alpha_m(t) (t - 20) = interference + seat alpha_m(ts) (ts - 20) + slip clearance",
         "Ring heated through; within the temperature range of the material data.",
         "mean expansion from 20 degC of the material; slip clearance by common practice",
         "fw.heat.oven(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), ring=fw.Ring(bore=\"80 "
         "mm\", "
         "outside=\"105 mm\", length=\"30 mm\", material=\"52100\"), interference=\"38 "
         "um\").oven_needed"},
        &fields::Declared<OvenInputs>::declaration,
        &fields::Declared<OvenOutputs>::declaration,
        fields::all_formulas<Oven>(&Oven::run<double>),
        places};
    return model;
}

OvenOutputs<double> oven(const OvenInputs<double>& inputs, const materials::Material& shaft,
                         const materials::Material& ring) {
    return fields::evaluate<OvenOutputs<double>>(oven_model(), inputs, {&shaft, &ring});
}

} // namespace fitwright::heat
