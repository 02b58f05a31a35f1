#include "explain/detail/expression.hpp"

#include <algorithm>
#include <cmath>

namespace fitwright::explain {

using Written = Expression::Written;

namespace {

constexpr double pi = fields::pi;

std::string wrapped(const Written& w, int needs, bool latex) {
    if (w.holds >= needs)
        return w.text;
    return latex ? "\\left(" + w.text + "\\right)" : "(" + w.text + ")";
}

// x OPERATOR y for all four.
Expression joined(const Expression& x, const Expression& y, const char* text, const char* latex,
                  int left, int right, int holds) {
    const auto both = [&](const Written& a, const Written& b, const char* between, bool tex) {
        return Written{wrapped(a, left, tex) + between + wrapped(b, right, tex), holds};
    };
    return {both(x.symbols, y.symbols, text, false), both(x.numbers, y.numbers, text, false),
            both(x.latex, y.latex, latex, true),
            both(x.latex_numbers, y.latex_numbers, latex, true)};
}
Expression sum(const Expression& x, const Expression& y) {
    return joined(x, y, " + ", " + ", 0, 1, 0);
}
Expression difference(const Expression& x, const Expression& y) {
    return joined(x, y, " - ", " - ", 0, 1, 0);
}
Expression product(const Expression& x, const Expression& y) {
    return joined(x, y, " * ", " \\cdot ", 1, 1, 1);
}
Expression quotient(const Expression& x, const Expression& y) {
    Expression e = joined(x, y, " / ", "", 1, 2, 1);
    // 1 / pi and 2 / 3 hold as a product does, also below a fraction.
    e.latex = {"\\frac{" + x.latex.text + "}{" + y.latex.text + "}", 2};
    e.latex_numbers = {"\\frac{" + x.latex_numbers.text + "}{" + y.latex_numbers.text + "}", 2};
    return e;
}
Expression negated(const Expression& x) {
    const auto of = [](const Written& w, bool tex) { return Written{"-" + wrapped(w, 1, tex), 0}; };
    return {of(x.symbols, false), of(x.numbers, false), of(x.latex, true),
            of(x.latex_numbers, true)};
}
Expression raised(const Expression& x, const std::string& exponent) {
    const auto of = [&](const Written& w, bool tex) {
        return Written{wrapped(w, 4, tex) + (tex ? "^{" + exponent + "}" : "^" + exponent), 3};
    };
    return {of(x.symbols, false), of(x.numbers, false), of(x.latex, true),
            of(x.latex_numbers, true)};
}
Expression called(const std::string& text, const std::string& open, const std::string& close,
                  const Expression& x) {
    const auto plain = [&](const Written& w) { return Written{text + "(" + w.text + ")", 4}; };
    const auto tex = [&](const Written& w) { return Written{open + w.text + close, 4}; };
    return {plain(x.symbols), plain(x.numbers), tex(x.latex), tex(x.latex_numbers)};
}
Expression called(const std::string& text, const std::string& latex, const Expression& x) {
    return called(text, latex + "\\left(", "\\right)", x);
}
Expression listed(const Expression& x, const Expression& y) {
    return joined(x, y, ", ", ", ", 0, 0, 0);
}
Expression literal(const std::string& text) {
    const Written w{text, 4};
    return {w, w, w, w};
}
Expression literal_pi() { return {{"pi", 4}, {"pi", 4}, {"\\pi", 4}, {"\\pi", 4}}; }

// p/q and p/q pi where a constant is one.
bool fraction(double value, int& over, int& below, bool plain) {
    for (below = 1; below <= 64; ++below)
        for (over = 1; over <= 8; ++over)
            if (double(over) / below == value && (plain || over * 64 >= below))
                return true;
    return false;
}

} // namespace

std::string symbol(const std::string& name) {
    std::string text;
    for (std::size_t i = 0; i < name.size(); ++i) {
        const bool in_list = i > 0 && name[i - 1] == ',';
        if (name[i] == ' ' && (in_list || (i + 1 < name.size() && name[i + 1] == '[')))
            continue;
        text += name[i] == ' ' ? '_' : name[i];
    }
    return text;
}

Expression Writer::number(double value, const ShownUnit& unit, int most) const {
    const std::string digits = number_text(value * unit.factor, most);
    const bool negative = digits[0] == '-';
    const Written text{with_unit(digits, unit.label), negative ? 0 : unit.label.empty() ? 4 : 2};
    const std::string tex = latex_number(digits, unit.label);
    const bool bare = unit.label.empty() && tex.find("cdot") == std::string::npos;
    const Written latex{tex, negative ? 0 : bare ? 4 : 2};
    return {text, text, latex, latex};
}

Expression Writer::constant(int node) const {
    const double value = plan_.at(node).value;
    if (const Dimension& d = plan_.dimension(node); d.known == Dimension::Known::told)
        return number(value, unit_of(d, value), 12);
    const double size = std::abs(value);
    const std::string digits = number_text(size, 12);
    Expression e = number(size, {}, 12);
    int over = 0;
    int below = 0;
    if (digits.size() > 6 && size > 1e-3 && size < 100.0) {
        const auto ratio = [&] {
            const Expression p = literal(std::to_string(over));
            return below == 1 ? p : quotient(p, literal(std::to_string(below)));
        };
        if (fraction(size, over, below, true)) {
            e = ratio();
        } else if (fraction(size / pi, over, below, false) && over * pi / below == size) {
            e = over == 1 ? literal_pi() : product(literal(std::to_string(over)), literal_pi());
            if (below != 1)
                e = quotient(e, literal(std::to_string(below)));
        } else if (fraction(size * pi, over, below, false)) {
            const Expression bottom =
                below == 1 ? literal_pi() : product(literal(std::to_string(below)), literal_pi());
            e = quotient(literal(std::to_string(over)), bottom);
        }
    }
    return value < 0.0 ? negated(e) : e;
}

Expression Writer::reference(int node) const {
    const std::string name = plan_.name(node);
    const Node& n = plan_.at(node);
    const Expression value = number(n.value, plan_.unit(node), plan_.is_input(node) ? 12 : 7);
    const Written latex{latex_words(name), 4};
    return {{symbol(name), 4}, value.numbers, latex, value.latex_numbers};
}

Expression Writer::of(int node) {
    std::vector<int> conditions;
    node = plan_.stands_for(node, &conditions);
    for (const int c : conditions)
        note(c);
    if (plan_.is_constant(node))
        return constant(node);
    if (plan_.is_input(node) || plan_.own(node))
        return reference(node);
    return formula(node);
}

Expression Writer::beside(int node, int other) {
    const int at = plan_.stands_for(node);
    const int by = plan_.stands_for(other);
    const double value = plan_.at(at).value;
    if (!plan_.is_constant(at) || plan_.is_constant(by) || value == 0.0)
        return of(node);
    const Dimension& d = plan_.dimension(by);
    if (d.known != Dimension::Known::told || d.pure())
        return of(node);
    ShownUnit unit = unit_of(d, value);
    if (plan_.is_input(by) && plan_.unit(by).label == "degC")
        unit = plan_.unit(by);
    return number(value, unit, 12);
}

// What it is one over, where it is; -1: not.
int Writer::inverse(int node) const {
    const Node& n = plan_.at(node);
    if (n.operation != Operation::divide || plan_.own(node))
        return -1;
    const int one = plan_.stands_for(n.arguments[0]);
    return plan_.is_constant(one) && plan_.at(one).value == 1.0 ? n.arguments[1] : -1;
}

Expression Writer::formula(int node) {
    const Node& n = plan_.at(node);
    const int* a = n.arguments;
    switch (n.operation) {
    case Operation::add: {
        if (plan_.at(plan_.stands_for(a[1])).operation == Operation::negative &&
            !plan_.own(plan_.stands_for(a[1])))
            return difference(beside(a[0], a[1]),
                              of(plan_.at(plan_.stands_for(a[1])).arguments[0]));
        return sum(beside(a[0], a[1]), beside(a[1], a[0]));
    }
    case Operation::subtract: {
        const int first = plan_.stands_for(a[0]);
        if (plan_.is_constant(first) && plan_.at(first).value == 0.0)
            return negated(of(a[1]));
        return difference(beside(a[0], a[1]), beside(a[1], a[0]));
    }
    case Operation::multiply: {
        const int x = plan_.stands_for(a[0]);
        const int y = plan_.stands_for(a[1]);
        if (x == y)
            return raised(of(x), "2");
        if (inverse(y) >= 0) { // x (1/y)
            const Expression over = of(a[0]);
            return quotient(over, of(inverse(y)));
        }
        if (inverse(x) >= 0) {
            const Expression over = of(a[1]);
            return quotient(over, of(inverse(x)));
        }
        const bool turned = plan_.is_constant(y) && !plan_.is_constant(x);
        const Expression left = of(turned ? a[1] : a[0]);
        return product(left, of(turned ? a[0] : a[1]));
    }
    case Operation::divide: {
        const Expression over = of(a[0]);
        return quotient(over, of(a[1]));
    }
    case Operation::negative:
        return negated(of(a[0]));
    case Operation::square:
        return raised(of(a[0]), "2");
    case Operation::cube:
        return raised(of(a[0]), "3");
    case Operation::power:
        return raised(of(a[0]), n.number < 0.0 ? "(" + number_text(n.number, 12) + ")"
                                               : number_text(n.number, 12));
    case Operation::square_root:
        return called("sqrt", "\\sqrt{", "}", of(a[0]));
    case Operation::cube_root:
        return called("cbrt", "\\sqrt[3]{", "}", of(a[0]));
    case Operation::absolute:
        return called("abs", "\\left|", "\\right|", of(a[0]));
    case Operation::exponential:
        return called("exp", "\\exp", of(a[0]));
    case Operation::logarithm:
        return called("ln", "\\ln", of(a[0]));
    case Operation::expm1_over: {
        const Expression x = of(a[0]);
        if (plan_.at(plan_.stands_for(a[0])).value == 0.0)
            return literal("1");
        return quotient(difference(called("exp", "\\exp", x), literal("1")), x);
    }
    case Operation::sine:
        return called("sin", "\\sin", of(a[0]));
    case Operation::cosine:
        return called("cos", "\\cos", of(a[0]));
    case Operation::arc_tangent:
        return called("atan", "\\arctan", of(a[0]));
    case Operation::elliptic_first:
        return called("K", "K", of(a[0]));
    case Operation::elliptic_second:
        return called("E", "E", of(a[0]));
    case Operation::elliptic_b:
        return called("B", "B", of(a[0]));
    case Operation::elliptic_d:
        return called("D", "D", of(a[0]));
    case Operation::normal_quantile:
        return called("normal_quantile", "\\Phi^{-1}", of(a[0]));
    case Operation::greater: {
        const Expression first = beside(a[0], a[1]);
        return called("max", "\\max", listed(first, beside(a[1], a[0])));
    }
    case Operation::lesser: {
        const Expression first = beside(a[0], a[1]);
        return called("min", "\\min", listed(first, beside(a[1], a[0])));
    }
    case Operation::positive:
        return called("max", "\\max", listed(literal("0"), of(a[0])));
    case Operation::length: {
        const Expression first = raised(of(a[0]), "2");
        return called("sqrt", "\\sqrt{", "}", sum(first, raised(of(a[1]), "2")));
    }
    case Operation::property:
        return table(node);
    default:
        return number(n.value, plan_.unit(node), 7);
    }
}

Expression Writer::table(int node) {
    const Plan::Reading read = plan_.reading(node);
    const Dimension& d = read.dimension;
    Expression start = number(read.value, unit_of(d, read.value), 12);
    if (read.slope == 0.0)
        return start;
    const Dimension per = d.times(Dimension::of(fields::Quantity::difference), -1);
    ShownUnit unit = unit_of(d, read.value);
    unit.label = per.known == Dimension::Known::mixed ? "" : unit.label + "/K";
    const Expression slope = number(std::abs(read.slope), unit, 12);
    const Expression step =
        difference(of(plan_.at(node).arguments[0]),
                   number(read.knot, unit_of(fields::Quantity::temperature), 12));
    const Expression rise = product(slope, step);
    return read.slope < 0.0 ? difference(start, rise) : sum(start, rise);
}

// What a stepped answer hangs on.
Expression Writer::found_from(int node) {
    Expression all;
    std::vector<int> told = plan_.found_from(node);
    std::sort(told.begin(), told.end());
    told.erase(std::unique(told.begin(), told.end()), told.end());
    for (const int part : told) {
        if (plan_.is_constant(part))
            continue;
        const Expression one = of(part);
        all = all.symbols.text.empty() ? one : listed(all, one);
    }
    return all;
}

} // namespace fitwright::explain
