// What a formula did, operation by operation: written by explain::Number, read by the lines of a shown
// calculation (explain/lines.hpp).
#pragma once

#include <fitwright/materials/table.hpp>
#include <fitwright/number/faults.hpp>
#include <vector>

namespace fitwright::explain {

enum class Operation : int {
    constant,
    input,
    add,
    subtract,
    multiply,
    divide,
    negative,
    square,
    cube,
    power, // to the fixed exponent `number`
    square_root,
    cube_root,
    absolute,
    exponential,
    logarithm,
    expm1_over,
    sine,
    cosine,
    arc_tangent,
    elliptic_first, // K(m), E(m), and the integrals B(m) and D(m) they are made of
    elliptic_second,
    elliptic_b,
    elliptic_d,
    normal_quantile,
    greater,
    lesser,
    positive,
    length,   // sqrt(x^2 + y^2)
    select,   // condition, where it holds, where it does not
    same,     // another name for its argument
    property, // of a metal: a table read at its argument
    root,     // brings the argument, an equation's left side at it, to 0; the second is like it
    searched, // steps of a search led to it; the second argument is what they led to
    stepped,  // found in steps of time or of a search, from the argument or lists[second..third)
    less,     // truths from here on
    less_equal,
    greater_than,
    greater_equal,
    equal,
    both,
    either,
    not_so,
};
inline constexpr bool is_truth(Operation o) { return o >= Operation::less; }

struct Node {
    Operation operation;
    int arguments[3]; // nodes before it; -1: none
    double value;     // of a truth 1 or 0
    // Exponent of a power; number of an input; of a constant: 1 a density, 2 a modulus.
    double number;
    const char* name; // in the field's words; null: none
    int place;        // of whom the formula spoke (number/faults.hpp)
    int member;       // and of which of several there; -1: none
    const materials::Table* table;
};

// A rule that the formula held its input against.
struct Check {
    number::Rule rule;
    int place;
    int truth; // node
    double value;
};

class Recording {
public:
    int add(Operation operation, double value, int a = -1, int b = -1, int c = -1,
            double number = 0.0) {
        nodes.push_back({operation, {a, b, c}, value, number, nullptr, place, member, nullptr});
        return static_cast<int>(nodes.size()) - 1;
    }
    const Node& at(int node) const { return nodes[static_cast<std::size_t>(node)]; }
    Node& at(int node) { return nodes[static_cast<std::size_t>(node)]; }

    std::vector<Node> nodes;
    std::vector<Check> checks;
    // What stepped answers hang on, one after the other.
    std::vector<int> lists;
    int place = 0;
    int member = -1;
    int places_from = 0; // of a formula within another

    // The one that numbers of this thread write to; null: none.
    static Recording* now();
    // Writes to it as long as this lives; with null nothing is recorded (a search).
    class Open {
    public:
        explicit Open(Recording*);
        ~Open();
        Open(const Open&) = delete;
        Open& operator=(const Open&) = delete;

    private:
        Recording* outer_;
    };
};

} // namespace fitwright::explain
