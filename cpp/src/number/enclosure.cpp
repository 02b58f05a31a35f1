#include <fitwright/number/enclosure.hpp>

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

// Slopes A x' + B y' for intervals A and B; one of x and y may have none.
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

// Unbounded wherever one of them depends on the direction at all.
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

Enclosure of_sides(const Interval& value, const Interval& centre, const Enclosure& x,
                   const Enclosure& y) {
    return tightened(value, centre, hull(x.slopes, y.slopes));
}

} // namespace

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

namespace {

bool is_hub(const Enclosure& x) {
    if (x.slopes == nullptr)
        return false;
    const Box& box = Box::now();
    for (int k = 0; k < box.hubs(); ++k)
        if (x.slopes[box.inputs() + k] == 1.0 &&
            x.slopes[box.directions() + box.inputs() + k] == 1.0)
            return std::count(x.slopes, x.slopes + 2 * box.directions(), 0.0) ==
                   2 * box.directions() - 2;
    return false;
}

} // namespace

Enclosure operator+(const Enclosure& x, const Enclosure& y) {
    return tightened(x.value + y.value, x.centre + y.centre, mixed(1.0, x.slopes, 1.0, y.slopes));
}
Enclosure operator-(const Enclosure& x, const Enclosure& y) {
    return tightened(x.value - y.value, x.centre - y.centre, mixed(1.0, x.slopes, -1.0, y.slopes));
}
Enclosure operator-(const Enclosure& x) {
    return {-x.value, -x.centre, mixed(-1.0, x.slopes, 0.0, nullptr)};
}
Enclosure operator*(const Enclosure& x, const Enclosure& y) {
    if (&x == &y) // the same number twice
        return square(x);
    return tightened(x.value * y.value, x.centre * y.centre,
                     mixed(y.value, x.slopes, x.value, y.slopes));
}
Enclosure operator/(const Enclosure& x, const Enclosure& y) {
    // Every number has slopes of its own: with the same ones it is the same number.
    if (x.slopes != nullptr && x.slopes == y.slopes && x.value.low == y.value.low &&
        x.value.high == y.value.high && !y.value.holds(0.0))
        return 1.0;
    const Interval quotient = x.value / y.value;
    const Interval one_over = inverse(y.value);
    // (x' - q y')/y. Of two hubs that come from the same inputs the difference is worked out down to
    // them before the wide 1/y comes in.
    if (is_hub(x) && is_hub(y)) {
        Box& box = Box::now();
        thread_local std::vector<double> held;
        without_hubs(mixed(1.0, x.slopes, -quotient, y.slopes), held, -1, [] {});
        double* const slopes = box.take();
        std::copy(held.begin(), held.end(), slopes);
        const Enclosure whole =
            tightened(quotient, x.centre / y.centre,
                      mixed(one_over, x.slopes, -(quotient * one_over), y.slopes));
        return {
            box.restricted() < 0
                ? tightened(whole.value, whole.centre, mixed(one_over, slopes, 0.0, nullptr)).value
                : whole.value,
            whole.centre, mixed(one_over, slopes, 0.0, nullptr)};
    }
    return tightened(quotient, x.centre / y.centre,
                     mixed(one_over, x.slopes, -(quotient * one_over), y.slopes));
}

Likelihood operator<(const Enclosure& x, const Enclosure& y) {
    const Enclosure d = x - y;
    const Likelihood told{d.value.low < 0.0, d.value.high >= 0.0, d.centre.low < 0.0,
                          d.centre.high >= 0.0, nullptr};
    return told.open() ? Likelihood{true, true, told.centre_holds, told.centre_fails, d.slopes}
                       : told;
}
Likelihood operator<=(const Enclosure& x, const Enclosure& y) {
    const Enclosure d = x - y;
    const Likelihood told{d.value.low <= 0.0, d.value.high > 0.0, d.centre.low <= 0.0,
                          d.centre.high > 0.0, nullptr};
    return told.open() ? Likelihood{true, true, told.centre_holds, told.centre_fails, d.slopes}
                       : told;
}

Enclosure select(const Likelihood& m, const Enclosure& x, const Enclosure& y) {
    if (!m.can_fail)
        return x;
    if (!m.can_hold)
        return y;
    const Interval centre = !m.centre_fails   ? x.centre
                            : !m.centre_holds ? y.centre
                                              : hull(x.centre, y.centre);
    return tightened(hull(x.value, y.value), centre, jumping(x.slopes, y.slopes, m.slopes));
}

Enclosure larger(const Enclosure& x, const Enclosure& y) {
    const Interval d = (x - y).value;
    if (d.low > 0.0)
        return x;
    if (d.high < 0.0)
        return y;
    const auto of = [](const Interval& a, const Interval& b) {
        return Interval{std::max(a.low, b.low), std::max(a.high, b.high)};
    };
    return of_sides(of(x.value, y.value), of(x.centre, y.centre), x, y);
}
Enclosure smaller(const Enclosure& x, const Enclosure& y) { return -larger(-x, -y); }
Enclosure positive(const Enclosure& x) {
    if (x.value.low > 0.0)
        return x;
    if (x.value.high < 0.0)
        return 0.0;
    return of_sides({positive(x.value.low), positive(x.value.high)},
                    {positive(x.centre.low), positive(x.centre.high)}, x, 0.0);
}
Enclosure abs(const Enclosure& x) {
    if (x.value.low > 0.0)
        return x;
    if (x.value.high < 0.0)
        return -x;
    return chain(x, abs(x.value), abs(x.centre), {-1.0, 1.0});
}
Enclosure square(const Enclosure& x) {
    return chain(x, square(x.value), square(x.centre), x.value * Interval(2.0));
}
Enclosure sqrt(const Enclosure& x) {
    const Interval root = sqrt(x.value);
    return chain(x, root, sqrt(x.centre), inverse(root) * Interval(0.5));
}
// Derivative 0 below, without bound just above 0.
Enclosure root0(const Enclosure& x) {
    if (x.value.low > 0.0)
        return sqrt(x);
    if (x.value.high < 0.0)
        return 0.0;
    return chain(x, sqrt(x.value), sqrt(x.centre), {0.0, unbounded});
}
Enclosure exp(const Enclosure& x) {
    const Interval e = exp(x.value);
    return chain(x, e, exp(x.centre), e);
}
Enclosure log(const Enclosure& x) {
    return chain(x, log(x.value), log(x.centre), inverse(x.value));
}
// The integral of e^(x t) over t from 0 to 1: its slope rises as well.
Enclosure expm1_over(const Enclosure& x) {
    using D = Dual<2, Isa<0>>;
    const auto slope = [](double at) { return expm1_over(D(at, D::Directions(1.0))).d.lane(0); };
    constexpr double enough = 4096.0; // ulp; its two forms are good to some hundred
    return chain(x, expm1_over(x.value), expm1_over(x.centre),
                 outwards(slope(x.value.low), slope(x.value.high), enough));
}
Enclosure cbrt(const Enclosure& x) {
    const Interval c = cbrt(x.value);
    return chain(x, c, cbrt(x.centre), inverse(square(c) * Interval(3.0)));
}
Enclosure sin(const Enclosure& x) {
    return chain(x, sin(x.value), sin(x.centre),
                 x.value.low >= 0.0 ? cos(x.value) : Interval{-1.0, 1.0});
}
Enclosure cos(const Enclosure& x) { return chain(x, cos(x.value), cos(x.centre), -sin(x.value)); }
Enclosure atan(const Enclosure& x) {
    return chain(x, atan(x.value), atan(x.centre), inverse(square(x.value) + Interval(1.0)));
}

namespace detail {

namespace {

// (D - B)/m, near m = 0 by its series, whose terms are positive and shrink faster than m^k.
Interval sine_cosine_part(double m, const EllipticParts<double>& p) {
    constexpr double ulp = 8.0; // of B and D
    if (m < 0.02) {
        const double series =
            polynomial(m, 1.0, 3.0 / 4.0, 75.0 / 128.0, 245.0 / 512.0, 6615.0 / 16384.0,
                       22869.0 / 65536.0, 1288287.0 / 4194304.0) *
            (3.14159265358979323846 / 16.0);
        const double rest = m * m * m * m * m * m * m; // at most 0.3 times it
        return outwards(series, series + rest, 16.0);
    }
    return (outwards(p.d, p.d, ulp) - outwards(p.b, p.b, ulp)) / Interval(m);
}

} // namespace

EllipticParts<Enclosure> elliptic_parts(const Enclosure& m) {
    constexpr double ulp = 8.0;
    const auto bounded = [](const Interval& x) {
        return Interval{std::clamp(x.low, 0.0, 1.0 - smallest_complement),
                        std::clamp(x.high, 0.0, 1.0 - smallest_complement)};
    };
    const Interval over = bounded(m.value);
    const Interval centre = bounded(m.centre);
    const auto low = elliptic_parts(over.low);
    const auto high = elliptic_parts(over.high);
    const auto first = elliptic_parts(centre.low);
    const auto last = elliptic_parts(centre.high);
    const Interval b = outwards(low.b, high.b, ulp);
    const Interval d = outwards(low.d, high.d, ulp);
    const Interval complement = Interval(1.0) - over;
    const Interval c{sine_cosine_part(over.low, low).low, sine_cosine_part(over.high, high).high};
    const Interval half(0.5);
    const Interval b_over = b / complement;
    EllipticParts<Enclosure> p;
    p.first = chain(m, outwards(low.first, high.first, ulp), outwards(first.first, last.first, ulp),
                    b_over * half);
    p.b = chain(m, b, outwards(first.b, last.b, ulp), c * half);
    p.d = chain(m, d, outwards(first.d, last.d, ulp), (b_over - c) * half);
    p.complement = 1.0 - m;
    return p;
}

} // namespace detail

namespace {

// Where f at the centre of the box changes its sign.
Interval centre_root(const Unknown& e, const Interval& within, double start) {
    double low = within.low;
    double high = within.high;
    double x = std::clamp(start, low, high);
    Interval found{low, high};
    for (int k = 0; k < 200; ++k) {
        const Residual<Enclosure> f = e.at(x);
        const Interval& c = f.value.centre;
        if (c.holds(0.0)) {
            found = x;
            break;
        }
        (c.low > 0.0 ? high : low) = x;
        const double slope = f.slope.centre.middle();
        const double newton = slope > 0.0 ? x - c.middle() / slope : low;
        // Newton's step only where it halves the bracket at least every third time.
        const double next =
            newton > low && newton < high && k % 3 != 2 ? newton : low + (high - low) * 0.5;
        if (next == x || next <= low || next >= high) {
            found = {low, high};
            break;
        }
        x = next;
    }
    // Outwards until the signs differ beyond rounding.
    if (found.low == found.high)
        for (double step = std::max(std::abs(x), 1e-30) * 0x1p-50; step < 1.0; step *= 4.0) {
            const double a = std::max(within.low, x - step);
            const double b = std::min(within.high, x + step);
            const bool left = a == within.low || e.at(a).value.centre.high <= 0.0;
            const bool right = b == within.high || e.at(b).value.centre.low >= 0.0;
            if (left && right)
                return {a, b};
        }
    return found;
}

// The last x from `sure` towards `far` where f can still be 0, by halving; f grows with x.
double end_by_sign(const Unknown& e, double root, double far, bool upper) {
    double open = root;
    double sure = far;
    for (int k = 0; k < 60; ++k) {
        const double x = open + (sure - open) * 0.5;
        if (x == open || x == sure)
            break;
        const Interval f = e.at(x).value.value;
        ((upper ? f.low >= 0.0 : f.high <= 0.0) ? sure : open) = x;
    }
    return sure;
}

} // namespace

Root<Enclosure> enclosed_root(const Unknown& equation, const Interval& within, double start) {
    Box& box = Box::now();
    const int unknown = box.unknown();
    const Likelihood yes = Likelihood::of(true);
    const Interval centre = centre_root(equation, within, start);
    const double c = centre.middle();
    const Interval at_centre = equation.at(c).value.value;
    const auto over = [&](const Interval& x) {
        box.span(unknown, {below(x.low - centre.high), above(x.high - centre.low)});
        const Residual<Enclosure> f = equation.at(Enclosure::input(unknown, x, centre));
        box.span(unknown, 0.0);
        return f;
    };
    const auto slope_of = [&](const Residual<Enclosure>& f) {
        return common(f.slope.value, f.value.slope(unknown));
    };
    Interval x = centre;
    bool proven = false;
    for (int k = 0; k < 10 && !proven; ++k) {
        const Interval slope = slope_of(over(x));
        if (!(slope.low > 0.0))
            break;
        const Interval newton = Interval(c) - at_centre / slope;
        proven = x.holds(newton);
        if (proven) {
            x = newton;
        } else {
            const Interval both = hull(x, newton);
            const double more = both.width() * 0.2 + std::abs(c) * 1e-15 + 1e-300;
            x = {std::max(both.low - more, within.low), std::min(both.high + more, within.high)};
        }
    }
    if (!proven)
        x = {end_by_sign(equation, c, within.low, false),
             end_by_sign(equation, c, within.high, true)};
    for (int k = 0; proven && k < 2; ++k) {
        const Interval slope = slope_of(over(x));
        if (slope.low > 0.0)
            x = common(x, Interval(c) - at_centre / slope);
    }
    const Residual<Enclosure> f = over(x);
    Interval slope = slope_of(f);
    slope.low = std::max(slope.low, 0.0);
    slope.high = std::max(slope.high, slope.low);
    Enclosure implicit = chain(f.value, f.value.value, f.value.centre, -inverse(slope));
    if (implicit.slopes != nullptr) {
        double* const s = box.take();
        std::copy_n(implicit.slopes, 2 * box.directions(), s);
        s[unknown] = s[box.directions() + unknown] = 0.0;
        implicit.slopes = s;
    }
    return {tightened(x, centre, implicit.slopes), yes};
}

} // namespace fitwright::number
