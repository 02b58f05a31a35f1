#include <fitwright/fields/error.hpp>
#include <fitwright/fields/rules.hpp>

namespace fitwright {

namespace rules {
namespace {
constexpr Row rows[] = {{"none", "", fields::Quantity::ratio, ""},
#define FITWRIGHT_RULE_ROW(identifier, field, quantity, sentence)                                  \
    {#identifier, field, fields::Quantity::quantity, sentence},
                        FITWRIGHT_RULES(FITWRIGHT_RULE_ROW)
#undef FITWRIGHT_RULE_ROW
};
} // namespace

const Row& row_of(number::Rule rule) { return rows[rule]; }
} // namespace rules

namespace number {
void report_fault(Rule rule, int place, double value, void* collected) {
    if (collected == nullptr)
        throw Fault{rule, place, value};
    static_cast<std::vector<Fault>*>(collected)->push_back({rule, place, value});
}
} // namespace number

} // namespace fitwright
