#include "system.hpp"
#include <algorithm>
#include <numeric>

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
    const job::Job* bounded() const override { return &job_; }

private:
    job::Job job_;
};

} // namespace

std::unique_ptr<System::Kind> kind_of(const job::Job& job) {
    return std::make_unique<WholeJob>(job);
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
System::System(const System& other)
    : kind_(other.kind_->copy()) {}
System::System(System&&) noexcept = default;
System& System::operator=(const System& other) {
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
const job::Job* System::bounded() const { return kind_->bounded(); }

} // namespace fitwright::study
