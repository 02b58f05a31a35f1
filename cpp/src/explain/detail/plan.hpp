// Which values get a line of their own, in which order, and what they are called.
#pragma once

#include "units.hpp"
#include <fitwright/explain/lines.hpp>

namespace fitwright::explain {

// Characters of a formula beyond which a part of it gets a line of its own.
inline constexpr int line_length = 100;
// Conditions that hang together: more than that tell nobody anything.
inline constexpr int most_joined = 5;

class Plan {
public:
    Plan(const Recording& recording, const Words& words, const std::vector<int>& outputs);

    const Node& at(int node) const { return recording_.at(node); }
    const Words& words() const { return words_; }
    const std::vector<int>& order() const { return order_; }
    bool own(int node) const { return own_[index(node)]; }
    bool is_input(int node) const { return at(node).operation == Operation::input; }
    bool is_constant(int node) const { return at(node).operation == Operation::constant; }
    bool is_atom(int node) const { return own(node) || is_input(node) || is_constant(node); }
    // The equation of a root.
    bool is_equation(int node) const { return equation_of_[index(node)] >= 0; }
    int output_of(int node) const { return output_of_[index(node)]; }

    // What stands for a node in a formula: past branches not taken and steps that do nothing. Told the
    // conditions it went by.
    int stands_for(int node, std::vector<int>* conditions = nullptr) const;
    // What its own line shows: itself, or what it is another name of.
    int shown(int node, std::vector<int>* conditions = nullptr) const;
    // The same past its own names too.
    int is_of(int node) const;
    std::string name(int node) const;
    std::string part_of(int node) const; // the named line it serves; empty: has a name itself
    std::vector<int> found_from(int node) const { return parts(node); } // of a stepped answer
    const Dimension& dimension(int node) const { return dimensions_[index(node)]; }
    ShownUnit unit(int node) const; // of an input or a line
    // Piece of the table a property was read from.
    struct Reading {
        const Metal* metal = nullptr; // null: not one that was told
        std::string property = "property";
        Dimension dimension = Dimension::mixed();
        double knot = 0.0, value = 0.0, slope = 0.0;
    };
    Reading reading(int node) const;

private:
    static std::size_t index(int node) { return static_cast<std::size_t>(node); }
    bool keeps_name(int node) const {
        return at(node).name != nullptr || output_of_[index(node)] >= 0;
    }
    int past(int node, bool first, std::vector<int>* conditions) const;
    void add_compared(int truth, std::vector<int>& to, int joined) const;
    void add_part(int node, bool first, std::vector<int>& to) const;
    std::vector<int> parts(int node) const; // of the formula of a node
    void find_dimensions();
    Dimension dimension_of(const Node& n) const;
    void count(int node);
    void measure(int node);
    int length(int node) const; // of its reference in a formula
    void place(int node, int consumer);
    void give_names();

    const Recording& recording_;
    const Words& words_;
    std::vector<Dimension> dimensions_;
    std::vector<int> output_of_, equation_of_, uses_, length_, consumer_;
    mutable std::vector<int> stands_for_; // as asked so far
    std::vector<char> own_, seen_, measured_, placed_;
    std::vector<int> order_;
    std::vector<std::string> names_;
};

} // namespace fitwright::explain
