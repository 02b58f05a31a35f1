// The published values of tests/reference: every case on double and on the lanes of the level.
#include "catch.hpp"
#include "reference_call.hpp"

#include <cstdio>
#include <cstring>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <map>
#include <string>

using namespace fitwright;

namespace {

using Answers = std::map<std::string, double>;

// The data of the library themselves stand in for a model.
Answers library_answers(const reference::Case& c) {
    const materials::Material m = reference::material_of(c.metals.front());
    const double to = reference::given(c, "temperature").value();
    const double from = reference::given(c, "from").value_or(materials::reference_temperature);
    const auto length = [&](double t) { return 1.0 + materials::free_growth(m, 1.0, t); };
    const double growth = length(to) / length(from) - 1.0;
    return {{"modulus", materials::at(m.modulus, to)},
            {"yield", materials::at(m.yield, to)},
            {"growth", growth},
            {"mean_expansion", growth / (to - from)},
            {"poisson", m.poisson},
            {"density", m.density},
            {"heating_limit", m.heating_limit}};
}

void hold(const reference::Case& c, const char* number_type, const Answers& answers) {
    for (const reference::Wanted& w : c.wanted) {
        const auto found = answers.find(w.output);
        INFO(c.title << ": " << w.output << " is no output of " << c.model);
        REQUIRE(found != answers.end());
        const double computed = (found->second - w.offset) / w.factor;
        char text[400];
        std::snprintf(text, sizeof text,
                      "%s: %s on %s: expected %.12g to %.12g %s (%s), computed %.12g", c.title,
                      w.quantity, number_type, w.low, w.high, w.unit, w.told, computed);
        INFO(text);
        CHECK((computed >= w.low && computed <= w.high));
    }
}

} // namespace

TEST_CASE("published values", "[reference]") {
    REQUIRE(std::size(reference::cases) > 0);
    for (const reference::Case& c : reference::cases) {
        if (std::strcmp(c.model, "materials") == 0) {
            hold(c, "double", library_answers(c));
            continue;
        }
        INFO(c.title);
        const reference::Call call(c);
        const std::vector<fields::Leaf> outputs = fields::leaves_of(*call.model->outputs);
        const std::vector<double> plain = call.on_double();
        const std::vector<std::vector<double>> lanes = call.on_lanes();
        Answers on_double;
        Answers on_lanes;
        for (std::size_t j = 0; j < outputs.size(); ++j) {
            on_double[outputs[j].path] = plain[j];
            on_lanes[outputs[j].path] = lanes[j].front();
            INFO(outputs[j].path);
            for (const double value : lanes[j])
                CHECK(value == plain[j]);
        }
        hold(c, "double", on_double);
        hold(c, "lanes", on_lanes);
    }
}
