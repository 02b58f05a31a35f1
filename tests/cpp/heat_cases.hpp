// What the tests of heat through time share.
#pragma once

#include "cases.hpp"
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace heat_cases {

using namespace fitwright;

// A metal that does not change with temperature.
inline materials::Material plain_metal(double conductivity, double density, double capacity) {
    materials::Material m = cases::even_metal(200e9, 12e-6, 0.3).numbers;
    m.density = density;
    m.conductivity = materials::table_of({{20.0, conductivity}});
    m.heat_capacity = materials::table_of({{20.0, capacity}});
    return m;
}

// Derivatives at the fixed steps of the march against differences of whole runs, whose steps differ:
// equal within a per cent of what the input does over its own size.
template <class Inputs>
void compare_slopes(const char* name, const Inputs& in, std::initializer_list<const char*> metals,
                    std::vector<std::string> wanted, int choice = 0) {
    const fields::Model& model = fields::model_named(name);
    std::vector<const materials::Material*> materials;
    for (const char* metal : metals)
        materials.push_back(&cases::metal(metal));
    const fields::Context context{materials.data(), &choice, nullptr};
    const std::vector<double> at = cases::numbers(in);
    const auto leaves = fields::leaves_of(*model.inputs);
    const auto outputs = fields::leaves_of(*model.outputs);
    std::vector<double> value(outputs.size());
    std::vector<double> exact(outputs.size() * at.size());
    fields::jacobian(model, at.data(), value.data(), exact.data(), context);
    std::vector<double> plain(outputs.size());
    fields::evaluate(model, at.data(), plain.data(), context);
    for (std::size_t o = 0; o < outputs.size(); ++o)
        CHECK(value[o] == plain[o]);
    int compared = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
        const std::string& path = leaves[i].path;
        if (!std::isfinite(at[i]) || path == "cells" || path == "tolerance" ||
            path == "shaft_goes_on" || at[i] == 0.0)
            continue;
        const bool size = leaves[i].field->quantity == fields::Quantity::size;
        const double h = (size ? 1e-6 : 1e-3) * std::fabs(at[i]);
        const auto moved = [&](double step) {
            std::vector<double> x = at;
            x[i] += step;
            std::vector<double> y(outputs.size());
            fields::evaluate(model, x.data(), y.data(), context);
            return y;
        };
        if (at[i] + h > leaves[i].field->range.high || at[i] - h < leaves[i].field->range.low)
            continue;
        const auto high = moved(h);
        const auto low = moved(-h);
        for (std::size_t o = 0; o < outputs.size(); ++o) {
            if (std::find(wanted.begin(), wanted.end(), outputs[o].path) == wanted.end())
                continue;
            const double slope = (high[o] - low[o]) / (2.0 * h);
            // What the choice of steps leaves of a difference: about 3e-6 of the value.
            const double noise = 3e-6 * std::fabs(value[o]) / h;
            INFO("d " << outputs[o].path << " / d " << path);
            CHECK(exact[o * at.size() + i] == Approx(slope).epsilon(0.01).margin(noise));
            ++compared;
        }
    }
    CHECK(compared > 20);
}

template <class Outputs, class Inputs, class Change>
void compare_batch(const char* name, const Inputs& in, std::initializer_list<const char*> metals,
                   Change change) {
    const fields::Model& model = fields::model_named(name);
    std::vector<const materials::Material*> materials;
    for (const char* metal : metals)
        materials.push_back(&cases::metal(metal));
    const int choice = 0;
    const fields::Context context{materials.data(), &choice, nullptr};
    constexpr std::size_t count = 21;
    constexpr std::size_t n = sizeof(Inputs) / sizeof(double);
    constexpr std::size_t m = sizeof(Outputs) / sizeof(double);
    std::vector<std::vector<double>> columns(n, std::vector<double>(count));
    std::vector<std::vector<double>> wanted(m, std::vector<double>(count));
    for (std::size_t k = 0; k < count; ++k) {
        Inputs sample = in;
        change(sample, static_cast<double>(k) / count);
        const std::vector<double> x = cases::numbers(sample);
        std::vector<double> y(m);
        fields::evaluate(model, x.data(), y.data(), context);
        for (std::size_t i = 0; i < n; ++i)
            columns[i][k] = x[i];
        for (std::size_t o = 0; o < m; ++o)
            wanted[o][k] = y[o];
    }
    std::vector<const double*> from;
    for (const auto& c : columns)
        from.push_back(c.data());
    const std::vector<std::int64_t> strides(n, 1);
    for (const int threads : {1, 3}) {
        std::vector<std::vector<double>> found(m, std::vector<double>(count));
        std::vector<double*> to;
        for (auto& c : found)
            to.push_back(c.data());
        fields::evaluate(model, {from.data(), strides.data(), to.data(), count}, context, threads);
        CHECK(found == wanted);
    }
    // A broken sample is named.
    columns[0][17] = -1.0;
    std::vector<std::vector<double>> found(m, std::vector<double>(count));
    std::vector<double*> to;
    for (auto& c : found)
        to.push_back(c.data());
    CHECK_THROWS_WITH(
        fields::evaluate(model, {from.data(), strides.data(), to.data(), count}, context, 2),
        ContainsSubstring("[17]"));
}

} // namespace heat_cases
