#include "explain/detail/units.hpp"

#include <charconv>
#include <cmath>
#include <cstdlib>
#include <stdexcept>
#include <string_view>

namespace fitwright::explain {

using fields::Quantity;

namespace {

struct Named {
    std::string_view name;
    std::array<int, 4> exponents; // of m, kg, s, K
};
constexpr Named base_units[] = {
    {"1", {}},         {"rad", {}},         {"revolution", {}},  {"m", {1}},
    {"kg", {0, 1}},    {"s", {0, 0, 1}},    {"K", {0, 0, 0, 1}}, {"degC", {0, 0, 0, 1}},
    {"N", {1, 1, -2}}, {"Pa", {-1, 1, -2}}, {"Hz", {0, 0, -1}},  {"W", {2, 1, -3}},
    {"J", {2, 1, -2}},
};

void add_unit(Dimension& to, std::string_view word, int sign) {
    double exponent = 1.0;
    if (const auto raised = word.find('^'); raised != std::string_view::npos) {
        exponent = std::strtod(std::string(word.substr(raised + 1)).c_str(), nullptr);
        word = word.substr(0, raised);
    }
    for (const Named& unit : base_units)
        if (unit.name == word) {
            for (std::size_t i = 0; i < 4; ++i)
                to.twelfths[i] += static_cast<int>(12.0 * exponent) * sign * unit.exponents[i];
            return;
        }
    throw std::logic_error("no base unit " + std::string(word));
}

std::string power_text(const std::string& unit, int twelfths) {
    return twelfths == 12 ? unit : unit + "^" + number_text(twelfths / 12.0);
}

// From N and mm where mass and time come in as a force does, else from kg, m and s.
ShownUnit composed(const Dimension& d) {
    struct Part {
        const char* unit;
        int twelfths;
        double size; // in SI
    };
    const auto [m, kg, s, k] = d.twelfths;
    const bool by_force = s == -2 * kg; // lengths alone too
    const Part parts[] = {{"N", by_force ? kg : 0, 1.0},
                          {"kg", by_force ? 0 : kg, 1.0},
                          {by_force ? "mm" : "m", by_force ? m - kg : m, by_force ? 1e-3 : 1.0},
                          {"s", by_force ? 0 : s, 1.0},
                          {"K", k, 1.0}};
    ShownUnit shown;
    for (const int twelfths : d.twelfths)
        if (twelfths % 6 != 0) // cube roots of units tell nobody anything
            return shown;
    std::string below;
    int root = 0; // how often the root of 1e3, mm in a m, is in the factor
    for (const Part& p : parts) {
        if (p.twelfths == 0)
            continue;
        if (p.twelfths > 0)
            shown.label += (shown.label.empty() ? "" : "*") + power_text(p.unit, p.twelfths);
        else
            below += "/" + power_text(p.unit, -p.twelfths);
        for (int i = 0; p.size != 1.0 && i < std::abs(p.twelfths); i += 6)
            root += p.twelfths > 0 ? 1 : -1;
    }
    for (int i = 0; i < std::abs(root) / 2; ++i)
        shown.factor *= 1e3;
    if (root % 2 != 0)
        shown.factor *= 31.622776601683793;
    if (root < 0)
        shown.factor = 1.0 / shown.factor;
    shown.label = (shown.label.empty() && !below.empty() ? "1" : shown.label) + below;
    return shown;
}

} // namespace

Dimension Dimension::of(Quantity quantity) {
    Dimension d = none();
    std::string_view rest = fields::row_of(quantity).si;
    int sign = 1;
    while (!rest.empty()) {
        const auto end = rest.find_first_of("*/");
        add_unit(d, rest.substr(0, end), sign);
        if (end == std::string_view::npos)
            break;
        sign = rest[end] == '/' ? -1 : 1;
        rest = rest.substr(end + 1);
    }
    return d;
}

Dimension Dimension::times(const Dimension& other, int sign) const {
    if (known == Known::mixed || other.known == Known::mixed)
        return mixed();
    if (known == Known::constant && other.known == Known::constant)
        return {};
    Dimension d{Known::told, twelfths};
    for (std::size_t i = 0; i < 4; ++i)
        d.twelfths[i] += sign * other.twelfths[i];
    return d;
}

Dimension Dimension::to_the(double exponent) const {
    if (pure() || known == Known::mixed)
        return *this;
    Dimension d{Known::told, {}};
    for (std::size_t i = 0; i < 4; ++i) {
        const double raised = twelfths[i] * exponent;
        d.twelfths[i] = static_cast<int>(raised < 0.0 ? raised - 0.5 : raised + 0.5);
        if (std::abs(raised - d.twelfths[i]) > 1e-9)
            return mixed();
    }
    return d;
}

Dimension Dimension::with(const Dimension& other) const {
    if (known == Known::constant)
        return other;
    if (other.known == Known::constant)
        return *this;
    return known == Known::mixed || other.known == Known::mixed || twelfths != other.twelfths
               ? mixed()
               : *this;
}

ShownUnit unit_of(Quantity quantity) {
    const fields::ShopUnit& unit = fields::row_of(quantity).metric;
    std::string label = unit.label;
    for (char& c : label)
        c = c == ' ' ? '*' : c;
    return {label, unit.factor};
}

ShownUnit unit_of(const Dimension& dimension, double value) {
    if (dimension.known != Dimension::Known::told || dimension.pure())
        return {};
    const double size = std::abs(value);
    const auto is = [&](Quantity q) { return dimension.twelfths == Dimension::of(q).twelfths; };
    if (is(Quantity::size))
        return unit_of(size != 0.0 && size < 1e-4 ? Quantity::fine : Quantity::size);
    if (is(Quantity::stress))
        return unit_of(size >= 1e10 ? Quantity::modulus : Quantity::stress);
    if (is(Quantity::force) && size < 100.0)
        return {"N", 1.0};
    if (is(Quantity::frequency))
        return {"1/s", 1.0};
    if (is(Quantity::velocity))
        return {"m/s", 1.0};
    for (const Quantity q :
         {Quantity::force, Quantity::area, Quantity::torque, Quantity::difference, Quantity::time,
          Quantity::mass, Quantity::density, Quantity::expansion, Quantity::compliance,
          Quantity::stiffness, Quantity::curvature, Quantity::conductivity, Quantity::heat_capacity,
          Quantity::film, Quantity::contact_constant})
        if (is(q))
            return unit_of(q);
    return composed(dimension);
}

std::string number_text(double value, int most) {
    if (!(std::abs(value) <= 1.7976931348623157e308))
        return value > 0.0 ? "infinite" : value < 0.0 ? "-infinite" : "none";
    char text[64];
    for (int digits = 7;; ++digits) {
        const auto end =
            std::to_chars(text, text + sizeof text, value, std::chars_format::general, digits).ptr;
        *end = '\0';
        if (digits >= most ||
            std::abs(std::strtod(text, nullptr) - value) <= std::abs(value) * 1e-15)
            return text[0] == '-' && text[1] == '0' && text[2] == '\0' ? "0" : text;
    }
}

std::string with_unit(const std::string& number, const std::string& unit) {
    return unit.empty() ? number : number + " " + unit;
}

std::string latex_number(const std::string& number, const std::string& unit) {
    std::string text = number;
    if (const auto e = text.find('e');
        e != std::string::npos && text.find('i') == std::string::npos) {
        std::string exponent = text.substr(e + 1);
        const bool negative = exponent[0] == '-';
        exponent.erase(0, exponent.find_first_not_of("+-0"));
        text = text.substr(0, e) + " \\cdot 10^{" + (negative ? "-" : "") + exponent + "}";
    } else if (text.find('n') != std::string::npos) {
        text = "\\text{" + text + "}";
    }
    if (unit.empty())
        return text;
    text += "\\,";
    std::string word;
    const auto put = [&] {
        if (word == "um")
            text += "\\mu\\mathrm{m}";
        else if (word == "degC")
            text += "{}^{\\circ}\\mathrm{C}";
        else if (word == "deg")
            text += "{}^{\\circ}";
        else if (!word.empty())
            text += "\\mathrm{" + word + "}";
        word.clear();
    };
    for (std::size_t i = 0; i < unit.size(); ++i) {
        if (unit[i] == '^') {
            put();
            std::size_t end = i + 1;
            while (end < unit.size() &&
                   (unit[end] == '.' || (unit[end] >= '0' && unit[end] <= '9')))
                ++end;
            text += "^{" + unit.substr(i + 1, end - i - 1) + "}";
            i = end - 1;
        } else if (unit[i] == '*' || unit[i] == '/') {
            put();
            text += unit[i] == '*' ? "\\," : "/";
        } else {
            word += unit[i];
        }
    }
    put();
    return text;
}

std::string latex_words(const std::string& words) {
    std::string text = "\\text{";
    for (const char c : words) {
        if (c == '_' || c == '%' || c == '&' || c == '#')
            text += '\\';
        text += c;
    }
    return text + "}";
}

} // namespace fitwright::explain
