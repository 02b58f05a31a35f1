// Nests of rings: held against a dense solver that tries every set of joints, against the fit of two,
// and against books.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/number/philox.hpp>
#include <fitwright/rings/nest.hpp>
#include <fitwright/rings/thick_ring.hpp>
#include <optional>

using namespace fitwright;
using namespace fitwright::rings;

namespace {

const materials::Material& steel = cases::metal("4340");
const materials::Material& bearing_steel = cases::metal("52100");

Layer<double>& layer(NestInputs<double>& in, std::size_t k) { return (&in.layer1)[k]; }
const NestLayer<double>& layer(const NestOutputs<double>& out, std::size_t k) {
    return (&out.layer1)[k];
}
const NestContact<double>& joint(const NestOutputs<double>& out, std::size_t k) {
    return (&out.contact1)[k];
}

// Sizes from the inside: a solid core and rings of nominal size, each with its interference.
NestInputs<double> nest_of(const std::vector<double>& outsides,
                           const std::vector<double>& interferences) {
    auto in = fields::standard_inputs<NestInputs>();
    for (std::size_t k = 0; k < outsides.size(); ++k) {
        layer(in, k).outside = outsides[k];
        if (k > 0)
            layer(in, k).interference = interferences[k - 1];
    }
    return in;
}

struct Draw {
    std::uint64_t sample;
    std::uint64_t next = 0;
    double operator()(double low, double high) {
        const auto word = number::philox({{sample, next++, 0, 0}}, {7, 3}).word[0];
        return low + (high - low) * number::uniform_open(word);
    }
};

std::string refusal(const NestInputs<double>& in,
                    const std::vector<const materials::Material*>& metals) {
    try {
        nest(in, metals);
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}

} // namespace

namespace {

// A dense solution by trying every set of closed joints. Movements of a layer alone come from
// rings.thick_ring, a model of its own: faces under unit pressures, and without pressure.
struct Dense {
    std::size_t n;
    std::vector<double> overlap;             // without pressure
    std::vector<std::vector<double>> matrix; // overlap taken by each pressure
    std::vector<double> solve(const std::vector<bool>& closed) const {
        // Gauss on the closed rows, the open ones read p = 0.
        std::vector<std::vector<double>> a(n, std::vector<double>(n + 1, 0.0));
        for (std::size_t i = 0; i < n; ++i) {
            if (!closed[i]) {
                a[i][i] = 1.0;
                continue;
            }
            for (std::size_t k = 0; k < n; ++k)
                a[i][k] = matrix[i][k];
            a[i][n] = overlap[i];
        }
        for (std::size_t i = 0; i < n; ++i) {
            std::size_t best = i;
            for (std::size_t k = i; k < n; ++k)
                if (std::fabs(a[k][i]) > std::fabs(a[best][i]))
                    best = k;
            std::swap(a[i], a[best]);
            for (std::size_t k = 0; k < n; ++k) {
                if (k == i)
                    continue;
                const double f = a[k][i] / a[i][i];
                for (std::size_t c = i; c <= n; ++c)
                    a[k][c] -= f * a[i][c];
            }
        }
        std::vector<double> p(n);
        for (std::size_t i = 0; i < n; ++i)
            p[i] = a[i][n] / a[i][i];
        return p;
    }
    // The set whose pressures all push and whose open joints all gape.
    std::optional<std::vector<double>> pressures() const {
        for (unsigned set = 0; set < (1U << n); ++set) {
            std::vector<bool> closed(n);
            for (std::size_t i = 0; i < n; ++i)
                closed[i] = (set >> i & 1U) != 0;
            const std::vector<double> p = solve(closed);
            bool good = true;
            for (std::size_t i = 0; i < n; ++i) {
                double left = overlap[i];
                for (std::size_t k = 0; k < n; ++k)
                    left -= matrix[i][k] * p[k];
                good = good && p[i] >= 0.0 && left < 1e-14;
            }
            if (good)
                return p;
        }
        return std::nullopt;
    }
};

Dense dense_of(const NestInputs<double>& in,
               const std::vector<const materials::Material*>& metals) {
    Dense d;
    const std::size_t m = metals.size();
    d.n = m - 1;
    d.overlap.assign(d.n, 0.0);
    d.matrix.assign(d.n, std::vector<double>(d.n, 0.0));
    for (std::size_t k = 0; k < m; ++k) {
        auto& l = (&const_cast<NestInputs<double>&>(in).layer1)[k];
        auto ring = fields::standard_inputs<ThickRingInputs>();
        ring.bore = k == 0 ? (l.bore < 1e300 ? l.bore : 0.0) : (&in.layer1)[k - 1].outside;
        ring.outside = l.outside;
        ring.modulus_factor = l.modulus_factor;
        ring.temperature = l.temperature;
        const auto faces = [&](double inner, double outer, bool loaded) {
            ring.inner_pressure = inner;
            ring.outer_pressure = outer;
            ring.speed = loaded ? in.speed : 0.0;
            ring.axial_stress = loaded ? l.axial_stress : 0.0;
            ring.radius = ring.bore / 2.0;
            const double bore = thick_ring(ring, *metals[k]).growth;
            ring.radius = ring.outside / 2.0;
            return std::pair{bore, thick_ring(ring, *metals[k]).growth};
        };
        const auto still = faces(0.0, 0.0, false);
        const auto free = faces(0.0, 0.0, true);
        constexpr double unit = 1e8;
        const auto inner = faces(unit, 0.0, false);
        const auto outer = faces(0.0, unit, false);
        const double bore_by_in = (inner.first - still.first) / unit;
        const double out_by_in = (inner.second - still.second) / unit;
        const double bore_by_out = (outer.first - still.first) / unit;
        const double out_by_out = (outer.second - still.second) / unit;
        if (k > 0) {
            d.overlap[k - 1] += l.interference - free.first;
            d.matrix[k - 1][k - 1] += bore_by_in;
            if (k < d.n)
                d.matrix[k - 1][k] += bore_by_out;
        }
        if (k < d.n) {
            d.overlap[k] += free.second;
            d.matrix[k][k] -= out_by_out;
            if (k > 0)
                d.matrix[k][k - 1] -= out_by_in;
        }
    }
    return d;
}

} // namespace

TEST_CASE("random nests: the joints that push are those a dense solver finds", "[nest]") {
    int opened = 0;
    int partly = 0;
    for (std::uint64_t k = 0; k < 600; ++k) {
        Draw draw{k};
        const std::size_t m = 2 + k % 6;
        std::vector<double> outsides{draw(0.04, 0.08)};
        std::vector<double> interferences;
        while (outsides.size() < m) {
            interferences.push_back(draw(-40e-6, 40e-6));
            outsides.push_back(outsides.back() * draw(1.1, 1.5));
        }
        auto in = nest_of(outsides, interferences);
        std::vector<const materials::Material*> metals;
        for (std::size_t i = 0; i < m; ++i) {
            metals.push_back(i % 2 == k % 2 ? &steel : &bearing_steel);
            layer(in, i).temperature = draw(20.0, 60.0);
            layer(in, i).axial_stress = draw(-40e6, 40e6);
            layer(in, i).modulus_factor = draw(0.6, 1.0);
        }
        if (k % 3 == 0)
            in.layer1.bore = outsides[0] * draw(0.2, 0.7);
        in.speed = draw(0.0, 250.0 / outsides.back());
        const auto wanted = dense_of(in, metals).pressures();
        REQUIRE(wanted.has_value());
        const auto out = nest(in, metals);
        int open = 0;
        for (std::size_t i = 0; i + 1 < m; ++i) {
            CAPTURE(k, i, m);
            CHECK(joint(out, i).pressure == Approx((*wanted)[i]).epsilon(1e-8).margin(2.0));
            CHECK((joint(out, i).pressure == 0.0 || joint(out, i).gap == 0.0));
            open += joint(out, i).pressure == 0.0 ? 1 : 0;
        }
        opened += open > 0 ? 1 : 0;
        partly += open > 0 && open + 1 < static_cast<int>(m) ? 1 : 0;
        for (std::size_t i = m; i < 8; ++i) // what is not there answers 0
            CHECK((layer(out, i).bore_hoop == 0.0 && layer(out, i).outside_growth == 0.0));
    }
    // The draws are worth it: many nests open somewhere and hold elsewhere.
    CHECK(opened > 300);
    CHECK(partly > 150);
}

TEST_CASE("a nest of two is the fit", "[nest]") {
    auto in = cases::fit();
    const auto pair = fit(in, steel, bearing_steel);
    auto two = nest_of({in.shaft.seat, in.ring.outside}, {0.0});
    two.layer1.bore = in.shaft.bore;
    two.layer1.outside_roughness = in.shaft.roughness;
    two.layer1.temperature = in.shaft_temperature;
    two.layer2.bore = in.ring.bore;
    two.layer2.interference = HUGE_VAL; // from the measured sizes
    two.layer2.bore_roughness = in.ring.roughness;
    two.layer2.temperature = in.ring_temperature;
    const auto area = [](double a, double b) { return fields::pi / 4.0 * (b * b - a * a); };
    two.layer1.axial_stress = in.axial_force / area(in.shaft.bore, in.shaft.seat);
    two.layer2.axial_stress = -in.axial_force / area(in.ring.bore, in.ring.outside);
    two.speed = in.speed;
    const auto out = nest(two, {&steel, &bearing_steel});
    CHECK(out.contact1.pressure == Approx(pair.pressure).epsilon(1e-11));
    CHECK(out.contact1.interference_left == Approx(pair.interference_left).epsilon(1e-11));
    CHECK(out.layer2.bore_hoop == Approx(pair.ring_hoop).epsilon(1e-11));
    CHECK(out.layer2.bore_von_mises == Approx(pair.ring_von_mises).epsilon(1e-11));
    CHECK(out.layer2.outside_growth == Approx(pair.outside_growth).epsilon(1e-11));
    CHECK(out.layer1.bore_growth == Approx(pair.shaft_bore_growth).epsilon(1e-11));
    CHECK(out.layer1.strain == Approx(pair.shaft_strain).epsilon(1e-11));
    CHECK(out.layer2.strain == Approx(pair.ring_strain).epsilon(1e-11));
    const auto as_long = nest(two, {&steel, &bearing_steel}, true);
    CHECK(as_long.layer1.bore_hoop == Approx(pair.shaft_hoop).epsilon(1e-11));

    // And the speed and the temperature at which a fit lets go are where the nest does.
    two.speed = pair.loss_speed * (1.0 - 1e-6);
    CHECK(nest(two, {&steel, &bearing_steel}).contact1.pressure > 0.0);
    two.speed = pair.loss_speed * (1.0 + 1e-6);
    CHECK(nest(two, {&steel, &bearing_steel}).contact1.gap > 0.0);
    two.speed = 0.0;
    in.speed = 0.0;
    const double hot = fit(in, steel, bearing_steel).loss_temperature;
    // The hotter ring is a little softer under its axial stress: 0.1 K.
    two.layer2.temperature = hot - 0.1;
    CHECK(nest(two, {&steel, &bearing_steel}).contact1.pressure > 0.0);
    two.layer2.temperature = hot + 0.1;
    CHECK(nest(two, {&steel, &bearing_steel}).contact1.gap > 0.0);
}

TEST_CASE("one tube cut into layers is one tube", "[nest]") {
    // Layers that just touch, bonded, of one metal: stress and movement are those of the whole, under
    // pressure, speed and heat (thick_ring).
    auto in = nest_of({0.06, 0.08, 0.11, 0.15}, {0.0, 0.0, 0.0});
    in.layer1.bore = 0.04;
    in.inner_pressure = 80e6;
    in.outer_pressure = 10e6;
    in.speed = 900.0;
    for (std::size_t k = 0; k < 4; ++k)
        layer(in, k).temperature = 90.0;
    const std::vector<const materials::Material*> metals(4, &steel);
    auto whole = fields::standard_inputs<ThickRingInputs>();
    whole.bore = 0.04;
    whole.outside = 0.15;
    whole.inner_pressure = in.inner_pressure;
    whole.outer_pressure = in.outer_pressure;
    whole.speed = in.speed;
    whole.temperature = 90.0;
    const auto out = nest(in, metals, false, {false, true, true, true});
    for (std::size_t k = 0; k < 4; ++k) {
        whole.radius = k == 0 ? 0.02 : layer(in, k - 1).outside / 2.0;
        const auto there = thick_ring(whole, steel);
        CAPTURE(k);
        CHECK(layer(out, k).bore_growth == Approx(there.growth).epsilon(1e-9));
        CHECK(layer(out, k).bore_hoop == Approx(there.hoop_stress).epsilon(1e-9));
        CHECK(layer(out, k).bore_radial == Approx(there.radial_stress).epsilon(1e-9));
        CHECK(layer(out, k).bore_von_mises == Approx(there.von_mises).epsilon(1e-9));
        CHECK(layer(out, k).bore_tresca == Approx(there.tresca).epsilon(1e-9));
    }
    // Bonded holds tension, pressed lets go: no pressure, and fast.
    in.inner_pressure = in.outer_pressure = 0.0;
    in.speed = 2000.0;
    CHECK(nest(in, metals, false, {false, true, true, true}).contact3.pressure < -1e6);
    CHECK(nest(in, metals).contact3.gap > 0.0);
}

TEST_CASE("a compound cylinder of three layers", "[nest]") {
    // Superposition of Lame by hand: joints one after the other, each ring shrunk on what is already
    // one piece (Timoshenko, Strength of Materials II, built-up cylinders). The interference of the
    // outer ring is what is measured on the finished inner pair, so its own nominal interference is
    // larger by the growth of the pair.
    const double modulus = materials::at(steel.modulus, 20.0);
    const double nu = steel.poisson;
    const double a = 0.02, b = 0.03, c = 0.04, e = 0.05;
    const auto pressure = [&](double inner, double at, double outer, double radial) {
        const double around = (outer * outer + at * at) / (outer * outer - at * at) + nu;
        const double inside = (at * at + inner * inner) / (at * at - inner * inner) - nu;
        return modulus * radial / (at * (around + inside));
    };
    const double first = pressure(a, b, c, 10e-6);
    const double second = pressure(a, c, e, 12e-6);
    const double grown = first * 2.0 * b * b * c / (modulus * (c * c - b * b));
    auto in = nest_of({2 * b, 2 * c, 2 * e}, {20e-6, 24e-6 - 2.0 * grown});
    in.layer1.bore = 2 * a;
    const auto out = nest(in, {&steel, &steel, &steel});
    // The second presses on the pair and adds to the pressure inside: Lame's radial stress there.
    const double added = second * c * c / (c * c - a * a) * (1.0 - a * a / (b * b));
    CHECK(out.contact2.pressure == Approx(second).epsilon(1e-9));
    CHECK(out.contact1.pressure == Approx(first + added).epsilon(1e-9));
}

TEST_CASE("a hot face: the stress of a profile is E (mean - there)", "[nest]") {
    // Timoshenko & Goodier, ch. 13: a tube with the logarithmic profile of steady heat flow, long:
    // E alpha dT/(2 (1 - nu) ln(b/a)) [1 - 2 b^2/(b^2 - a^2) ln(b/a)] at the bore, and with a^2 at
    // the outside, dT the bore less the outside.
    const auto even = cases::even_metal(200e9, 12e-6, 0.3);
    const double a = 0.03, b = 0.05, hot = 60.0;
    const double l = std::log(b / a);
    const double mean = hot * (1.0 / (2.0 * l) - a * a / (b * b - a * a));
    auto in = nest_of({2 * b}, {});
    in.layer1.bore = 2 * a;
    in.layer1.temperature = 20.0 + mean;
    in.layer1.bore_temperature = 20.0 + hot;
    in.layer1.outside_temperature = 20.0;
    const auto out = nest(in, {&even.numbers}, true).layer1;
    const double unit = 200e9 * 12e-6 * hot / (2.0 * 0.7 * l);
    CHECK(out.bore_hoop == Approx(unit * (1.0 - 2.0 * b * b / (b * b - a * a) * l)).epsilon(1e-12));
    CHECK(out.outside_hoop ==
          Approx(unit * (1.0 - 2.0 * a * a / (b * b - a * a) * l)).epsilon(1e-12));
    CHECK(out.bore_long == Approx(out.bore_hoop).epsilon(1e-12));
    const auto thin = nest(in, {&even.numbers}).layer1;
    CHECK(thin.bore_hoop == Approx(0.7 * out.bore_hoop).epsilon(1e-12));
    CHECK(thin.bore_long == 0.0);
    CHECK(thin.outside_growth == Approx(2 * b * 12e-6 * mean).epsilon(1e-12));
}

TEST_CASE("a nest that makes no sense is refused by layer, value and way out", "[nest][bad]") {
    const std::vector<const materials::Material*> metals{&steel, &bearing_steel, &steel};
    const auto with = [&](auto change) {
        auto in = nest_of({0.06, 0.08, 0.1}, {20e-6, 20e-6});
        change(in);
        return refusal(in, metals);
    };
    using In = NestInputs<double>;
    CHECK(with([](In&) {}).empty());
    CHECK_THAT(with([](In& in) { in.layer2.outside = HUGE_VAL; }),
               ContainsSubstring("layer2.outside: ") && ContainsSubstring("must be given"));
    CHECK_THAT(with([](In& in) { in.layer3.outside = 0.07; }),
               ContainsSubstring("layer3.outside: 70 mm must be larger than the bore"));
    CHECK_THAT(with([](In& in) { in.layer2.bore = 0.05995; }),
               ContainsSubstring("layer2.interference: 20 um disagrees with the outside"));
    CHECK_THAT(with([](In& in) { in.layer2.interference = 300e-6; }),
               ContainsSubstring("layer2.interference: 300 um is more than heat can open") &&
                   ContainsSubstring("smaller interference"));
    CHECK_THAT(with([](In& in) { in.layer3.temperature = 1200.0; }),
               ContainsSubstring("layer3.temperature: 1200 degC is outside the temperature range"));
    CHECK_THAT(with([](In& in) { in.speed = 11000.0; }),
               ContainsSubstring("did you mean \"11000 rpm\"?"));
    CHECK_THROWS_WITH(nest(nest_of({0.06}, {}), {}),
                      ContainsSubstring("a nest has 1 to 8 layers, not 0"));
}
