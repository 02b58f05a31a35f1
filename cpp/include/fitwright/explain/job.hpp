// The calculation of a whole job at its quick level, shown: what a model's is (model.hpp), in one piece from the
// job file to any output.
#pragma once

#include <fitwright/explain/lines.hpp>
#include <fitwright/job/job.hpp>

namespace fitwright::explain {

class JobCalculation {
public:
    // Throws DomainError where the job cannot be evaluated.
    explicit JobCalculation(const job::Job& job);
    const Recording& recording() const { return recording_; }
    const Words& words() const { return words_; }
    // `output` is a number of the quick level.
    std::vector<Line> lines(const std::vector<int>& outputs) const {
        return lines_of(recording_, words_, outputs);
    }
    // The limits of validity that apply, each once, the nearest first.
    struct Limit {
        std::string path, sentence, compared;
        double room; // relative difference of the two sides
    };
    std::vector<Limit> limits() const;
    double value(int output) const;

private:
    job::Job job_;
    Recording recording_;
    Words words_;
};

} // namespace fitwright::explain
