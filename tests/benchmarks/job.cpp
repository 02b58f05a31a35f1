// The demo job at one level: model, sampling, study, Jacobian; beside doubles and Boost.
#include "bench.hpp"
#include "demo_job.hpp"
#include "packs.hpp"

namespace fitwright::bench {

namespace {

const fields::AllFormulas& nothing() {
    static const fields::AllFormulas all = fields::study_formulas<Nothing>(&Nothing::run<double>);
    return all;
}

// A study on one thread; what is timed is drawing, evaluating and adding up.
double study_ns(const study::Subject& subject, const std::vector<study::Tracked>& tracked,
                std::int64_t samples, int repeats) {
    double best = 1e300;
    for (int k = 0; k < repeats; ++k) {
        study::Study s(subject, demo_job().spreads, tracked, 1, samples);
        best = std::fmin(best,
                         best_ns(1, static_cast<double>(samples), [&] { s.advance(samples, 1); }));
    }
    return best;
}

} // namespace

void bench_job(int level) {
    const DemoJob& demo = demo_job();
    const study::Subject subject = demo.subject();
    const Yardstick& scalar = yardstick();

    // Lanes and doubles answer the same to the bit, on inputs as the study draws them.
    constexpr int count = 256;
    study::Study drawn(subject, demo.spreads, {}, 1, study::chunk);
    std::vector<std::vector<double>> samples;
    for (int i = 0; i < count; ++i)
        samples.push_back(drawn.sample(i));
    Packs packs(job::quick_formulas(), samples, subject.output_count);
    packs.run(job::quick_formulas(), subject.context, "job");
    std::vector<double> alone(static_cast<std::size_t>(subject.output_count));
    number::Faults<double> faults;
    for (int w = 0; w < packs.width; ++w) {
        job::quick_formulas().scalar(
            samples[static_cast<std::size_t>(packs.last_pack() + w)].data(), alone.data(),
            subject.context, faults);
        for (int j = 0; j < subject.output_count; ++j)
            check(packs.output(j, w) == alone[static_cast<std::size_t>(j)],
                  "job on lanes and in doubles differ");
    }
    // The study of the yardstick and that of the core tell the same means.
    constexpr std::int64_t samples_of_study = 16 * study::chunk;
    study::Study both(subject, demo.spreads, demo.tracked, 1, samples_of_study);
    both.advance(samples_of_study, 1);
    check(both.out_of_domain() == 0, "some samples are out of domain");
    const auto n = static_cast<double>(samples_of_study);
    for (std::size_t t = 0; t < demo.tracked.size(); ++t) {
        const study::Statistics s = both.statistics(t);
        const double error =
            6.0 * s.deviation * std::sqrt(1.0 / n + 1.0 / Yardstick::Study::samples);
        check(std::fabs(s.mean - scalar.as_it_comes.means[t]) <= error + 1e-9 * std::fabs(s.mean) &&
                  std::fabs(s.mean - scalar.in_double.means[t]) <= error + 1e-9 * std::fabs(s.mean),
              "mean of the study and of the yardstick differ: output " +
                  std::to_string(demo.tracked[t].output));
    }

    const double model = packs.ns(job::quick_formulas(), subject.context, "job", 20);
    study::Subject empty = subject;
    empty.formulas = &nothing();
    const double sampling = study_ns(empty, {}, samples_of_study, 5);
    const double reducing = study_ns(empty, demo.tracked, samples_of_study, 5) - sampling;
    const double whole = study_ns(subject, demo.tracked, samples_of_study, 4);
    row("demo job, model alone on lanes", model, "ns");
    row("demo job, drawing " + std::to_string(demo.spreads.size()) + " inputs", sampling, "ns");
    row("demo job, statistics of " + std::to_string(demo.tracked.size()) + " outputs", reducing,
        "ns");
    row("demo job, study: all of it", whole, "ns");
    row("    study over doubles with Boost", whole / scalar.as_it_comes.whole, "times",
        level >= 3 ? 0.25 : 0.5);
    row("    study over doubles with Boost kept in double", whole / scalar.in_double.whole,
        "times");
    row("    model over doubles", model / scalar.evaluation, "times");
    row("    drawing over Boost", sampling / scalar.as_it_comes.draws, "times");
    row("    drawing over Boost kept in double", sampling / scalar.in_double.draws, "times");

    const job::Job::Jacobian exact = demo.job.jacobian();
    const std::vector<double> value = demo.job.evaluate();
    check(exact.outputs == value, "values beside the Jacobian differ from those alone");
    const std::size_t inputs = demo.job.inputs().size();
    const double jacobian = best_ns(20, 1.0, [&] { demo.job.jacobian(); });
    row("demo job, whole Jacobian (" + std::to_string(value.size()) + " x " +
            std::to_string(inputs) + ")",
        jacobian / 1e3, "us");
    row("    in evaluations on doubles", jacobian / scalar.evaluation, "times");
}

} // namespace fitwright::bench
