// The models that integrate in time: told to users, and instantiated for double.
#include "detail/slip_on.hpp"
#include "fields/at_level.hpp"
#include "models.hpp"
#include <fitwright/fields/error.hpp>

namespace fitwright::heat {

namespace {

constexpr const char* places[] = {"", "shaft", "ring"};

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
         "fw.heat.slip_on(shaft=fw.Shaft(seat=\"80 mm\", material=\"4340\"), ring=fw.Ring(bore=\"80 "
         "mm\", outside=\"105 mm\", length=\"30 mm\", material=\"52100\"), interference=\"38 um\", "
         "oven=\"120 degC\").window"},
        &fields::Declared<SlipOnInputs>::declaration,
        &fields::Declared<SlipOnOutputs>::declaration,
        fields::all_formulas<SlipOn>(&SlipOn::run<double>),
        places};
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
