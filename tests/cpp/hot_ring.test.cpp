// Rings with a temperature profile: closed forms, both faces, and profiles in cells.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/rings/hot_ring.hpp>
#include <fitwright/rings/nest.hpp>

using namespace fitwright;
using namespace fitwright::rings;

namespace {

const materials::Material& ring_metal = cases::metal("52100");

} // namespace

TEST_CASE("a hot ring: Timoshenko's disc and cylinder", "[hot_ring]") {
    // Theory of Elasticity, ch. 13. Logarithmic profile, dT the bore less the outside:
    // radial = E alpha dT/(2 (1 - nu) ln(b/a)) [-ln(b/r) - a^2/(b^2 - a^2) (1 - b^2/r^2) ln(b/a)],
    // hoop the same with 1 - ln(b/r) - a^2/(b^2 - a^2) (1 + b^2/r^2) ln(b/a), long; thin without
    // 1 - nu.
    const auto even = cases::even_metal(200e9, 12e-6, 0.3);
    const double a = 0.03, b = 0.05, drop = 60.0;
    auto in = fields::standard_inputs<HotRingInputs>();
    in.bore = 2 * a;
    in.outside = 2 * b;
    in.bore_temperature = 20.0 + drop;
    in.outside_temperature = 20.0;
    const double l = std::log(b / a);
    for (const double r : {a, 0.037, 0.045, b}) {
        in.radius = r;
        CAPTURE(r);
        const auto tube = hot_ring(in, even.numbers, false, true);
        const auto disc = hot_ring(in, even.numbers, false, false);
        const double unit = 200e9 * 12e-6 * drop / (2.0 * 0.7 * l);
        const double share = a * a / (b * b - a * a) * l;
        const double radial = unit * (-std::log(b / r) - share * (1.0 - b * b / (r * r)));
        const double hoop = unit * (1.0 - std::log(b / r) - share * (1.0 + b * b / (r * r)));
        const double axial = unit * (1.0 - 2.0 * std::log(b / r) - 2.0 * share);
        CHECK(tube.radial_stress == Approx(radial).epsilon(1e-9).margin(10.0));
        CHECK(tube.hoop_stress == Approx(hoop).epsilon(1e-9));
        CHECK(tube.long_stress == Approx(axial).epsilon(1e-9));
        CHECK(disc.radial_stress == Approx(0.7 * radial).epsilon(1e-9).margin(10.0));
        CHECK(disc.hoop_stress == Approx(0.7 * hoop).epsilon(1e-9));
        CHECK(disc.long_stress == 0.0);
    }
    // A solid disc with a linear profile, hot by dT at the rim: at the centre both stresses are
    // E alpha (mean - there)/2, the mean is 2/3 dT.
    in.bore = 0.0;
    in.radius = 0.0;
    in.bore_temperature = 20.0;
    in.outside_temperature = 80.0;
    const auto centre = hot_ring(in, even.numbers, true);
    CHECK(centre.mean_temperature == Approx(20.0 + 40.0));
    CHECK(centre.hoop_stress == Approx(0.5 * 200e9 * 12e-6 * 40.0).epsilon(1e-12));
    CHECK(centre.radial_stress == Approx(centre.hoop_stress).epsilon(1e-12));
    in.radius = b;
    CHECK(hot_ring(in, even.numbers, true).hoop_stress ==
          Approx(200e9 * 12e-6 * -20.0).epsilon(1e-12));
    CHECK_THROWS_WITH(hot_ring(in, even.numbers),
                      ContainsSubstring("bore: 0 mm must be above 0 for a logarithmic profile"));
    in.outside_temperature = 900.0;
    CHECK_THROWS_WITH(hot_ring(in, even.numbers, true),
                      ContainsSubstring("outside_temperature: 900 degC is outside the"));
}

TEST_CASE("both faces of a hot ring move by the mean, thin or long, and cells say the same",
          "[hot_ring]") {
    auto in = fields::standard_inputs<HotRingInputs>();
    in.bore = 0.06;
    in.outside = 0.14;
    in.bore_temperature = 40.0;
    in.outside_temperature = 160.0;
    // Cells of a real metal, expansion with temperature: the midpoint rule, second order.
    constexpr int count = 400;
    std::vector<double> edges;
    std::vector<double> temperatures;
    for (int k = 0; k <= count; ++k)
        edges.push_back(0.03 + 0.04 * k / count);
    for (int k = 0; k < count; ++k)
        temperatures.push_back(40.0 + 120.0 * (k + 0.5) / count);
    const CellProfile cells = cell_profile(ring_metal, edges, temperatures);
    for (const bool is_long : {false, true}) {
        for (const double r : {0.03, 0.07}) {
            in.radius = r;
            const auto out = hot_ring(in, ring_metal, true, is_long);
            CHECK(out.growth == Approx(2.0 * r * out.strain).epsilon(1e-9));
            CHECK(out.radial_stress == Approx(0.0).margin(100.0));
            CHECK(out.mean_temperature == Approx(cells.mean_temperature).epsilon(1e-6));
            // The expansion table has a kink between its points: 1e-5 by ten points of Gauss.
            CHECK(out.strain == Approx(cells.mean_strain).epsilon(2e-5));
            if (!is_long)
                CHECK(face_stress(ring_metal, cells, r < 0.05 ? 40.0 : 160.0) ==
                      Approx(out.hoop_stress).epsilon(1e-4));
        }
    }
    // A nest of one layer with the same mean and faces feels the same.
    auto nested = fields::standard_inputs<NestInputs>();
    nested.layer1.bore = 0.06;
    nested.layer1.outside = 0.14;
    nested.layer1.temperature = cells.mean_temperature;
    nested.layer1.bore_temperature = 40.0;
    nested.layer1.outside_temperature = 160.0;
    in.radius = 0.03;
    // The mean of alpha_m (T - 20) is not that of the mean temperature: 1 %.
    CHECK(nest(nested, {&ring_metal}).layer1.bore_hoop ==
          Approx(hot_ring(in, ring_metal, true).hoop_stress).epsilon(0.02));
    CHECK_THROWS_WITH(cell_profile(ring_metal, edges, {temperatures.data(), 7}),
                      ContainsSubstring("7 cells need one edge more, not 401"));
    std::swap(edges[3], edges[4]);
    CHECK_THROWS_WITH(cell_profile(ring_metal, edges, temperatures),
                      ContainsSubstring("edge 5 of the cells is not above"));
}
