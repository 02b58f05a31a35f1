// A served model as a system: the same formula that one call of it runs.
#include "fields/asked.hpp"
#include "fields/fault_path.hpp"
#include "fields/nearest.hpp"
#include "fields/pause.hpp"
#include "system.hpp"
#include <cmath>

namespace fitwright::study {

namespace {

// What never changes of it, shared by copies and by the studies that run it.
struct Served {
    const fields::Model* model;
    std::string name; // "rings.fit"
    std::vector<fields::Leaf> inputs;
    std::vector<job::OutputPath> outputs;
    std::vector<materials::Entry> entries;
    std::vector<const materials::Material*> materials;
    std::vector<int> choices;

    fields::Context context(const fields::Stop* stop = nullptr) const {
        return {materials.data(), choices.data(), nullptr, stop};
    }
    fields::Served formula() const { return {model->formulas, inputs, outputs.size()}; }
};

std::shared_ptr<const Served> served_of(const SingleModel& single) {
    const fields::Model& model = *single.model;
    auto made = std::make_shared<Served>();
    made->model = &model;
    made->name = std::string(model.text.room) + "." + model.text.name;
    made->inputs = fields::leaves_of(*model.inputs);
    for (const fields::Leaf& leaf : fields::leaves_of(*model.outputs))
        made->outputs.push_back({as_given, leaf.path, leaf.field});
    std::vector<Problem> problems;
    const std::vector<std::string> metals = fields::materials_of(*model.inputs);
    for (std::size_t i = single.materials.size(); i < metals.size(); ++i)
        problems.push_back({metals[i], "must be given"});
    const std::vector<fields::Leaf> choices = fields::choices_of(*model.inputs);
    for (std::size_t i = 0; i < choices.size(); ++i) {
        const std::string words = choices[i].field->words;
        const auto count = 1 + std::count(words.begin(), words.end(), '|');
        if (i >= single.choices.size() || single.choices[i] < 0 || single.choices[i] >= count)
            problems.push_back({choices[i].path, "must be one of " + words});
    }
    if (single.materials.size() > metals.size() || single.choices.size() > choices.size())
        problems.push_back({made->name, "has fewer metals or choices than were given"});
    if (!problems.empty())
        throw DomainError(std::move(problems));
    made->entries = single.materials;
    for (const materials::Entry& entry : made->entries)
        made->materials.push_back(&entry.numbers);
    made->choices = single.choices;
    return made;
}

class Single final : public System::Kind {
public:
    explicit Single(const SingleModel& single)
        : served_(served_of(single))
        , values_(fields::standard_values(*single.model->inputs))
        , limits_(usual_limits()) {}
    std::unique_ptr<Kind> copy() const override { return std::make_unique<Single>(*this); }

    std::span<const job::InputPath> inputs() const override { return served_->inputs; }
    std::span<const job::OutputPath> outputs() const override { return served_->outputs; }
    std::span<const job::Limit> limits() const override { return limits_; }
    std::vector<job::Limit> usual_limits() const override {
        std::vector<job::Limit> limits;
        for (std::size_t i = 0; i < served_->outputs.size(); ++i) {
            const fields::Range& usual = served_->outputs[i].field->range;
            if (!std::isnan(usual.low) || !std::isnan(usual.high))
                limits.push_back({static_cast<int>(i), usual.low, usual.high});
        }
        return limits;
    }
    const std::vector<double>& values() const override { return values_; }
    void set(int leaf, double value) override { values_[static_cast<std::size_t>(leaf)] = value; }

    int leaf(const std::string& path) const override {
        return place_of(served_->inputs, path, "is not an input of ");
    }
    int output(const std::string& state, const std::string& path) const override {
        require_state(state);
        return place_of(served_->outputs, path, "is not an output of ");
    }
    void set_limit(const std::string& pattern, const std::string& state, double at_least,
                   double at_most) override {
        put_limit(limits_, {output(state == "*" ? as_given : state, pattern), at_least, at_most});
    }
    std::vector<Problem> problems() const override {
        try {
            evaluate({});
        } catch (const DomainError& e) {
            return e.problems();
        }
        return {};
    }
    std::vector<double> evaluate(const fields::Between& between) const override {
        return fields::with_pauses(between, [&](const fields::Stop& stop) {
            std::vector<double> outputs(served_->outputs.size());
            fields::evaluate(*served_->model, values_.data(), outputs.data(),
                             served_->context(&stop));
            return outputs;
        });
    }
    fields::Slopes slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                          const fields::Between& between) const override {
        evaluate(between); // the full message, should a rule be broken
        return fields::with_pauses(between, [&](const fields::Stop& stop) {
            return fields::slopes_of(served_->formula(), values_, outputs, leaves,
                                     served_->context(&stop));
        });
    }
    std::vector<char> one_sided(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                const fields::Between& between) const override {
        const fields::Slopes s = slopes(outputs, leaves, between);
        std::vector<char> flags;
        for (const double slope : s.derivatives)
            flags.push_back(s.one_sided && slope != 0.0 ? 1 : 0);
        return flags;
    }
    std::vector<std::vector<double>> sweep(const std::vector<int>& leaves,
                                           const std::vector<std::vector<double>>& columns,
                                           const std::vector<int>& outputs, int threads,
                                           const fields::Between& between) const override {
        const std::int64_t slice = served_->model->in_time ? number::lane_count : 4096;
        fields::Swept swept =
            fields::sweep_of(served_->formula(), values_, leaves, columns, outputs,
                             served_->context(), slice, threads, between);
        if (swept.bad >= 0) {
            Single there = *this;
            for (std::size_t k = 0; k < leaves.size(); ++k)
                there.set(leaves[k], columns[k][static_cast<std::size_t>(swept.bad)]);
            std::vector<Problem> problems = there.problems();
            if (problems.empty())
                problems.push_back({"", "has no answer"});
            for (Problem& p : problems)
                p.text += " (point " + std::to_string(swept.bad) + " of the sweep)";
            throw DomainError(std::move(problems));
        }
        return std::move(swept.columns);
    }
    double solve(int leaf, int output, double target, double lower, double upper,
                 const fields::Between& between) const override {
        return solve_by_evaluating(*this, leaf, output, target, lower, upper, between);
    }
    std::string path_of(const Fault& fault) const override {
        return fields::path_of_fault(*served_->model, fault);
    }
    Subject subject() const override {
        Subject subject{&served_->model->formulas,
                        served_->context(),
                        values_,
                        {},
                        {},
                        static_cast<int>(served_->outputs.size())};
        subject.owner = served_;
        if (served_->model->in_time)
            subject.chunk = small_chunk;
        for (const fields::Leaf& in : served_->inputs) {
            subject.low.push_back(in.field->range.low);
            subject.high.push_back(in.field->range.high);
        }
        return subject;
    }
    System::Bounded bounded(int) const override { return {}; }

private:
    template <class Paths>
    int place_of(const Paths& paths, const std::string& path, const char* rule) const {
        std::vector<std::string> names;
        for (std::size_t i = 0; i < paths.size(); ++i) {
            if (paths[i].path == path)
                return static_cast<int>(i);
            names.push_back(paths[i].path);
        }
        throw DomainError(
            {{path, rule + served_->name + "; nearest: " + fields::nearest(path, names)}});
    }
    void require_state(const std::string& state) const {
        if (state != as_given)
            throw DomainError({{"state", quoted(state) + " is not a state of " + served_->name +
                                             ", which knows \"" + as_given + "\" alone"}});
    }

    std::shared_ptr<const Served> served_;
    std::vector<double> values_;
    std::vector<job::Limit> limits_;
};

} // namespace

std::unique_ptr<System::Kind> kind_of(const SingleModel& single) {
    return std::make_unique<Single>(single);
}

} // namespace fitwright::study
