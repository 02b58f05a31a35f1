// What each kind of system answers. The public face is fitwright/study/system.hpp.
#pragma once

#include <fitwright/study/system.hpp>

namespace fitwright::study {

struct System::Kind {
    Kind() = default;
    virtual ~Kind() = default;
    Kind& operator=(const Kind&) = delete;
    virtual std::unique_ptr<Kind> copy() const = 0;

    virtual std::span<const job::InputPath> inputs() const = 0;
    virtual std::span<const job::OutputPath> outputs() const = 0;
    virtual std::span<const job::Limit> limits() const = 0;
    virtual std::vector<job::Limit> usual_limits() const = 0;
    virtual int leaf(const std::string& path) const = 0;
    virtual int output(const std::string& state, const std::string& path) const = 0;
    virtual const std::vector<double>& values() const = 0;
    virtual void set(int leaf, double value) = 0;
    virtual void set_limit(const std::string& pattern, const std::string& state, double at_least,
                           double at_most) = 0;
    virtual std::vector<Problem> problems() const = 0;
    virtual std::vector<double> evaluate(const fields::Between&) const = 0;
    virtual fields::Slopes slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                  const fields::Between&) const = 0;
    virtual std::vector<char> one_sided(const std::vector<int>& outputs,
                                        const std::vector<int>& leaves,
                                        const fields::Between&) const = 0;
    virtual std::vector<std::vector<double>> sweep(const std::vector<int>& leaves,
                                                   const std::vector<std::vector<double>>& columns,
                                                   const std::vector<int>& outputs, int threads,
                                                   const fields::Between&) const = 0;
    virtual double solve(int leaf, int output, double target, double lower, double upper,
                         const fields::Between&) const = 0;
    virtual std::string path_of(const Fault&) const = 0;
    virtual Subject subject() const = 0;
    virtual System::Bounded bounded(int output) const = 0;
    virtual job::Level level() const { return job::Level::quick; }
    virtual job::Level level_of(int) const { return job::Level::quick; }
    virtual std::unique_ptr<Kind> at_level(job::Level) const { return copy(); }

protected:
    Kind(const Kind&) = default;
};

std::unique_ptr<System::Kind> kind_of(const job::Job&);
std::unique_ptr<System::Kind> kind_of(const SingleModel&);

// The value of an input that brings an output to its target, asking `evaluate` alone.
double solve_by_evaluating(const System::Kind&, int leaf, int output, double target, double lower,
                           double upper, const fields::Between&);

// A limit told now stands in place of one that was there; the rest stay in order of their outputs.
void put_limit(std::vector<job::Limit>& limits, const job::Limit& told);

} // namespace fitwright::study
