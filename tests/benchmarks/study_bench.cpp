// fitwright_study_bench: the study side of the comparison in study_bench.py, answers as JSON.
//   describe            tables, inputs, spreads, limits, and a few samples with their answers
//   measure SAMPLES     times at the active level (FITWRIGHT_LEVEL)
//   run SAMPLES THREADS one study; prints its peak of memory
#include "bench.hpp"
#include "demo_job.hpp"
#include "packs.hpp"
#include "study_flops.hpp"
#include "study_job.hpp"
#include <algorithm>
#include <cstring>
#include <fitwright/materials/material.hpp>
#include <fstream>
#include <limits>

namespace fitwright::bench {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

struct Subject {
    const materials::Material* materials[2] = {&materials::find("4340").numbers,
                                               &materials::find("52100").numbers};
    fields::AllFormulas formulas = fields::study_formulas<StudyJob>(&StudyJob::run<double>);
    StudyInputs<double> nominal{};
    std::vector<study::Spread> spreads;
    std::vector<study::Tracked> tracked;

    int leaf(const double& member) const {
        return static_cast<int>(&member - reinterpret_cast<const double*>(&nominal));
    }
    void spread(const double& member, study::Shape shape, double deviation, double low,
                double high) {
        const int at = leaf(member);
        spreads.push_back(
            {at, -1, -1, "input " + std::to_string(at), shape, member, deviation, low, high});
    }
    // Uniform and triangular: a share of the value to both sides.
    void around(const double& member, study::Shape shape, double share) {
        spread(member, shape, none, member * (1.0 - share), member * (1.0 + share));
    }

    Subject() {
        using study::Shape;
        constexpr double outside[study_rings] = {0.105, 0.110, 0.120, 0.120, 0.110, 0.105};
        constexpr double length[study_rings] = {0.030, 0.025, 0.035, 0.035, 0.025, 0.030};
        for (int i = 0; i < study_rings; ++i) {
            StudyRing<double>& r = nominal.rings[i];
            r = {80.060e-3, 80e-3, outside[i], length[i], 1.6e-6, 2.5e-6, 0.15, 1.0, 1.0};
            spread(r.seat, Shape::normal, 2e-6, none, none);
            spread(r.bore, Shape::normal, 2e-6, none, none);
            around(r.seat_roughness, Shape::uniform, 0.4);
            around(r.bore_roughness, Shape::uniform, 0.4);
            around(r.friction, Shape::triangular, 0.2);
        }
        nominal.shaft_bore = 30e-3;
        nominal.shaft_modulus = nominal.shaft_expansion = 1.0;
        nominal.torque = 3000.0;
        nominal.thread_friction = nominal.face_friction = 0.125;
        around(nominal.torque, Shape::triangular, 0.1);
        around(nominal.thread_friction, Shape::triangular, 0.15);
        around(nominal.face_friction, Shape::triangular, 0.15);
        constexpr StudyState<double> states[study_states] = {{20.0, 20.0, 0.0, 0.0},
                                                             {60.0, 75.0, 900.0, 5e3},
                                                             {90.0, 100.0, 1150.0, 8e3},
                                                             {40.0, 58.0, 1150.0, 8e3}};
        std::copy(states, states + study_states, nominal.states);
        for (int s = 1; s < study_states; ++s)
            spread(nominal.states[s].ring_temperature, Shape::normal, 2.0, none, none);
        constexpr double clamp[study_states] = {30e3, 215e3, 170e3, 270e3};
        constexpr double pressure[study_states] = {18.5e6, 5e6, 7e6, 1e6};
        constexpr double use[study_states] = {0.083, 0.081, 0.087, 0.082};
        for (int s = 0; s < study_states; ++s) {
            tracked.push_back({3 * s, clamp[s], none});
            tracked.push_back({3 * s + 1, pressure[s], none});
            tracked.push_back({3 * s + 2, none, use[s]});
        }
    }
    fields::Context context() const { return {materials, nullptr, nullptr}; }
    study::Subject subject() const {
        const auto* from = reinterpret_cast<const double*>(&nominal);
        std::vector<double> values(from, from + study_inputs);
        return {&formulas,
                context(),
                values,
                std::vector<double>(values.size(), -1e300),
                std::vector<double>(values.size(), 1e300),
                study_outputs};
    }
    study::Study study(std::int64_t samples) const {
        return {subject(), spreads, tracked, 1, samples};
    }
};

void advance(study::Study& s, int threads) {
    while (s.done() < s.count())
        s.advance(64 * study::chunk, threads);
}

// ---- JSON, as little of it as is needed: no NaN, numbers to the bit

void number_to(std::string& to, double x) {
    char text[40];
    std::snprintf(text, sizeof text, std::isnan(x) ? "null" : "%.17g", x);
    to += text;
}
std::string list(const double* from, std::size_t count) {
    std::string text = "[";
    for (std::size_t k = 0; k < count; ++k) {
        text += k == 0 ? "" : ", ";
        number_to(text, from[k]);
    }
    return text + "]";
}
std::string list(const std::vector<double>& x) { return list(x.data(), x.size()); }
void member(const char* name, const std::string& value, bool last = false) {
    std::printf("\"%s\": %s%s\n", name, value.c_str(), last ? "}" : ",");
}
void member(const char* name, double value, bool last = false) {
    std::string text;
    number_to(text, value);
    member(name, text, last);
}
std::string table(const materials::Table& t) {
    const auto n = static_cast<std::size_t>(t.count);
    std::string first;
    number_to(first, t.first);
    return "[" + first + ", " + list(t.knot, n) + ", " + list(t.slope_change, n) + "]";
}
std::string material(const materials::Material& m) {
    return "[" + table(m.modulus) + ", " + table(m.expansion) + ", " + table(m.yield) + ", " +
           list({m.poisson, m.density}) + "]";
}

void describe(const Subject& job) {
    std::printf("{");
    member("shaft", material(*job.materials[0]));
    member("ring", material(*job.materials[1]));
    member("nut", list({StudyNut::diameter, StudyNut::pitch, StudyNut::face_inside,
                        StudyNut::face_outside}));
    member("nominal", list(job.subject().nominal));
    std::string spreads = "[";
    for (const study::Spread& s : job.spreads)
        spreads += (spreads.size() > 1 ? ", " : "") +
                   list({static_cast<double>(s.leaf), static_cast<double>(s.shape), s.middle,
                         s.deviation, s.low, s.high});
    member("spreads", spreads + "]");
    std::string limits = "[";
    for (const study::Tracked& t : job.tracked)
        limits += (limits.size() > 1 ? ", " : "") + list({t.at_least, t.at_most});
    member("limits", limits + "]");
    const study::Study s = job.study(study::chunk);
    std::string samples = "[";
    std::string answers = "[";
    for (int k = 0; k < 64; ++k) {
        const std::vector<double> in = s.sample(k);
        std::vector<double> out(study_outputs);
        number::Faults<double> faults;
        job.formulas.scalar(in.data(), out.data(), job.context(), faults);
        samples += (k > 0 ? ", " : "") + list(in);
        answers += (k > 0 ? ", " : "") + list(out);
    }
    member("samples", samples + "]");
    member("answers", answers + "]", true);
}

double peak_memory_mb() {
    std::ifstream status("/proc/self/status");
    std::string line;
    while (std::getline(status, line))
        if (line.rfind("VmHWM:", 0) == 0)
            return std::strtod(line.c_str() + 6, nullptr) / 1024.0;
    return none;
}

void answers_of(const study::Study& s) {
    std::vector<double> passed, means, low, high;
    for (std::size_t t = 0; t < study_outputs; ++t) {
        const study::Statistics one = s.statistics(t);
        passed.push_back(static_cast<double>(one.passed) / static_cast<double>(one.count));
        means.push_back(one.mean);
        low.push_back(study::quantile_of(one, 0.01).value);
        high.push_back(study::quantile_of(one, 0.99).value);
    }
    member("yields", list(passed));
    member("means", list(means));
    member("low", list(low));
    member("high", list(high));
    member("out_of_domain", static_cast<double>(s.out_of_domain()));
}

void run(const Subject& job, std::int64_t samples, int threads) {
    study::Study s = job.study(samples);
    const double ns = best_ns(1, static_cast<double>(samples), [&] { advance(s, threads); });
    std::printf("{");
    answers_of(s);
    member("ns", ns);
    member("memory_mb", peak_memory_mb(), true);
}

// The formula on packs that stay in the cache, on any number of threads.
double model_ns(const Subject& job, int threads) {
    study::Study drawn = job.study(study::chunk);
    std::vector<std::vector<double>> samples;
    for (int k = 0; k < 256; ++k)
        samples.push_back(drawn.sample(k));
    std::vector<Packs> packs;
    for (int t = 0; t < threads; ++t)
        packs.emplace_back(samples, study_outputs);
    constexpr int rounds = 100;
    const auto all = [&] {
        fields::run_parallel(rounds * threads, threads, [&](std::int64_t, int thread) {
            packs[static_cast<std::size_t>(thread)].run(job.formulas, job.context(), "study job");
        });
    };
    return best_ns(60, 256.0 * rounds * threads, all);
}

// Every output by every input, as fields::jacobian does it; evaluations in doubles per input.
void derivatives(const Subject& job) {
    const std::vector<double> nominal = job.subject().nominal;
    std::vector<double> out(study_outputs);
    number::Faults<double> faults;
    const double evaluation = best_ns(200, 50.0, [&] {
        for (int k = 0; k < 50; ++k)
            job.formulas.scalar(nominal.data(), out.data(), job.context(), faults);
    });
    member("evaluation_ns", evaluation);
    const DemoJob& demo = demo_job();
    const double demo_evaluation = best_ns(200, 20.0, [&] {
        for (int k = 0; k < 20; ++k)
            demo.job.evaluate();
    });
    const double jacobian = best_ns(100, 1.0, [&] { demo.job.jacobian(); });
    member("derivative_cost",
           jacobian / demo_evaluation / static_cast<double>(demo.job.inputs().size()));
}

void measure(const Subject& job, std::int64_t samples, int threads) {
    std::printf("{");
    Counted::additions = Counted::multiplications = Counted::divisions = Counted::roots = 0;
    {
        const std::vector<double> nominal = job.subject().nominal;
        const std::vector<Counted> in(nominal.begin(), nominal.end());
        std::vector<Counted> out(study_outputs);
        number::Faults<Counted> faults;
        StudyJob::run(in.data(), out.data(), job.context(), faults);
    }
    const auto operations = static_cast<double>(Counted::additions + Counted::multiplications +
                                                Counted::divisions + Counted::roots);
    member("operations", operations);
    member("divisions", static_cast<double>(Counted::divisions));
    member("roots", static_cast<double>(Counted::roots));
    constexpr long rounds = 1'000'000;
    volatile double sink = 1.0;
    at_active_level([&]<class Level>(Level) {
        const double ns = best_ns(40, rounds * 24.0 * Level::register_width,
                                  [&] { sink = multiply_add<Level>(rounds, sink); });
        member("peak", 1.0 / ns);
    });
    member("model_1", model_ns(job, 1));
    member("model", model_ns(job, threads));
    // In turn, so that a quiet moment of the machine serves both.
    double alone = 1e300;
    double together = 1e300;
    const auto start = std::chrono::steady_clock::now();
    while (std::chrono::steady_clock::now() - start < std::chrono::seconds(5))
        for (const int n : {1, threads}) {
            study::Study s = job.study(samples);
            double& best = n == 1 ? alone : together;
            best =
                std::fmin(best, best_ns(1, static_cast<double>(samples), [&] { advance(s, n); }));
        }
    member("study_1", alone);
    // Of which: a model that computes nothing leaves the drawing, and with no output watched no
    // statistics either.
    const fields::AllFormulas nothing = fields::study_formulas<Nothing>(&Nothing::run<double>);
    study::Subject empty = job.subject();
    empty.formulas = &nothing;
    const auto alone_ns = [&](const std::vector<study::Tracked>& tracked) {
        double best = 1e300;
        for (int k = 0; k < 25; ++k) {
            study::Study s(empty, job.spreads, tracked, 1, samples);
            best =
                std::fmin(best, best_ns(1, static_cast<double>(samples), [&] { advance(s, 1); }));
        }
        return best;
    };
    const double drawing = alone_ns({});
    member("drawing", drawing);
    member("statistics", std::fmax(0.0, alone_ns(job.tracked) - drawing));
    member("study", together);
    derivatives(job);
    study::Study s = job.study(samples);
    advance(s, threads);
    answers_of(s);
    member("level", fields::active_level(), true);
}

} // namespace

} // namespace fitwright::bench

int main(int count, char** words) {
    using namespace fitwright::bench;
    const Subject job;
    const std::string what = count > 1 ? words[1] : "describe";
    const std::int64_t samples = count > 2 ? std::atoll(words[2]) : 1'000'000;
    const int threads = count > 3 ? std::atoi(words[3]) : 2;
    if (what == "describe")
        describe(job);
    else if (what == "measure")
        measure(job, samples, threads);
    else
        run(job, samples, threads);
    return 0;
}
