// Stepped rings: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/stepped.hpp"
#include "fields/at_level.hpp"

namespace fitwright::rings {

const fields::Model& stepped_model() {
    static constexpr const char* places[] = {"",       "slice1", "slice2", "slice3", "slice4",
                                             "slice5", "slice6", "slice7", "slice8"};
    static const fields::Model model{
        {"rings", "stepped",
         "What a ring with a stepped outside holds, feels and moves on a stepped and bored shaft.",
         "each slice a fit, p = (reach - w)/local, on a wall that bends: D d4w/dz4 + w/middle = p; "
         "F = sum of mu p pi d L, T = sum of mu p pi d^2 L/2",
         "Elastic; the wall as a beam with shear on an elastic foundation: against finite elements "
         "pressures within 2 %, movements of the outside within 2 % when slices are short "
         "(docs/theory-rings.md); slices much longer than the wall is thick are taken coarsely; "
         "the shaft answers slice by slice; ring and shaft section of equal length.",
         "DIN 7190-1 (stepped hubs in slices); Timoshenko & Woinowsky-Krieger, Theory of "
         "Plates and Shells (cylindrical shells)",
         "fw.rings.stepped(shaft=fw.Shaft(seat=\"80 mm\", bore=\"40 mm\", material=\"4340\"), "
         "ring=fw.SteppedRing(bore=\"80 mm\", material=\"52100\"), interference=\"60 um\", "
         "slices=[fw.Slice(outside=\"120 mm\", length=\"15 mm\"), fw.Slice(outside=\"100 mm\", "
         "length=\"25 mm\")]).holding_force"},
        &fields::Declared<SteppedInputs>::declaration,
        &fields::Declared<SteppedOutputs>::declaration,
        fields::all_formulas<Stepped>(&Stepped::run<double>),
        places};
    return model;
}

SteppedOutputs<double> stepped(const SteppedInputs<double>& inputs, int slices,
                               const materials::Material& shaft, const materials::Material& ring) {
    if (slices < 1 || slices > slice_limit)
        throw DomainError({{"slices", "a stepped ring has 1 to " + std::to_string(slice_limit) +
                                          " slices, not " + std::to_string(slices)}});
    return fields::evaluate<SteppedOutputs<double>>(stepped_model(), inputs, {&shaft, &ring},
                                                    {slices - 1});
}

} // namespace fitwright::rings
