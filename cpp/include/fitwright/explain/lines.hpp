// The lines of a shown calculation, from the inputs to one answer: each with its formula in symbols, the same
// with numbers and units, and its result. Made from what the formula did (recording.hpp), so that what is
// shown is what was computed.
#pragma once

#include <fitwright/explain/recording.hpp>
#include <fitwright/fields/quantity.hpp>
#include <functional>
#include <string>
#include <vector>

namespace fitwright::explain {

enum class Kind : int {
    input,    // told, or a standard value
    formula,  // its numbers give its result
    property, // of a metal, between two points of its table
    root,     // brings the equation that follows to 0
    equation, // what is left of an equation at its root
    searched, // steps of a search led to it; what it does stands in the lines after it
    stepped,  // found in steps of time, or of a search, from what it names
};

struct Line {
    Kind kind;
    std::string name;    // "ring.bore", "flexibility of the joint"
    std::string meaning; // of a declared field; of a property: whose
    std::string formula, numbers;
    std::string latex, latex_numbers;
    double value; // SI
    std::string result, unit, latex_result;
    std::vector<std::string> because; // which way it went where it could have gone another
    int leaf;                         // of an input or an output; -1: neither
    std::string where;                // of whom the formula spoke
};

// What the recording knows only by number.
struct InputName {
    std::string path, meaning;
    fields::Quantity quantity;
};
struct OutputName {
    std::string path, meaning;
    fields::Quantity quantity;
    int node;
};
struct Metal {
    const materials::Material* metal;
    std::string name;
};
struct Words {
    std::vector<InputName> inputs;
    std::vector<OutputName> outputs;
    std::vector<Metal> metals;
    // Who is spoken of: tells apart what has the same name. Empty: nobody.
    std::function<std::string(const Node&)> where = [](const Node&) { return std::string(); };
};

// Inputs it hangs on first, in the order they come in, the answer last; of several answers, each line once.
std::vector<Line> lines_of(const Recording&, const Words&, const std::vector<int>& outputs);

// A limit of validity, as it was held against the input.
struct Held {
    number::Rule rule;
    int place;
    double value;         // the offending one, were it broken
    std::string compared; // "shaft.bore < seats.main.diameter (30 mm < 80 mm)"
    double room;          // relative difference of the two sides; 0: at the limit
};
std::vector<Held> limits_of(const Recording&, const Words&);

// A name as it stands in a formula of text.
std::string symbol(const std::string& name);
// The lines as text, one below the other.
std::string printed(const std::vector<Line>&);

} // namespace fitwright::explain
