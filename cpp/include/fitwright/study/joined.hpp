// One pass rate from studies of several levels: many samples of what is quick, fewer of what is dear.
#pragma once

#include <cstdint>
#include <fitwright/study/study.hpp>
#include <vector>

namespace fitwright::study {

// What the study of one level counted: its samples, those that keep the limits of every level before,
// and those of them that keep its own as well. For the first level all samples are before.
struct LevelCount {
    std::int64_t samples, passed_before, passed;
};

// Share in which the limits of all levels hold, with its 95 % interval:
//   rate = (Q_N/N) (H_n/Q_n) (O_m/H_m)   Q, H, O: the limits up to the quick level, the history, the ovens
// For two levels that is the control variate estimator
//   H_n/n - b (Q_n/n - Q_N/N),  b = H_n/Q_n
// with the pass at the quick level as control and b its best coefficient as the samples tell it (the
// covariance of both over the variance of the control), and the two-level estimator Q_N/N - the share
// of Q_n that the history fails, weighed alike: what the n have too many or too few of that pass at the
// quick level does not count. The factors are asymptotically free of each other, whether the fewer
// samples are the first of the many or others.
// Interval: Wilson's of each factor, joined by the squares of what each moves the product.
// Sources, from memory: W. G. Cochran, Sampling Techniques, ch. 12 (double sampling); A. B. Owen, Monte
// Carlo theory, methods and examples, ch. 8 (control variates, post-stratification); M. B. Giles,
// Multilevel Monte Carlo methods, Acta Numerica 24 (2015); R. G. Newcombe, Statistics in Medicine 17
// (1998) 873-890 (joining Wilson's intervals).
struct JoinedRate {
    double rate;
    Interval interval;
};
// A level whose samples all fail before its own limits tells nothing: it counts as kept, from 0 to 1.
// No level, or one without samples: the rate is NaN between 0 and 1.
JoinedRate joined_rate(const std::vector<LevelCount>& levels);

} // namespace fitwright::study
