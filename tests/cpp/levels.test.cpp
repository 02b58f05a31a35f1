// The same bits from double, from lanes and duals of every vector level, from any number of threads
// and any block size.
#include "levels.hpp"
#include "cases.hpp"
#include "catch.hpp"
#include "joints_cases.hpp"

#include <cstring>
#include <fitwright/bearings/hertz.hpp>
#include <fitwright/fields/level.hpp>
#include <fitwright/rings/thick_ring.hpp>

using namespace fitwright;
namespace nt = fitwright::number_test;

namespace {

constexpr std::size_t samples = watched ? 61 : 501; // with a tail

bool same(const std::vector<double>& a, const std::vector<double>& b) {
    return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

// Runs f once for each level this processor has, then goes back to the one before.
template <class F>
void at_each_level(F f) {
    const int before = fields::active_level();
    for (const int level : fields::usable_levels()) {
        fields::force_level(level);
        INFO("level v" << level);
        f();
    }
    fields::force_level(before);
}

double uniform(std::uint64_t sample, std::uint64_t input) {
    return number::uniform_open(number::philox({{sample, 0, 0, 0}}, {input, 5}).word[0]);
}

// Samples around an example: every number by a few per cent, and some over a range of their own.
struct Range {
    double* field;
    double low, high;
};
template <class Inputs>
struct Samples {
    std::vector<Inputs> all;
    Samples(const Inputs& in, double share, std::initializer_list<Range> ranges, const Inputs* base)
        : all(samples, in) {
        const std::size_t n = sizeof(Inputs) / sizeof(double);
        for (std::size_t k = 0; k < samples; ++k) {
            auto* x = reinterpret_cast<double*>(&all[k]);
            for (std::size_t i = 0; i < n; ++i)
                x[i] *= 1.0 + share * (uniform(k, i) - 0.5);
            for (const Range& r : ranges) {
                const auto i = r.field - reinterpret_cast<const double*>(base);
                x[i] = r.low + (r.high - r.low) * uniform(k, static_cast<std::uint64_t>(i));
            }
        }
    }
};

// Every sample on double, as a batch on lanes of each level, and (some) with all derivatives.
template <class Inputs>
void compare(const char* name, const std::vector<Inputs>& all,
             std::initializer_list<const char*> metals, std::vector<int> choices = {}) {
    INFO(name);
    const fields::Model& model = fields::model_named(name);
    std::vector<const materials::Material*> materials;
    for (const char* metal : metals)
        materials.push_back(&cases::metal(metal));
    const fields::Context context{materials.data(), choices.data(), nullptr};
    constexpr std::size_t n = sizeof(Inputs) / sizeof(double);
    const std::size_t m = fields::leaves_of(*model.outputs).size();

    std::vector<std::vector<double>> in(n, std::vector<double>(samples));
    std::vector<std::vector<double>> wanted(m, std::vector<double>(samples));
    for (std::size_t k = 0; k < samples; ++k) {
        const std::vector<double> x = cases::numbers(all[k]);
        std::vector<double> y(m);
        fields::evaluate(model, x.data(), y.data(), context);
        for (std::size_t i = 0; i < n; ++i)
            in[i][k] = x[i];
        for (std::size_t j = 0; j < m; ++j)
            wanted[j][k] = y[j];
    }
    std::vector<const double*> columns;
    for (const auto& column : in)
        columns.push_back(column.data());
    const std::vector<std::int64_t> strides(n, 1);

    std::vector<std::vector<double>> derivatives; // of the first level
    at_each_level([&] {
        std::vector<std::vector<double>> found(m, std::vector<double>(samples));
        std::vector<double*> results;
        for (auto& column : found)
            results.push_back(column.data());
        fields::evaluate(
            model,
            {columns.data(), strides.data(), results.data(), static_cast<std::int64_t>(samples)},
            context, 2);
        for (std::size_t j = 0; j < m; ++j)
            CHECK(same(found[j], wanted[j]));

        for (std::size_t k = 0; k < samples; k += 10) {
            std::vector<double> y(m);
            std::vector<double> d(m * n);
            fields::jacobian(model, cases::numbers(all[k]).data(), y.data(), d.data(), context);
            for (std::size_t j = 0; j < m; ++j)
                CHECK(number::to_bits(y[j]) == number::to_bits(wanted[j][k]));
            if (derivatives.size() <= k / 10)
                derivatives.push_back(d);
            CHECK(same(d, derivatives[k / 10]));
        }
    });
}

// All a study tells, as bits.
std::vector<double> told(const job::Job& job, std::int64_t count, std::int64_t block, int threads) {
    study::Study s(cases::subject(job), cases::spreads(job), cases::tracked(job), 11, count);
    while (s.done() < s.count())
        s.advance(block, threads);
    std::vector<double> all{static_cast<double>(s.done()), static_cast<double>(s.all_passed()),
                            static_cast<double>(s.out_of_domain()),
                            static_cast<double>(s.first_fault()), s.first_fault_code()};
    for (std::size_t t = 0; t < cases::tracked(job).size(); ++t) {
        const study::Statistics x = s.statistics(t);
        for (const double v : {x.mean, x.deviation, x.skewness, x.least, x.greatest, x.bins_from,
                               x.bin_width, study::quantile_of(x, 0.001).value})
            all.push_back(v);
        for (const std::int64_t v : {x.count, x.least_at, x.greatest_at, x.passed})
            all.push_back(static_cast<double>(v));
        all.insert(all.end(), x.bins.begin(), x.bins.end());
    }
    return all;
}

} // namespace

TEST_CASE("the functions of number/ give the bits of double at every level", "[levels]") {
    struct Row {
        double low, high;
    };
    const Row rows[nt::function_count] = {{-700, 700},    {1e-9, 1e9}, {-40, 40},    {-1e6, 1e6},
                                          {-900, 900},    {-900, 900}, {-900, 900},  {-50, 50},
                                          {-1, 1},        {-1, 1},     {0, 0.99999}, {0, 0.999999},
                                          {1e-12, 0.999}, {-9, 9},     {-9, 9}};
    constexpr int count = 512;
    for (int f = 0; f < nt::function_count; ++f) {
        std::vector<double> x;
        for (std::uint64_t i = 0; i < count; ++i)
            x.push_back(rows[f].low + (rows[f].high - rows[f].low) * uniform(i, 77));
        x[9] = 0.0;
        x[10] = rows[f].low;
        x[11] = rows[f].high;
        std::vector<double> slopes;
        at_each_level([&] {
            std::vector<double> lanes(count);
            std::vector<double> values(count);
            std::vector<double> slopes_here(count);
            level_test::on_level(fields::active_level(), [&]<class Level>(Level) {
                level_test::run_functions<Level>(
                    {f, count, x.data(), lanes.data(), values.data(), slopes_here.data()});
            });
            std::vector<double> wanted;
            for (const double v : x)
                wanted.push_back(nt::apply(f, v));
            CAPTURE(f);
            CHECK(same(lanes, wanted));
            CHECK(same(values, wanted));
            if (slopes.empty())
                slopes = slopes_here;
            CHECK(same(slopes, slopes_here));
        });
    }
}

TEST_CASE("every model gives the bits of double on lanes and duals of every level", "[levels]") {
    auto fit = cases::fit();
    fit.shaft.seat = fit.ring.bore = 0.080;
    Samples<rings::FitInputs<double>> fits(fit, 0.2,
                                           {{&fit.shaft.seat, 0.08, 0.08},
                                            {&fit.ring.bore, 0.08, 0.08},
                                            {&fit.ring.contact_length, 0.020, 0.026},
                                            {&fit.ring.smoothing, 0.0, 1.0},
                                            {&fit.interference, -20e-6, 120e-6},
                                            {&fit.shaft_temperature, -20.0, 150.0},
                                            {&fit.ring_temperature, -20.0, 150.0}},
                                           &fit);
    for (auto& in : fits.all)
        in.shaft.seat = in.ring.bore = 0.070 + in.interference * 100.0;
    fits.all[3].interference = 0.0;
    fits.all[4].shaft.bore = 0.0;
    compare("rings.fit", fits.all, {"4340", "52100"});

    auto ring = fields::standard_inputs<rings::ThickRingInputs>();
    ring.bore = 0.03;
    ring.outside = 0.1;
    ring.radius = 0.03;
    Samples<rings::ThickRingInputs<double>> rings(ring, 0.2,
                                                  {{&ring.inner_pressure, 0.0, 90e6},
                                                   {&ring.outer_pressure, 0.0, 90e6},
                                                   {&ring.axial_stress, -50e6, 50e6},
                                                   {&ring.speed, 0.0, 2000.0}},
                                                  &ring);
    rings.all[2].bore = rings.all[2].radius = 0.0;
    compare("rings.thick_ring", rings.all, {"4340"}, {0});
    compare("rings.thick_ring", rings.all, {"4340"}, {1});

    // Joints open and close from sample to sample; lanes of one pack differ in it.
    auto nest = cases::nest();
    for (std::size_t k = 0; k < 8; ++k)
        (&nest.layer1)[k].smoothing = 0.9; // scattered too
    const double most = nest.layer1.outside * 1e-3;
    Samples<rings::NestInputs<double>> nests(nest, 0.05,
                                             {{&nest.layer2.interference, -most, most},
                                              {&nest.layer3.interference, -most, most},
                                              {&nest.layer4.interference, -most, most},
                                              {&nest.layer1.bore, 0.0, 0.03},
                                              {&nest.layer3.temperature, 20.0, 110.0},
                                              {&nest.layer2.bore_temperature, 60.0, 80.0},
                                              {&nest.speed, 0.0, 2000.0}},
                                             &nest);
    compare("rings.nest", nests.all,
            {"4340", "52100", "4340", "52100", "4340", "4340", "4340", "4340"},
            {0, 0, 0, 0, 0, 0, 0, 0, 3, 0});
    compare("rings.nest", nests.all,
            {"4340", "52100", "4340", "52100", "4340", "4340", "4340", "4340"},
            {0, 0, 0, 1, 0, 0, 0, 0, 3, 1});

    auto stepped = cases::stepped();
    Samples<rings::SteppedInputs<double>> steps(stepped, 0.05,
                                                {{&stepped.shaft.seat, 0.08, 0.08},
                                                 {&stepped.ring.bore, 0.08, 0.08},
                                                 {&stepped.ring.smoothing, 0.0, 1.0},
                                                 {&stepped.slice2.contact_length, 0.0, 0.02},
                                                 {&stepped.interference, -20e-6, 90e-6}},
                                                &stepped);
    compare("rings.stepped", steps.all, {"4340", "52100"}, {1});

    auto yielding = cases::yielding();
    Samples<rings::ElasticPlasticInputs<double>> yields(
        yielding, 0.04,
        {{&yielding.shaft.seat, 0.08, 0.08},
         {&yielding.ring.bore, 0.08, 0.08},
         {&yielding.ring.smoothing, 0.0, 1.0},
         {&yielding.ring.contact_length, 0.01, 0.03},
         {&yielding.interference, -20e-6, 240e-6}},
        &yielding);
    for (std::size_t k = 0; k < samples; k += 3)
        yields.all[k].shaft.bore = 0.0;
    compare("rings.elastic_plastic_fit", yields.all, {"1045", "1045"}, {0});
    compare("rings.elastic_plastic_fit", yields.all, {"1045", "1045"}, {1});

    auto hot = cases::hot_ring();
    Samples<rings::HotRingInputs<double>> hots(hot, 0.1, {}, &hot);
    compare("rings.hot_ring", hots.all, {"52100"}, {0, 1});
    compare("rings.hot_ring", hots.all, {"52100"}, {1, 0});

    auto short_ring = cases::overhang();
    Samples<rings::OverhangInputs<double>> shorts(short_ring, 0.05,
                                                  {{&short_ring.shaft.seat, 0.08, 0.08},
                                                   {&short_ring.ring.bore, 0.08, 0.08},
                                                   {&short_ring.ring.smoothing, 0.0, 1.0},
                                                   {&short_ring.ring.contact_length, 0.011, 0.026},
                                                   {&short_ring.overhang, 0.0, 1.0}},
                                                  &short_ring);
    compare("rings.overhang", shorts.all, {"4340", "52100"});
    auto seat = cases::slip();
    Samples<rings::SlipInputs<double>> slips(
        seat, 0.1, {{&seat.ring.smoothing, 0.0, 1.0}, {&seat.ring.contact_length, 0.01, 0.02}},
        &seat);
    compare("rings.slip", slips.all, {"4340", "52100"});

    auto oven = cases::oven();
    oven.shaft.seat = oven.ring.bore;
    Samples<heat::OvenInputs<double>> ovens(oven, 0.0,
                                            {{&oven.interference, 0.0, 90e-6},
                                             {&oven.oven, 80.0, 130.0},
                                             {&oven.shaft_temperature, 0.0, 40.0},
                                             {&oven.slip_clearance, 0.0, 90e-6}},
                                            &oven);
    compare("heat.oven", ovens.all, {"4340", "52100"});

    auto chill = cases::chill();
    chill.shaft.seat = chill.ring.bore;
    compare("heat.chill",
            Samples<heat::ChillInputs<double>>(chill, 0.0,
                                               {{&chill.interference, 0.0, 110e-6},
                                                {&chill.shaft_temperature, 0.0, 40.0},
                                                {&chill.heating_limit, 100.0, 120.0},
                                                {&chill.slip_clearance, 0.0, 40e-6}},
                                               &chill)
                .all,
            {"4340", "52100"});
    auto seating = cases::seating();
    seating.shaft.seat = seating.ring.bore = 0.080;
    const Samples<heat::SeatingInputs<double>> seatings(seating, 0.0,
                                                        {{&seating.interference, 10e-6, 90e-6},
                                                         {&seating.press_force, 0.0, 60e3},
                                                         {&seating.shaft.bore, 0.0, 0.06}},
                                                        &seating);
    for (const int reacted : {0, 1})
        compare("heat.seating", seatings.all, {"4340", "52100"}, {reacted});
    auto take_off = cases::take_off();
    take_off.shaft.seat = take_off.ring.bore = 0.080;
    compare("heat.take_off",
            Samples<heat::TakeOffInputs<double>>(take_off, 0.0,
                                                 {{&take_off.interference, 0.0, 90e-6},
                                                  {&take_off.difference, 0.0, 80.0},
                                                  {&take_off.shaft_temperature, 0.0, 40.0}},
                                                 &take_off)
                .all,
            {"4340", "52100"});

    auto nut = cases::nut();
    Samples<threads::TightenInputs<double>> nuts(nut, 0.1, {{&nut.torque, 0.0, 2000.0}}, &nut);
    compare("threads.tighten", nuts.all, {"4340", "4340"}, {0, 0, 0});
    auto torque = fields::standard_inputs<threads::TorqueInputs>();
    torque.nut = nut.nut;
    Samples<threads::TorqueInputs<double>> torques(torque, 0.1, {{&torque.preload, 0.0, 2e5}},
                                                   &torque);
    compare("threads.torque", torques.all, {"4340", "4340"}, {1, 0, 0});

    auto tabs = cases::lock_tabs();
    Samples<threads::LockTabsInputs<double>> locks(
        tabs, 0.0, {{&tabs.torque_low, 300.0, 600.0}, {&tabs.compliance, 1e-10, 2e-9}}, &tabs);
    compare("threads.lock_tabs", locks.all, {"4340"}, {0, 0, 0});
    auto pair = cases::breakaway();
    Samples<threads::BreakawayInputs<double>> pairs(
        pair, 0.0, {{&pair.loosening_torque, 300.0, 640.0}}, &pair);
    compare("threads.breakaway", pairs.all, {"4340"}, {0, 0, 0});
    auto growth = cases::nut_growth();
    Samples<threads::NutGrowthInputs<double>> growths(
        growth, 0.0, {{&growth.speed, 0.0, 3000.0}, {&growth.nut_temperature, 0.0, 150.0}},
        &growth);
    compare("threads.nut_growth", growths.all, {"4340", "1045"}, {0, 0, 0});
    auto wedge = cases::wedge();
    Samples<stack::WedgeInputs<double>> wedges(wedge, 0.0,
                                               {{&wedge.ring.wedge, 0.0, 20e-6},
                                                {&wedge.ring.turned, -3.0, 3.0},
                                                {&wedge.clamp, 1e3, 1e5}},
                                               &wedge);
    compare("stack.wedge", wedges.all, {"4340", "1045"});

    auto contact = fields::standard_inputs<bearings::HertzInputs>();
    Samples<bearings::HertzInputs<double>> contacts(contact, 0.0,
                                                    {{&contact.first.curvature_x, 80.0, 120.0},
                                                     {&contact.first.curvature_y, 80.0, 120.0},
                                                     {&contact.second.curvature_x, -79.0, 50.0},
                                                     {&contact.second.curvature_y, 0.0, 50.0},
                                                     {&contact.angle, -3.0, 3.0},
                                                     {&contact.load, 0.0, 5e3}},
                                                    &contact);
    compare("bearings.hertz", contacts.all, {"52100", "4340"});

    auto bearing = cases::bearing();
    Samples<bearings::MountedInputs<double>> bearings(
        bearing, 0.04, {{&bearing.inner_growth, -50e-6, 400e-6}, {&bearing.thrust, 0.0, 40e3}},
        &bearing);
    for (std::size_t k = 0; k < samples; k += 7)
        bearings.all[k].thrust = 0.0;
    compare("bearings.mounted", bearings.all, {"52100", "52100"});
}

TEST_CASE("a whole job gives the bits of double at every level", "[levels]") {
    const job::Job job = cases::blower();
    std::vector<int> all;
    for (std::size_t i = 0; i < job.outputs().size(); ++i)
        all.push_back(static_cast<int>(i));
    // Drawn as a study draws.
    const study::Study drawn(cases::subject(job), cases::spreads(job), cases::tracked(job), 3,
                             static_cast<std::int64_t>(samples));
    std::vector<int> leaves;
    std::vector<std::vector<double>> columns;
    for (std::size_t i = 0; i < job.inputs().size(); ++i) {
        std::vector<double> column;
        for (std::size_t k = 0; k < samples; ++k)
            column.push_back(drawn.sample(static_cast<std::int64_t>(k))[i]);
        if (column.front() == column.back())
            continue;
        leaves.push_back(static_cast<int>(i));
        columns.push_back(column);
    }
    REQUIRE(leaves.size() >= cases::spreads(job).size());
    std::vector<std::vector<double>> wanted(all.size(), std::vector<double>(samples));
    for (std::size_t k = 0; k < samples; ++k) {
        job::Job there = job;
        for (std::size_t i = 0; i < leaves.size(); ++i)
            there.set(leaves[i], columns[i][k]);
        const auto out = there.evaluate();
        for (std::size_t j = 0; j < all.size(); ++j)
            wanted[j][k] = out[j];
    }
    const job::Job::Jacobian first = job.jacobian();
    at_each_level([&] {
        const auto swept = job.sweep(leaves, columns, all, 2);
        int different = 0;
        for (std::size_t j = 0; j < all.size(); ++j)
            different += !same(swept[j], wanted[j]);
        CHECK(different == 0);
        const job::Job::Jacobian here = job.jacobian();
        CHECK(same(here.outputs, job.evaluate()));
        CHECK(same(here.derivatives, first.derivatives));
        CHECK(here.one_sided == first.one_sided);
    });
}

TEST_CASE("so does every model of joints and tools", "[levels]") {
    namespace jc = joints_cases;
    auto joint = jc::bolted_joint();
    compare("joints.bolted_joint",
            Samples<joints::BoltedJointInputs<double>>(joint, 0.03,
                                                       {{&joint.load, 5e3, 40e3},
                                                        {&joint.load_low, -5e3, 4e3},
                                                        {&joint.bolt.shank_length, 0.0, 0.03}},
                                                       &joint)
                .all,
            {"4140", "1045", "1045", "1045", "grey_iron", "1045", "1045", "1045"},
            {0, 2, 0, 1, 0, 2});
    auto pattern = jc::bolt_pattern();
    compare("joints.bolt_pattern",
            Samples<joints::BoltPatternInputs<double>>(pattern, 0.1, {}, &pattern).all, {}, {4});
    auto plate = jc::plate();
    for (const int inner : {0, 1, 2, 3})
        compare("joints.plate",
                Samples<joints::PlateInputs<double>>(plate, 0.02, {{&plate.radius, 0.065, 0.09}},
                                                     &plate)
                    .all,
                {"1045"}, {inner % 2, inner, 0});
    // Contacts open and close from sample to sample; lanes of one pack differ in it.
    auto ring = jc::ring_plate();
    compare("joints.ring_plate",
            Samples<joints::RingPlateInputs<double>>(ring, 0.01,
                                                     {{&ring.ring.width, 0.0299, 0.0302},
                                                      {&ring.pocket.depth, 0.030, 0.030},
                                                      {&ring.bolts, 12.0, 12.0},
                                                      {&ring.thrust_to_plate, 0.0, 200e3},
                                                      {&ring.thrust_to_shoulder, 0.0, 200e3}},
                                                     &ring)
                .all,
            {"1045", "52100", "ductile_iron", "4140", "ductile_iron"}, {0});
    auto seat = jc::outer_ring();
    compare("joints.outer_ring",
            Samples<joints::OuterRingInputs<double>>(seat, 0.0,
                                                     {{&seat.housing.bore, 0.15990, 0.16010},
                                                      {&seat.clamp_at_bolts, 1.0, 2.0},
                                                      {&seat.clamp_between_bolts, -1.0, 1.0}},
                                                     &seat)
                .all,
            {"52100", "ductile_iron"});
    auto strut = jc::column();
    compare("tooling.column",
            Samples<tooling::ColumnInputs<double>>(
                strut, 0.05, {{&strut.length, 0.0, 3.0}, {&strut.load, 1e3, 300e3}}, &strut)
                .all,
            {"1045"}, {0});
    auto weld = jc::weld();
    compare("tooling.weld",
            Samples<tooling::WeldInputs<double>>(weld, 0.1, {{&weld.welds, 1.0, 1.0}}, &weld).all,
            {"1020"}, {1});
    auto sleeve = jc::press_sleeve();
    compare("tooling.press_sleeve",
            Samples<tooling::PressSleeveInputs<double>>(sleeve, 0.05, {}, &sleeve).all,
            {"1045", "52100"}, {0});
    auto puller = jc::puller();
    compare("tooling.puller", Samples<tooling::PullerInputs<double>>(puller, 0.02, {}, &puller).all,
            {"4140", "52100", "4140"}, {0, 1, 1});
    auto fixture = jc::holding_fixture();
    compare("tooling.holding_fixture",
            Samples<tooling::HoldingFixtureInputs<double>>(
                fixture, 0.05,
                {{&fixture.plate.bolts, 8.0, 8.0}, {&fixture.plate.weld_sides, 1.0, 1.0}}, &fixture)
                .all,
            {"4140", "1020", "4140"}, {1, 0, 0, 1});
    auto driver = jc::nut_driver();
    compare("tooling.nut_driver",
            Samples<tooling::NutDriverInputs<double>>(driver, 0.02,
                                                      {{&driver.teeth, 4.0, 4.0},
                                                       {&driver.nut.slots, 4.0, 4.0},
                                                       {&driver.inside, 0.1049, 0.1054}},
                                                      &driver)
                .all,
            {"4140", "1045"}, {0, 0});
    auto wrench = jc::wrench_adapter();
    compare("tooling.wrench_adapter",
            Samples<tooling::WrenchAdapterInputs<double>>(wrench, 0.1, {{&wrench.angle, -3.0, 3.0}},
                                                          &wrench)
                .all,
            {});
    auto gear = jc::multiplier();
    compare("tooling.multiplier",
            Samples<tooling::MultiplierInputs<double>>(gear, 0.05, {{&gear.efficiency, 0.88, 0.90}},
                                                       &gear)
                .all,
            {}, {1, 0});
}

TEST_CASE("a study tells the same at every level, on any threads, in any blocks", "[levels]") {
    const job::Job job = cases::blower();
    const std::int64_t count = samples < 100 ? study::chunk + 77 : 5 * study::chunk + 77;
    const auto wanted = told(job, count, count, 1);
    at_each_level([&] { CHECK(same(told(job, count, count, 2), wanted)); });
    CHECK(same(told(job, count, 1, 1), wanted));
    CHECK(same(told(job, count, study::chunk, 3), wanted));
    CHECK(same(told(job, count, 2 * study::chunk + 1, 2), wanted));
}

// Run by ctest after the consumer has been built and run (see CMakeLists.txt).
