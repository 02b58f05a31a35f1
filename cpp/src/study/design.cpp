#include "design.hpp"
#include <algorithm>
#include <bit>
#include <fitwright/number/philox.hpp>

namespace fitwright::study {

namespace {

// Row of a dimension in the packed table: polynomial, then one number per degree.
const unsigned short* row_of(int dimension) {
    const unsigned short* row = sobol_rows();
    for (int k = 1; k < dimension; ++k)
        row += std::bit_width(static_cast<unsigned>(row[0]));
    return row;
}

// Bratley and Fox, ACM Trans. Math. Softw. 14 (1988) 88-100: the recurrence of the numbers.
std::vector<std::uint64_t> directions_of(int dimension) {
    std::vector<std::uint64_t> v(sobol_bits);
    if (dimension == 0) {
        for (int b = 0; b < sobol_bits; ++b)
            v[static_cast<std::size_t>(b)] = std::uint64_t{1} << (sobol_bits - 1 - b);
        return v;
    }
    const unsigned short* row = row_of(dimension);
    const unsigned polynomial = row[0];
    const int degree = std::max(1, static_cast<int>(std::bit_width(polynomial)) - 1);
    for (int b = 0; b < sobol_bits; ++b) {
        const auto at = static_cast<std::size_t>(b);
        if (b < degree) {
            v[at] = std::uint64_t{row[1 + b]} << (sobol_bits - 1 - b);
            continue;
        }
        const auto before = static_cast<std::size_t>(b - degree);
        v[at] = v[before] ^ (v[before] >> degree);
        for (int k = 1; k < degree; ++k)
            if (((polynomial >> (degree - k)) & 1U) != 0)
                v[at] ^= v[static_cast<std::size_t>(b - k)];
    }
    return v;
}

} // namespace

std::vector<std::uint64_t> scrambled_directions(int dimension, std::uint64_t key) {
    const std::vector<std::uint64_t> plain = directions_of(dimension);
    // Digit r of a scrambled number is digit r of the plain one plus random digits before it.
    std::vector<std::uint64_t> rows(sobol_bits);
    for (int r = 0; r < sobol_bits; ++r) {
        const auto digit = static_cast<std::uint64_t>(r);
        const std::uint64_t random =
            number::philox({{digit, 1, 0, 0}}, {key, 0x536f626f6c}).word[0];
        const std::uint64_t own = std::uint64_t{1} << (sobol_bits - 1 - r);
        const std::uint64_t before = ~((own << 1) - 1) & ((std::uint64_t{1} << sobol_bits) - 1);
        rows[digit] = own | (random & before);
    }
    std::vector<std::uint64_t> v;
    for (const std::uint64_t column : plain) {
        std::uint64_t mixed = 0;
        for (int r = 0; r < sobol_bits; ++r)
            if ((std::popcount(rows[static_cast<std::size_t>(r)] & column) & 1) != 0)
                mixed |= std::uint64_t{1} << (sobol_bits - 1 - r);
        v.push_back(mixed);
    }
    v.push_back(number::philox({{0, 2, 0, 0}}, {key, 0x536f626f6c}).word[0] >> (64 - sobol_bits));
    return v;
}

} // namespace fitwright::study
