// Slopes by a box's directions and hubs, and what they make of a value.
#include "enclosure_slopes.hpp"

#include <algorithm>

namespace fitwright::number {

namespace {

thread_local Box* box_of_thread = nullptr;
constexpr std::size_t block_size = 1 << 16;

// The loops over directions are most of the work. They are compiled for several vector units; without
// contraction every one of them gives the same bits.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) &&                             \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define FITWRIGHT_VECTOR_UNITS [[gnu::target_clones("default", "avx2", "avx512f")]]
#else
#define FITWRIGHT_VECTOR_UNITS
#endif

FITWRIGHT_INLINE double least(double x, double y) { return x < y ? x : y; }
FITWRIGHT_INLINE double most(double x, double y) { return x > y ? x : y; }
FITWRIGHT_INLINE double down(double x) { return x - __builtin_fabs(x) * 0x1p-52; }
FITWRIGHT_INLINE double up(double x) { return x + __builtin_fabs(x) * 0x1p-52; }

// A x' for an interval A.
FITWRIGHT_VECTOR_UNITS void scale(int n, double low, double high, const double* __restrict x,
                                  double* __restrict out) {
    for (int i = 0; i < n; ++i) {
        const double p = low * x[i];
        const double q = low * x[n + i];
        const double r = high * x[i];
        const double t = high * x[n + i];
        out[i] = most(down(least(least(p, q), least(r, t))), -unbounded);
        out[n + i] = least(up(most(most(p, q), most(r, t))), unbounded);
    }
}
// B y' added to it, for the first `count` directions.
FITWRIGHT_VECTOR_UNITS void add_scaled(int n, int count, double low, double high,
                                       const double* __restrict y, double* __restrict out) {
    for (int i = 0; i < count; ++i) {
        const double p = low * y[i];
        const double q = low * y[n + i];
        const double r = high * y[i];
        const double t = high * y[n + i];
        out[i] = most(down(out[i] + down(least(least(p, q), least(r, t)))), -unbounded);
        out[n + i] = least(up(out[n + i] + up(most(most(p, q), most(r, t)))), unbounded);
    }
}
FITWRIGHT_VECTOR_UNITS void rises(int n, const double* __restrict slopes,
                                  const double* __restrict from, const double* __restrict to,
                                  double* __restrict fall, double* __restrict rise) {
    for (int i = 0; i < n; ++i) {
        fall[i] = least(slopes[i] * to[i], slopes[n + i] * from[i]);
        rise[i] = most(slopes[i] * from[i], slopes[n + i] * to[i]);
    }
}

} // namespace

const double* mixed(const Interval& a, const double* x, const Interval& b, const double* y) {
    if (x == nullptr && y == nullptr)
        return nullptr;
    Box& box = Box::now();
    const int n = box.directions();
    double* const out = box.take();
    if (x == nullptr) {
        scale(n, b.low, b.high, y, out);
        return out;
    }
    scale(n, a.low, a.high, x, out);
    if (y != nullptr)
        add_scaled(n, n, b.low, b.high, y, out);
    return out;
}

const double* hull(const double* x, const double* y) {
    if (x == nullptr && y == nullptr)
        return nullptr;
    Box& box = Box::now();
    const int n = box.directions();
    double* const out = box.take();
    for (int i = 0; i < n; ++i) {
        out[i] = std::min(x == nullptr ? 0.0 : x[i], y == nullptr ? 0.0 : y[i]);
        out[n + i] = std::max(x == nullptr ? 0.0 : x[n + i], y == nullptr ? 0.0 : y[n + i]);
    }
    return out;
}

const double* jumping(const double* x, const double* y, const double* z) {
    Box& box = Box::now();
    const int n = box.directions();
    double* const out = box.take();
    const auto moves = [n](const double* s, int i) {
        return s != nullptr && (s[i] != 0.0 || s[n + i] != 0.0);
    };
    for (int i = 0; i < n; ++i) {
        const bool any = moves(x, i) || moves(y, i) || moves(z, i);
        out[i] = any ? -unbounded : 0.0;
        out[n + i] = any ? unbounded : 0.0;
    }
    return out;
}

Box::Box(int inputs, int hubs)
    : inputs_(inputs)
    , directions_(inputs + hubs + 1)
    , from_(static_cast<std::size_t>(directions_), 0.0)
    , to_(from_)
    , used_(block_size) {}
Box::~Box() {
    for (Block& b : blocks_)
        spare().push_back(std::move(b));
}
std::vector<Box::Block>& Box::spare() {
    thread_local std::vector<Block> blocks;
    return blocks;
}
int Box::add_hub(const Interval& value, const Interval& centre, const double* slopes) {
    const int direction = inputs_ + hubs();
    if (direction >= unknown())
        return -1;
    hubs_.push_back(slopes);
    ranges_.push_back(value);
    span(direction, {below(value.low - centre.high), above(value.high - centre.low)});
    return direction;
}
Box::Open::Open(Box& box)
    : outer_(box_of_thread) {
    box_of_thread = &box;
}
Box::Open::~Open() { box_of_thread = outer_; }
Box& Box::now() { return *box_of_thread; }

double* Box::take() {
    const auto size = 2 * static_cast<std::size_t>(directions_);
    if (used_ + size > block_size) {
        if (spare().empty()) {
            blocks_.push_back(std::make_unique<double[]>(std::max(block_size, size)));
        } else {
            blocks_.push_back(std::move(spare().back()));
            spare().pop_back();
        }
        used_ = 0;
    }
    double* const room = blocks_.back().get() + used_;
    used_ += size;
    return room;
}

Enclosure Enclosure::input(int direction, const Interval& value, const Interval& centre) {
    Box& box = Box::now();
    double* const slopes = box.take();
    std::fill_n(slopes, 2 * box.directions(), 0.0);
    slopes[direction] = slopes[box.directions() + direction] = 1.0;
    return {value, centre, slopes};
}
Interval Enclosure::slope(int direction) const {
    if (slopes == nullptr)
        return 0.0;
    return {slopes[direction], slopes[Box::now().directions() + direction]};
}

namespace {

// Slopes with hubs replaced by what they come from, the latest first. `each` sees what stands after
// every step that changed something; the hub `kept` (-1: none) stays.
template <class F>
void without_hubs(const double* slopes, std::vector<double>& held, int kept, const F& each) {
    const Box& box = Box::now();
    const int n = box.directions();
    held.assign(slopes, slopes + 2 * n);
    double* const low = held.data();
    double* const high = low + n;
    for (int k = box.hubs() - 1; k >= 0; --k) {
        const int direction = box.inputs() + k;
        const double a = low[direction];
        const double b = high[direction];
        if (k == kept || (a == 0.0 && b == 0.0))
            continue;
        low[direction] = high[direction] = 0.0;
        const double* const h = box.hub(k);
        add_scaled(n, direction, a, b, h, low);
        each();
    }
}

} // namespace

const double* by_inputs(const double* slopes) {
    thread_local std::vector<double> held;
    without_hubs(slopes, held, -1, [] {});
    double* const out = Box::now().take();
    std::copy(held.begin(), held.end(), out);
    return out;
}

std::vector<Interval> Enclosure::totals(int held) const {
    const Box& box = Box::now();
    const auto n = static_cast<std::size_t>(box.inputs());
    std::vector<Interval> found(n + (held < 0 ? 0 : 1), Interval(0.0));
    if (slopes == nullptr)
        return found;
    std::vector<double> all;
    without_hubs(slopes, all, held, [] {});
    const double* const high = all.data() + box.directions();
    for (std::size_t i = 0; i < n; ++i)
        found[i] = {all[i], high[i]};
    if (held >= 0) {
        const auto h = n + static_cast<std::size_t>(held);
        found[n] = {all[h], high[h]};
    }
    return found;
}

Enclosure hub(const Enclosure& x) {
    if (x.slopes == nullptr)
        return x;
    Box& box = Box::now();
    Enclosure seen = x;
    // In a part of its range: the bounds are those of inputs that lead there. What the formula has at
    // the centre is then told of the part's own centre.
    if (box.restricted() == box.hubs()) {
        seen.value = common(x.value, box.part());
        seen.centre = seen.value.middle();
    }
    const int direction = box.add_hub(seen.value, seen.centre, x.slopes);
    return direction < 0 ? x : Enclosure::input(direction, seen.value, seen.centre);
}

Likelihood operator&(const Likelihood& x, const Likelihood& y) {
    const double* depends = x.slopes == nullptr   ? y.slopes
                            : y.slopes == nullptr ? x.slopes
                                                  : jumping(x.slopes, y.slopes, nullptr);
    return {x.can_hold && y.can_hold, x.can_fail || y.can_fail, x.centre_holds && y.centre_holds,
            x.centre_fails || y.centre_fails, depends};
}

Enclosure tightened(const Interval& value, const Interval& centre, const double* slopes) {
    if (slopes == nullptr)
        return {value, centre, nullptr};
    const Box& box = Box::now();
    const int n = box.directions();
    const double* const from = box.from();
    const double* const to = box.to();
    thread_local std::vector<double> falls, gains;
    falls.resize(static_cast<std::size_t>(n));
    gains.resize(static_cast<std::size_t>(n));
    const auto form = [&](const double* by) {
        rises(n, by, from, to, falls.data(), gains.data());
        double low = 0.0;
        double high = 0.0;
        for (std::size_t i = 0; i < falls.size(); ++i) {
            low += falls[i];
            high += gains[i];
        }
        const double rounding = (high - low) * (n + 4) * 0x1p-51;
        return outwards(centre.low + (low - rounding), centre.high + (high + rounding));
    };
    // By inputs and hubs side by side, then by less and less hubs.
    Interval tight = common(value, form(slopes));
    const int unknown = box.unknown();
    if (slopes[unknown] == 0.0 && slopes[n + unknown] == 0.0) {
        thread_local std::vector<double> held;
        // A hub held to a part of its range has a centre of its own.
        without_hubs(slopes, held, box.restricted(),
                     [&] { tight = common(tight, form(held.data())); });
    }
    return {tight, centre, slopes};
}

Enclosure chain(const Enclosure& x, const Interval& value, const Interval& centre,
                const Interval& slope) {
    return tightened(value, centre, mixed(slope, x.slopes, 0.0, nullptr));
}

Enclosure composed(const Enclosure* const x[3], const Interval slope[3], const Interval& value,
                   const Interval& centre) {
    const double* const two = mixed(slope[0], x[0]->slopes, slope[1], x[1]->slopes);
    return tightened(value, centre, mixed(1.0, two, slope[2], x[2]->slopes));
}

} // namespace fitwright::number
