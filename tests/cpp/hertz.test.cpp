// Contact of curved bodies. Published values stand beside their source as "printed / computed
// again"; the computed column is what an exact solution must give.
#include "bearings_cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <fitwright/fields/error.hpp>

namespace fitwright::rules {
extern const number::Rule point_contact;
} // namespace fitwright::rules

using namespace fitwright;
using namespace fitwright::bearings;
using namespace bearings_cases;

namespace {

template <class T>
HertzOutputs<T> run_hertz(const HertzInputs<T>& in, const materials::Material& first,
                          const materials::Material& second, number::Faults<T>& faults) {
    const materials::Material* both[] = {&first, &second};
    HertzOutputs<T> out;
    Hertz::run<T>(&in.first.curvature_x, &out.semi_major, {both, nullptr, nullptr}, faults);
    return out;
}
template <class T>
HertzOutputs<T> run_hertz(const HertzInputs<T>& in, const materials::Material& m) {
    number::Faults<T> faults;
    return run_hertz(in, m, m, faults);
}

// A contact of given curvature difference F, of steel, sum of curvatures 100/m.
template <class T>
HertzInputs<T> contact_with(double difference) {
    HertzInputs<T> in{
        {50.0 * (1.0 - difference), 50.0 * (1.0 + difference), 1.0}, {0.0, 0.0, 1.0}, 0.0, 1000.0};
    return in;
}

} // namespace

TEMPLATE_TEST_CASE("sphere on a flat has the closed form", "[bearings]", double, D2) {
    // T5-01: Pilkey, Formulas for Stress, Strain and Structural Matrices, table 9-2 case 1b:
    // a = c1 (F K g)^(1/3), p0 = c2 (F/(K^2 g^2))^(1/3), approach = c3 (F^2 g^2/K)^(1/3) with
    // c = 0.721, 0.918, 1.04 / 0.72112, 0.91816, 1.04004
    using T = TestType;
    const double diameter = 0.02;
    const double force = 500.0;
    const materials::Material glass = metal(70e9, 0.22);
    number::Faults<T> faults;
    const double curvature = 2.0 / diameter;
    const auto out = run_hertz<T>({{curvature, curvature, 1.0}, {0.0, 0.0, 1.0}, 0.0, force}, steel,
                                  glass, faults);
    const double g = (1 - 0.09) / 206.84e9 + (1 - 0.22 * 0.22) / 70e9;
    const auto v = [](const T& x) { return number::value_of(x); };
    CHECK(v(out.ellipticity) == 1.0);
    CHECK(v(out.curvature_difference) == 0.0);
    CHECK(v(out.semi_major) == v(out.semi_minor));
    CHECK(v(out.semi_major) / std::cbrt(force * diameter * g) == Approx(0.72112).margin(6e-6));
    CHECK(v(out.contact_stress) / std::cbrt(force / (diameter * diameter * g * g)) ==
          Approx(0.91816).margin(6e-6));
    CHECK(v(out.approach) / std::cbrt(force * force * g * g / diameter) ==
          Approx(1.04004).margin(6e-6));
    CHECK(v(out.stiffness) * std::pow(v(out.approach), 1.5) == Approx(force));
}

TEMPLATE_TEST_CASE("crossed bodies", "[bearings]", double, D2) {
    using T = TestType;
    const auto v = [](const T& x) { return number::value_of(x); };
    // T5-02: Boresi & Schmidt, Advanced Mechanics of Materials, example 17.1: B/A = 1.5 / 1.4973,
    // stress 1597 / 1641.9 MPa, approach 0.0285 / 0.0269 mm. The book read its coefficients from a
    // chart; the exact values hold.
    const auto a = run_hertz<T>(
        {{1 / 0.060, 1 / 0.130, 1.0}, {1 / 0.080, 1 / 0.200, 1.0}, 60.0 * degree, 4500.0},
        metal(200e9, 0.29));
    const double f = v(a.curvature_difference);
    CHECK((1 + f) / (1 - f) == Approx(1.4973).margin(6e-5));
    CHECK(v(a.contact_stress) == Approx(1641.9e6).margin(0.06e6));
    CHECK(v(a.approach) == Approx(0.0269e-3).margin(0.6e-7));
    // T5-05: Ugural & Fenster, Advanced Mechanics of Materials, example 3.5, wheel on crowned rail:
    // a = 6.46 / 6.457 mm, b = 5.33 / 5.331 mm, p0 = 1248 / 1248.4 MPa, angle 81.79 / 81.787 deg
    const auto b = run_hertz<T>({{1 / 0.4, 0.0, 1.0}, {1 / 0.3, 0.0, 1.0}, 90.0 * degree, 90e3},
                                metal(210e9, 0.3));
    CHECK(v(b.semi_major) == Approx(6.457e-3).margin(6e-7));
    CHECK(v(b.semi_minor) == Approx(5.331e-3).margin(6e-7));
    CHECK(v(b.contact_stress) == Approx(1248.4e6).margin(0.06e6));
    CHECK(std::acos(v(b.curvature_difference)) / degree == Approx(81.787).margin(6e-4));
}

TEMPLATE_TEST_CASE("dimensionless contact parameters", "[bearings]", double, D2) {
    // a = a* c, b = b* c, approach = d* c^2 s/2 with c = (3 Q g/(2 s))^(1/3).
    using T = TestType;
    const auto v = [](const T& x) { return number::value_of(x); };
    const double g = 2.0 * (1 - 0.09) / 206.84e9;
    const double c = std::cbrt(1.5 * 1000.0 * g / 100.0);
    struct Row {
        double difference, major, minor, approach;
    };
    // T5-06: Harris & Kotzalas, Essential Concepts of Bearing Technology, table of contact
    // parameters (from memory), computed again.
    for (const Row& row :
         {Row{0.1075, 1.076, 0.9318, 0.9974}, Row{0.4795, 1.4555, 0.7278, 0.9432},
          Row{0.5916, 1.644, 0.6686, 0.9077}, Row{0.7332, 2.0114, 0.5881, 0.8394},
          Row{0.7948, 2.2655, 0.548, 0.7961}, Row{0.87366, 2.8003, 0.4863, 0.7169},
          Row{0.90999, 3.2327, 0.4499, 0.6636}, Row{0.95738, 4.3944, 0.383, 0.5551},
          Row{0.9729, 5.2667, 0.349, 0.496}, Row{0.990902, 8.0623, 0.2814, 0.3745},
          Row{0.995112, 10.2215, 0.2497, 0.3176}}) {
        const auto out = run_hertz(contact_with<T>(row.difference), steel);
        CHECK(v(out.curvature_difference) == Approx(row.difference));
        CHECK(v(out.semi_major) / c == Approx(row.major).margin(6e-5));
        CHECK(v(out.semi_minor) / c == Approx(row.minor).margin(6e-5));
        CHECK(v(out.approach) / (c * c * 50.0) == Approx(row.approach).margin(6e-5));
    }
    // T5-10: Timoshenko & Goodier, Theory of Elasticity, table of m and n (from memory), computed
    // again; the angle is acos F.
    for (const Row& row :
         {Row{30.0, 2.7306, 0.4931, 0}, Row{45.0, 1.9265, 0.6038, 0}, Row{55.0, 1.6094, 0.6783, 0},
          Row{65.0, 1.3788, 0.7575, 0}, Row{80.0, 1.1278, 0.8927, 0}}) {
        const auto out = run_hertz(contact_with<T>(std::cos(row.difference * degree)), steel);
        CHECK(v(out.semi_major) / c == Approx(row.major).margin(6e-5));
        CHECK(v(out.semi_minor) / c == Approx(row.minor).margin(6e-5));
    }
}

TEST_CASE("ellipticity solves Hertz's equation", "[bearings]") {
    // With the standard library's elliptic integrals in place of ours:
    // F = ((k^2 + 1) E - 2 K)/((k^2 - 1) E), Harris & Kotzalas.
    for (double f = 0.02; f < 0.9995; f += (1 - f) * 0.05) {
        const auto out = run_hertz(contact_with<double>(f), steel);
        const double k = out.ellipticity;
        const double modulus = std::sqrt(1 - 1 / (k * k));
        const double first = std::comp_ellint_1(modulus);
        const double second = std::comp_ellint_2(modulus);
        CHECK(((k * k + 1) * second - 2 * first) / ((k * k - 1) * second) ==
              Approx(f).epsilon(1e-11).margin(1e-12));
    }
    // Up to 50 and beyond, and near the round contact, where k - 1 goes as 2/3 (B/A - 1).
    CHECK(run_hertz(contact_with<double>(0.9996), steel).ellipticity > 50.0);
    const auto nearly = run_hertz(contact_with<double>(1e-9), steel);
    CHECK((nearly.ellipticity - 1.0) == Approx(2.0 / 3.0 * 2e-9).epsilon(1e-6));
}

TEST_CASE("shear under the contact", "[bearings]") {
    // T5-09: Johnson, Contact Mechanics (from memory), nu = 0.3. Circle: 0.31 / 0.31 p0 at 0.48 / 0.4809 a;
    // line: 0.30 / 0.3003 p0 at 0.78 / 0.7862 b.
    const auto round = run_hertz(contact_with<double>(0.0), steel);
    CHECK(round.greatest_shear / round.contact_stress == Approx(0.31).margin(5e-4));
    CHECK(round.shear_depth / round.semi_major == Approx(0.4809).margin(6e-5));
    // The closed form of the axis of a circle: sz = -1/(1 + w^2), sr = sz/-2 - (1 + nu)(1 - w atan 1/w).
    const double w = round.shear_depth / round.semi_major;
    const double radial = 0.5 / (1 + w * w) - 1.3 * (1 - w * std::atan(1 / w));
    CHECK(round.greatest_shear / round.contact_stress ==
          Approx((radial + 1 / (1 + w * w)) / 2).epsilon(1e-12));
    const auto narrow = run_hertz(contact_with<double>(0.9997), steel);
    CHECK(narrow.greatest_shear / narrow.contact_stress ==
          Approx(0.3003).margin(1.5e-3)); // b = a/60
    CHECK(narrow.shear_depth / narrow.semi_minor == Approx(0.7862).margin(2e-3));
    // Lundberg & Palmgren (from memory): line p0/4 at b/2, circle 0.214 p0 at 0.35 b.
    CHECK(narrow.orthogonal_shear / narrow.contact_stress == Approx(0.25).margin(1e-4));
    CHECK(narrow.orthogonal_depth / narrow.semi_minor == Approx(0.5).margin(2e-3));
    CHECK(round.orthogonal_shear / round.contact_stress == Approx(0.214).margin(5e-4));
    CHECK(round.orthogonal_depth / round.semi_minor == Approx(0.35).margin(2e-3));
    // It is the top.
    for (const double f : {0.0, 0.4, 0.8, 0.95, 0.999}) {
        const auto out = run_hertz(contact_with<double>(f), steel);
        const double k = 1 / out.ellipticity;
        const double z = out.shear_depth / out.semi_minor;
        for (const double other : {0.7, 0.97, 1.03, 1.4})
            CHECK(shear_at(z * other, k, 0.3).shear < out.greatest_shear / out.contact_stress);
    }
}

TEST_CASE("line contact", "[bearings]") {
    // Its pressure carries the load; shear as T5-09.
    LineInputs<double> in{100.0, 0.0, 0.02, 5e3, {1.0}, {1.0}};
    const materials::Material* both[] = {&steel, &steel};
    LineOutputs<double> out;
    number::Faults<double> faults;
    LineContact::run<double>(&in.first_curvature, &out.half_width, {both, nullptr, nullptr},
                             faults);
    CHECK(out.contact_stress * out.half_width * fields::pi / 2 * in.length == Approx(in.load));
    CHECK(out.greatest_shear / out.contact_stress == Approx(0.3003).margin(6e-5));
    CHECK(out.shear_depth / out.half_width == Approx(0.7862).margin(6e-5));
    // A point contact drawn out long comes to the same stress for the same load in its middle.
    const double flexibility = 2 * (1 - 0.09) / 206.84e9;
    CHECK(out.contact_stress == Approx(std::sqrt(2.5e5 * 100.0 / (fields::pi * flexibility))));
    in.second_curvature = -100.0;
    CHECK_THROWS_AS(LineContact::run<double>(&in.first_curvature, &out.half_width,
                                             {both, nullptr, nullptr}, faults),
                    Fault);
}

TEST_CASE("a contact that is no point is refused", "[bearings]") {
    number::Faults<double> faults;
    const auto code = [&](const HertzInputs<double>& in) {
        try {
            run_hertz(in, steel, steel, faults);
        } catch (const Fault& f) {
            return f.rule;
        }
        return number::no_rule;
    };
    CHECK(code({{0, 0, 1}, {0, 0, 1}, 0, 1}) == rules::point_contact);
    CHECK(code({{100, 0, 1}, {0, 0, 1}, 0, 1}) == rules::point_contact);
    CHECK(code({{100, 100, 1}, {-100, 0, 1}, 0, 1}) == rules::point_contact);
    CHECK(code({{100, 100, 1}, {-90, 0, 1}, 0, 0}) == number::no_rule);
}

TEST_CASE("exact derivatives of the contact, also where it is round", "[bearings]") {
    const auto compare = [](const HertzInputs<double>& at, bool round) {
        for (std::size_t i = 0; i < sizeof at / sizeof(double); ++i) {
            HertzInputs<D2> dual;
            for (std::size_t k = 0; k < sizeof at / sizeof(double); ++k)
                (&dual.first.curvature_x)[k] = (&at.first.curvature_x)[k];
            (&dual.first.curvature_x)[i].d.set_lane(0, 1.0);
            number::Faults<D2> faults;
            const auto exact = run_hertz(dual, steel, steel, faults);
            CHECK(faults.one_sided == round);
            const double x = (&at.first.curvature_x)[i];
            const double step = std::max(std::abs(x) * 1e-5, 1e-6);
            HertzInputs<double> low = at;
            HertzInputs<double> high = at;
            (&low.first.curvature_x)[i] -= step;
            (&high.first.curvature_x)[i] += step;
            const auto a = run_hertz(low, steel);
            const auto b = run_hertz(high, steel);
            const auto same = [&](const D2& e, double lower, double upper) {
                INFO("input " << i);
                CHECK(e.d.lane(0) == Approx((upper - lower) / (2 * step))
                                         .epsilon(1e-5)
                                         .margin(1e-9 * e.value / step));
            };
            same(exact.contact_stress, a.contact_stress, b.contact_stress);
            same(exact.approach, a.approach, b.approach);
            same(exact.stiffness, a.stiffness, b.stiffness);
            if (!round) {
                same(exact.greatest_shear, a.greatest_shear, b.greatest_shear);
                same(exact.shear_depth, a.shear_depth, b.shear_depth);
                same(exact.orthogonal_shear, a.orthogonal_shear, b.orthogonal_shear);
                same(exact.orthogonal_depth, a.orthogonal_depth, b.orthogonal_depth);
            }
            if (round)
                continue;
            same(exact.semi_major, a.semi_major, b.semi_major);
            same(exact.semi_minor, a.semi_minor, b.semi_minor);
            same(exact.ellipticity, a.ellipticity, b.ellipticity);
        }
    };
    compare({{50, 40, 1}, {30, -20, 1}, 0.4, 700}, false);
    compare({{100, 3, 1}, {30, -2, 1}, 0.0, 700}, false);
    compare({{50, 50, 1}, {0, 0, 1}, 0.0, 700}, true);
}
