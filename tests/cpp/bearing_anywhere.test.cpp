// Ratings, lives, creep and frequencies anywhere in the ranges of their inputs: refused by name, or
// every answer finite.
#include "catch.hpp"

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <random>
#include <string>
#include <vector>

using namespace fitwright;

namespace {

struct Anywhere {
    const fields::Model& model;
    std::vector<fields::Leaf> leaves = fields::leaves_of(*model.inputs);
    std::vector<fields::Leaf> choices = fields::choices_of(*model.inputs);
    std::mt19937_64 random{7};

    double uniform() { return std::uniform_real_distribution<double>()(random); }
    // The ends are drawn often; counts are whole; what spans decades is drawn by decades.
    double value(const fields::Leaf& leaf) {
        const fields::Field& f = *leaf.field;
        const double end = uniform();
        if (std::isinf(f.standard) && end < 0.3)
            return f.standard;
        const double low = f.range.low_excluded ? f.range.high * 1e-9 : f.range.low;
        if (end > 0.95)
            return low;
        if (end > 0.9)
            return f.range.high;
        if (f.quantity == fields::Quantity::count)
            return std::floor(low + (std::min(f.range.high, 60.0) - low) * uniform());
        if (low >= 0.0 && f.range.high > 100.0 * std::max(low, 1e-3)) {
            const double from = std::log(std::max(low, f.range.high * 1e-9));
            return std::exp(from + (std::log(f.range.high) - from) * uniform());
        }
        return low + (f.range.high - low) * uniform();
    }
    int words(const fields::Field& f) {
        int n = 1;
        for (const char* c = f.words; *c != '\0'; ++c)
            n += *c == '|' ? 1 : 0;
        return n;
    }
};

// How many of them were not refused.
int finite_answers(const char* name, int count) {
    Anywhere any{fields::model_named(name)};
    const auto outputs = fields::leaves_of(*any.model.outputs);
    std::vector<double> in(any.leaves.size());
    std::vector<double> out(outputs.size());
    std::vector<int> choices(any.choices.size());
    int answered = 0;
    for (int k = 0; k < count; ++k) {
        for (std::size_t i = 0; i < in.size(); ++i)
            in[i] = any.value(any.leaves[i]);
        for (std::size_t i = 0; i < choices.size(); ++i)
            choices[i] = static_cast<int>(any.uniform() * any.words(*any.choices[i].field));
        try {
            fields::evaluate(any.model, in.data(), out.data(), {nullptr, choices.data(), nullptr});
        } catch (const DomainError& refused) {
            REQUIRE(!refused.problems().front().path.empty());
            continue;
        }
        ++answered;
        for (std::size_t o = 0; o < out.size(); ++o)
            if (!std::isfinite(out[o])) {
                std::string told = name;
                for (std::size_t i = 0; i < in.size(); ++i)
                    told += "\n  " + any.leaves[i].path + " = " + std::to_string(in[i]);
                FAIL(told << "\n makes " << outputs[o].path << " " << out[o]);
            }
    }
    return answered;
}

} // namespace

TEST_CASE("a rating, life or frequency is finite or refused by name", "[ratings]") {
    constexpr int count = 4000;
    // Most random bearings have balls that do not fit, or the wrong angle for their kind.
    CHECK(finite_answers("bearings.static_rating", count) > count / 40);
    CHECK(finite_answers("bearings.dynamic_rating", count) > count / 80);
    CHECK(finite_answers("bearings.roller_rating", count) > count / 80);
    CHECK(finite_answers("bearings.reference_life", count) > count / 40);
    CHECK(finite_answers("bearings.basic_life", count) == count);
    CHECK(finite_answers("bearings.modified_life", count) > count / 10);
    CHECK(finite_answers("bearings.creep", count) > count / 10);
    CHECK(finite_answers("bearings.service", count) > count / 200);
    CHECK(finite_answers("bearings.frequencies", count) > count / 10);
}
