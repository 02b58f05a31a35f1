// End effect and slip of a seat: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/overhang.hpp"
#include "detail/slip.hpp"
#include "fields/at_level.hpp"

namespace fitwright::rings {

const fields::Model& overhang_model() {
    static constexpr const char* places[] = {"", "shaft", "ring"};
    static const fields::Model model{
        {"rings", "overhang",
         "What a short ring holds on a shaft that goes on beyond it, with the end effect.",
         "p/pLame = 1 + overhang (0.1114 + 0.094 q - 0.0761 q^2) S/(L/d + 0.0947 - 0.1464 S), "
         "q = di/d, S = Cs/(Cs + Cr)",
         "Elastic; contact length from d/8 on; q to 0.75, outsides of 1.25 to 1.5 d (what was "
         "measured); mean pressure within 1 % of finite elements. Growth of the outside and hoop "
         "stress by the mean pressure: measured at L = 3/8 d alone, within 1 and 2 %. The pressure "
         "at a "
         "sharp edge is far above the mean; the bore of the shaft moves less than with equal "
         "lengths and is not told.",
         "fitted to two independent finite-element programs (docs/theory-rings.md)",
         "fw.rings.overhang(shaft=fw.Shaft(bore=\"40 mm\", seat=\"80 mm\", material=\"4340\"), "
         "ring=fw.Ring(bore=\"80 mm\", outside=\"120 mm\", length=\"30 mm\", material=\"52100\"), "
         "interference=\"60 um\").factor"},
        &fields::Declared<OverhangInputs>::declaration,
        &fields::Declared<OverhangOutputs>::declaration,
        fields::all_formulas<Overhang>(&Overhang::run<double>),
        places};
    return model;
}

const fields::Model& slip_model() {
    static constexpr const char* places[] = {"", "shaft", "ring"};
    static const fields::Model model{
        {"rings", "slip",
         "How near a shrunk seat is to slipping under torque, thrust and bending, and whether its "
         "edge is prone to fretting.",
         "root(F^2 + (2 T/d)^2) <= mu p pi d L; at the edge l = k T/(mu p pi d^2/2), slip "
         "(d/2) T/(GJs) l/2, and with bending l = k M/(mu p pi d^2/4), slip (d/2) M/(EIs) l/2",
         "Even pressure, friction at its low end; edge slip by beams with Coulomb friction, on a "
         "ring longer than twice the slip length; the limit of 1 um is common practice, from "
         "memory, and no promise of life.",
         "DIN 7190-1 (capacity, resultant); edge slip: common practice, derived in "
         "docs/theory-rings.md",
         "fw.rings.slip(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), "
         "ring=fw.Ring(bore=\"80 mm\", outside=\"120 mm\", length=\"40 mm\", material=\"52100\"), "
         "pressure=\"50 MPa\", torque=\"900 N m\", thrust=\"12 kN\").slip_use"},
        &fields::Declared<SlipInputs>::declaration,
        &fields::Declared<SlipOutputs>::declaration,
        fields::all_formulas<Slip>(&Slip::run<double>),
        places};
    return model;
}

OverhangOutputs<double> overhang(const OverhangInputs<double>& inputs,
                                 const materials::Material& shaft,
                                 const materials::Material& ring) {
    return fields::evaluate<OverhangOutputs<double>>(overhang_model(), inputs, {&shaft, &ring});
}

SlipOutputs<double> slip(const SlipInputs<double>& inputs, const materials::Material& shaft,
                         const materials::Material& ring) {
    return fields::evaluate<SlipOutputs<double>>(slip_model(), inputs, {&shaft, &ring});
}

} // namespace fitwright::rings
