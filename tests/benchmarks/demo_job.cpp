#include "demo_job.hpp"
#include "bench.hpp"
#include <limits>

namespace fitwright::bench {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();

struct Number {
    std::string path;
    double value, low, high; // ends of a field that has them
};
struct Scatter {
    std::string path;
    study::Shape shape;
    double value, deviation, low, high;
};
struct Bounds {
    std::string output, state;
    double at_least, at_most;
};

#include "demo_data.hpp"

bool has_ends(const job::Job& job, int leaf) {
    const auto next = static_cast<std::size_t>(leaf) + 1;
    return next < job.inputs().size() && job.inputs()[next].field->kind == fields::Kind::low_end;
}

DemoJob make() {
    DemoJob demo{job::Job(plan()), {}, {}};
    job::Job& job = demo.job;
    for (const Number& n : numbers) {
        const int leaf = job.leaf(n.path);
        job.set(leaf, n.value);
        if (has_ends(job, leaf) && !std::isnan(n.low)) {
            job.set(leaf + 1, n.low);
            job.set(leaf + 2, n.high);
        }
    }
    for (const Scatter& s : scatters) {
        const int leaf = job.leaf(s.path);
        const bool ends = has_ends(job, leaf);
        demo.spreads.push_back({leaf, ends ? leaf + 1 : -1, ends ? leaf + 2 : -1, s.path, s.shape,
                                s.value, s.deviation, s.low, s.high});
    }
    for (const Bounds& b : limits)
        job.set_limit(b.output, b.state, b.at_least, b.at_most);
    for (const job::Limit& l : job.limits())
        demo.tracked.push_back({l.output, l.at_least, l.at_most});
    for (const Problem& p : job.problems())
        check(false, "demo job: " + p.path + " " + p.text);
    return demo;
}

} // namespace

study::Subject DemoJob::subject() const {
    study::Subject s{&job::quick_formulas(),   job.context(), job.values(), {}, {},
                     job.layout().output_count};
    for (const job::InputPath& in : job.inputs()) {
        s.low.push_back(in.field->range.low);
        s.high.push_back(in.field->range.high);
    }
    return s;
}

const DemoJob& demo_job() {
    static const DemoJob demo = make();
    return demo;
}

} // namespace fitwright::bench
