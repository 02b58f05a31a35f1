#include <fitwright/fields/rules.hpp>
#include <fitwright/stack/clocking.hpp>

#include "detail/squareness.hpp"
#include "fields/pause.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/fields/model.hpp>
#include <numeric>

namespace fitwright::stack {

namespace {

constexpr std::size_t whole_size = sizeof(SquareStackInputs<double>) / sizeof(double);
constexpr std::size_t ring_size = sizeof(SquareRing<double>) / sizeof(double);
constexpr std::size_t whole_outputs = sizeof(SquareStackOutputs<double>) / sizeof(double);
constexpr std::size_t ring_outputs = sizeof(SquareRingOutputs<double>) / sizeof(double);

void check(const double* values, const fields::Declaration& d, const std::string& prefix,
           std::vector<Problem>& problems) {
    const std::vector<fields::Leaf> leaves = fields::leaves_of(d);
    for (std::size_t i = 0; i < leaves.size(); ++i)
        if (std::string text = fields::range_problem(values[i], *leaves[i].field); !text.empty())
            problems.push_back({prefix + leaves[i].path, std::move(text)});
}

ClockingSpread spread_of(std::vector<double>& values) {
    ClockingSpread s{};
    s.ways = static_cast<std::int64_t>(values.size());
    const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
    s.least = *least;
    s.greatest = *greatest;
    s.mean =
        std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
    const auto at = [&](double share) {
        const auto n = static_cast<double>(values.size() - 1);
        const auto nth = values.begin() + std::lround(share * n);
        std::nth_element(values.begin(), nth, values.end());
        return *nth;
    };
    s.median = at(0.5);
    s.most = at(0.95);
    return s;
}

} // namespace

SquareStack::SquareStack(const SquareStackInputs<double>& whole, materials::Entry shaft,
                         std::vector<NamedRing> rings) {
    std::vector<Problem> problems;
    if (rings.empty() || rings.size() > static_cast<std::size_t>(square_ring_limit))
        throw DomainError(
            {Problem{"rings", "a stack has 1 to " + std::to_string(square_ring_limit) +
                                  " rings, not " + std::to_string(rings.size())}});
    const auto* first = reinterpret_cast<const double*>(&whole);
    values_.assign(first, first + whole_size);
    check(first, fields::Declared<SquareStackInputs>::declaration, "", problems);
    materials_.push_back(std::move(shaft));
    for (NamedRing& r : rings) {
        const auto* numbers = reinterpret_cast<const double*>(&r.numbers);
        check(numbers, fields::Declared<SquareRing>::declaration, "rings." + r.name + ".",
              problems);
        values_.insert(values_.end(), numbers, numbers + ring_size);
        materials_.push_back(std::move(r.material));
        names_.push_back(std::move(r.name));
    }
    if (!problems.empty())
        throw DomainError(std::move(problems));
    evaluate(); // impossible geometry is told at once
}

const SquareStackInputs<double>& SquareStack::whole() const {
    return *reinterpret_cast<const SquareStackInputs<double>*>(values_.data());
}
const SquareRing<double>* SquareStack::ring_values() const {
    return reinterpret_cast<const SquareRing<double>*>(values_.data() + whole_size);
}
std::vector<const materials::Material*> SquareStack::material_pointers() const {
    std::vector<const materials::Material*> pointers;
    for (const materials::Entry& e : materials_)
        pointers.push_back(&e.numbers);
    return pointers;
}

std::vector<double> SquareStack::evaluate() const {
    const SquareLayout layout{rings()};
    const auto pointers = material_pointers();
    std::vector<double> outputs(whole_outputs + names_.size() * ring_outputs);
    number::Faults<double> faults;
    try {
        Squareness::run<double>(values_.data(), outputs.data(), {pointers.data(), nullptr, &layout},
                                faults);
    } catch (const Fault& fault) {
        std::string path = rules::row_of(fault.rule).field;
        if (fault.place == 1)
            path = "shaft." + path;
        else if (fault.place >= 2)
            path = "rings." + names_[static_cast<std::size_t>(fault.place - 2)] + "." + path;
        throw DomainError({Problem{path, fault_text(fault)}});
    }
    return outputs;
}

SquareStack SquareStack::turned(std::span<const double> turns) const {
    if (turns.size() != names_.size())
        throw DomainError({Problem{"turned", "one angle for each ring, no more and no fewer"}});
    SquareStack other = *this;
    auto* rings = reinterpret_cast<SquareRing<double>*>(other.values_.data() + whole_size);
    for (std::size_t i = 0; i < turns.size(); ++i)
        rings[i].turned += turns[i] * 2.0 * fields::pi;
    return other;
}

Clocking::Clocking(const SquareStack& stack, Aim aim, int of)
    : rings_(stack.rings()) {
    const SquareStackInputs<double>& in = stack.whole();
    const SquareRing<double>* rings = stack.ring_values();
    number::Faults<double> faults;
    SquareForm<double> form;
    const auto pointers = stack.material_pointers();
    square_form(form, in, rings, rings_, pointers.data(), faults);
    SquarePlane<double> x, y;
    set_planes(x, y, in, rings, rings_);
    const Permissible<double> allowed = permissible(form, in);

    const auto told = [&](const SquarePlane<double>& p) {
        std::vector<double> sums;
        for (int k = 0; k < rings_; ++k)
            if (of < 0 || of == k) {
                if (aim == Aim::tilt)
                    sums.push_back(p.face_slope[k]);
                else if (aim == Aim::runout)
                    sums.push_back(p.offset[k] * 2.0);
            }
        if (aim == Aim::bend)
            sums = {p.moment};
        if (aim == Aim::unbalance)
            sums = {p.unbalance_a / allowed.a, p.unbalance_b / allowed.b};
        return sums;
    };
    // The part of one ring (or, -1, of what stands still) alone.
    const auto alone = [&](int ring, SquarePlane<double> p) {
        for (int i = 0; i < rings_ + 2; ++i)
            if (ring < 0 ? (i > 0 && i <= rings_) : i != ring + 1)
                p.kink[i] = 0.0;
        for (int i = 0; i < rings_; ++i)
            if (i != ring)
                p.eccentricity[i] = 0.0;
        bend(form, p);
        return told(p);
    };
    for (int ring = -1; ring < rings_; ++ring) {
        const std::vector<double> along = alone(ring, x);
        const std::vector<double> across = alone(ring, y);
        for (std::size_t j = 0; j < along.size(); ++j)
            (ring < 0 ? still_ : moving_).push_back({along[j], across[j]});
    }
    sums_ = static_cast<int>(still_.size());
}

double Clocking::at(const double* turns) const {
    double cosine[square_ring_limit];
    double sine[square_ring_limit];
    for (int i = 0; i < rings_; ++i) {
        cosine[i] = number::cos(turns[i] * 2.0 * fields::pi);
        sine[i] = number::sin(turns[i] * 2.0 * fields::pi);
    }
    double longest = 0.0;
    for (int j = 0; j < sums_; ++j) {
        Vector v = still_[static_cast<std::size_t>(j)];
        for (int i = 0; i < rings_; ++i) {
            const Vector& a = moving_[static_cast<std::size_t>(i * sums_ + j)];
            v.x += a.x * cosine[i] - a.y * sine[i];
            v.y += a.x * sine[i] + a.y * cosine[i];
        }
        longest = std::max(longest, v.x * v.x + v.y * v.y);
    }
    return std::sqrt(longest);
}

void Clocking::at(std::span<const double> turns, std::span<double> values) const {
    for (std::size_t k = 0; k < values.size(); ++k)
        values[k] = at(turns.data() + k * static_cast<std::size_t>(rings_));
}

double Clocking::bound() const {
    double bound = 0.0;
    for (int j = 0; j < sums_; ++j) {
        const Vector& s = still_[static_cast<std::size_t>(j)];
        double longest = number::norm2(s.x, s.y);
        double all = longest;
        for (int i = 0; i < rings_; ++i) {
            const Vector& a = moving_[static_cast<std::size_t>(i * sums_ + j)];
            const double length = number::norm2(a.x, a.y);
            longest = std::max(longest, length);
            all += length;
        }
        bound = std::max(bound, longest - (all - longest));
    }
    return bound;
}

std::int64_t Clocking::ways(std::span<const int> slots) {
    std::int64_t all = 1;
    for (const int s : slots)
        all = s >= 1 && all <= (std::int64_t{1} << 40) ? all * s : (std::int64_t{1} << 50);
    return all;
}

Clocking::Best Clocking::every_way(std::span<const int> slots,
                                   const fields::Between& between) const {
    fields::Pace pace(between);
    const auto rings = static_cast<std::size_t>(rings_);
    if (slots.size() != rings)
        throw DomainError({Problem{"slots", "one number for each ring, no more and no fewer"}});
    const std::int64_t all = ways(slots);
    if (all > most_ways)
        throw DomainError({Problem{"slots", "make more than " + std::to_string(most_ways) +
                                                " ways, too many to try every one"}});
    const auto sums = static_cast<std::size_t>(sums_);
    // Partial sums up to each ring: only what has moved is added again.
    std::vector<Vector> partial((rings + 1) * sums);
    std::copy(still_.begin(), still_.end(), partial.begin());
    std::vector<int> position(rings, 0);
    const auto add = [&](std::size_t from) {
        for (std::size_t i = from; i < rings; ++i) {
            const double turn = 2.0 * fields::pi * position[i] / slots[i];
            const double c = number::cos(turn);
            const double s = number::sin(turn);
            for (std::size_t j = 0; j < sums; ++j) {
                const Vector& a = moving_[i * sums + j];
                const Vector& before = partial[i * sums + j];
                partial[(i + 1) * sums + j] = {before.x + a.x * c - a.y * s,
                                               before.y + a.x * s + a.y * c};
            }
        }
    };
    std::vector<double> values;
    values.reserve(static_cast<std::size_t>(all));
    Best best{position, {}};
    double least = HUGE_VAL;
    std::size_t from = 0;
    for (std::int64_t k = 0; k < all; ++k) {
        if (k % 1024 == 0)
            pace();
        add(from);
        double longest = 0.0;
        for (std::size_t j = 0; j < sums; ++j) {
            const Vector& v = partial[rings * sums + j];
            longest = std::max(longest, v.x * v.x + v.y * v.y);
        }
        values.push_back(std::sqrt(longest));
        // Ways that differ by rounding alone are alike: the one with the fewest turns stays.
        if (values.back() < least * (1.0 - 1e-12)) {
            least = values.back();
            best.positions = position;
        }
        from = rings;
        while (from > 0 && ++position[from - 1] == slots[from - 1])
            position[--from] = 0;
        if (from > 0)
            --from;
    }
    best.spread = spread_of(values);
    return best;
}

ClockingSpread Clocking::at_random(std::span<const int> slots, std::int64_t ways,
                                   std::uint64_t seed, const fields::Between& between) const {
    fields::Pace pace(between);
    if (slots.size() != static_cast<std::size_t>(rings_))
        throw DomainError({Problem{"slots", "one number for each ring, no more and no fewer"}});
    std::vector<double> values;
    std::vector<double> turns(slots.size());
    for (std::int64_t k = 0; k < ways; ++k) {
        if (k % 1024 == 0)
            pace();
        for (std::size_t i = 0; i < slots.size(); ++i) {
            const double u = number::uniform_open(
                number::philox({{static_cast<std::uint64_t>(k), i, 0, 0}}, {seed, 0}).word[0]);
            turns[i] = slots[i] < 1 ? u : std::floor(u * slots[i]) / slots[i];
        }
        values.push_back(at(turns.data()));
    }
    return spread_of(values);
}

} // namespace fitwright::stack
