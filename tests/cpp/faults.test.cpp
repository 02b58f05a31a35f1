// A broken rule: thrown for a double, kept per lane, and a derivative that holds on one side told.
#include "catch.hpp"
#include "levels.hpp"

#include <fitwright/fields/error.hpp>
#include <fitwright/fields/level.hpp>
#include <fitwright/fields/rules.hpp>
#include <set>
#include <string>
#include <vector>

namespace fitwright::rules {
extern const number::Rule in_range, finite, outside_above_bore, surface_speed;
} // namespace fitwright::rules

using namespace fitwright;
using namespace fitwright::number;
namespace lt = fitwright::level_test;

TEST_CASE("a double throws the rule, the place and the value", "[faults]") {
    Faults<double> faults;
    faults.require(true, rules::outside_above_bore, 1.0);
    faults.place = 12;
    try {
        faults.require(false, rules::outside_above_bore, 0.07);
        FAIL("nothing was thrown");
    } catch (const Fault& fault) {
        CHECK(fault.rule == rules::outside_above_bore);
        CHECK(fault.place == 12);
        CHECK(fault.value == 0.07);
        CHECK(fault_text(fault) == "70 mm must be larger than the bore");
    }
}

TEST_CASE("every broken rule can be collected instead", "[faults]") {
    std::vector<Fault> all;
    Faults<double> faults;
    faults.collected = &all;
    faults.require(false, rules::finite, 1.0);
    faults.place = 3;
    faults.require(true, rules::surface_speed, 2.0);
    faults.require(false, rules::surface_speed, 11000.0);
    REQUIRE(all.size() == 2);
    CHECK(all[0].rule == rules::finite);
    CHECK(all[1].place == 3);
    // 11000 rad/s is 105042 rpm
    CHECK_THAT(fault_text(all[1]),
               ContainsSubstring("105042 rpm") && ContainsSubstring("did you mean \"11000 rpm\"?"));
}

TEST_CASE("each lane keeps the first rule it breaks", "[faults]") {
    const std::vector<double> x{1, -1, 11, 1, -1, 11, 5, 5};
    const std::vector<double> y{1, 1, 1, -1, -1, -1, 1, -2};
    std::vector<double> code(x.size(), -1.0);
    lt::on_level(fields::active_level(), [&]<class Level>(Level) {
        lt::check_rules<Level>({static_cast<int>(x.size()), x.data(), y.data(), code.data()});
    });
    const int rule[] = {no_rule,    lt::rule_a, lt::rule_b, lt::rule_c,
                        lt::rule_a, lt::rule_b, no_rule,    lt::rule_c};
    for (std::size_t i = 0; i < x.size(); ++i) {
        CAPTURE(x[i], y[i]);
        CHECK(rule_of(code[i]) == rule[i]);
        CHECK(place_of(code[i]) == (rule[i] == no_rule      ? 0
                                    : rule[i] == lt::rule_a ? lt::place_a
                                                            : lt::place_b));
    }
}

TEST_CASE("a dual keeps the first broken rule and tells a kink", "[faults]") {
    using D2 = Dual<2, Isa<0>>;
    Faults<D2> faults;
    faults.kink(false);
    faults.require(true, 9, D2(0.0));
    CHECK(faults.code == 0.0);
    CHECK_FALSE(faults.one_sided);
    faults.place = 4;
    faults.require(false, 6, D2(0.0));
    faults.place = 5;
    faults.require(false, 7, D2(0.0));
    faults.kink(true);
    faults.kink(false);
    CHECK(rule_of(faults.code) == 6);
    CHECK(place_of(faults.code) == 4);
    CHECK(faults.one_sided);
}

TEST_CASE("every rule has a sentence, and its own", "[faults]") {
    std::set<std::string> seen;
    int room = 0;
    for (const rules::Table& table : rules::tables()) {
        for (std::size_t k = 0; k < table.size(); ++k) {
            const rules::Row& row = table[k];
            CAPTURE(row.identifier);
            CHECK(&rules::row_of(rules::number_of(static_cast<rules::Room>(room),
                                                  static_cast<int>(k))) == &row);
            CHECK(seen.insert(std::string(row.field) + ": " + row.sentence).second);
        }
        ++room;
    }
    CHECK(std::string(rules::row_of(rules::in_range).identifier) == "in_range");
    CHECK(std::string(rules::row_of(number::no_rule).identifier) == "none");
}
