// The stack under its nut: how clamp is lost on the way to the shoulder, and what the locked nut does
// with heat, settling and thrust. Checked by equilibrium, springs in series, and the differential
// equation itself.
#include "../../cpp/src/stack/detail/quick.hpp"
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <string>

using namespace fitwright;
using namespace fitwright::stack;

namespace {

constexpr double pi = fields::pi;
// No Poisson's ratio: bars that only get longer and shorter.
const materials::Entry bars = cases::even_metal(205e9, 12e-6, 0.0);
const materials::Entry even = cases::even_metal(205e9, 12e-6, 0.3);

// A sleeve, a bearing inner ring and a spacer with perfectly flat faces that do not settle.
job::Job joint(const materials::Entry& metal, double interference, bool bearing = true) {
    job::Plan plan;
    plan.shaft = plan.nut = metal;
    if (bearing)
        plan.bearing = job::BearingPlan{metal, metal, {"inner"}};
    plan.seats = {"main"};
    plan.rings = {{"sleeve", "main", metal, true},
                  {"inner", "main", metal, true},
                  {"spacer", "main", metal, true}};
    plan.states = {"built", "later"};
    job::Job job(plan);
    cases::give(job, "", {{"shaft.bore", 0.030}, {"shaft.shoulder_roughness", 0.0}});
    cases::give(job, "", {{"seats.main.diameter", 0.080 + interference}});
    for (const auto& [ring, outside, length] :
         {std::tuple{"sleeve", 0.100, 0.050}, std::tuple{"inner", 0.104, 0.020},
          std::tuple{"spacer", 0.098, 0.030}})
        cases::give(job, std::string("rings.") + ring + ".",
                    {{"bore", 0.080},
                     {"outside", outside},
                     {"length", length},
                     {"face_roughness", 0.0},
                     {"settling", 0.0}});
    cases::give_nut(job, 650.0, {{"face_roughness", 0.0}, {"settling", 0.0}});
    if (bearing)
        cases::give(job, "bearing.",
                    {{"balls", 15.0},
                     {"ball_diameter", 0.017462},
                     {"pitch_diameter", 0.1155},
                     {"inner_curvature", 0.515},
                     {"outer_curvature", 0.52},
                     {"clearance", 150e-6}});
    return job;
}

double value(const job::Job& job, const char* state, const char* path) {
    return job.evaluate()[static_cast<std::size_t>(job.output(state, path))];
}
// Force under the nut with some inputs changed.
double later(job::Job job, cases::Values changes, const char* path = "nut.force") {
    cases::give(job, "", changes);
    return value(job, "later", path);
}
double area(double inside, double outside) {
    return pi / 4.0 * (outside * outside - inside * inside);
}

constexpr double seat = 0.080;
template <class T = double>
rings::Joint<T> grip(double interference, const materials::Material& metal) {
    auto numbers = fields::standard_values(fields::Declared<rings::Ring>::declaration);
    std::vector<T> as_t(numbers.begin(), numbers.end());
    auto& ring = *reinterpret_cast<rings::Ring<T>*>(as_t.data());
    ring.bore = seat;
    ring.outside = 0.105;
    ring.length = 0.030;
    number::Faults<T> faults;
    return rings::joint_of(
        rings::JointInputs<T>{0.030, 1.0, 1.0, 20.0, seat, 0.0, interference, 0.0, 20.0}, ring,
        metal, metal, {0, 0}, faults);
}
constexpr double length = 0.030;
double passed(const rings::Joint<double>& j, double friction, double force) {
    return force_passed(j, length, friction, 0.0, force);
}

} // namespace

TEST_CASE("the gripped law integrates dN/dz = -mu p(N) pi d", "[stack]") {
    const auto j = grip(38e-6, even.numbers);
    for (const double mu : {0.02, 0.15, 0.4})
        for (const double force : {60e3, 120e3, 300e3}) {
            // Runge-Kutta of fourth order from the nut side to the shoulder side.
            const auto slope = [&](double n) {
                return -mu * pi * seat * rings::pressure_under(j, n, n);
            };
            constexpr int steps = 400;
            constexpr double h = length / steps;
            double n = force;
            for (int k = 0; k < steps && n > 0.0; ++k) {
                const double a = slope(n);
                const double b = slope(n + h / 2 * a);
                const double c = slope(n + h / 2 * b);
                const double d = slope(n + h * c);
                n += h / 6 * (a + 2 * b + 2 * c + d);
            }
            CAPTURE(mu, force);
            CHECK(passed(j, mu, force) == Approx(std::max(n, 0.0)).epsilon(1e-10));
            CHECK(passed(j, mu, force) <= force);
        }
}

TEST_CASE("with one material the exponent is 2 mu nu L/d", "[stack]") {
    // docs/theory, clamp through a gripped stack.
    const auto j = grip(38e-6, even.numbers);
    const double x = std::log((passed(j, 0.3, 300e3) - passed(j, 0.3, 250e3)) / 50e3);
    CHECK(x == Approx(2.0 * 0.3 * 0.3 * length / seat).epsilon(1e-9));
}

TEST_CASE("limits of the gripped law", "[stack]") {
    const auto j = grip(38e-6, even.numbers);
    // Without friction all of it arrives.
    CHECK(passed(j, 0.0, 80e3) == 80e3);
    // With bars that do not fatten the seat takes its whole capacity: x = 0, N - CAP.
    const auto stiff = grip(38e-6, bars.numbers);
    const double capacity = 0.15 * stiff.interference / stiff.flexibility * pi * seat * length;
    CHECK(passed(stiff, 0.15, 80e3) == Approx(80e3 - capacity).epsilon(1e-14));
    // Friction takes no more than there is, and a loose ring takes nothing.
    CHECK(passed(stiff, 0.15, 0.5 * capacity) == 0.0);
    CHECK(passed(grip(-10e-6, even.numbers), 0.15, 80e3) == 80e3);
    // A ring that has let go under the clamp passes it on whole.
    CHECK(passed(grip(0.1e-6, even.numbers), 0.15, 200e3) == 200e3);
}

TEST_CASE("at no friction the clamp has a finite slope: the seat's pressure times its area",
          "[stack]") {
    using D2 = number::Dual<2, number::Isa<0>>;
    const auto j = grip<D2>(38e-6, even.numbers);
    D2 mu(0.0);
    mu.d.set_lane(0, 1.0);
    const D2 n = force_passed(j, D2(length), mu, D2(0.0), D2(80e3));
    const auto p = rings::pressure_under(grip(38e-6, even.numbers), 80e3, 80e3);
    CHECK(n.value == 80e3);
    CHECK(n.d.lane(0) == Approx(-p * pi * seat * length).epsilon(1e-12));
}

TEST_CASE("nothing changed: the locked nut keeps its force", "[stack]") {
    for (const double interference : {-30e-6, 0.0, 40e-6}) {
        const job::Job job = joint(even, interference);
        const double built = value(job, "built", "nut.force");
        CHECK(later(job, {}) == Approx(built).epsilon(1e-12));
        // All parts hotter by the same, one material: no strain anywhere.
        CHECK(later(job, {{"states.later.shaft_temperature", 120.0}}) ==
              Approx(built).epsilon(1e-9));
    }
}

TEST_CASE("settling costs settling over compliance", "[stack]") {
    const job::Job job = joint(bars, -30e-6);
    const double built = value(job, "built", "nut.force");
    const double soft = value(job, "later", "stack.compliance");
    CHECK(later(job, {{"rings.inner.settling", 2e-6}, {"nut.settling", 1e-6}}) ==
          Approx(built - 3e-6 / soft).epsilon(1e-10));
}

TEST_CASE("springs in series: heat on a ring adds L alpha dT over compliance", "[stack]") {
    const job::Job job = joint(bars, -30e-6);
    const double built = value(job, "built", "nut.force");
    const double soft = value(job, "later", "stack.compliance");
    const double more = 0.050 * 12e-6 * 10.0 / soft;
    CHECK(later(job, {{"states.later.lags.sleeve", 10.0}}) == Approx(built + more).epsilon(1e-10));
    CHECK(later(job, {{"states.later.lags.sleeve", -10.0}}) == Approx(built - more).epsilon(1e-10));
    // A hot nut grows half its height but opens on its flanks by tan 30 deg of its radius.
    const double d2 = 0.075 - 0.002 * 3.0 * std::sqrt(3.0) / 8.0;
    const double nut = (0.5 * 0.020 - 0.5 * d2 / std::sqrt(3.0)) * 12e-6 * 10.0 / soft;
    CHECK(later(job, {{"states.later.lags.nut", 10.0}}) == Approx(built + nut).epsilon(1e-10));
    // A millimetre of ring is a millimetre of ring and of shaft.
    const double longer = later(job, {{"rings.sleeve.length", 0.051}}, "stack.compliance") - soft;
    const double wanted =
        0.001 / 205e9 * (1.0 / area(0.080, 0.1) + 1.0 / area(0.03, 0.080 - 30e-6));
    CHECK(longer / wanted == Approx(1.0).epsilon(1e-9));
}

TEST_CASE("rough faces close by u0 ln(1 + N/N1)", "[stack]") {
    // Persson's law with u0 = 0.4 of the composite rms, rms a fifth of Rz (common practice).
    job::Job job = joint(bars, -30e-6, false);
    cases::give(job, "",
                {{"rings.sleeve.face_roughness", 3e-6}, {"rings.inner.face_roughness", 4e-6}});
    // Shoulder to sleeve 3, sleeve to inner 5 (3 and 4 together), inner to spacer 4.
    const double u0 = (3e-6 + 5e-6 + 4e-6) * 0.4 / 5.0;
    const double built = value(job, "built", "nut.force");
    const double touch = built * 1e-3;
    const double soft = value(job, "built", "stack.compliance") - u0 / (built + touch);
    CHECK(soft / value(joint(bars, -30e-6, false), "built", "stack.compliance") == Approx(1.0));
    const double hot = later(job, {{"states.later.lags.sleeve", 25.0}});
    CHECK((soft * (hot - built) + u0 * std::log((hot + touch) / (built + touch))) /
              (0.050 * 12e-6 * 25.0) ==
          Approx(1.0).epsilon(1e-10));
}

TEST_CASE("thrust unloads the nut by the share of what it presses", "[stack]") {
    const job::Job job = joint(bars, -30e-6);
    const double built = value(job, "built", "nut.force");
    const double soft = value(job, "later", "stack.compliance");
    const double pressed = (0.050 / area(0.080, 0.1) + 0.5 * 0.020 / area(0.080, 0.104)) / 205e9;
    const cases::Values thrust = {{"states.later.thrust", 8e3}};
    const double force = later(job, thrust);
    CHECK(force == Approx(built - 8e3 * pressed / soft).epsilon(1e-10));
    CHECK(later(job, thrust, "shoulder.clamp_free") == Approx(force + 8e3));
}

TEST_CASE("a fit and its clamp are solved together", "[stack]") {
    // A gripping ring gets shorter and the shaft longer by the pressure that the clamp takes away
    // as it grows: the joint answers heat less stiffly than its bars alone.
    const job::Job loose = joint(even, -30e-6);
    const job::Job tight = joint(even, 40e-6);
    const cases::Values warm = {{"states.later.lags.spacer", 10.0}};
    const double built = value(loose, "built", "nut.force");
    CHECK(value(tight, "built", "nut.force") == Approx(built));
    // The spacer's own heat loosens its grip as well, so both change; the law is the loop's own.
    const double force = later(tight, warm);
    const auto length_of = [&](const char* state, const job::Job& job, double n) {
        // Shaft strain less ring strain along the stack, from the fits' own answers.
        double sum = 0.0;
        for (const auto& [ring, l] :
             {std::pair{"sleeve", 0.050}, std::pair{"inner", 0.020}, std::pair{"spacer", 0.030}}) {
            const std::string at = std::string("rings.") + ring;
            sum += l * (value(job, state, (at + ".shaft_strain").c_str()) -
                        value(job, state, (at + ".ring_strain").c_str()));
        }
        // What thread and nut give, from the compliance that is not rings and shaft.
        double rest = value(job, state, "stack.compliance");
        for (const auto& [o, l] :
             {std::pair{0.100, 0.050}, std::pair{0.104, 0.020}, std::pair{0.098, 0.030}})
            rest -= l / 205e9 * (1.0 / area(0.080, o) + 1.0 / area(0.030, 0.080040));
        return sum + rest * n;
    };
    job::Job hot = tight;
    cases::give(hot, "", warm);
    CHECK(length_of("later", hot, force) == Approx(length_of("built", tight, built)).margin(1e-14));
}

TEST_CASE("bounds of the clamp at the shoulder", "[stack]") {
    const job::Job job = cases::blower();
    for (const std::string& state : job.plan().states) {
        const auto at = [&](const char* path) { return value(job, state.c_str(), path); };
        const double low = at("shoulder.clamp_low");
        const double high = at("shoulder.clamp_high");
        CHECK(low <= high);
        CHECK(low >= 0.0);
        CHECK(low <= at("shoulder.clamp_nominal"));
        CHECK(at("nut.force_low") <= at("nut.force"));
        CHECK(at("nut.force") <= at("nut.force_high"));
        if (state == "cold") {
            CHECK(high <= at("nut.force_high"));
            CHECK(at("nut.force_low") == at("nut.preload_low"));
            continue;
        }
        // Equilibrium alone: the friction-free answer lies between.
        CHECK(low <= at("shoulder.clamp_free"));
        CHECK(at("shoulder.clamp_free") <= high);
    }
    // What all seats take, ring by ring: mu p pi d L at each ring's own pressure.
    double capacity = 0.0;
    for (const auto& [ring, l] :
         {std::pair{"sleeve", 0.029}, std::pair{"inner_thrust", 0.017},
          std::pair{"inner_back", 0.017}, std::pair{"wheel", 0.014}, std::pair{"slinger", 0.016}})
        capacity += 0.15 * pi * 0.080036 * l *
                    value(job, "trip", (std::string("rings.") + ring + ".pressure").c_str());
    CHECK(value(job, "trip", "stack.grip_capacity") == Approx(capacity).epsilon(1e-12));
}

TEST_CASE("hotter rings pull the nut tighter, cooler rings let it go", "[stack]") {
    const job::Job job = cases::blower();
    const double force = value(job, "full_load", "nut.force");
    for (const char* ring : {"sleeve", "inner_thrust", "inner_back", "wheel", "slinger"}) {
        const std::string lag = std::string("states.full_load.lags.") + ring;
        const auto with = [&](double change) {
            job::Job other = job;
            const int leaf = job.leaf(lag);
            other.set(leaf, job.values()[static_cast<std::size_t>(leaf)] + change);
            return value(other, "full_load", "nut.force");
        };
        CHECK(with(5.0) > force);
        CHECK(with(-5.0) < force);
    }
}

TEST_CASE("without friction in the seats the nut's force reaches the shoulder", "[stack]") {
    job::Job job = cases::blower();
    for (const job::RingPlan& ring : job.plan().rings)
        cases::give(job, "rings." + ring.name + ".",
                    {{"friction", 0.0}, {"friction_low", 0.0}, {"friction_high", 0.0}});
    CHECK(value(job, "cold", "shoulder.clamp_low") == value(job, "cold", "nut.preload_low"));
    CHECK(value(job, "cold", "shoulder.clamp_nominal") == value(job, "cold", "nut.preload"));
    CHECK(value(job, "cold", "shoulder.clamp_high") == value(job, "cold", "nut.preload_high"));
    // With the nut's friction known too, one number is left where cold takes from the joint.
    for (const char* friction : {"nut.thread_friction", "nut.face_friction"})
        cases::give(job, friction, {{"", 0.125}, {"_low", 0.125}, {"_high", 0.125}});
    CHECK(value(job, "cold", "shoulder.clamp_low") == value(job, "cold", "shoulder.clamp_high"));
    CHECK(value(job, "trip", "nut.force_low") ==
          Approx(value(job, "trip", "nut.force")).epsilon(1e-10));
    CHECK(value(job, "trip", "shoulder.clamp_low") ==
          Approx(value(job, "trip", "shoulder.clamp_free")).epsilon(1e-10));
    for (const double slope : job.jacobian().derivatives)
        CHECK(std::isfinite(slope));
}

TEST_CASE("a joint that thrust pulls open leaves all of it to the nut", "[stack]") {
    // Until then the nut takes its share; an open face takes nothing and holds nothing back.
    job::Job job = cases::blower();
    const int thrust = job.leaf("states.full_load.thrust");
    const double at_rest = value(job, "full_load", "nut.force");
    double last = 1e9;
    bool opened = false;
    for (double t = -200e3; t <= 60e3; t += 250.0) {
        job.set(thrust, t);
        const double force = value(job, "full_load", "nut.force");
        CHECK(force < last);
        CHECK(force >= -t);
        const bool open = value(job, "full_load", "shoulder.clamp_free") <= 0.0;
        opened = opened || open;
        if (open)
            CHECK(force == Approx(-t).epsilon(1e-12));
        CHECK((force > at_rest) == (t < 9e3));
        // What the seats of the rings behind it may hold is all that can be off the nut.
        CHECK(value(job, "full_load", "nut.force_low") >=
              -t - value(job, "full_load", "stack.grip_capacity_high") * 1.2);
        last = force;
    }
    CHECK(opened);
}
