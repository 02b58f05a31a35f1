// A published case (tests/reference) as a call of its model: inputs, choices and materials laid flat.
#pragma once

#include <cmath>
#include <cstring>
#include <fitwright/fields/model.hpp>
#include <fitwright/materials/material.hpp>
#include <optional>
#include <reference_data.hpp>
#include <stdexcept>
#include <string>
#include <vector>

namespace reference {

using namespace fitwright;

inline materials::Material material_of(const Metal& m) {
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
inline materials::Material material_at(const Case& c, const std::string& path) {
    const std::string part = path.substr(0, path.rfind("material"));
    for (const Metal& m : c.metals)
        if (part == std::string(m.part) + ".")
            return material_of(m);
    return material_of(c.metals.front());
}

inline std::optional<double> given(const Case& c, const std::string& path) {
    for (const Given& g : c.inputs)
        if (path == g.path)
            return g.si;
    return std::nullopt;
}

struct Call {
    const fields::Model* model;
    std::vector<double> inputs;
    std::vector<int> choices;
    std::vector<materials::Material> materials;
    std::vector<const materials::Material*> pointers;

    explicit Call(const Case& c)
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
            for (const Given& g : c.inputs)
                if (choice.path == g.path) {
                    // How many parts a list has is told as a number.
                    choices.back() =
                        place_of(g.word == nullptr ? std::to_string(static_cast<int>(g.si))
                                                   : std::string(g.word),
                                 choice.field->words);
                    ++used;
                }
        }
        if (used != c.inputs.size())
            throw std::logic_error(std::string(c.title) + ": a path is misspelt");
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
        throw std::logic_error(word + " is no choice");
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

} // namespace reference
