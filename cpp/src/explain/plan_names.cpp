// What lines are called, and in which unit they are shown.
#include "explain/detail/plan.hpp"
#include <map>

namespace fitwright::explain {

using fields::Quantity;

void Plan::give_names() {
    std::map<std::string, std::vector<int>> same; // words, and who is called so
    for (const int node : order_) {
        const Node& n = at(node);
        if (n.operation == Operation::input)
            names_[index(node)] = words_.inputs[static_cast<std::size_t>(n.number)].path;
        else if (const int output = output_of_[index(node)]; output >= 0)
            names_[index(node)] = words_.outputs[index(output)].path;
        else if (n.name != nullptr)
            same[n.name].push_back(node);
        else if (n.operation == Operation::property) {
            const Reading read = reading(node);
            same[read.metal ? read.property + " of " + read.metal->name : read.property].push_back(
                node);
        }
    }
    for (const auto& [words, nodes] : same) {
        std::map<std::string, int> told;
        for (const int node : nodes) {
            std::string name = words;
            if (const std::string where = words_.where(at(node));
                nodes.size() > 1 && !where.empty())
                name += " [" + where + "]";
            const int count = ++told[name];
            names_[index(node)] = count == 1 ? name : name + " " + std::to_string(count);
        }
    }
    int part = 0;
    for (const int node : order_) {
        if (!names_[index(node)].empty())
            continue;
        if (is_equation(node)) {
            names_[index(node)] = "equation of " + names_[index(equation_of_[index(node)])];
            continue;
        }
        names_[index(node)] = "part " + std::to_string(++part);
    }
}

// The named line that a part of it is for.
std::string Plan::part_of(int node) const {
    if (!names_[index(node)].starts_with("part ") || keeps_name(node))
        return {};
    int by = consumer_[index(node)];
    while (by >= 0 && names_[index(by)].starts_with("part ") && !keeps_name(by))
        by = consumer_[index(by)];
    return by >= 0 ? names_[index(by)] : std::string();
}

std::string Plan::name(int node) const {
    if (is_input(node))
        return words_.inputs[static_cast<std::size_t>(at(node).number)].path;
    return names_[index(node)];
}

ShownUnit Plan::unit(int node) const {
    if (is_input(node))
        return unit_of(words_.inputs[static_cast<std::size_t>(at(node).number)].quantity);
    if (const int output = output_of_[index(node)]; output >= 0)
        return unit_of(words_.outputs[index(output)].quantity);
    return unit_of(dimension(node), at(node).value);
}

Plan::Reading Plan::reading(int node) const {
    Reading read;
    const materials::Table* table = at(node).table;
    struct Property {
        const char* name;
        const materials::Table materials::Material::* table;
        Quantity quantity;
    };
    static constexpr Property properties[] = {
        {"modulus", &materials::Material::modulus, Quantity::modulus},
        {"expansion", &materials::Material::expansion, Quantity::expansion},
        {"yield", &materials::Material::yield, Quantity::stress},
        {"conductivity", &materials::Material::conductivity, Quantity::conductivity},
        {"heat capacity", &materials::Material::heat_capacity, Quantity::heat_capacity},
    };
    for (const Metal& metal : words_.metals)
        for (const Property& p : properties)
            if (&(metal.metal->*p.table) == table && read.metal == nullptr) {
                read.metal = &metal;
                read.property = p.name;
                read.dimension = Dimension::of(p.quantity);
            }
    const double t = at(at(node).arguments[0]).value;
    read.value = table->first;
    read.knot = table->count > 0 ? table->knot[0] : 0.0;
    for (int k = 0; k < table->count && table->knot[k] < t; ++k) {
        read.value += (table->knot[k] - read.knot) * read.slope;
        read.knot = table->knot[k];
        read.slope += table->slope_change[k];
    }
    return read;
}

} // namespace fitwright::explain
