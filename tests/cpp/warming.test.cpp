// A ring heated through in the oven, by induction, and on its seat until it lets go.
#include "catch.hpp"
#include "heat_cases.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/heat/body.hpp>
#include <fitwright/heat/loosen.hpp>
#include <fitwright/heat/take_off.hpp>
#include <fitwright/heat/warming.hpp>

using namespace fitwright;
using namespace fitwright::heat;
using heat_cases::plain_metal;

namespace {

constexpr double pi = 3.14159265358979323846;

SoakInputs<double> oven() {
    auto in = fields::standard_inputs<SoakInputs>();
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.oven = 120.0;
    return in;
}
InductionInputs<double> coil() {
    auto in = fields::standard_inputs<InductionInputs>();
    in.ring = oven().ring;
    in.heat_flux = 60e3;
    in.target = 110.0;
    return in;
}
LoosenInputs<double> seat() {
    auto in = fields::standard_inputs<LoosenInputs>();
    in.ring = oven().ring;
    in.shaft.seat = 0.080;
    in.shaft.bore = 0.030;
    in.interference = 38e-6;
    in.heat_flux = 300e3;
    return in;
}
BodyInputs<double> chilled() {
    auto in = fields::standard_inputs<BodyInputs>();
    in.inside = 0.030;
    in.outside = 0.080;
    in.start = 22.0;
    in.ambient = -60.0;
    in.outer_film = 200.0;
    in.inner_film = 50.0;
    in.emissivity = 0.3;
    in.duration = 120.0;
    in.place = 0.060;
    return in;
}
const materials::Material& steel() { return cases::metal("52100"); }
const materials::Material& shaft() { return cases::metal("4340"); }

// Heat per kelvin and faces of that ring [m2 per metre of its length].
const double section = pi / 4 * (0.105 * 0.105 - 0.08 * 0.08);
const double faces = pi * (0.105 + 0.08) + 2.0 * section / 0.03;

} // namespace

TEST_CASE("a thin ring soaks as one temperature, by film and by radiation", "[soak]") {
    const auto m = plain_metal(5000.0, 7850.0, 460.0);
    auto in = oven();
    in.emissivity = 0.0;
    in.tolerance = 1e-6;
    const double capacity = 7850.0 * 460.0 * section;
    CHECK(soak(in, m).soak_time ==
          Approx(std::log(100.0 / 2.0) * capacity / (15.0 * faces)).epsilon(1e-3));
    CHECK(soak(in, m).soak_time_high ==
          Approx(std::log(100.0 / 2.0) * capacity / (8.0 * faces)).epsilon(1e-3));
    // Radiation too, by small steps of the one temperature.
    in.emissivity = 0.8;
    double t = 20.0, time = 0.0;
    const double step = 0.05;
    while (120.0 - t > 2.0) {
        const auto rate = [&](double x) {
            const double up = std::pow(393.15, 4) - std::pow(x + 273.15, 4);
            return (15.0 * (120.0 - x) + 0.8 * 5.670374419e-8 * up) * faces / capacity;
        };
        t += step * rate(t + 0.5 * step * rate(t));
        time += step;
    }
    CHECK(soak(in, m).soak_time == Approx(time).epsilon(1e-3));
}

TEST_CASE("a thick wall in stirred oil: the core comes last", "[soak]") {
    auto in = oven();
    in.ring.bore = 0.05;
    in.ring.outside = 0.25;
    in.ring.length = 0.20;
    in.oven_film = 300.0;
    in.emissivity = 0.0;
    const auto out = soak(in, steel());
    CHECK(out.biot > 0.1);
    CHECK(out.largest_difference > 5.0);
    CHECK(out.energy_error < 1e-6);
    in.oven = -60.0; // and a chill is the same thing downwards
    CHECK(soak(in, steel()).soak_time > 0.0);
}

TEST_CASE("a body after a time: places in order, heat accounted for", "[body]") {
    const auto out = body(chilled(), steel());
    CHECK(out.energy_error < 1e-6);
    CHECK(out.surface < out.temperature);
    CHECK(out.surface < out.innermost);
    CHECK((out.heat_share > 0.0 && out.heat_share < 1.0));
    // The film outside at the face's temperature.
    const double radiation =
        0.3 * 5.670374419e-8 * (std::pow(out.surface + 273.15, 4) - std::pow(213.15, 4));
    CHECK(out.surface_flux == Approx(200.0 * (out.surface + 60.0) + radiation).epsilon(1e-12));
    auto in = chilled();
    in.place = 0.080;
    CHECK(body(in, steel()).temperature == Approx(out.surface).epsilon(1e-12));
    in.duration = 1e6;
    CHECK(body(in, steel()).mean == Approx(-60.0).margin(0.1));
    CHECK(body(in, steel()).heat_share == Approx(1.0).margin(1e-3));
}

TEST_CASE("a body that cannot be", "[body][bad]") {
    auto in = chilled();
    in.inside = 0.10;
    CHECK_THROWS_WITH(body(in, steel()),
                      ContainsSubstring("outside: 80 mm must be larger than the inside diameter"));
    in = chilled();
    in.place = 0.001;
    CHECK_THROWS_WITH(body(in, steel()), ContainsSubstring("place: 1 mm must lie between"));
    in = chilled();
    in.ambient = -250.0;
    CHECK_THROWS_WITH(body(in, steel()), ContainsSubstring("ambient: -250 degC is outside"));
}

TEST_CASE("heat under one face: the difference across the wall that has settled", "[induction]") {
    // Quasi-steady, the other face insulated: q a/(k (b^2 - a^2)) [b^2 ln(b/a) - (b^2 - a^2)/2],
    // integrated from r q(r) = q a (b^2 - r^2)/(b^2 - a^2).
    const double k = 40.0, a = 0.04, b = 0.0525;
    const auto m = plain_metal(k, 7850.0, 460.0);
    auto in = coil();
    in.ring.length = 3.0;
    in.skin_depth = 1e-5;
    in.air_film = in.air_film_low = 0.1;
    in.emissivity = 0.0;
    in.cells = 200.0;
    const double wanted = in.heat_flux * a / (k * (b * b - a * a)) *
                          (b * b * std::log(b / a) - 0.5 * (b * b - a * a));
    auto out = induction(in, m);
    CHECK(out.largest_difference == Approx(wanted).epsilon(0.01));
    CHECK(out.heating_time ==
          Approx(90.0 * 7850.0 * 460.0 * section / (in.heat_flux * pi * 0.08)).epsilon(0.01));
    CHECK(out.energy_error < 1e-6);
    CHECK(out.gradient_margin == Approx(35.0 - out.largest_difference));
    // The heat allowed makes just the difference allowed.
    in.heat_flux = out.flux_allowed;
    in.target = 300.0;
    CHECK(induction(in, m).largest_difference == Approx(35.0).epsilon(0.01));
    // Outside in, b takes the place of a; a deep skin is gentler.
    in = coil();
    const double thin = induction(in, m, HeatedFace::outside).largest_difference;
    in.skin_depth = 0.01;
    CHECK(induction(in, m, HeatedFace::outside).largest_difference < thin);
}

TEST_CASE("a ring is free when its bore has cleared the seat, and for so long", "[loosen]") {
    const auto m = plain_metal(40.0, 7850.0, 460.0);
    const auto in = seat();
    const auto out = loosen(in, m, m);
    // Even expansion: sizes depend on the mean temperatures alone.
    const double bore = (0.080 - 38e-6) * (1.0 + 12e-6 * (out.ring_at_free - 20.0));
    const double at_seat = 0.080 * (1.0 + 12e-6 * (out.shaft_at_free - 20.0));
    CHECK(bore - at_seat == Approx(40e-6).epsilon(1e-6)); // half a thousandth of the seat
    CHECK(out.time_to_loose < out.time_to_free);
    CHECK(out.time_free > 0.0);
    CHECK(out.energy_error < 1e-6);
    // Twice the heat: less time, less into the shaft.
    auto hotter = in;
    hotter.heat_flux = 600e3;
    CHECK(loosen(hotter, m, m).time_to_free < 0.5 * out.time_to_free);
    CHECK(loosen(hotter, m, m).shaft_at_free < out.shaft_at_free);
    // Less than the heat the two cooler parts would take up together makes it impossible; more than
    // that of the ring alone makes it certain.
    const double of_ring = 7850.0 * 460.0 * section * (out.difference_at_free);
    CHECK(in.heat_flux * pi * 0.105 * out.time_to_free > of_ring);
}

TEST_CASE("a bath around both parts does not free a steel ring on a steel shaft", "[loosen][bad]") {
    auto in = seat();
    in.bath_film = 100.0;
    CHECK_THROWS_WITH(loosen(in, shaft(), steel(), Heater::bath),
                      ContainsSubstring("heat_flux: ") &&
                          ContainsSubstring("of opening is missing when the shaft has caught up"));
    // Fierce enough it does.
    in.bath_film = 5000.0;
    in.bath = 280.0;
    CHECK(loosen(in, shaft(), steel(), Heater::bath).time_free > 0.0);
    in.interference = -10e-6;
    CHECK_THROWS_WITH(loosen(in, shaft(), steel()),
                      ContainsSubstring("there is nothing to loosen"));
}

TEST_CASE("no skin is heated beyond what is known of its metal", "[loosen][induction][bad]") {
    // A steel whose conductivity falls with temperature would have none left at 1600 degC, and no
    // solution beyond.
    auto in = seat();
    in.heat_flux = 20e6;
    in.skin_depth = 1e-4;
    CHECK_THROWS_WITH(loosen(in, shaft(), steel()),
                      ContainsSubstring("heat_flux: ") &&
                          ContainsSubstring(" degC is what it makes") &&
                          ContainsSubstring("heat with less and for longer, or in a bath"));
    in = seat();
    in.bath = 300.0;
    CHECK_THROWS_WITH(loosen(in, shaft(), steel(), Heater::bath),
                      ContainsSubstring("bath: 300 degC is outside the temperature range"));
    auto fierce = coil();
    fierce.heat_flux = 5e6;
    CHECK_THROWS_WITH(induction(fierce, steel()),
                      ContainsSubstring("heat_flux: ") && ContainsSubstring("material data end"));
    fierce.heat_flux = 100e6;
    fierce.skin_depth = 1e-5;
    CHECK_THROWS_WITH(induction(fierce, steel()), ContainsSubstring("material data end"));
}

TEST_CASE("heating that leads nowhere is refused", "[soak][induction][bad]") {
    auto in = oven();
    in.start = 119.0;
    CHECK_THROWS_WITH(soak(in, steel()),
                      ContainsSubstring("start: 119 degC is within core_within"));
    in = oven();
    in.oven = 900.0;
    CHECK_THROWS_WITH(soak(in, steel()), ContainsSubstring("oven: 900 degC is outside"));
    auto weak = coil();
    weak.heat_flux = 100.0;
    CHECK_THROWS_WITH(induction(weak, steel()),
                      ContainsSubstring("heat_flux: ") &&
                          ContainsSubstring("is as warm as the ring gets"));
    weak = coil();
    weak.target = 10.0;
    CHECK_THROWS_WITH(induction(weak, steel()),
                      ContainsSubstring("target: 10 degC must lie above"));
    CHECK_THROWS_WITH(soak(oven(), cases::even_metal(200e9, 12e-6, 0.3).numbers),
                      ContainsSubstring("ring.material: 0 W/m/K of conductivity"));
}

TEST_CASE("derivatives of soaking, induction and loosening", "[derivatives][soak]") {
    auto cold = chilled();
    cold.tolerance = 1e-6;
    cold.cells = 40.0;
    heat_cases::compare_slopes("heat.body", cold, {"52100"},
                               {"temperature", "surface", "innermost", "mean", "surface_flux"});
    auto hot = oven();
    hot.tolerance = 1e-6;
    hot.cells = 40.0;
    heat_cases::compare_slopes("heat.soak", hot, {"52100"},
                               {"soak_time", "soak_time_high", "biot"});
    auto in = coil();
    in.tolerance = 1e-6;
    in.cells = 40.0;
    heat_cases::compare_slopes("heat.induction", in, {"52100"},
                               {"heating_time", "largest_difference", "hottest", "flux_allowed"});
    auto on = seat();
    on.ring.bore = 0.080 - 38e-6;
    on.interference = fields::worked_out;
    on.tolerance = 1e-6;
    on.cells = 40.0;
    heat_cases::compare_slopes(
        "heat.loosen", on, {"4340", "52100"},
        {"time_to_loose", "time_to_free", "ring_at_free", "shaft_at_free", "hottest", "time_free"});
}

TEST_CASE("batches of them are every sample alone", "[soak][induction][loosen]") {
    heat_cases::compare_batch<BodyOutputs<double>>(
        "heat.body", chilled(), {"52100"},
        [](BodyInputs<double>& in, double x) { in.duration = 60.0 + 200.0 * x; });
    heat_cases::compare_batch<SoakOutputs<double>>(
        "heat.soak", oven(), {"52100"},
        [](SoakInputs<double>& in, double x) { in.oven = 100.0 + 20.0 * x; });
    heat_cases::compare_batch<InductionOutputs<double>>(
        "heat.induction", coil(), {"52100"},
        [](InductionInputs<double>& in, double x) { in.heat_flux = 4e4 * (1.0 + x); });
    heat_cases::compare_batch<LoosenOutputs<double>>(
        "heat.loosen", seat(), {"4340", "52100"},
        [](LoosenInputs<double>& in, double x) { in.heat_flux = 2e5 * (1.0 + x); });
}
