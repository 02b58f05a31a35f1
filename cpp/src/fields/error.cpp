#include <cmath>
#include <cstdio>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/rules.hpp>

namespace fitwright {

namespace {
std::string joined(const std::vector<Problem>& problems) {
    std::string text;
    for (const Problem& p : problems) {
        if (!text.empty())
            text += '\n';
        text += p.path.empty() ? p.text : p.path + ": " + p.text;
    }
    return text;
}

std::string number_text(double value) {
    char buffer[40];
    std::snprintf(buffer, sizeof buffer, "%.6g", value);
    return buffer;
}
} // namespace

namespace number {
void report_fault(Rule rule, int place, double value, void* collected) {
    if (collected == nullptr)
        throw Fault{rule, place, value};
    static_cast<std::vector<Fault>*>(collected)->push_back({rule, place, value});
}
} // namespace number

DomainError::DomainError(std::vector<Problem> problems)
    : std::runtime_error(joined(problems))
    , problems_(std::move(problems)) {}

std::string show(double value, fields::Quantity quantity) {
    const fields::ShopUnit& unit = fields::row_of(quantity).metric;
    const std::string number = number_text(value * unit.factor + unit.offset);
    return unit.label[0] == '\0' ? number : number + " " + unit.label;
}

std::string quoted(const std::string& text) {
    std::size_t end = 64;
    if (text.size() <= end)
        return "\"" + text + "\"";
    const auto inside_a_character = [&](std::size_t at) {
        return (static_cast<unsigned char>(text[at]) & 0xc0U) == 0x80U;
    };
    while (end > 0 && inside_a_character(end))
        --end;
    return "\"" + text.substr(0, end) + "...\"";
}

std::string fault_text(const Fault& fault) {
    const rules::Row& row = rules::row_of(fault.rule);
    std::string sentence = row.sentence;
    if (const std::size_t at = sentence.find("{si}"); at != std::string::npos)
        sentence.replace(at, 4, number_text(fault.value));
    // What was left out has no value to show.
    return std::isinf(fault.value) ? sentence : show(fault.value, row.quantity) + " " + sentence;
}

} // namespace fitwright
