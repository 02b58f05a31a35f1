#include "system.hpp"
#include "fields/asked.hpp"
#include "fields/pause.hpp"
#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace fitwright::study {

namespace {

std::vector<int> all_of(std::size_t count) {
    std::vector<int> numbers(count);
    std::iota(numbers.begin(), numbers.end(), 0);
    return numbers;
}

class WholeJob final : public System::Kind {
public:
    explicit WholeJob(const job::Job& job)
        : job_(job) {}
    std::unique_ptr<Kind> copy() const override { return std::make_unique<WholeJob>(*this); }

    std::span<const job::InputPath> inputs() const override { return job_.inputs(); }
    std::span<const job::OutputPath> outputs() const override { return job_.outputs(); }
    std::span<const job::Limit> limits() const override { return job_.limits(); }
    std::vector<job::Limit> usual_limits() const override { return job_.usual_limits(); }
    int leaf(const std::string& path) const override { return job_.leaf(path); }
    int output(const std::string& state, const std::string& path) const override {
        return job_.output(state, path);
    }
    const std::vector<double>& values() const override { return job_.values(); }
    void set(int leaf, double value) override { job_.set(leaf, value); }
    void set_limit(const std::string& pattern, const std::string& state, double at_least,
                   double at_most) override {
        job_.set_limit(pattern, state, at_least, at_most);
    }
    std::vector<Problem> problems() const override { return job_.problems(); }
    std::vector<double> evaluate(const fields::Between& between) const override {
        return job_.evaluate(between);
    }
    fields::Slopes slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                          const fields::Between& between) const override {
        return job_.slopes(outputs, leaves, between);
    }
    std::vector<char> one_sided(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                const fields::Between& between) const override {
        return job_.one_sided(outputs, leaves, between);
    }
    std::vector<std::vector<double>> sweep(const std::vector<int>& leaves,
                                           const std::vector<std::vector<double>>& columns,
                                           const std::vector<int>& outputs, int threads,
                                           const fields::Between& between) const override {
        return job_.sweep(leaves, columns, outputs, threads, between);
    }
    double solve(int leaf, int output, double target, double lower, double upper,
                 const fields::Between& between) const override {
        return job_.solve(leaf, output, target, lower, upper, between);
    }
    std::string path_of(const Fault& fault) const override { return job_.path_of(fault); }
    Subject subject() const override {
        const auto kept = std::make_shared<const job::Job>(job_);
        Subject subject{&kept->formulas(),   kept->context(), kept->values(), {}, {},
                        kept->output_count()};
        subject.owner = kept;
        for (int level = 0; level < static_cast<int>(kept->level()); ++level)
            subject.stage_ends.push_back(kept->layout().outputs_at(static_cast<job::Level>(level)));
        if (kept->level() != job::Level::quick)
            subject.chunk = small_chunk;
        for (const job::InputPath& in : kept->inputs()) {
            subject.low.push_back(in.field->range.low);
            subject.high.push_back(in.field->range.high);
        }
        return subject;
    }
    System::Bounded bounded(int output) const override { return {&job_, output}; }
    job::Level level() const override { return job_.level(); }
    job::Level level_of(int output) const override {
        int level = 0;
        while (output >= job_.layout().outputs_at(static_cast<job::Level>(level)))
            ++level;
        return static_cast<job::Level>(level);
    }
    std::unique_ptr<Kind> at_level(job::Level level) const override {
        return std::make_unique<WholeJob>(job_.at(level));
    }

private:
    job::Job job_;
};

} // namespace

std::unique_ptr<System::Kind> kind_of(const job::Job& job) {
    return std::make_unique<WholeJob>(job);
}

double solve_by_evaluating(const System::Kind& kind, int leaf, int output, double target,
                           double lower, double upper, const fields::Between& between) {
    const auto i = static_cast<std::size_t>(leaf);
    const auto o = static_cast<std::size_t>(output);
    fields::Pace pace(between);
    const std::unique_ptr<System::Kind> there = kind.copy();
    const auto probe = [&](double x) {
        pace();
        there->set(leaf, x);
        try {
            return fields::Probe{x, there->evaluate(between)[o] - target, true};
        } catch (const DomainError&) {
            return fields::Probe{x, 0.0, false};
        }
    };
    // What is left out is worked out from others: it starts at nothing, or where the range does.
    const fields::Range& range = kind.inputs()[i].field->range;
    const double value = kind.values()[i];
    const double start =
        std::isfinite(value) ? value : std::min(std::max(0.0, range.low), range.high);
    const job::OutputPath& wanted = kind.outputs()[o];
    return fields::solve_for({kind.inputs()[i], {wanted.path, wanted.field}, target, lower, upper},
                             start, probe, [&] { there->evaluate(between); });
}

void put_limit(std::vector<job::Limit>& limits, const job::Limit& told) {
    const auto before = [](const job::Limit& a, const job::Limit& b) {
        return a.output < b.output;
    };
    const auto place = std::lower_bound(limits.begin(), limits.end(), told, before);
    if (place != limits.end() && place->output == told.output)
        *place = told;
    else
        limits.insert(place, told);
}

System::System(const job::Job& job)
    : kind_(kind_of(job)) {}
System::System(const SingleModel& single)
    : kind_(kind_of(single)) {}
System::System(std::unique_ptr<Kind> kind)
    : kind_(std::move(kind)) {}
System::System(const System& other)
    : kind_(other.kind_->copy()) {}
System::System(System&&) noexcept = default;
System& System::operator=(const System& other) {
    if (this != &other)
        kind_ = other.kind_->copy();
    return *this;
}
System& System::operator=(System&&) noexcept = default;
System::~System() = default;

std::span<const job::InputPath> System::inputs() const { return kind_->inputs(); }
std::span<const job::OutputPath> System::outputs() const { return kind_->outputs(); }
std::span<const job::Limit> System::limits() const { return kind_->limits(); }
std::vector<job::Limit> System::usual_limits() const { return kind_->usual_limits(); }
int System::leaf(const std::string& path) const { return kind_->leaf(path); }
int System::output(const std::string& state, const std::string& path) const {
    return kind_->output(state, path);
}
const std::vector<double>& System::values() const { return kind_->values(); }
void System::set(int leaf, double value) { kind_->set(leaf, value); }
void System::set_limit(const std::string& pattern, const std::string& state, double at_least,
                       double at_most) {
    kind_->set_limit(pattern, state, at_least, at_most);
}
std::vector<Problem> System::problems() const { return kind_->problems(); }
std::vector<double> System::evaluate(const fields::Between& between) const {
    return kind_->evaluate(between);
}
std::vector<job::Finding> System::findings(const std::vector<double>& found) const {
    return job::findings_of(outputs(), limits(), found);
}
fields::Slopes System::slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                              const fields::Between& between) const {
    return kind_->slopes(outputs, leaves, between);
}
fields::Slopes System::jacobian(const fields::Between& between) const {
    return slopes(all_of(outputs().size()), all_of(inputs().size()), between);
}
std::vector<char> System::one_sided(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                    const fields::Between& between) const {
    return kind_->one_sided(outputs, leaves, between);
}
std::vector<char> System::one_sided(const fields::Between& between) const {
    return one_sided(all_of(outputs().size()), all_of(inputs().size()), between);
}
std::vector<std::vector<double>> System::sweep(const std::vector<int>& leaves,
                                               const std::vector<std::vector<double>>& columns,
                                               const std::vector<int>& outputs, int threads,
                                               const fields::Between& between) const {
    return kind_->sweep(leaves, columns, outputs, threads, between);
}
double System::solve(int leaf, int output, double target, double lower, double upper,
                     const fields::Between& between) const {
    return kind_->solve(leaf, output, target, lower, upper, between);
}
std::string System::path_of(const Fault& fault) const { return kind_->path_of(fault); }
Subject System::subject() const { return kind_->subject(); }
System::Bounded System::bounded(int output) const { return kind_->bounded(output); }
job::Level System::level() const { return kind_->level(); }
job::Level System::level_of(int output) const {
    if (output < 0 || static_cast<std::size_t>(output) >= outputs().size())
        throw std::out_of_range("no such output");
    return kind_->level_of(output);
}
System System::at(job::Level level) const { return System(kind_->at_level(level)); }

} // namespace fitwright::study
