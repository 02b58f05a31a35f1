#include "cases.hpp"
#include "catch.hpp"
#include <fitwright/heat/loosen.hpp>
#include <fitwright/heat/warming.hpp>
using namespace fitwright; using namespace fitwright::heat;
namespace { template <class R> void show(const char* name, const R& out) { const fields::Model& model = fields::model_named(name); std::printf("%s\n", name);
    for (std::size_t j = 0; j < fields::leaves_of(*model.outputs).size(); ++j) std::printf("   %s %.9g\n", fields::leaves_of(*model.outputs)[j].path.c_str(), reinterpret_cast<const double*>(&out)[j]); } }
TEST_CASE("x", "[warm]") {
    const auto& steel = cases::metal("52100");
    auto s = fields::standard_inputs<SoakInputs>(); s.ring.bore=.08; s.ring.outside=.105; s.ring.length=.03; s.oven=120;
    show("heat.soak", soak(s, steel));
    auto i = fields::standard_inputs<InductionInputs>(); i.ring=s.ring; i.heat_flux=60e3; i.target=110;
    show("heat.induction", induction(i, steel));
    auto l = fields::standard_inputs<LoosenInputs>(); l.ring=s.ring; l.shaft.seat=.08; l.shaft.bore=.03; l.interference=38e-6; l.heat_flux=300e3;
    show("heat.loosen", loosen(l, cases::metal("4340"), steel));
    show("heat.loosen", loosen(l, cases::metal("4340"), steel, Heater::bath));
}
