// A model that only knows double, run lane by lane.
#include "catch.hpp"
#include "levels.hpp"

#include <fitwright/fields/level.hpp>
#include <vector>

using namespace fitwright;
using namespace fitwright::number;
namespace lt = fitwright::level_test;

namespace {

// Data-dependent flow: how often the first input must be halved to fall
// below the second; it cannot when the second is negative.
bool halvings(const double* in, double* out, const void* context) {
    ++*static_cast<int*>(const_cast<void*>(context));
    double x = in[0];
    double count = 0.0;
    if (!(in[1] > 0.0)) {
        out[0] = out[1] = 0.0;
        return false;
    }
    while (x >= in[1]) {
        x *= 0.5;
        count += 1.0;
    }
    out[0] = x;
    out[1] = count;
    return true;
}

} // namespace

TEST_CASE("each lane gets what the scalar model gives, and its own verdict", "[per_lane]") {
    constexpr auto width = static_cast<std::size_t>(lane_count);
    std::vector<double> in(2 * width);
    std::vector<double> out(2 * width);
    std::vector<double> ok(width);
    for (std::size_t k = 0; k < width; ++k) {
        in[k] = 1.0 + 100.0 * static_cast<double>(k * k);
        in[width + k] = k % 4 == 1 ? -1.0 : 0.3 * static_cast<double>(k + 1);
    }
    int calls = 0;
    lt::on_level(fields::active_level(), [&]<class Level>(Level) {
        lt::run_per_lane<Level>({&halvings, &calls, in.data(), out.data(), ok.data()});
    });
    CHECK(calls == lane_count);
    for (std::size_t k = 0; k < width; ++k) {
        const double one[] = {in[k], in[width + k]};
        double wanted[2];
        const bool good = halvings(one, wanted, &calls);
        CHECK(ok[k] == (good ? 1.0 : 0.0));
        CHECK(out[k] == wanted[0]);
        CHECK(out[width + k] == wanted[1]);

        double alone[2];
        CHECK(per_lane(&halvings, one, 2, alone, 2, &calls) == good);
        CHECK(alone[0] == wanted[0]);
    }
}
