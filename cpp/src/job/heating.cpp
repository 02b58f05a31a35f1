// What the heating level adds: each ring that is put on hot, from the oven until it is cold, seated,
// and off again.
#include "detail/baseline.hpp"
#include "detail/quick.hpp"
#include "heat/detail/seating.hpp"
#include "heat/detail/slip_on.hpp"
#include "heat/detail/take_off.hpp"
#include "history.hpp"
#include <fitwright/job/heating.hpp>

namespace fitwright::rules {
extern const number::Rule grip_to_seat, grips_at_room, oven_above_room, window_opens;
} // namespace fitwright::rules

namespace fitwright::job {

namespace {

template <class T, class Into>
void give_shared(Into& in, const Inputs<T>& job, int i) {
    const Ring<T>& ring = job.ring(i);
    const Seat<T>& seat = job.seat(job.at.ring_seat[i]);
    const Rotor<T>& rotor = job.rotor();
    in.shaft = {rotor.bore, seat.diameter, seat.roughness, rotor.modulus_factor,
                rotor.expansion_factor};
    in.ring = even_ring(job, i);
    in.interference = seat.diameter - ring.bore;
}

template <class T>
heat::SlipOnInputs<T> slip_on_inputs(const Inputs<T>& job, int i) {
    const Ring<T>& ring = job.ring(i);
    const Workshop<T>& shop = job.template part<Workshop>(job.at.workshop_at);
    heat::SlipOnInputs<T> in;
    give_shared(in, job, i);
    in.shaft_temperature = job.state(0).shaft_temperature;
    in.slip_clearance = ring.slip_clearance;
    in.oven = ring.oven;
    in.heating_limit = ring.heating_limit;
    in.carry_time = ring.carry_time;
    in.slide_time = ring.slide_time;
    in.least_clearance = T(fields::worked_out);
    in.room = shop.room;
    in.air_film = shop.air_film;
    in.air_film_low = shop.air_film_low;
    in.air_film_high = shop.air_film_high;
    in.emissivity = shop.emissivity;
    in.gas_conductivity = shop.gas_conductivity;
    in.standing_gap = shop.standing_gap;
    in.standing_gap_low = shop.standing_gap_low;
    in.standing_gap_high = shop.standing_gap_high;
    in.asperity_height = shop.asperity_height;
    in.asperity_slope = shop.asperity_slope;
    in.contact_hardness = shop.contact_hardness;
    in.contact_factor = shop.contact_factor;
    in.contact_factor_low = shop.contact_factor_low;
    in.contact_factor_high = shop.contact_factor_high;
    in.shaft_goes_on = shop.shaft_goes_on;
    in.room_band = T(2.0);
    in.cells = T(100.0);
    in.tolerance = T(1e-4);
    return in;
}

template <class T>
heat::SeatingInputs<T> seating_inputs(const Inputs<T>& job, int i) {
    static const auto standard = fields::standard_inputs<heat::SeatingInputs>();
    const Workshop<T>& shop = job.template part<Workshop>(job.at.workshop_at);
    heat::SeatingInputs<T> in;
    give_shared(in, job, i);
    in.press_force = job.ring(i).press;
    in.wall_shear = T(standard.wall_shear);
    in.wall_shear_low = T(standard.wall_shear_low);
    in.wall_shear_high = T(standard.wall_shear_high);
    in.springback = T(standard.springback);
    in.springback_low = T(standard.springback_low);
    in.springback_high = T(standard.springback_high);
    in.end_effect = T(standard.end_effect);
    in.end_effect_low = T(standard.end_effect_low);
    in.end_effect_high = T(standard.end_effect_high);
    in.allowed_gap = job.ring(i).allowed_gap;
    in.gauge_uncertainty = shop.gauge_uncertainty;
    in.thinnest_leaf = shop.thinnest_leaf;
    return in;
}

template <class T>
heat::TakeOffInputs<T> take_off_inputs(const Inputs<T>& job, int i) {
    const Workshop<T>& shop = job.template part<Workshop>(job.at.workshop_at);
    heat::TakeOffInputs<T> in;
    give_shared(in, job, i);
    in.shaft_temperature = job.state(0).shaft_temperature;
    in.difference = T(0.0);
    in.loose_clearance = job.ring(i).slip_clearance;
    in.breakaway = shop.breakaway;
    in.breakaway_low = shop.breakaway_low;
    in.breakaway_high = shop.breakaway_high;
    in.heating_limit = job.ring(i).heating_limit;
    return in;
}

// A ring whose oven does not open it has no window: none of it is left, and the opening's own
// finding tells why.
template <class T>
void no_window(heat::SlipOnOutputs<T>& out, const heat::SlipOnInputs<T>& in) {
    out = heat::SlipOnOutputs<T>{};
    out.time_left = -(in.carry_time + in.slide_time);
    out.ring_at_touch = in.room;
    out.shaft_at_touch = in.shaft_temperature;
    out.oven_setting = in.room;
}

// Faults of one model, kept apart: it speaks of shaft and ring as 1 and 2.
template <class T>
struct Own {
    std::vector<Fault> broken;
    Faults<T> faults;
    Own() {
        if constexpr (!has_derivatives<T>)
            faults.collected = &broken;
    }
    Fault first() const {
        if constexpr (has_derivatives<T>)
            return {number::rule_of(faults.code), number::place_of(faults.code), 0.0};
        else
            return broken.empty() ? Fault{number::no_rule, 0, 0.0} : broken.front();
    }
};

template <class Model, class T, class Ins, class Outs>
Fault run_model(const Ins& in, Outs& out, const materials::Material* const* metals,
                const int* choice, Faults<T>& faults) {
    Own<T> own;
    Model::template run<T>(reinterpret_cast<const T*>(&in), reinterpret_cast<T*>(&out),
                           {metals, choice, nullptr}, own.faults);
    if constexpr (has_derivatives<T>)
        faults.kink(own.faults.one_sided);
    return own.first();
}

struct HotRings : OfLevel<Level::heating> {
    template <class T>
    static void run(const T* inputs, T* outputs, const fields::Context& context,
                    Faults<T>& faults) {
        const Layout& at = *static_cast<const Layout*>(context.layout);
        const Inputs<T> job{inputs, at};
        for (int k = 0; k < at.heated && !context.stopped(); ++k) {
            const int i = at.heated_ring[k];
            const materials::Material* metals[] = {at.shaft, at.ring_materials[i]};
            auto& out = *reinterpret_cast<HeatedOutputs<T>*>(outputs + k * at.heated_outputs);
            const auto pass_on = [&](const Fault& f) {
                faults.place = f.place == 1 ? Place::rotor : Place::ring + i;
                faults.require(f.rule == number::no_rule, f.rule, T(f.value));
            };
            const auto in = slip_on_inputs(job, i);
            Fault f = run_model<heat::SlipOn>(in, out.slip_on, metals, nullptr, faults);
            if (f.rule == rules::window_opens || f.rule == rules::oven_above_room)
                no_window(out.slip_on, in);
            else if (f.rule == rules::grips_at_room)
                out.slip_on = heat::SlipOnOutputs<T>{}; // nothing to hurry for
            else
                pass_on(f);
            const int held_by_shaft = at.press_outside[i] ? 0 : 1;
            f = run_model<heat::Seating>(seating_inputs(job, i), out.seating, metals,
                                         &held_by_shaft, faults);
            if (f.rule == rules::grip_to_seat)
                out.seating = heat::SeatingOutputs<T>{}; // nothing draws off what does not grip
            else
                pass_on(f);
            pass_on(run_model<heat::TakeOff>(take_off_inputs(job, i), out.take_off, metals, nullptr,
                                             faults));
        }
    }
};

} // namespace

LevelCalls heating_calls() { return baseline_calls<HotRings>(); }

} // namespace fitwright::job
