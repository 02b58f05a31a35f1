// From the oven to a gripping joint: working window, grab, first touch, room temperature.
#include "../../cpp/src/heat/detail/slip_on.hpp"
#include "cases.hpp"
#include "catch.hpp"

#include <chrono>
#include <cmath>

using namespace fitwright;
using namespace fitwright::heat;

namespace {

SlipOnInputs<double> usual() {
    auto in = fields::standard_inputs<SlipOnInputs>();
    in.shaft.bore = 0.030;
    in.shaft.seat = 0.080038;
    in.ring.bore = 0.080;
    in.ring.outside = 0.105;
    in.ring.length = 0.030;
    in.slip_clearance = 50e-6;
    return in;
}
SlipOnOutputs<double> run(const SlipOnInputs<double>& in) {
    return slip_on(in, cases::metal("4340"), cases::metal("52100"));
}

} // namespace

TEST_CASE("x", "[slip]") {
    auto in = usual();
    const auto out = run(in);
    const fields::Model& model = fields::model_named("heat.slip_on");
    for (std::size_t j = 0; j < fields::leaves_of(*model.outputs).size(); ++j)
        std::printf("%s %.9g\n", fields::leaves_of(*model.outputs)[j].path.c_str(), reinterpret_cast<const double*>(&out)[j]);
    const auto a = std::chrono::steady_clock::now();
    for (int k = 0; k < 10; ++k) run(in);
    std::printf("steps %d refused %d\n", 0,0); std::printf("%.3f ms\n", std::chrono::duration<double>(std::chrono::steady_clock::now() - a).count() * 100);
}
