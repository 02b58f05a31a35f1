// A stack of several rings out of square, and how to turn them against each other.
#pragma once

#include <cstdint>
#include <fitwright/fields/between.hpp>
#include <fitwright/fields/error.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/stack/squareness.hpp>
#include <span>
#include <string>
#include <vector>

namespace fitwright::stack {

struct NamedRing {
    std::string name;
    materials::Entry material;
    SquareRing<double> numbers;
};

class SquareStack {
public:
    // Throws DomainError naming everything that is out of range.
    SquareStack(const SquareStackInputs<double>& whole, materials::Entry shaft,
                std::vector<NamedRing> rings);

    const std::vector<std::string>& names() const { return names_; }
    int rings() const { return static_cast<int>(names_.size()); }
    // SquareStackOutputs, then SquareRingOutputs for each ring. Throws DomainError.
    std::vector<double> evaluate() const;
    // One output over many inputs changed (by leaf: stack first, then ring by ring).
    const std::vector<double>& values() const { return values_; }
    // The same with each ring turned further, in full turns.
    SquareStack turned(std::span<const double> turns) const;

    const SquareStackInputs<double>& whole() const;
    const SquareRing<double>* ring_values() const;
    std::vector<const materials::Material*> material_pointers() const;

private:
    std::vector<std::string> names_;
    std::vector<materials::Entry> materials_; // shaft, rings
    std::vector<double> values_;
};

// What is to be made least.
enum class Aim { bend, tilt, runout, unbalance };

// How the aim comes out when the stack is put together in every way, or in many ways at random.
struct ClockingSpread {
    double least, mean, median, most, greatest; // most: 95 % of the ways stay below
    std::int64_t ways;
};

// Everything is a sum of vectors, one for each ring, that turn with it; what stands still (shoulder,
// nut) is one more. The aim is the longest of a few such sums.
class Clocking {
public:
    // `of`: the ring whose tilt or runout counts, -1 the worst of all.
    Clocking(const SquareStack& stack, Aim aim, int of);

    // Turns in full turns, `rings` for each way, one way after the other.
    double at(const double* turns) const;
    void at(std::span<const double> turns, std::span<double> values) const;
    // No way can be better: the sum of vectors turned at will closes, but for the longest.
    double bound() const;

    // Slots: positions a ring may take, evenly spaced; 1: it stays. Throws DomainError above
    // `most_ways` ways.
    static constexpr std::int64_t most_ways = 4'000'000;
    static std::int64_t ways(std::span<const int> slots);
    struct Best {
        std::vector<int> positions;
        ClockingSpread spread;
    };
    Best every_way(std::span<const int> slots, const fields::Between& between = {}) const;
    // Slots 0: any angle.
    ClockingSpread at_random(std::span<const int> slots, std::int64_t ways, std::uint64_t seed,
                             const fields::Between& between = {}) const;

private:
    struct Vector {
        double x, y;
    };
    int rings_;
    int sums_;
    std::vector<Vector> still_;  // by sum
    std::vector<Vector> moving_; // by ring and sum
};

} // namespace fitwright::stack
