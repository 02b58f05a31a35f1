// Inputs as independent normal scores.
#pragma once

#include "detail/draw.hpp"
#include "spread.hpp"

namespace fitwright::study {

class Scores {
public:
    Scores(const std::vector<Spread>& spreads, const std::vector<Correlation>& correlations)
        : mixing_(mixing_of(correlations, spreads.size())) {
        data_.reserve(spreads.size()); // streams point into it
        for (const Spread& s : spreads) {
            data_.push_back(data_of(s, -1, 0));
            streams_.push_back(stream_of(s, data_.back()));
        }
    }
    Scores(const Scores&) = delete;
    Scores& operator=(const Scores&) = delete;

    std::size_t count() const { return streams_.size(); }
    const std::vector<Stream>& streams() const { return streams_; }
    double value(std::size_t i, double score) const {
        const Stream& s = streams_[i];
        return comes_from_score(s) ? value_of_score(s, score)
                                   : value_at(s, normal_probability(score));
    }
    double slope(std::size_t i, double score) const {
        const Stream& s = streams_[i];
        if (static_cast<Shape>(s.shape) == Shape::normal)
            return s.deviation;
        const double h = 1e-4;
        return (value(i, score + h) - value(i, score - h)) / (2.0 * h);
    }
    // Scores as the inputs have them, correlated, of independent ones.
    void mix(const double* u, double* z) const {
        std::copy_n(u, count(), z);
        const double* row = mixing_.triangle.data();
        for (std::size_t i = 0; i < mixing_.streams.size(); ++i) {
            double sum = 0.0;
            for (auto k = static_cast<std::size_t>(mixing_.from[i]); k <= i; ++k)
                sum += u[mixing_.streams[k]] * *row++;
            z[mixing_.streams[i]] = sum;
        }
    }
    // Slopes by independent scores, of those by correlated ones.
    void unmix(const double* by_z, double* by_u) const {
        std::copy_n(by_z, count(), by_u);
        for (const int s : mixing_.streams)
            by_u[s] = 0.0;
        const double* row = mixing_.triangle.data();
        for (std::size_t i = 0; i < mixing_.streams.size(); ++i)
            for (auto k = static_cast<std::size_t>(mixing_.from[i]); k <= i; ++k)
                by_u[mixing_.streams[k]] += by_z[mixing_.streams[i]] * *row++;
    }

private:
    std::vector<StreamData> data_;
    std::vector<Stream> streams_;
    Mixing mixing_;
};

} // namespace fitwright::study
