#include <fitwright/explain/number.hpp>

namespace fitwright::explain {

namespace {
thread_local Recording* open_now = nullptr;
}

Recording* Recording::now() { return open_now; }
Recording::Open::Open(Recording* recording)
    : outer_(open_now) {
    open_now = recording;
}
Recording::Open::~Open() { open_now = outer_; }

Number named(const char* words, const Number& x) {
    Recording* r = Recording::now();
    if (r == nullptr)
        return x;
    int node = x.node();
    const Operation operation = r->at(node).operation;
    if (operation == Operation::root && r->at(node).name != nullptr)
        return x; // its equation is called after it
    if (operation == Operation::input || operation == Operation::constant)
        node = r->add(Operation::same, x.told(), node);
    r->at(node).name = words;
    return Number::at(x.told(), node);
}

Number searched(const char* words, const Number& x) {
    Recording* r = Recording::now();
    if (r == nullptr)
        return x;
    const int led_to = x.node();
    const int node = r->add(Operation::searched, x.told(), -1, led_to);
    r->at(node).name = words;
    return Number::at(x.told(), node);
}

namespace {
// `kind`: Node::number
Number metal_constant(double constant, double kind) {
    Recording* r = Recording::now();
    return r ? Number::at(constant, r->add(Operation::constant, constant, -1, -1, -1, kind))
             : Number(constant);
}
} // namespace
Number density_in(double constant, const Number&) { return metal_constant(constant, 1.0); }
Number modulus_in(double constant, const Number&) { return metal_constant(constant, 2.0); }

void speaks_of(int part, const Number&) {
    if (Recording* r = Recording::now())
        r->member = part;
}

Number looked_up(const materials::Table& table, const Number& t, const Number& value) {
    Recording* r = Recording::now();
    if (r == nullptr)
        return value;
    const int node = r->add(Operation::property, value.told(), t.node());
    r->at(node).table = &table;
    return Number::at(value.told(), node);
}

number::CompleteElliptic<Number> complete_elliptic(const Number& m) {
    const auto both = number::complete_elliptic(m.told());
    return {Number::of(Operation::elliptic_first, both.first, m),
            Number::of(Operation::elliptic_second, both.second, m)};
}

} // namespace fitwright::explain

namespace fitwright::number::detail {

EllipticParts<explain::Number> elliptic_parts(const explain::Number& m) {
    using explain::Number;
    using explain::Operation;
    const EllipticParts<double> parts = elliptic_parts(m.told());
    const Number rest = 1.0 - m;
    return {Number::of(Operation::elliptic_first, parts.first, m),
            Number::of(Operation::elliptic_b, parts.b, m),
            Number::of(Operation::elliptic_d, parts.d, m),
            rest.told() == parts.complement ? rest : Number(parts.complement)};
}

} // namespace fitwright::number::detail
