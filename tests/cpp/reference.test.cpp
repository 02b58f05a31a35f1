// The published values of tests/reference: every case on double and on the lanes of the level.
#include "catch.hpp"

#include <cmath>
#include <cstdio>
#include <cstring>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <map>
#include <optional>
#include <reference_data.hpp>
#include <string>
#include <vector>

using namespace fitwright;

namespace {

using Answers = std::map<std::string, double>;

materials::Material material_of(const reference::Metal& m) {
    if (m.name != nullptr)
        return materials::find(m.name).numbers;
    const auto even = [](double value) { return materials::table_of({{20.0, value}}); };
    // The yield stress, the range and the heating limit are out of the way.
    return {even(m.modulus),
            even(m.expansion),
            even(1e9),
            m.poisson,
            m.density,
            -273.15,
            2000.0,
            2000.0,
            even(m.conductivity),
            even(m.heat_capacity)};
}

// "shaft.material": the metal told for "shaft", else the one told for every part.
materials::Material material_at(const reference::Case& c, const std::string& path) {
    const std::string part = path.substr(0, path.rfind("material"));
    for (const reference::Metal& m : c.metals)
        if (part == std::string(m.part) + ".")
            return material_of(m);
    return material_of(c.metals.front());
}

std::optional<double> given(const reference::Case& c, const std::string& path) {
    for (const reference::Given& g : c.inputs)
        if (path == g.path)
            return g.si;
    return std::nullopt;
}

// The data of the library themselves stand in for a model.
Answers library_answers(const reference::Case& c) {
    const materials::Material m = material_of(c.metals.front());
    const double to = given(c, "temperature").value();
    const double from = given(c, "from").value_or(materials::reference_temperature);
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

struct Call {
    const fields::Model* model;
    std::vector<double> inputs;
    std::vector<int> choices;
    std::vector<materials::Material> materials;
    std::vector<const materials::Material*> pointers;

    explicit Call(const reference::Case& c)
        : model(&fields::model_named(c.model)) {
        const fields::Declaration& declared = *model->inputs;
        inputs = fields::standard_values(declared);
        std::size_t used = 0;
        const std::vector<fields::Leaf> leaves = fields::leaves_of(declared);
        for (std::size_t i = 0; i < leaves.size(); ++i)
            if (const auto value = given(c, leaves[i].path)) {
                inputs[i] = *value;
                ++used;
            }
        for (const fields::Leaf& choice : fields::choices_of(declared)) {
            choices.push_back(0);
            for (const reference::Given& g : c.inputs)
                if (choice.path == g.path) {
                    // How many parts a list has is told as a number.
                    choices.back() =
                        place_of(g.word == nullptr ? std::to_string(static_cast<int>(g.si))
                                                   : std::string(g.word),
                                 choice.field->words);
                    ++used;
                }
        }
        REQUIRE(used == c.inputs.size()); // no path is misspelt
        for (const std::string& path : fields::materials_of(declared))
            materials.push_back(material_at(c, path));
        for (const materials::Material& m : materials)
            pointers.push_back(&m);
    }
    static int place_of(const std::string& word, std::string words) {
        for (int place = 0; !words.empty(); ++place) {
            const std::size_t end = words.find('|');
            if (words.substr(0, end) == word)
                return place;
            words = end == std::string::npos ? "" : words.substr(end + 1);
        }
        FAIL(word << " is no choice");
        return 0;
    }
    fields::Context context() const { return {pointers.data(), choices.data(), nullptr}; }

    std::vector<double> on_double() const {
        std::vector<double> outputs(fields::leaves_of(*model->outputs).size());
        fields::evaluate(*model, inputs.data(), outputs.data(), context());
        return outputs;
    }
    // One sample many times, more than fills a pack; every other input as a column of its own. What
    // is left out to be worked out (infinite) is the same for all samples.
    std::vector<std::vector<double>> on_lanes() const {
        constexpr std::size_t count = 19;
        std::vector<std::vector<double>> in;
        std::vector<std::vector<double>> out(fields::leaves_of(*model->outputs).size(),
                                             std::vector<double>(count));
        std::vector<const double*> columns;
        std::vector<std::int64_t> strides;
        std::vector<double*> results;
        in.reserve(inputs.size());
        for (const double value : inputs) {
            in.emplace_back(count, value);
            columns.push_back(in.back().data());
            strides.push_back(in.size() % 2 == 1 && std::isfinite(value) ? 1 : 0);
        }
        for (auto& column : out)
            results.push_back(column.data());
        fields::evaluate(*model, {columns.data(), strides.data(), results.data(), count}, context(),
                         2);
        return out;
    }
};

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
        const Call call(c);
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
