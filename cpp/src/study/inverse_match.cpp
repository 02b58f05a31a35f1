// Measured rings of several kinds to measured shafts, with proof for small sets: depth first over the
// shafts, each with every set of rings still there, against the best that the shafts left could have.
#include "fields/pause.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/study/inverse.hpp>
#include <limits>
#include <numeric>

namespace fitwright::study {

namespace {

// More good sets first, then the greater sum of reserves; a set that cannot be evaluated counts as the
// worst of all.
struct Score {
    int good = 0;
    double sum = 0.0;
    friend bool operator<(const Score& x, const Score& y) {
        return x.good != y.good ? x.good < y.good : x.sum < y.sum;
    }
    Score with(double reserve) const {
        return {good + (reserve >= 0.0 ? 1 : 0), sum + std::max(reserve, -1e6)};
    }
};

class Sets {
public:
    Sets(std::span<const double> reserves, std::size_t shafts, std::span<const int> counts,
         std::int64_t budget, const fields::Between& between)
        : reserves_(reserves)
        , shafts_(shafts)
        , counts_(counts.begin(), counts.end())
        , budget_(budget)
        , pace_(between) {
        sets_ = reserves.size() / shafts;
        for (const int n : counts_)
            used_.emplace_back(static_cast<std::size_t>(n), 0);
        // What is left at best: each shaft its own best set, whoever else wants its rings.
        at_best_.resize(shafts + 1);
        for (std::size_t s = shafts; s-- > 0;) {
            const auto row = reserves.subspan(s * sets_, sets_);
            order_.emplace(order_.begin(), sets_);
            std::iota(order_.front().begin(), order_.front().end(), std::size_t{0});
            std::sort(order_.front().begin(), order_.front().end(),
                      [&](std::size_t x, std::size_t y) { return row[x] > row[y]; });
            at_best_[s] = at_best_[s + 1].with(row[order_.front().front()]);
        }
    }
    MatchedSets operator()(std::span<const int> start) {
        best_.assign(start.begin(), start.end());
        for (std::size_t s = 0; s < shafts_; ++s)
            best_score_ = best_score_.with(reserves_[s * sets_ + at(best_[s])]);
        chosen_.resize(shafts_);
        descend(0, Score{});
        return {best_, steps_ <= budget_};
    }

private:
    static std::size_t at(int i) { return static_cast<std::size_t>(i); }
    // Marks the rings of a set, or takes the marks away; false where one is used already.
    bool take(std::size_t set, bool free) {
        std::size_t rest = set;
        std::vector<std::size_t> rings(counts_.size());
        for (std::size_t k = counts_.size(); k-- > 0;) {
            rings[k] = rest % at(counts_[k]);
            rest /= at(counts_[k]);
        }
        if (!free)
            for (std::size_t k = 0; k < rings.size(); ++k)
                if (used_[k][rings[k]] != 0)
                    return false;
        for (std::size_t k = 0; k < rings.size(); ++k)
            used_[k][rings[k]] = free ? 0 : 1;
        return true;
    }
    void descend(std::size_t shaft, Score score) {
        if (shaft == shafts_) {
            if (best_score_ < score) {
                best_score_ = score;
                best_ = chosen_;
            }
            return;
        }
        for (const std::size_t set : order_[shaft]) {
            if (++steps_ > budget_)
                return;
            if (steps_ % 1024 == 0)
                pace_();
            const Score there = score.with(reserves_[shaft * sets_ + set]);
            const Score most{there.good + at_best_[shaft + 1].good,
                             there.sum + at_best_[shaft + 1].sum};
            if (!(best_score_ < most))
                break; // the sets that follow are worse still
            if (!take(set, false))
                continue;
            chosen_[shaft] = static_cast<int>(set);
            descend(shaft + 1, there);
            take(set, true);
        }
    }

    std::span<const double> reserves_;
    std::size_t shafts_, sets_ = 0;
    std::vector<int> counts_;
    std::int64_t budget_, steps_ = 0;
    fields::Pace pace_;
    std::vector<std::vector<char>> used_;
    std::vector<std::vector<std::size_t>> order_;
    std::vector<Score> at_best_;
    std::vector<int> chosen_, best_;
    Score best_score_;
};

} // namespace

MatchedSets match_sets(std::span<const double> reserves, std::size_t shafts,
                       std::span<const int> counts, std::span<const int> start, std::int64_t budget,
                       const fields::Between& between) {
    return Sets(reserves, shafts, counts, budget, between)(start);
}

} // namespace fitwright::study
