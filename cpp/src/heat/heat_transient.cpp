// The models that integrate in time: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/body.hpp"
#include "detail/loosen.hpp"
#include "detail/slip_on.hpp"
#include "detail/warming.hpp"
#include "fields/at_level.hpp"
#include <fitwright/fields/error.hpp>

namespace fitwright::heat {

namespace {

constexpr const char* places[] = {"", "shaft", "ring"};
constexpr const char* ring_alone_places[] = {"", "ring"};

// One run in doubles for a lane: a fault is a number there, never an exception.
template <class Model>
double guarded(const double* inputs, double* outputs, const fields::Context& context) noexcept {
    try {
        number::Faults<double> faults;
        Model::template run<double>(inputs, outputs, context, faults);
        return 0.0;
    } catch (const Fault& fault) {
        return fault.rule + 4096.0 * fault.place;
    }
}

} // namespace

double SlipOn::alone(const double* inputs, double* outputs,
                     const fields::Context& context) noexcept {
    return guarded<SlipOn>(inputs, outputs, context);
}

double Body::alone(const double* inputs, double* outputs, const fields::Context& context) noexcept {
    return guarded<Body>(inputs, outputs, context);
}
double Soak::alone(const double* inputs, double* outputs, const fields::Context& context) noexcept {
    return guarded<Soak>(inputs, outputs, context);
}
double Induction::alone(const double* inputs, double* outputs,
                        const fields::Context& context) noexcept {
    return guarded<Induction>(inputs, outputs, context);
}
double Loosen::alone(const double* inputs, double* outputs,
                     const fields::Context& context) noexcept {
    return guarded<Loosen>(inputs, outputs, context);
}

const fields::Model& body_model() {
    static const fields::Model model{
        {"heat", "body",
         "How warm a cylinder, plate or sphere is after a time in air, oil or water.",
         "d(rho c T)/dt = div(k grad T); at the faces h (Ta - T) + e sigma (Ta^4 - T^4)",
         "Heat flows in one direction: a long cylinder, a large plate, a sphere. Short bodies: the "
         "product of two shares, while conductivity and heat capacity are constant.",
         "Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 5",
         "fw.heat.body(outside=\"80 mm\", start=\"20 degC\", ambient=\"-78.5 degC\", "
         "outer_film=\"100 W/m^2/K\", duration=\"600 s\", material=\"4340\").mean"},
        &fields::Declared<BodyInputs>::declaration,
        &fields::Declared<BodyOutputs>::declaration,
        fields::all_formulas<Body>(&Body::run<double>),
        {},
        true};
    return model;
}

const fields::Model& soak_model() {
    static const fields::Model model{
        {"heat", "soak", "How long a ring must stay in the oven until it is hot to its core.",
         "d(rho c T)/dt = div(k grad T) along the radius; film and radiation at all faces",
         "Heat flows along the radius; the end faces take it as films of the whole section, which "
         "holds where film times half the length over conductivity is below 0.1.",
         "Incropera et al., Fundamentals of Heat and Mass Transfer; films by common practice",
         "fw.heat.soak(ring=fw.Ring(bore=\"80 mm\", outside=\"105 mm\", length=\"30 mm\", "
         "material=\"52100\"), oven=\"120 degC\").soak_time"},
        &fields::Declared<SoakInputs>::declaration,
        &fields::Declared<SoakOutputs>::declaration,
        fields::all_formulas<Soak>(&Soak::run<double>),
        ring_alone_places,
        true};
    return model;
}

const fields::Model& induction_model() {
    static const fields::Model model{
        {"heat", "induction",
         "How fast a ring may be heated by induction, and how unevenly that heats it.",
         "d(rho c T)/dt = div(k grad T) + q exp(-2 x/skin), all of it under one face",
         "Heat flows along the radius; skin depth as given: it changes with frequency and, near "
         "the "
         "Curie point, with temperature. Demagnetise and check before fitting.",
         "Davies, Conduction and Induction Heating (from memory); limits by common practice",
         "fw.heat.induction(ring=fw.Ring(bore=\"80 mm\", outside=\"105 mm\", length=\"30 mm\", "
         "material=\"52100\"), heat_flux=\"60 kW/m^2\", target=\"110 degC\").largest_difference"},
        &fields::Declared<InductionInputs>::declaration,
        &fields::Declared<InductionOutputs>::declaration,
        fields::all_formulas<Induction>(&Induction::run<double>),
        ring_alone_places,
        true};
    return model;
}

const fields::Model& loosen_model() {
    static const fields::Model model{
        {"heat", "loosen", "How long heating frees a gripping ring, and how long it stays free.",
         "as heat.slip_on, with the joint closed and heat put in at the outside of the ring",
         "Heat flows along the radius; the ring lets go all at once. No heat on a part under "
         "puller "
         "load without a catch.",
         "Incropera et al., Fundamentals of Heat and Mass Transfer; contact conductance of Cooper, "
         "Mikic and Yovanovich (1969), from memory",
         "fw.heat.loosen(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), ring=fw.Ring(bore=\"80 "
         "mm\", outside=\"105 mm\", length=\"30 mm\", material=\"52100\"), interference=\"38 um\", "
         "heat_flux=\"300 kW/m^2\").time_free"},
        &fields::Declared<LoosenInputs>::declaration,
        &fields::Declared<LoosenOutputs>::declaration,
        fields::all_formulas<Loosen>(&Loosen::run<double>),
        places,
        true};
    return model;
}

BodyOutputs<double> body(const BodyInputs<double>& inputs, const materials::Material& material,
                         BodyShape shape) {
    return fields::evaluate<BodyOutputs<double>>(body_model(), inputs, {&material},
                                                 {static_cast<int>(shape)});
}

SoakOutputs<double> soak(const SoakInputs<double>& inputs, const materials::Material& ring) {
    return fields::evaluate<SoakOutputs<double>>(soak_model(), inputs, {&ring});
}

InductionOutputs<double> induction(const InductionInputs<double>& inputs,
                                   const materials::Material& ring, HeatedFace heated) {
    return fields::evaluate<InductionOutputs<double>>(induction_model(), inputs, {&ring},
                                                      {static_cast<int>(heated)});
}

LoosenOutputs<double> loosen(const LoosenInputs<double>& inputs, const materials::Material& shaft,
                             const materials::Material& ring, Heater heater) {
    return fields::evaluate<LoosenOutputs<double>>(loosen_model(), inputs, {&shaft, &ring},
                                                   {static_cast<int>(heater)});
}

const fields::Model& slip_on_model() {
    static const fields::Model model{
        {"heat", "slip_on",
         "How long a hot ring can be worked with, when it grabs, and when it is cold.",
         "d(rho c T)/dt = div(k grad T) along the radius of ring and shaft; films and radiation "
         "outside; joint h = k_gas/(gap + rest) + 1.25 k m/s (p/H)^0.95",
         "Heat flows along the radius; end faces and the shaft beyond the ring take heat as films "
         "of the whole section. The ring is heated through when it leaves the oven.",
         "Incropera et al., Fundamentals of Heat and Mass Transfer; contact conductance of Cooper, "
         "Mikic and Yovanovich (1969), from memory; TR-BDF2 of Hosea and Shampine (1996)",
         "fw.heat.slip_on(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), "
         "ring=fw.Ring(bore=\"80 "
         "mm\", outside=\"105 mm\", length=\"30 mm\", material=\"52100\"), interference=\"38 um\", "
         "oven=\"120 degC\").window"},
        &fields::Declared<SlipOnInputs>::declaration,
        &fields::Declared<SlipOnOutputs>::declaration,
        fields::all_formulas<SlipOn>(&SlipOn::run<double>),
        places,
        true};
    return model;
}

SlipOnOutputs<double> slip_on(const SlipOnInputs<double>& inputs, const materials::Material& shaft,
                              const materials::Material& ring) {
    return fields::evaluate<SlipOnOutputs<double>>(slip_on_model(), inputs, {&shaft, &ring});
}

Cooling slip_on_curve(const SlipOnInputs<double>& inputs, const materials::Material& shaft,
                      const materials::Material& ring) {
    slip_on(inputs, shaft, ring); // refuses what is wrong, with paths
    Cooling curve;
    number::Faults<double> faults;
    const auto plan = slip_on_plan(inputs, shaft, ring, faults);
    SlipOnOutputs<double> out;
    slip_on_run(inputs, plan, out,
                Taking<double>{inputs.air_film, inputs.standing_gap, inputs.contact_factor}, false,
                shaft, ring, faults, [&](const March<double>& m) {
                    const Chain<double>& c = m.chain;
                    const int seat = c.nodes - 1 - (static_cast<int>(inputs.cells) / 2 + 1) - 0;
                    curve.time.push_back(m.time);
                    curve.bore.push_back(c.joint.bore *
                                         (1.0 + c.joint.ring_factor * c.mean_growth(1, m.now)));
                    curve.seat.push_back(c.joint.seat *
                                         (1.0 + c.joint.shaft_factor * c.mean_growth(0, m.now)));
                    curve.ring_mean.push_back(mean_of_body(c, 1, m.now));
                    curve.shaft_mean.push_back(mean_of_body(c, 0, m.now));
                    curve.ring_bore.push_back(m.now[seat]);
                    curve.ring_outside.push_back(m.now[c.nodes - 1]);
                    curve.shaft_surface.push_back(m.now[seat - 1]);
                });
    return curve;
}

} // namespace fitwright::heat
