// What tests of jobs share: numbers by path, the blower with oil, and checks of a whole job.
#pragma once

#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <cstring>
#include <initializer_list>
#include <string>
#include <vector>

namespace job_checks {

using namespace fitwright;

inline std::size_t at(int number) { return static_cast<std::size_t>(number); }
inline double value(const job::Job& job, const std::string& state, const std::string& path) {
    return job.evaluate()[at(job.output(state, "bearing." + path))];
}
inline double input(const job::Job& job, const std::string& path) {
    return job.values()[at(job.leaf(path))];
}
inline std::string told(const job::Job& job) {
    std::string text;
    for (const Problem& p : job.problems())
        text += p.path + ": " + p.text + "\n";
    return text;
}

// The blower by a plan of more than its own, with oil in its bearing.
inline job::Job oiled_blower(const job::Plan& plan) {
    job::Job job(plan);
    const job::Job plain = cases::blower();
    for (std::size_t i = 0; i < plain.inputs().size(); ++i)
        job.set(job.leaf(plain.inputs()[i].path), plain.values()[i]);
    cases::give(job, "service.", {{"viscosity_40", 46e-6}, {"viscosity_100", 6.8e-6}});
    return job;
}

// Derivatives of the bearing at full load against differences.
inline void check_slopes(const job::Job& job, std::initializer_list<const char*> inputs,
                         std::initializer_list<const char*> outputs, double epsilon,
                         double margin) {
    const auto j = job.jacobian();
    const std::size_t width = job.inputs().size();
    for (const char* path : inputs)
        for (const char* output : outputs) {
            const int leaf = job.leaf(path);
            const double x = job.values()[at(leaf)];
            const double h = std::fabs(x) * 1e-5;
            job::Job up = job;
            job::Job down = job;
            up.set(leaf, x + h);
            down.set(leaf, x - h);
            const double slope =
                (value(up, "full_load", output) - value(down, "full_load", output)) / (2.0 * h);
            const int row = job.output("full_load", std::string("bearing.") + output);
            const double scale = std::fabs(value(job, "full_load", output) / x) * margin;
            CAPTURE(path, output);
            CHECK(j.derivatives[at(row) * width + at(leaf)] ==
                  Approx(slope).epsilon(epsilon).margin(scale));
        }
}

// How many numbers of a sweep, on lanes, differ from one evaluation after the other.
inline int different_bits(const job::Job& job, const std::vector<int>& vary,
                          const std::vector<std::vector<double>>& columns) {
    std::vector<int> all;
    for (std::size_t i = 0; i < job.outputs().size(); ++i)
        all.push_back(static_cast<int>(i));
    const auto swept = job.sweep(vary, columns, all, 2);
    int different = 0;
    for (std::size_t k = 0; k < columns[0].size(); ++k) {
        job::Job there = job;
        for (std::size_t c = 0; c < columns.size(); ++c)
            there.set(vary[c], columns[c][k]);
        const auto one = there.evaluate();
        for (std::size_t i = 0; i < one.size(); ++i)
            different += std::memcmp(&one[i], &swept[i][k], sizeof(double)) != 0;
    }
    return different;
}

} // namespace job_checks
