// The demo job, and one with what the demo does not have: slices, seals, loads across the bearing.
#include "../benchmarks/demo_job.hpp"
#include "bits.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/number/philox.hpp>
#include <fitwright/study/indices.hpp>
#include <fitwright/study/inverse.hpp>

namespace fitwright::bits {

namespace {

// Every input of the demo job that the other one has too keeps its value.
job::Job richer(const job::Job& demo) {
    job::Plan plan = demo.plan();
    plan.has_ring_loads = true;
    plan.seals = {{"labyrinth", plan.rings.front().name, materials::find("1020"), false}};
    plan.rings.back().slices = 2;
    plan.has_shoulder = true;
    job::Job job(plan);
    for (std::size_t i = 0; i < job.inputs().size(); ++i)
        for (std::size_t k = 0; k < demo.inputs().size(); ++k)
            if (job.inputs()[i].path == demo.inputs()[k].path)
                job.set(static_cast<int>(i), demo.values()[k]);
    const auto give = [&](const std::string& path, double x) { job.set(job.leaf(path), x); };
    const std::string last = "rings." + plan.rings.back().name + ".";
    give("shoulder.outside", 0.096);
    give("shoulder.length", 0.020);
    give(last + "slice1.outside", 0.100);
    give(last + "slice1.length", 0.008);
    give(last + "slice2.outside", 0.102);
    give(last + "slice2.length", 0.008);
    give("seals.labyrinth.stator", 0.1004);
    double load = 0.0;
    for (const std::string& state : plan.states) {
        give("states." + state + ".radial_load", load);
        give("states." + state + ".moment", load * 0.01);
        load += 700.0;
    }
    return job;
}

void study(Hash& hash, const bench::DemoJob& demo, study::Design design, std::int64_t samples) {
    std::vector<study::Spread> spreads = demo.spreads;
    // Shapes that the demo does not draw from.
    spreads[0].shape = study::Shape::lognormal;
    spreads[1].shape = study::Shape::beta;
    spreads[1].low = spreads[1].middle - 6.0 * spreads[1].deviation;
    spreads[1].high = spreads[1].middle + 5.0 * spreads[1].deviation;
    study::Study s(demo.subject(), spreads, demo.tracked, 7, samples, design,
                   design == study::Design::plain
                       ? std::vector<study::Correlation>{{0, 1, 0.4}, {1, 2, -0.3}}
                       : std::vector<study::Correlation>{});
    s.advance(samples, 2);
    for (std::size_t t = 0; t < demo.tracked.size(); ++t) {
        const study::Statistics of = s.statistics(t);
        for (const double x : {of.mean, of.deviation, of.skewness, of.least, of.greatest,
                               study::quantile_of(of, 0.01).value})
            hash.add(x);
        for (const std::int64_t n : {of.count, of.passed, of.least_at, of.greatest_at})
            hash.add(static_cast<std::uint64_t>(n));
    }
    hash.add(static_cast<std::uint64_t>(s.all_passed()));
    hash.add(s.sample(samples / 3));
}

// What scatters in the demo, in a job that has most of it.
void sweep(Hash& hash, const job::Job& job, const bench::DemoJob& demo) {
    std::vector<int> leaves;
    std::vector<std::vector<double>> columns;
    for (const study::Spread& spread : demo.spreads) {
        if (spread.low_leaf >= 0)
            continue;
        const std::string& path = demo.job.inputs()[static_cast<std::size_t>(spread.leaf)].path;
        const int leaf = job.leaf(path);
        if (std::isnan(job.values()[static_cast<std::size_t>(leaf)]))
            continue; // left out: the outside of a ring that has slices
        leaves.push_back(leaf);
        columns.emplace_back();
        for (std::uint64_t k = 0; k < 21; ++k)
            columns.back().push_back(study::quantile(
                spread,
                number::uniform_open(number::philox({{k, 0, 0, 0}}, {leaves.size(), 3}).word[0])));
    }
    std::vector<int> all;
    for (int j = 0; j < job.output_count(); ++j)
        all.push_back(j);
    for (const auto& column : job.sweep(leaves, columns, all, 2))
        hash.add(column);
}

void inverse(Hash& hash, const bench::DemoJob& demo) {
    const auto edges = study::edges_of(demo.job, demo.spreads);
    const auto worst =
        study::extremes(demo.job, edges,
                        {{demo.tracked[0].output, true}, {demo.tracked[1].output, false}}, 400, 40);
    for (const study::Extreme& e : worst) {
        hash.add(e.value);
        hash.add(e.bound);
        hash.add(e.at);
    }
    const int leaf = demo.job.leaf("nut.torque");
    const job::Limit& limit = demo.job.limits().front();
    hash.add(demo.job.solve(leaf, limit.output,
                            demo.job.evaluate()[static_cast<std::size_t>(limit.output)] * 1.01,
                            std::nan(""), std::nan("")));
    study::Judge judge(demo.job, demo.spreads, {});
    const study::Reuse reach = study::reuse_limits(judge, demo.job, leaf);
    hash.add(reach.down.value);
    hash.add(reach.up.value);
}

} // namespace

void jobs(const Tell& tell, bool brief) {
    const bench::DemoJob& demo = bench::demo_job();
    const job::Job rich = richer(demo.job);
    for (const auto& named : {std::pair{std::string("demo"), demo.job}, {"rich", rich}}) {
        const std::string& name = named.first;
        const job::Job& job = named.second;
        const auto at = [&job](job::Level level) { return job.at(level); };
        const auto steps = at(job::Level::history);
        tell("job " + name + ", quick", [&](Hash& h) { h.add(at(job::Level::quick).evaluate()); });
        tell("job " + name + ", derivatives", [&](Hash& h) {
            h.add(at(job::Level::quick).jacobian().derivatives);
            for (const char c : at(job::Level::quick).one_sided())
                h.add(static_cast<std::uint64_t>(c));
        });
        tell("job " + name + ", history", [&](Hash& h) { h.add(steps.evaluate()); });
        tell("job " + name + ", heating",
             [&](Hash& h) { h.add(at(job::Level::heating).evaluate()); });
        tell("job " + name + ", sweep", [&](Hash& h) { sweep(h, at(job::Level::quick), demo); });
        tell("job " + name + ", balls", [&](Hash& h) {
            for (const std::string& state : job.plan().states) {
                const bearings::BallByBall balls = job.balls(state);
                h.add(balls.inner_load);
                h.add(balls.outer_angle);
                h.add({balls.stiffness.begin(), balls.stiffness.end()});
            }
        });
    }
    if (!brief)
        tell("job demo, history derivatives",
             [&](Hash& h) { h.add(demo.job.at(job::Level::history).jacobian().derivatives); });
    const std::int64_t samples = brief ? 4096 : 5 * 4096 + 3;
    tell("study, plain", [&](Hash& h) { study(h, demo, study::Design::plain, samples); });
    tell("study, Latin hypercube",
         [&](Hash& h) { study(h, demo, study::Design::latin_hypercube, samples); });
    tell("study, Sobol'", [&](Hash& h) { study(h, demo, study::Design::sobol, samples); });
    tell("study, indices", [&](Hash& h) {
        const std::vector<study::Spread> few(demo.spreads.begin(), demo.spreads.begin() + 3);
        study::IndexStudy s(demo.subject(), few, {demo.tracked[0].output}, 5, 4096);
        s.advance(4096, 2);
        for (std::size_t i = 0; i < few.size(); ++i) {
            const study::InputIndices of = s.indices(0, i);
            for (const double x : {of.first.value, of.first.half, of.total.value, of.total.half})
                h.add(x);
        }
    });
    tell("questions turned round", [&](Hash& h) { inverse(h, demo); });
}

} // namespace fitwright::bits
