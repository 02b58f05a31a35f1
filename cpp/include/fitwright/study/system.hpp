// What a study, a search or a solver asks: inputs in, outputs out. A job is one, and so is a single model
// with its inputs told; the questions know no difference.
#pragma once

#include <fitwright/job/job.hpp>
#include <fitwright/study/study.hpp>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace fitwright::study {

// A model with what is structure in it: metals and choices, in the order of its declaration.
struct SingleModel {
    const fields::Model* model;
    std::vector<materials::Entry> materials = {};
    std::vector<int> choices = {};
};
// What the outputs of a single model stand under where those of a job have a state.
inline constexpr const char* as_given = "as_given";

// A value, as a job is: nothing changes in another copy.
class System {
public:
    struct Kind; // what a job and a model do each in their way

    System(const job::Job&); // NOLINT(google-explicit-constructor): a job is one
    // Inputs at their standard values, required ones not told; the limits are those that its outputs
    // declare. Throws DomainError where metals or choices do not fit the model.
    explicit System(const SingleModel&);
    System(const System&);
    System(System&&) noexcept;
    System& operator=(const System&);
    System& operator=(System&&) noexcept;
    ~System();

    std::span<const job::InputPath> inputs() const;
    std::span<const job::OutputPath> outputs() const;
    std::span<const job::Limit> limits() const;
    // Those that hold where nothing is told, of all levels.
    std::vector<job::Limit> usual_limits() const;
    // Of a path; an unknown one throws DomainError with the nearest.
    int leaf(const std::string& path) const;
    int output(const std::string& state, const std::string& path) const;
    const std::vector<double>& values() const;
    void set(int leaf, double value);
    // As Job::set_limit; a model knows one state, as_given or "*".
    void set_limit(const std::string& pattern, const std::string& state, double at_least,
                   double at_most);
    std::vector<Problem> problems() const;

    // As those of a job; they throw DomainError.
    std::vector<double> evaluate(const fields::Between& between = {}) const;
    std::vector<job::Finding> findings(const std::vector<double>& outputs) const;
    fields::Slopes jacobian(const fields::Between& between = {}) const;
    fields::Slopes slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                          const fields::Between& between = {}) const;
    // A model tells of kinks for all its outputs at once: then all that move are marked.
    std::vector<char> one_sided(const fields::Between& between = {}) const;
    std::vector<char> one_sided(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                const fields::Between& between = {}) const;
    std::vector<std::vector<double>> sweep(const std::vector<int>& leaves,
                                           const std::vector<std::vector<double>>& columns,
                                           const std::vector<int>& outputs, int threads,
                                           const fields::Between& between = {}) const;
    double solve(int leaf, int output, double target, double lower, double upper,
                 const fields::Between& between = {}) const;

    std::string path_of(const Fault&) const;
    // How a study runs it; the subject stands on its own.
    Subject subject() const;
    // Where an output can be bounded over a box: the job that does (job::Encloser), and its number there.
    struct Bounded {
        const job::Job* job = nullptr; // null: nowhere
        int output = -1;
    };
    Bounded bounded(int output) const;
    // A single model has the quick level alone, whatever is asked for.
    job::Level level() const;
    job::Level level_of(int output) const;
    System at(job::Level) const;

    explicit System(std::unique_ptr<Kind>);

private:
    std::unique_ptr<Kind> kind_;
};

inline Subject subject_of(const System& system) { return system.subject(); }

} // namespace fitwright::study
