// The random numbers against published answers.
#include "catch.hpp"

#include <fitwright/number/philox.hpp>

#include <cmath>

namespace fn = fitwright::number;

namespace {
struct Answer {
    fn::PhiloxBlock counter;
    fn::PhiloxKey key;
    fn::PhiloxBlock words;
};
constexpr std::uint64_t ones = ~std::uint64_t{0};
// Lines "philox4x64 10" of tests/kat_vectors of the Random123 distribution (looked up in a copy).
// The counter and key of the third are the digits of pi.
constexpr Answer published[] = {
    {{{0, 0, 0, 0}},
     {0, 0},
     {{0x16554d9eca36314c, 0xdb20fe9d672d0fdc, 0xd7e772cee186176b, 0x7e68b68aec7ba23b}}},
    {{{ones, ones, ones, ones}},
     {ones, ones},
     {{0x87b092c3013fe90b, 0x438c3c67be8d0224, 0x9cc7d7c69cd777b6, 0xa09caebf594f0ba0}}},
    {{{0x243f6a8885a308d3, 0x13198a2e03707344, 0xa4093822299f31d0, 0x082efa98ec4e6c89}},
     {0x452821e638d01377, 0xbe5466cf34e90c6c},
     {{0xa528f45403e61d95, 0x38c72dbd566e9788, 0xa5a1610e72fd18b5, 0x57bd43b5e52b7fe6}}},
};

constexpr std::uint64_t length(const char* s) {
    std::uint64_t n = 0;
    while (s[n] != 0)
        ++n;
    return n;
}
constexpr std::uint64_t key(const char* s) { return fn::stream_key(s, length(s)); }
} // namespace

TEST_CASE("Philox gives the published words", "[number]") {
    for (const Answer& a : published) {
        const auto got = fn::philox(a.counter, a.key);
        for (int i = 0; i < 4; ++i)
            CHECK(got.word[i] == a.words.word[i]);
    }
    static_assert(fn::philox({{0, 0, 0, 0}}, {0, 0}).word[0] == 0x16554d9eca36314c);
}

// numpy 2.4.6: numpy.random.Philox(key=[12345, 67890], counter=[41, 0, 0, 0]).random_raw(4). It
// raises the counter before a block, so these are the words of counter 42.
TEST_CASE("Philox agrees with numpy", "[number]") {
    const auto got = fn::philox({{42, 0, 0, 0}}, {12345, 67890});
    const std::uint64_t numpy[] = {0x3d134d791c8f51d1, 0xee3a6f1103525b2f, 0xcff0c409d9144f8a,
                                   0x65a6433ceff4f825};
    for (int i = 0; i < 4; ++i)
        CHECK(got.word[i] == numpy[i]);
}

TEST_CASE("a uniform number is never 0 or 1", "[number]") {
    CHECK(fn::uniform_open(0) == 0x1p-53);
    CHECK(fn::uniform_open(ones) == 1.0 - 0x1p-53);
    CHECK(fn::uniform_open(std::uint64_t{1} << 63) == 0.5 + 0x1p-53);
    CHECK(fn::uniform_open((std::uint64_t{1} << 63) - 1) == 0.5 - 0x1p-53);
}

TEST_CASE("uniform numbers have the moments of the uniform distribution", "[number]") {
    constexpr int n = 1 << 18;
    double mean = 0, square = 0, product = 0, last = 0.5;
    for (std::uint64_t block = 0; block < n / 4; ++block) {
        const auto b = fn::philox({{block, 0, 0, 0}}, {1, key("shaft.outer_diameter")});
        for (const std::uint64_t word : b.word) {
            const double u = fn::uniform_open(word) - 0.5;
            mean += u / n;
            square += u * u / n;
            product += u * last / n;
            last = u;
        }
    }
    // Five standard deviations: of u 1/sqrt(12 n), of u^2 1/sqrt(180 n), of the product 1/(12 sqrt n).
    CHECK(std::fabs(mean) < 5 / std::sqrt(12.0 * n));
    CHECK(std::fabs(square - 1.0 / 12) < 5 / std::sqrt(180.0 * n));
    CHECK(std::fabs(product) < 5 / (12 * std::sqrt(1.0 * n)));
}

// Fowler, Noll and Vo, FNV-1a test vectors of 64 bits (IETF draft on FNV; from memory).
TEST_CASE("the key of a path is the published hash", "[number]") {
    static_assert(key("") == 0xcbf29ce484222325);
    CHECK(key("a") == 0xaf63dc4c8601ec8c);
    CHECK(key("foobar") == 0x85944171f73967e8);
}

TEST_CASE("two blocks side by side are the same words", "[number]") {
    for (const std::uint64_t first : {std::uint64_t{0}, std::uint64_t{42}, ones - 1}) {
        double u[8];
        fn::philox_uniforms(12345, 67890, first, u);
        for (int i = 0; i < 8; ++i) {
            const auto block =
                fn::philox({{first + static_cast<std::uint64_t>(i / 4), 0, 0, 0}}, {12345, 67890});
            CHECK(u[i] == fn::uniform_open(block.word[i % 4]));
        }
    }
}
