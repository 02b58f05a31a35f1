// A million nests of four layers, spinning and hot, as a batch on two threads; and the model on lanes.
#include "bench.hpp"
#include "packs.hpp"
#include <fitwright/materials/material.hpp>
#include <fitwright/number/philox.hpp>
#include <fitwright/rings/elastic_plastic.hpp>
#include <fitwright/rings/nest.hpp>
#include <models.hpp>

namespace fitwright::bench {

namespace {

constexpr std::int64_t million = 1000000;
constexpr int layers = 4;

std::vector<double> scattered(std::uint64_t input, double low, double high) {
    std::vector<double> column(static_cast<std::size_t>(million));
    for (std::size_t k = 0; k < column.size(); ++k)
        column[k] = low + (high - low) * number::uniform_open(
                                             number::philox({{k, 0, 0, 0}}, {input, 9}).word[0]);
    return column;
}

// Is what lanes answered a solution? Held against the plain ring: faces meet or gape.
void check_nests(const std::vector<std::vector<double>>& out) {
    int open = 0;
    for (std::size_t k = 0; k < 2000; ++k) {
        for (std::size_t i = 0; i < 3; ++i) {
            check(out[2 * i][k] >= 0.0 && out[2 * i + 1][k] >= 0.0, "nest: a joint pulls");
            check(out[2 * i][k] == 0.0 || out[2 * i + 1][k] == 0.0, "nest: pressure in a gap");
            open += out[2 * i][k] == 0.0 ? 1 : 0;
        }
    }
    check(open > 300 && open < 4000, "nest: some joints must open, and most hold");
}

} // namespace

void bench_nest(int) {
    const materials::Material& steel = materials::find("4340").numbers;
    const materials::Material& bearing = materials::find("52100").numbers;
    const std::vector<const materials::Material*> metals{&steel, &bearing, &steel, &bearing,
                                                         &steel, &steel,   &steel, &steel};
    const std::vector<int> choices{0, 0, 0, 0, 0, 0, 0, 0, layers - 1, 0};
    const fields::Context context{metals.data(), choices.data(), nullptr};
    const fields::Model& model = rings::nest_model();
    auto nominal = fields::standard_inputs<rings::NestInputs>();
    const double outsides[] = {0.060, 0.080, 0.105, 0.140};
    for (std::size_t k = 0; k < layers; ++k)
        (&nominal.layer1)[k].outside = outsides[k];
    nominal.layer1.bore = 0.020;

    // Interferences, temperatures and the speed scatter.
    const auto* base = reinterpret_cast<const double*>(&nominal);
    const auto place = [&](const double& field) { return static_cast<std::size_t>(&field - base); };
    const std::size_t inputs = sizeof nominal / sizeof(double);
    std::vector<std::vector<double>> moving;
    std::vector<const double*> columns(inputs);
    std::vector<std::int64_t> strides(inputs, 0);
    for (std::size_t i = 0; i < inputs; ++i)
        columns[i] = base + i;
    moving.reserve(8);
    const auto scatter = [&](const double& field, double low, double high) {
        moving.push_back(scattered(moving.size(), low, high));
        columns[place(field)] = moving.back().data();
        strides[place(field)] = 1;
    };
    for (std::size_t k = 1; k < layers; ++k)
        scatter((&nominal.layer1)[k].interference, -30e-6, 60e-6);
    for (std::size_t k = 0; k < layers; ++k)
        scatter((&nominal.layer1)[k].temperature, 60.0, 90.0);
    scatter(nominal.speed, 0.0, 1400.0);

    const auto outputs = fields::leaves_of(*model.outputs);
    const auto timed = [&](const std::vector<std::string>& wanted, int threads) {
        std::vector<std::vector<double>> out(
            wanted.size(), std::vector<double>(static_cast<std::size_t>(million)));
        std::vector<double*> to(outputs.size(), nullptr);
        for (std::size_t w = 0; w < wanted.size(); ++w)
            for (std::size_t j = 0; j < outputs.size(); ++j)
                if (outputs[j].path == wanted[w])
                    to[j] = out[w].data();
        const auto run = [&] {
            fields::evaluate(model, {columns.data(), strides.data(), to.data(), million}, context,
                             threads);
        };
        run();
        check_nests(out);
        return best_ns(3, 1.0, run) * 1e-9;
    };
    std::vector<std::string> wanted;
    for (const char* n : {"1", "2", "3"})
        for (const char* what : {".pressure", ".gap"})
            wanted.push_back(std::string("contact") + n + what);
    row("a million nests of four layers, hot and spinning, pressures", timed(wanted, 2), "s", 1.0);
    for (const fields::Leaf& leaf : outputs)
        if (leaf.path.starts_with("layer") && leaf.path[5] <= '4')
            wanted.push_back(leaf.path);
    row("    and every stress and movement", timed(wanted, 2), "s", 1.0);
    row("    the same on one thread", timed(wanted, 1), "s");

    // A fit that yields, ring and hollow shaft.
    auto yielding = fields::standard_inputs<rings::ElasticPlasticInputs>();
    yielding.shaft.bore = 0.045;
    yielding.shaft.seat = yielding.ring.bore = 0.080;
    yielding.ring.outside = 0.125;
    yielding.ring.length = 0.040;
    yielding.ring_yield = 300e6;
    yielding.shaft_yield = 280e6;
    std::vector<std::vector<double>> samples;
    for (std::size_t k = 0; k < 64; ++k) {
        yielding.interference = 150e-6 + 1e-6 * static_cast<double>(k);
        const auto* from = reinterpret_cast<const double*>(&yielding);
        samples.emplace_back(from, from + sizeof yielding / sizeof(double));
    }
    const fields::Model& yields = rings::elastic_plastic_fit_model();
    const materials::Material* pair[] = {&steel, &steel};
    const int criterion = 0;
    const fields::Context both{pair, &criterion, nullptr};
    const int count = static_cast<int>(fields::leaves_of(*yields.outputs).size());
    Packs packs(yields.formulas, samples, count);
    packs.run(yields.formulas, both, "elastic-plastic fit");
    rings::ElasticPlasticOutputs<double> alone;
    fields::evaluate(yields, samples.back().data(), reinterpret_cast<double*>(&alone), both);
    check(alone.plastic_share > 0.05, "elastic-plastic fit: the last sample must yield");
    check(packs.output(1, packs.width - 1) == alone.pressure,
          "elastic-plastic fit on lanes and in doubles differ");
    row("a fit that yields, ring and shaft, by integration",
        packs.ns(yields.formulas, both, "elastic-plastic fit", 5) * 1e-3, "us");
}

} // namespace fitwright::bench
