#include "detail/own.hpp"
#include "fields/asked.hpp"
#include "fields/at_level.hpp"
#include "fields/nearest.hpp"
#include "fields/pause.hpp"
#include "system.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/rules.hpp>
#include <fitwright/study/own_outputs.hpp>
#include <map>

namespace fitwright::study {

namespace {

static_assert(own_depth == expression_depth && static_cast<int>(Operation::greatest) == 11);

// A few directions at a time are enough for what an expression names.
using Slope = number::Dual<number::direction_count<number::Isa<0>>, number::Isa<0>>;

// What never changes of it, shared by copies.
struct Own {
    std::vector<OwnOutput> told;
    std::vector<fields::Field> fields;
    std::vector<std::vector<OwnStep>> steps;
    std::vector<OwnExpression> expressions;
    std::vector<std::vector<int>> used;   // outputs of the system that each names, in order
    std::vector<job::OutputPath> outputs; // own ones first
    fields::AllFormulas formulas;

    std::size_t count() const { return told.size(); }
};

// How many values wait after each step; what is wrong, or nothing.
std::string problem_of(const OwnOutput& o, std::size_t inputs, std::size_t outputs) {
    int n = 0;
    int most = 0;
    for (const Step& s : o.steps) {
        const bool leaf = s.what <= Operation::number;
        const bool one = s.what == Operation::negate || s.what == Operation::absolute ||
                         s.what == Operation::root;
        if (!leaf && n < (one ? 1 : 2))
            return "is no expression that comes out";
        n += leaf ? 1 : one ? 0 : -1;
        most = std::max(most, n);
        const std::size_t there = s.what == Operation::input    ? inputs
                                  : s.what == Operation::output ? outputs
                                                                : 1;
        if (leaf && (s.place < 0 || static_cast<std::size_t>(s.place) >= there))
            return "names what is not there at the quick level";
        if (s.what == Operation::number && !std::isfinite(s.value))
            return "holds a number that is not finite";
    }
    if (n != 1)
        return "is no expression that comes out";
    if (most > own_depth)
        return "holds more than " + std::to_string(own_depth) + " values at a time";
    return {};
}

std::shared_ptr<const Own> made_of(const System& system, const std::vector<OwnOutput>& told) {
    std::vector<Problem> problems;
    if (told.size() > static_cast<std::size_t>(own_output_limit))
        problems.push_back({"outputs", std::to_string(told.size()) +
                                           " outputs of one's own: at most " +
                                           std::to_string(own_output_limit)});
    const Subject subject = system.subject();
    const std::size_t quick = subject.stage_ends.empty()
                                  ? system.outputs().size()
                                  : static_cast<std::size_t>(subject.stage_ends.front());
    for (const OwnOutput& o : told)
        if (std::string text = problem_of(o, system.inputs().size(), quick); !text.empty())
            problems.push_back({o.name, std::move(text)});
    if (!problems.empty())
        throw DomainError(std::move(problems));
    auto own = std::make_shared<Own>();
    own->told = told;
    for (const OwnOutput& o : own->told) {
        own->fields.push_back({fields::Kind::number, o.name.c_str(), o.quantity,
                               fields::Range{o.at_least, o.at_most}, o.scale, o.meaning.c_str()});
        std::vector<int> used;
        std::vector<OwnStep> steps;
        for (const Step& s : o.steps) {
            steps.push_back({static_cast<int>(s.what), s.place, s.value});
            if (s.what == Operation::output &&
                std::find(used.begin(), used.end(), s.place) == used.end())
                used.push_back(s.place);
        }
        own->steps.push_back(std::move(steps));
        own->used.push_back(std::move(used));
    }
    for (std::size_t i = 0; i < own->count(); ++i) {
        own->expressions.push_back({own->steps[i].data(), static_cast<int>(own->steps[i].size())});
        own->outputs.push_back({own->told[i].state, own->told[i].name, &own->fields[i]});
    }
    own->outputs.insert(own->outputs.end(), system.outputs().begin(), system.outputs().end());
    own->formulas = fields::study_formulas<WithOwn>(&WithOwn::run<double>);
    return own;
}

class WithOwnOutputs final : public System::Kind {
public:
    WithOwnOutputs(const System& system, std::shared_ptr<const Own> own)
        : inner_(system)
        , own_(std::move(own)) {
        for (std::size_t i = 0; i < own_->count(); ++i) {
            const OwnOutput& o = own_->told[i];
            if (!std::isnan(o.at_least) || !std::isnan(o.at_most))
                limits_.push_back({static_cast<int>(i), o.at_least, o.at_most});
        }
        take_limits();
    }
    std::unique_ptr<Kind> copy() const override { return std::make_unique<WithOwnOutputs>(*this); }

    std::span<const job::InputPath> inputs() const override { return inner_.inputs(); }
    std::span<const job::OutputPath> outputs() const override { return own_->outputs; }
    std::span<const job::Limit> limits() const override { return limits_; }
    std::vector<job::Limit> usual_limits() const override {
        std::vector<job::Limit> all;
        for (const job::Limit& l : inner_.usual_limits())
            all.push_back({l.output + shift(), l.at_least, l.at_most});
        return all;
    }
    int leaf(const std::string& path) const override { return inner_.leaf(path); }
    int output(const std::string& state, const std::string& path) const override {
        for (std::size_t i = 0; i < own_->count(); ++i)
            if (own_->told[i].name == path && own_->told[i].state == state)
                return static_cast<int>(i);
        return inner_.output(state, path) + shift();
    }
    const std::vector<double>& values() const override { return inner_.values(); }
    void set(int leaf, double value) override { inner_.set(leaf, value); }
    void set_limit(const std::string& pattern, const std::string& state, double at_least,
                   double at_most) override {
        bool mine = false;
        for (std::size_t i = 0; i < own_->count(); ++i)
            if (own_->told[i].name == pattern && (state == "*" || own_->told[i].state == state)) {
                put_limit(limits_, {static_cast<int>(i), at_least, at_most});
                mine = true;
            }
        if (mine)
            return;
        inner_.set_limit(pattern, state, at_least, at_most);
        take_limits();
    }
    std::vector<Problem> problems() const override {
        std::vector<Problem> found = inner_.problems();
        if (found.empty())
            try {
                evaluate({});
            } catch (const DomainError& e) {
                found = e.problems();
            }
        return found;
    }
    std::vector<double> evaluate(const fields::Between& between) const override {
        return with_own(inner_.evaluate(between), inner_.values());
    }
    fields::Slopes slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                          const fields::Between& between) const override {
        // Those of the system that are asked for, or named by what is asked for.
        std::vector<int> rows;
        for (const int o : outputs)
            for (const int u : o < shift() ? own_->used[at(o)] : std::vector<int>{o - shift()})
                rows.push_back(u);
        std::sort(rows.begin(), rows.end());
        rows.erase(std::unique(rows.begin(), rows.end()), rows.end());
        const fields::Slopes inner = inner_.slopes(rows, leaves, between);
        const auto row_of = [&](int output) {
            const auto place = std::lower_bound(rows.begin(), rows.end(), output) - rows.begin();
            return inner.derivatives.data() + static_cast<std::size_t>(place) * leaves.size();
        };
        fields::Slopes found{with_own(inner.outputs, inner_.values()),
                             std::vector<double>(outputs.size() * leaves.size()), inner.one_sided};
        for (std::size_t k = 0; k < outputs.size(); ++k) {
            double* to = found.derivatives.data() + k * leaves.size();
            if (outputs[k] >= shift()) {
                std::copy_n(row_of(outputs[k] - shift()), leaves.size(), to);
                continue;
            }
            const Parts parts = parts_of(outputs[k], inner.outputs);
            found.one_sided = found.one_sided || parts.kink;
            for (std::size_t i = 0; i < leaves.size(); ++i) {
                double sum = 0.0;
                for (const auto& [output, slope] : parts.by_output)
                    sum += slope * row_of(output)[i];
                if (const auto direct = parts.by_input.find(leaves[i]);
                    direct != parts.by_input.end())
                    sum += direct->second;
                to[i] = sum;
            }
        }
        return found;
    }
    std::vector<char> one_sided(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                const fields::Between& between) const override {
        std::vector<int> rows;
        for (const int o : outputs)
            for (const int u : o < shift() ? own_->used[at(o)] : std::vector<int>{o - shift()})
                rows.push_back(u);
        const std::vector<char> inner = inner_.one_sided(rows, leaves, between);
        std::vector<double> values;
        std::vector<char> flags;
        std::size_t row = 0;
        for (const int o : outputs) {
            const std::size_t begin = row;
            row += o < shift() ? own_->used[at(o)].size() : 1;
            if (o < shift() && values.empty())
                values = inner_.evaluate(between);
            const Parts parts = o < shift() ? parts_of(o, values) : Parts{};
            for (std::size_t i = 0; i < leaves.size(); ++i) {
                bool any = parts.kink;
                for (std::size_t r = begin; r < row; ++r)
                    any = any || inner[r * leaves.size() + i] != 0;
                flags.push_back(any ? 1 : 0);
            }
        }
        return flags;
    }
    std::vector<std::vector<double>> sweep(const std::vector<int>& leaves,
                                           const std::vector<std::vector<double>>& columns,
                                           const std::vector<int>& outputs, int threads,
                                           const fields::Between& between) const override {
        std::map<int, std::size_t> column_of; // of outputs of the system
        std::vector<int> rows;
        for (const int o : outputs)
            for (const int u : o < shift() ? own_->used[at(o)] : std::vector<int>{o - shift()})
                if (column_of.emplace(u, rows.size()).second)
                    rows.push_back(u);
        const auto inner = inner_.sweep(leaves, columns, rows, threads, between);
        const std::size_t count = columns.empty() ? 0 : columns.front().size();
        std::vector<std::vector<double>> found;
        std::vector<double> in = inner_.values();
        std::vector<double> out(own_->outputs.size() - own_->count());
        for (const int o : outputs) {
            if (o >= shift()) {
                found.push_back(inner[column_of.at(o - shift())]);
                continue;
            }
            std::vector<double> column;
            for (std::size_t k = 0; k < count; ++k) {
                for (std::size_t i = 0; i < leaves.size(); ++i)
                    in[at(leaves[i])] = columns[i][k];
                for (const int u : own_->used[at(o)])
                    out[at(u)] = inner[column_of.at(u)][k];
                column.push_back(
                    one(o, in, out, " (point " + std::to_string(k) + " of the sweep)"));
            }
            found.push_back(std::move(column));
        }
        return found;
    }
    double solve(int leaf, int output, double target, double lower, double upper,
                 const fields::Between& between) const override {
        if (output >= shift())
            return inner_.solve(leaf, output - shift(), target, lower, upper, between);
        return solve_by_evaluating(*this, leaf, output, target, lower, upper, between);
    }
    std::string path_of(const Fault& fault) const override {
        if (fault.rule == rules::divisor_not_zero || fault.rule == rules::root_of_positive)
            return own_->told[at(fault.place)].name;
        return inner_.path_of(fault);
    }
    Subject subject() const override {
        struct Kept {
            Subject inner;
            std::shared_ptr<const Own> own;
            OwnWork work;
            fields::AllFormulas formulas;
        };
        auto kept = std::make_shared<Kept>(Kept{inner_.subject(), own_, {}, own_->formulas});
        const fields::AllFormulas& all = *kept->inner.formulas;
        kept->formulas.levels = all.levels;
        kept->work = {all.scalar,
                      all.baseline,
                      all.v2,
                      all.v3,
                      all.v4,
                      kept->inner.context,
                      own_->expressions.data(),
                      shift()};
        Subject subject = kept->inner;
        subject.formulas = &kept->formulas;
        subject.context = {nullptr, nullptr, &kept->work, nullptr};
        subject.output_count += shift();
        for (int& end : subject.stage_ends)
            end += shift();
        subject.owner = kept;
        return subject;
    }
    System::Bounded bounded(int output) const override {
        return output < shift() ? System::Bounded{} : inner_.bounded(output - shift());
    }
    job::Level level() const override { return inner_.level(); }
    job::Level level_of(int output) const override {
        return output < shift() ? job::Level::quick : inner_.level_of(output - shift());
    }
    std::unique_ptr<Kind> at_level(job::Level level) const override {
        const System there = inner_.at(level);
        auto made = std::make_unique<WithOwnOutputs>(there, made_of(there, own_->told));
        for (const job::Limit& l : limits_)
            if (l.output < shift())
                put_limit(made->limits_, l);
        return made;
    }

private:
    static std::size_t at(int i) { return static_cast<std::size_t>(i); }
    int shift() const { return static_cast<int>(own_->count()); }
    void take_limits() {
        std::vector<job::Limit> all;
        for (const job::Limit& l : limits_)
            if (l.output < shift())
                all.push_back(l);
        for (const job::Limit& l : inner_.limits())
            all.push_back({l.output + shift(), l.at_least, l.at_most});
        limits_ = std::move(all);
    }
    // One of them, from what the system gave. Throws DomainError.
    double one(int output, const std::vector<double>& in, const std::vector<double>& out,
               const std::string& where) const {
        number::Faults<double> faults;
        try {
            const double value =
                value_of(own_->expressions[at(output)], in.data(), out.data(), faults);
            if (std::isfinite(value))
                return value;
        } catch (const Fault& fault) {
            throw DomainError({{own_->told[at(output)].name, fault_text(fault) + where}});
        }
        throw DomainError({{own_->told[at(output)].name, "is not finite" + where}});
    }
    std::vector<double> with_own(const std::vector<double>& out,
                                 const std::vector<double>& in) const {
        std::vector<double> all;
        for (int i = 0; i < shift(); ++i)
            all.push_back(one(i, in, out, ""));
        all.insert(all.end(), out.begin(), out.end());
        return all;
    }
    // Derivatives of an expression by what it names.
    struct Parts {
        std::map<int, double> by_output, by_input;
        bool kink = false;
    };
    Parts parts_of(int output, const std::vector<double>& out) const {
        Parts parts;
        std::vector<std::pair<Operation, int>> named;
        for (const Step& s : own_->told[at(output)].steps) {
            const std::pair<Operation, int> name{s.what, s.place};
            if ((s.what == Operation::output || s.what == Operation::input) &&
                std::find(named.begin(), named.end(), name) == named.end())
                named.push_back(name);
        }
        std::vector<Slope> in(inner_.values().begin(), inner_.values().end());
        std::vector<Slope> from(out.begin(), out.end());
        for (std::size_t first = 0; first < named.size(); first += Slope::directions) {
            const std::size_t last =
                std::min(named.size(), first + static_cast<std::size_t>(Slope::directions));
            const auto seed = [&](double value) {
                for (std::size_t k = first; k < last; ++k) {
                    Slope& x = named[k].first == Operation::output ? from[at(named[k].second)]
                                                                   : in[at(named[k].second)];
                    x.d.set_lane(static_cast<int>(k - first), value);
                }
            };
            seed(1.0);
            number::Faults<Slope> faults;
            const Slope value =
                value_of(own_->expressions[at(output)], in.data(), from.data(), faults);
            seed(0.0);
            parts.kink = parts.kink || faults.one_sided;
            for (std::size_t k = first; k < last; ++k)
                (named[k].first == Operation::output ? parts.by_output
                                                     : parts.by_input)[named[k].second] =
                    value.d.lane(static_cast<int>(k - first));
        }
        return parts;
    }

    System inner_;
    std::shared_ptr<const Own> own_;
    std::vector<job::Limit> limits_;
};

} // namespace

System with_own_outputs(const System& system, const std::vector<OwnOutput>& told) {
    return System(std::make_unique<WithOwnOutputs>(system, made_of(system, told)));
}

} // namespace fitwright::study
