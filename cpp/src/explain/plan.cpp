#include "explain/detail/plan.hpp"

namespace fitwright::explain {

using fields::Quantity;

Plan::Plan(const Recording& recording, const Words& words, const std::vector<int>& outputs)
    : recording_(recording)
    , words_(words) {
    const std::size_t n = recording.nodes.size();
    for (std::vector<int>* all : {&output_of_, &equation_of_, &consumer_, &stands_for_})
        all->assign(n, -1);
    uses_.assign(n, 0);
    length_.assign(n, 0);
    for (std::vector<char>* all : {&own_, &seen_, &measured_, &placed_})
        all->assign(n, 0);
    names_.resize(n);
    for (std::size_t k = 0; k < words.outputs.size(); ++k)
        output_of_[index(words.outputs[k].node)] = static_cast<int>(k);
    find_dimensions();
    const auto each = [&](const auto& step) {
        for (const int output : outputs)
            step(words.outputs[index(output)].node);
    };
    each([this](int answer) {
        count(answer);
        own_[index(answer)] = 1;
    });
    each([this](int answer) { measure(answer); });
    each([this](int answer) { place(answer, -1); });
    give_names();
}

// `first`: the node's own name does not hold it.
int Plan::past(int node, bool first, std::vector<int>* conditions) const {
    for (;; first = false) {
        const Node& n = at(node);
        if (!first && keeps_name(node))
            return node;
        const int* a = n.arguments;
        const auto constant = [&](int which, double value) {
            const int part = stands_for(a[which]);
            return is_constant(part) && !(at(part).name != nullptr) && at(part).value == value;
        };
        int next = -1;
        switch (n.operation) {
        case Operation::same:
            next = a[0];
            break;
        case Operation::select:
            if (conditions != nullptr)
                conditions->push_back(a[0]);
            next = at(a[0]).value != 0.0 ? a[1] : a[2];
            break;
        case Operation::add:
            next = constant(0, 0.0) ? a[1] : constant(1, 0.0) ? a[0] : -1;
            break;
        case Operation::subtract:
            next = constant(1, 0.0) ? a[0] : -1;
            break;
        case Operation::multiply:
            next = constant(0, 0.0) || constant(1, 1.0)   ? a[0]
                   : constant(1, 0.0) || constant(0, 1.0) ? a[1]
                                                          : -1;
            break;
        case Operation::divide:
            next = constant(1, 1.0) || constant(0, 0.0) ? a[0] : -1;
            break;
        case Operation::greater:
        case Operation::lesser:
            next = stands_for(a[0]) == stands_for(a[1]) ? a[0] : -1;
            break;
        default:
            break;
        }
        if (next < 0)
            return node;
        node = next;
    }
}

int Plan::stands_for(int node, std::vector<int>* conditions) const {
    int& known = stands_for_[index(node)];
    if (conditions != nullptr || known < 0)
        known = past(node, false, conditions);
    return known;
}
int Plan::is_of(int node) const {
    for (int next = shown(node); next != node; next = shown(node))
        node = next;
    return node;
}
int Plan::shown(int node, std::vector<int>* conditions) const {
    return past(node, true, conditions);
}

// What decided a condition.
void Plan::add_compared(int truth, std::vector<int>& to, int joined) const {
    if (joined == 0)
        return;
    const Node& n = at(truth);
    const bool told = n.value != 0.0;
    switch (n.operation) {
    case Operation::not_so:
        return add_compared(n.arguments[0], to, joined - 1);
    case Operation::both:
    case Operation::either: {
        const bool first = at(n.arguments[0]).value != 0.0;
        const bool decides_alone = told == (n.operation == Operation::either);
        if (!decides_alone || first == told)
            add_compared(n.arguments[0], to, joined - 1);
        if (!decides_alone || first != told)
            add_compared(n.arguments[1], to, joined - 1);
        return;
    }
    case Operation::constant:
        return;
    default:
        for (const int a : {n.arguments[0], n.arguments[1]})
            if (const int x = stands_for(a); !is_constant(x) && at(x).value < 1e300)
                to.push_back(x);
    }
}

// A part of a formula; where it came down to a bare number, with what decided that.
void Plan::add_part(int node, bool first, std::vector<int>& to) const {
    std::vector<int> conditions;
    const int part = past(node, first, &conditions);
    to.push_back(part);
    if (is_constant(part))
        for (const int c : conditions)
            add_compared(c, to, most_joined);
}

std::vector<int> Plan::parts(int node) const {
    if (shown(node) != node) {
        std::vector<int> all;
        add_part(node, true, all);
        return all;
    }
    const Node& n = at(node);
    std::vector<int> all;
    switch (n.operation) {
    case Operation::constant:
    case Operation::input:
    case Operation::searched:
    case Operation::root:
        return all;
    case Operation::stepped:
        for (int k = n.arguments[1]; k >= 0 && k < n.arguments[2]; ++k)
            add_part(recording_.lists[index(k)], false, all);
        if (n.arguments[0] >= 0)
            add_part(n.arguments[0], false, all);
        return all;
    default:
        for (const int a : n.arguments)
            if (a >= 0)
                add_part(a, false, all);
        return all;
    }
}

Dimension Plan::dimension_of(const Node& n) const {
    const auto of = [&](int which) { return dimensions_[index(n.arguments[which])]; };
    switch (n.operation) {
    case Operation::constant:
        return n.number == 1.0   ? Dimension::of(Quantity::density)
               : n.number == 2.0 ? Dimension::of(Quantity::modulus)
                                 : Dimension();
    case Operation::input:
        return Dimension::of(words_.inputs[static_cast<std::size_t>(n.number)].quantity);
    case Operation::add:
    case Operation::subtract:
    case Operation::greater:
    case Operation::lesser:
    case Operation::length:
        return of(0).with(of(1));
    case Operation::select:
        return of(at(n.arguments[0]).value != 0.0 ? 1 : 2);
    case Operation::multiply:
        return of(0).times(of(1));
    case Operation::divide:
        return of(0).times(of(1), -1);
    case Operation::negative:
    case Operation::absolute:
    case Operation::positive:
    case Operation::same:
        return of(0);
    case Operation::square:
        return of(0).to_the(2.0);
    case Operation::cube:
        return of(0).to_the(3.0);
    case Operation::power:
        return of(0).to_the(n.number);
    case Operation::square_root:
        return of(0).to_the(0.5);
    case Operation::cube_root:
        return of(0).to_the(1.0 / 3.0);
    case Operation::root:
    case Operation::searched:
        return n.arguments[1] >= 0 ? of(1) : Dimension::mixed();
    case Operation::stepped:
        return Dimension::mixed();
    default:
        return Dimension::none();
    }
}

void Plan::find_dimensions() {
    for (const Node& n : recording_.nodes) {
        dimensions_.push_back(dimension_of(n));
        const std::size_t k = dimensions_.size() - 1;
        // Nothing goes with any unit.
        if (const int stands = stands_for(static_cast<int>(k)); is_constant(stands))
            dimensions_[k] = dimensions_[index(stands)];
        if (n.operation == Operation::property)
            dimensions_[k] = reading(static_cast<int>(k)).dimension;
        // What is declared is known, whatever its formula mixes.
        if (const int output = output_of_[k]; output >= 0)
            dimensions_[k] = Dimension::of(words_.outputs[index(output)].quantity);
    }
}

void Plan::count(int node) {
    ++uses_[index(node)];
    if (seen_[index(node)])
        return;
    seen_[index(node)] = 1;
    const Node& n = at(node);
    own_[index(node)] = keeps_name(node) && n.operation != Operation::input;
    switch (n.operation) {
    case Operation::property:
    case Operation::searched:
    case Operation::stepped:
        own_[index(node)] = 1;
        break;
    case Operation::root: {
        own_[index(node)] = 1;
        const int equation = n.arguments[0];
        equation_of_[index(equation)] = node;
        count(equation);
        own_[index(equation)] = 1;
        break;
    }
    default:
        break;
    }
    for (const int part : parts(node))
        count(part);
}

int Plan::length(int node) const {
    if (own(node))
        return at(node).name != nullptr ? static_cast<int>(std::string(at(node).name).size()) : 8;
    if (is_input(node))
        return static_cast<int>(
            words_.inputs[static_cast<std::size_t>(at(node).number)].path.size());
    if (is_constant(node))
        return 5;
    return length_[index(node)];
}

// From the parts to the whole: what is used twice, and the longest parts of what is too long.
void Plan::measure(int node) {
    if (measured_[index(node)])
        return;
    measured_[index(node)] = 1;
    if (at(node).operation == Operation::root)
        measure(at(node).arguments[0]);
    std::vector<int> all = parts(node);
    bool plain = true; // nothing but a step on names
    for (const int part : all) {
        measure(part);
        plain = plain && is_atom(part);
        // Written twice over: (e^x - 1)/x.
        if (at(node).operation == Operation::expm1_over && !is_atom(part))
            own_[index(part)] = 1;
    }
    const auto total = [&] {
        int sum = 4;
        for (const int part : all)
            sum += length(part) + 3;
        return sum;
    };
    if (at(node).operation != Operation::stepped)
        while (total() > line_length) {
            int longest = -1;
            for (const int part : all)
                if (!is_atom(part) && (longest < 0 || length(part) > length(longest)))
                    longest = part;
            if (longest < 0 || length(longest) <= 12)
                break;
            own_[index(longest)] = 1;
        }
    length_[index(node)] = total();
    const Operation o = at(node).operation;
    if (uses_[index(node)] > 1 && !is_constant(node) && !is_input(node) && !is_truth(o) &&
        (!plain || length_[index(node)] > 40))
        own_[index(node)] = 1;
}

// Lines in order: what a line needs stands before it; the equation of a root after it.
void Plan::place(int node, int consumer) {
    if (placed_[index(node)])
        return;
    placed_[index(node)] = 1;
    const bool line = own(node);
    if (line)
        consumer_[index(node)] = consumer;
    const int by = line ? node : consumer;
    const Operation o = at(node).operation;
    if (o == Operation::root || o == Operation::input) {
        order_.push_back(node);
        if (o == Operation::root)
            place(at(node).arguments[0], node);
        return;
    }
    for (const int part : parts(node))
        place(part, by);
    if (line)
        order_.push_back(node);
}

} // namespace fitwright::explain
