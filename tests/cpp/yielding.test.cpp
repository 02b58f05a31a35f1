// Fits that yield: the closed form of DIN 7190-1, the limits of elastic and of full yielding, and what
// is left afterwards. Von Mises against SciPy is in tests/python/test_rings.py.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/rings/elastic_plastic.hpp>
#include <fitwright/rings/fit.hpp>

using namespace fitwright;
using namespace fitwright::rings;

namespace {

const materials::Entry even = cases::even_metal(210e9, 12e-6, 0.3);
const materials::Material& metal = even.numbers;
constexpr double modulus = 210e9;
constexpr double strength = 300e6;

ElasticPlasticInputs<double> plain(double interference, double bore = 0.0, double outside = 0.130) {
    auto in = fields::standard_inputs<ElasticPlasticInputs>();
    in.shaft.seat = in.ring.bore = 0.080;
    in.shaft.bore = bore;
    in.ring.outside = outside;
    in.ring.length = in.ring.contact_length = 0.060;
    in.interference = interference;
    in.ring_yield = strength;
    in.shaft_yield = 3e9; // stays elastic
    return in;
}
FitInputs<double> elastic(const ElasticPlasticInputs<double>& in) {
    auto fit = fields::standard_inputs<FitInputs>();
    fit.shaft = in.shaft;
    fit.ring = in.ring;
    fit.interference = in.interference;
    fit.speed = in.speed;
    return fit;
}

} // namespace

TEST_CASE("modified Tresca: the integration is the closed form of DIN 7190-1", "[yielding]") {
    // theory.md section 3: 2 ln z - (z Q)^2 + 1 - sqrt(3) p/Re = 0, xi = 2 Re z^2/(sqrt(3) E).
    for (const double outside : {0.09, 0.1, 0.13, 0.2}) {
        const double q = 0.08 / outside;
        for (const double share : {0.05, 0.3, 0.6, 0.95}) {
            const double z = 1.0 + share * (1.0 / q - 1.0);
            const double xi = 2.0 * strength * z * z / (std::sqrt(3.0) * modulus);
            const double p = strength / std::sqrt(3.0) * (2.0 * std::log(z) - z * z * q * q + 1.0);
            const auto in = plain(xi * 0.08, 0.0, outside);
            const auto out = elastic_plastic_fit(in, metal, metal, true);
            CAPTURE(outside, share);
            CHECK(out.pressure == Approx(p).epsilon(1e-8));
            CHECK(out.plastic_diameter == Approx(0.08 * z).epsilon(1e-8));
            CHECK(out.plastic_share == Approx((z * z - 1.0) / (1.0 / (q * q) - 1.0)).epsilon(1e-7));
        }
    }
}

TEST_CASE("below first yield a fit is the elastic fit, and there it begins", "[yielding]") {
    for (const bool tresca : {false, true}) {
        for (const double bore : {0.0, 0.04}) {
            auto in = plain(60e-6, bore);
            in.speed = 900.0;
            const auto out = elastic_plastic_fit(in, metal, metal, tresca);
            const auto still = [&](ElasticPlasticInputs<double> x) {
                x.speed = 0.0;
                return fit(elastic(x), metal, metal);
            };
            CHECK(out.pressure == Approx(still(in).pressure).epsilon(1e-11));
            CHECK(out.ring_hoop == Approx(still(in).ring_hoop).epsilon(1e-11));
            CHECK(out.outside_growth == Approx(still(in).outside_growth).epsilon(1e-11));
            CHECK(out.speed_pressure == Approx(fit(elastic(in), metal, metal).pressure));
            CHECK(out.loss_speed == Approx(still(in).loss_speed).epsilon(1e-11));
            CHECK(out.plastic_share == 0.0);
            CHECK(out.permanent_bore_growth == 0.0);
            CHECK(out.next_interference == Approx(60e-6));

            // At first yield the equivalent stress at the bore is the strength.
            in.interference = out.first_yield_interference;
            in.speed = 0.0;
            const auto there = fit(elastic(in), metal, metal);
            CHECK(there.pressure == Approx(out.first_yield_pressure));
            if (tresca)
                CHECK(there.ring_hoop + there.pressure == Approx(2.0 / std::sqrt(3.0) * strength));
            else
                CHECK(there.ring_von_mises == Approx(strength));
            // Continuous across it, and less grip than elastic above.
            in.interference = out.first_yield_interference * (1.0 + 1e-7);
            const auto above = elastic_plastic_fit(in, metal, metal, tresca);
            CHECK(above.pressure == Approx(out.first_yield_pressure).epsilon(1e-6));
            in.interference = out.first_yield_interference * 1.2;
            const auto well = elastic_plastic_fit(in, metal, metal, tresca);
            CHECK(well.plastic_share > 0.05);
            CHECK(well.pressure < well.elastic_pressure);
            CHECK(well.pressure > out.first_yield_pressure);
        }
    }
}

TEST_CASE("full yielding: the pressure of a ring that is plastic through its wall", "[yielding]") {
    // Modified Tresca: p = 2 Re/sqrt(3) ln(b/a). Von Mises, plane stress (Nadai's angle f from 60 deg
    // at the outside): ln(b/a) = sqrt(3)/2 (f - pi/3) + 1/2 ln(sin f/sin 60 deg),
    // p = -2 Re/sqrt(3) cos(f + 30 deg).
    const auto largest = [&](double outside, bool tresca) {
        double low = 60e-6;
        double high = 795e-6;
        for (int k = 0; k < 60; ++k) {
            const double middle = 0.5 * (low + high);
            try {
                elastic_plastic_fit(plain(middle, 0.0, outside), metal, metal, tresca);
                low = middle;
            } catch (const DomainError&) {
                high = middle;
            }
        }
        return elastic_plastic_fit(plain(low, 0.0, outside), metal, metal, tresca);
    };
    for (const double outside : {0.1, 0.13, 0.16}) {
        CAPTURE(outside);
        const double wall = std::log(outside / 0.08);
        const auto tresca = largest(outside, true);
        CHECK(tresca.pressure == Approx(2.0 / std::sqrt(3.0) * strength * wall).epsilon(1e-6));
        CHECK(tresca.plastic_share == Approx(1.0).epsilon(1e-6));
        double low = std::acos(-1.0) / 3.0;
        double high = 2.5 * low;
        for (int k = 0; k < 80; ++k) {
            const double f = 0.5 * (low + high);
            const double there = std::sqrt(3.0) / 2.0 * (f - std::acos(-1.0) / 3.0) +
                                 0.5 * std::log(std::sin(f) / (std::sqrt(3.0) / 2.0));
            (there < wall ? low : high) = f;
        }
        const auto mises = largest(outside, false);
        CHECK(mises.pressure ==
              Approx(-2.0 / std::sqrt(3.0) * strength * std::cos(low + std::acos(-1.0) / 6.0))
                  .epsilon(1e-6));
        // What theory.md says: von Mises is lower for thin rings.
        CHECK(mises.pressure < tresca.pressure);
    }
}

TEST_CASE("hardening lies between perfectly plastic and elastic", "[yielding]") {
    double before = 0.0;
    for (const double tangent : {0.0, 2e9, 20e9, 100e9}) {
        auto in = plain(260e-6);
        in.ring_tangent_modulus = tangent;
        const auto out = elastic_plastic_fit(in, metal, metal);
        CHECK(out.pressure > before);
        CHECK(out.pressure < out.elastic_pressure);
        before = out.pressure;
    }
}

TEST_CASE("a hollow shaft yields at its bore", "[yielding]") {
    // A thick ring of three times the strength on a thin-walled shaft.
    auto in = plain(200e-6, 0.05, 0.16);
    in.ring_yield = 3e9;
    in.shaft_yield = strength;
    const auto out = elastic_plastic_fit(in, metal, metal);
    // First: the hoop stress at its bore, 2 p/(1 - q^2), is the strength.
    CHECK(out.first_yield_pressure == Approx(strength * (1.0 - 25.0 / 64.0) / 2.0));
    CHECK(out.pressure > out.first_yield_pressure);
    CHECK(out.pressure < out.elastic_pressure);
    CHECK(out.shaft_plastic_strain > 0.0);
    CHECK(out.permanent_seat_loss > 0.0);
    CHECK(out.permanent_bore_growth == 0.0);
    CHECK(out.next_interference == Approx(200e-6 - out.permanent_seat_loss));
    // Full yielding, modified Tresca: p = 2 Re/sqrt(3) ln(d/di), and no more.
    double most = 0.0;
    for (double i = 100e-6; i < 790e-6; i += 10e-6) {
        in.interference = i;
        try {
            most = elastic_plastic_fit(in, metal, metal, true).pressure;
        } catch (const DomainError& error) {
            CHECK_THAT(error.what(), ContainsSubstring("whole wall of the shaft yield"));
            break;
        }
    }
    const double full = 2.0 / std::sqrt(3.0) * strength * std::log(8.0 / 5.0);
    CHECK(most < full);
    CHECK(most > 0.985 * full);
}

TEST_CASE("taken off: stress and growth are what elastic unloading leaves", "[yielding]") {
    auto in = plain(260e-6);
    const auto out = elastic_plastic_fit(in, metal, metal, true);
    // DIN 7190-1 closed form at the outside: growth 2 Re/sqrt(3) rho^2/b^2 b/E on radius, less
    // Lame's 2 p a^2/(b^2 - a^2) b/E.
    const double a = 0.04, b = 0.065;
    const double rho = out.plastic_diameter / 2.0;
    const double kept = 2.0 * b / modulus *
                        (2.0 / std::sqrt(3.0) * strength * rho * rho / (b * b) -
                         2.0 * out.pressure * a * a / (b * b - a * a));
    CHECK(out.permanent_outside_growth == Approx(kept).epsilon(1e-7));
    // Residual stress at the bore: 2 Re/sqrt(3) - p (b^2 + a^2)/(b^2 - a^2) - p.
    const double lame = (b * b + a * a) / (b * b - a * a);
    CHECK(out.residual_hoop ==
          Approx(2.0 / std::sqrt(3.0) * strength - out.pressure * (1.0 + lame)).epsilon(1e-8));
    CHECK(out.residual_hoop < 0.0);
    CHECK(out.permanent_bore_growth > out.permanent_outside_growth);
    // Joined again at what is left, it gives the same pressure, elastically.
    in.interference = out.next_interference;
    CHECK(out.next_interference / (0.260e-3) > 0.5);
    auto again = elastic(in);
    CHECK(fit(again, metal, metal).pressure == Approx(out.pressure).epsilon(1e-9));
    // And turning, it lets go where that fit does.
    CHECK(fit(again, metal, metal).loss_speed == Approx(out.loss_speed).epsilon(1e-9));
    again.speed = in.speed = 800.0;
    in.interference = 260e-6;
    CHECK(elastic_plastic_fit(in, metal, metal, true).speed_pressure ==
          Approx(fit(again, metal, metal).pressure).epsilon(1e-9));
}

TEST_CASE("derivatives of a fit that yields, both sides at once", "[yielding]") {
    auto in = plain(230e-6, 0.045, 0.125);
    in.shaft_yield = 280e6;
    in.ring_tangent_modulus = 4e9;
    in.ring.smoothing = 0.5;
    in.ring.roughness = 1e-6;
    in.shaft_tangent_modulus = 3e9;
    in.speed = 500.0;
    const fields::Model& model = fields::model_named("rings.elastic_plastic_fit");
    const materials::Material* const metals[] = {&metal, &metal};
    for (const int criterion : {0, 1}) {
        const fields::Context context{metals, &criterion, nullptr};
        const std::vector<double> x = cases::numbers(in);
        const std::size_t n = x.size();
        const std::size_t m = fields::leaves_of(*model.outputs).size();
        std::vector<double> y(m);
        std::vector<double> d(n * m);
        fields::jacobian(model, x.data(), y.data(), d.data(), context);
        const ElasticPlasticOutputs<double>& out =
            *reinterpret_cast<const ElasticPlasticOutputs<double>*>(y.data());
        REQUIRE(out.plastic_share > 0.02);
        REQUIRE(out.shaft_plastic_strain > 1e-5);
        const auto names = fields::leaves_of(*model.inputs);
        int compared = 0;
        for (std::size_t i = 0; i < n; ++i) {
            if (x[i] == 0.0 || !std::isfinite(x[i]) || names[i].path.ends_with("seat") ||
                names[i].path == "ring.bore")
                continue; // seat and bore are told with the interference
            const double h = 1e-5 * std::fabs(x[i]);
            const auto moved = [&](double step) {
                auto there = x;
                there[i] += step;
                if (names[i].path == "ring.length" || names[i].path == "ring.contact_length")
                    return y;
                std::vector<double> answer(m);
                fields::evaluate(model, there.data(), answer.data(), context);
                return answer;
            };
            const auto low = moved(-h), high = moved(h);
            const auto low2 = moved(-2 * h), high2 = moved(2 * h);
            for (std::size_t j = 0; j < m; ++j) {
                if (names[i].path.starts_with("ring.") && names[i].path.ends_with("length"))
                    continue;
                const double slope = (8 * (high[j] - low[j]) - (high2[j] - low2[j])) / (12 * h);
                CAPTURE(names[i].path, fields::leaves_of(*model.outputs)[j].path, criterion);
                CHECK(d[j * n + i] ==
                      Approx(slope).epsilon(2e-6).margin(1e-10 * std::fabs(y[j]) / h));
                ++compared;
            }
        }
        CHECK(compared > 200);
    }
}

TEST_CASE("a fit past full yielding is refused with the way out", "[yielding][bad]") {
    const auto refusal = [](const ElasticPlasticInputs<double>& in) -> std::string {
        try {
            elastic_plastic_fit(in, metal, metal);
        } catch (const DomainError& error) {
            return error.what();
        }
        return "";
    };
    CHECK_THAT(refusal(plain(790e-6)),
               ContainsSubstring("interference: 790 um makes the whole wall of the ring yield") &&
                   ContainsSubstring("stronger metal"));
    // A thick ring carries no more than 2 Re/sqrt(3), however little of it has yielded.
    CHECK_THAT(refusal(plain(790e-6, 0.0, 0.4)), ContainsSubstring("interference: 790 um makes"));
    auto soft = plain(500e-6);
    soft.shaft_yield = 100e6;
    soft.ring_yield = 2e9;
    CHECK_THAT(refusal(soft), ContainsSubstring("makes the whole wall of the shaft yield"));
    auto hard = plain(200e-6);
    hard.ring_tangent_modulus = 1e11;
    hard.ring.modulus_factor = 0.6;
    CHECK_THAT(refusal(hard), ContainsSubstring("ring_tangent_modulus: ") &&
                                  ContainsSubstring("at most half of Young's modulus"));
    CHECK(refusal(plain(-20e-6)).empty());
}
