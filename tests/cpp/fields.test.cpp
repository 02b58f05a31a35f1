// Declarations of fields: what bindings, schema, paths and errors rely on.
#include "cases.hpp"
#include "catch.hpp"

#include <cmath>
#include <fitwright/bearings/hertz.hpp>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/level.hpp>
#include <fitwright/heat/loosen.hpp>
#include <fitwright/heat/slip_on.hpp>
#include <fitwright/rings/thick_ring.hpp>
#include <functional>
#include <limits>
#include <set>
#include <sstream>
#include <stdexcept>

using namespace fitwright;
using namespace fitwright::fields;

namespace {

// Words that no field may be called by: keywords of C++20, of Python 3.11, and names that Python
// classes have already.
std::set<std::string> taken_names() {
    std::istringstream words(
        "alignas alignof and and_eq asm auto bitand bitor bool break case catch char char16_t "
        "char32_t char8_t class co_await co_return co_yield compl concept const const_cast "
        "consteval constexpr constinit continue decltype default delete do double dynamic_cast "
        "else enum explicit export extern false float for friend goto if inline int long mutable "
        "namespace new noexcept not not_eq nullptr operator or or_eq private protected public "
        "register reinterpret_cast requires return short signed sizeof static static_assert "
        "static_cast struct switch template this thread_local throw true try typedef typeid "
        "typename union unsigned using virtual void volatile wchar_t while xor xor_eq "
        "None True False as assert async await def del elif except finally from global import in "
        "is lambda nonlocal pass raise with yield match self");
    std::set<std::string> all;
    for (std::string word; words >> word;)
        all.insert(word);
    return all;
}

void each_declaration(const std::function<void(const Declaration&)>& f) {
    const std::function<void(const Declaration&)> walk = [&](const Declaration& d) {
        f(d);
        for (const Field& field : d.fields)
            if (field.kind == Kind::part)
                walk(*field.part);
    };
    for (const Model* m : all_models()) {
        walk(*m->inputs);
        walk(*m->outputs);
    }
    for (const job::TableOfParts& t : job::tables_of_parts())
        walk(*t.declaration);
}

// A declaration laid flat is the struct in memory.
template <template <class> class Part>
void lies_flat() {
    CHECK(leaves_of(Declared<Part>::declaration).size() == sizeof(Part<double>) / sizeof(double));
    CHECK(standard_values(Declared<Part>::declaration).size() ==
          sizeof(Part<double>) / sizeof(double));
}

std::string problem(double value, const Field& f) { return range_problem(value, f); }
const Field size_field{Kind::number, "bore", Quantity::size, above(0.0, 0.5), required, "the bore"};

} // namespace

TEST_CASE("field names are lower case and keywords of neither language", "[fields]") {
    const auto taken = taken_names();
    each_declaration([&](const Declaration& d) {
        std::set<std::string> here;
        for (const Field& f : d.fields) {
            INFO(d.name << "." << f.name);
            const std::string name = f.name;
            CHECK(name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") ==
                  std::string::npos);
            CHECK((name.front() >= 'a' && name.front() <= 'z'));
            CHECK(taken.count(name) == 0);
            CHECK(here.insert(name).second);
        }
    });
}

TEST_CASE("every field says what it means; standard values lie in their range", "[fields]") {
    const auto check = [](const Declaration& d) {
        for (const Field& f : d.fields) {
            INFO(d.name << "." << f.name);
            if (f.kind == Kind::part) {
                CHECK(f.part != nullptr);
                continue;
            }
            CHECK(std::string(f.meaning).size() > 5);
            if (f.kind == Kind::choice) {
                CHECK(std::string(f.words).find('|') != std::string::npos);
                continue;
            }
            CHECK(f.range.low < f.range.high);
            if (std::isfinite(f.standard)) {
                CHECK(problem(f.standard, f).empty());
            }
        }
    };
    for (const Model* m : all_models())
        check(*m->inputs);
    for (const job::TableOfParts& t : job::tables_of_parts())
        check(*t.declaration);
}

TEST_CASE("outputs have a scale, for reserves where the limit is 0", "[fields]") {
    for (const Model* m : all_models())
        for (const Leaf& leaf : leaves_of(*m->outputs)) {
            INFO(m->text.name << " " << leaf.path);
            CHECK(leaf.field->standard > 0.0);
        }
}

TEST_CASE("a declaration laid flat is the struct in memory", "[fields]") {
    lies_flat<rings::FitInputs>();
    lies_flat<rings::FitOutputs>();
    lies_flat<rings::ThickRingInputs>();
    lies_flat<heat::OvenInputs>();
    lies_flat<heat::ChillInputs>();
    lies_flat<heat::SlipOnInputs>();
    lies_flat<heat::SeatingInputs>();
    lies_flat<heat::LoosenInputs>();
    lies_flat<threads::TightenInputs>();
    lies_flat<threads::Tightening>();
    lies_flat<threads::HandInputs>();
    lies_flat<threads::LockTabsOutputs>();
    lies_flat<stack::WedgeInputs>();
    lies_flat<stack::WedgeOutputs>();
    lies_flat<bearings::HertzInputs>();
    lies_flat<bearings::MountedInputs>();
    lies_flat<bearings::MountedOutputs>();
    lies_flat<job::Ring>();
    lies_flat<job::Nut>();
    lies_flat<job::BearingOutputs>();
    // And in the same order.
    const auto in = standard_inputs<rings::FitInputs>();
    const auto leaves = leaves_of(Declared<rings::FitInputs>::declaration);
    const auto at = [&](const char* path) {
        for (std::size_t i = 0; i < leaves.size(); ++i)
            if (leaves[i].path == path)
                return &in.shaft.bore + i;
        return static_cast<const double*>(nullptr);
    };
    CHECK(at("shaft.seat") == &in.shaft.seat);
    CHECK(at("ring.friction_high") == &in.ring.friction_high);
    CHECK(at("axial_force") == &in.axial_force);
    CHECK(in.ring.friction_low < in.ring.friction);
    CHECK(std::isnan(in.shaft.seat));
}

TEST_CASE("the table of quantities is in the order of their names", "[fields]") {
    int i = 0;
    std::set<std::string> names;
    for (const QuantityRow& row : quantities) {
        CHECK(static_cast<int>(row.quantity) == i++);
        CHECK(names.insert(row.name).second);
        CHECK(row.metric.factor > 0.0);
        CHECK(row.inch.factor > 0.0);
    }
    // The two shop units of a quantity are one another's exact multiples: 1 in = 25.4 mm,
    // 1 lbf = 4.4482216152605 N, both by definition.
    const auto ratio = [](Quantity q) { return row_of(q).metric.factor / row_of(q).inch.factor; };
    CHECK(ratio(Quantity::size) == Approx(25.4).epsilon(1e-14));
    CHECK(ratio(Quantity::fine) == Approx(25.4).epsilon(1e-14));
    CHECK(ratio(Quantity::force) == Approx(4.4482216152605e-3).epsilon(1e-14));
    CHECK(ratio(Quantity::stress) == Approx(6.894757293168361).epsilon(1e-13));  // MPa per ksi
    CHECK(ratio(Quantity::torque) == Approx(1.3558179483314004).epsilon(1e-13)); // N m per lbf ft
    CHECK(ratio(Quantity::contact_constant) ==
          Approx(4.4482216152605 / std::pow(25.4, 1.5)).epsilon(1e-12));
}

TEST_CASE("values are shown in shop units", "[fields]") {
    CHECK(show(0.07995, Quantity::size) == "79.95 mm");
    CHECK(show(38e-6, Quantity::fine) == "38 um");
    CHECK(show(37e6, Quantity::stress) == "37 MPa");
    CHECK(show(0.15, Quantity::ratio) == "0.15");
    CHECK(show(1151.9173, Quantity::speed) == "11000 rpm");
}

TEST_CASE("a value outside its range is told with value, rule and unit", "[fields][bad]") {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    CHECK(problem(0.2, size_field).empty());
    CHECK(problem(0.0, size_field) == "0 mm is outside its range: above 0 mm to 500 mm");
    CHECK(problem(0.6, size_field) == "600 mm is outside its range: above 0 mm to 500 mm");
    CHECK(problem(std::nan(""), size_field) == "must be given (the bore)");
    CHECK(problem(infinity, size_field) == "must be a finite number");
    Field worked = size_field;
    worked.standard = worked_out;
    CHECK(problem(infinity, worked).empty());
    CHECK(problem(-infinity, worked) == "must be a finite number");
    CHECK(problem(std::nan(""), worked) == "must be a finite number");
    const Field heat{Kind::number,           "t",  Quantity::temperature,
                     from_to(-100.0, 200.0), 20.0, "how hot"};
    CHECK_THAT(problem(293.15, heat),
               ContainsSubstring("293.15 degC") && ContainsSubstring("kelvin is not"));
}

TEST_CASE("a model is found by name, and says what it is for", "[fields]") {
    for (const Model* m : all_models()) {
        CHECK(&model_named(std::string(m->text.room) + "." + m->text.name) == m);
        for (const char* text :
             {m->text.answers, m->text.equation, m->text.validity, m->text.source, m->text.example})
            CHECK(std::string(text).size() > 20);
    }
    CHECK_THROWS_AS(model_named("rings.fitt"), std::invalid_argument);
}

TEST_CASE("a batch names the first sample that is out of domain", "[fields][bad]") {
    const auto in = cases::numbers(cases::fit());
    std::vector<double> outside(100, 0.105);
    outside[37] = 0.07;
    outside[90] = 0.06;
    std::vector<const double*> columns;
    std::vector<std::int64_t> strides(in.size(), 0);
    for (const double& x : in)
        columns.push_back(&x);
    const auto leaves = leaves_of(Declared<rings::FitInputs>::declaration);
    for (std::size_t i = 0; i < leaves.size(); ++i)
        if (leaves[i].path == "ring.outside") {
            columns[i] = outside.data();
            strides[i] = 1;
        }
    std::vector<double> pressure(outside.size());
    std::vector<double*> results(sizeof(rings::FitOutputs<double>) / sizeof(double), nullptr);
    results[2] = pressure.data();
    const materials::Material* const metals[] = {&cases::metal("4340"), &cases::metal("52100")};
    const auto run = [&] {
        evaluate(model_named("rings.fit"), {columns.data(), strides.data(), results.data(), 100},
                 {metals, nullptr, nullptr}, 2);
    };
    CHECK_THROWS_WITH(run(), ContainsSubstring("ring.outside[37]: 70 mm must be larger"));
    outside[37] = -1.0;
    CHECK_THROWS_WITH(run(), ContainsSubstring("ring.outside[37]: -1000 mm is outside its range"));
    outside[37] = std::nan("");
    CHECK_THROWS_WITH(run(), ContainsSubstring("ring.outside[37]"));
    outside[37] = outside[90] = 0.105;
    run();
    for (const double p : pressure)
        CHECK(p == pressure.front());
}

TEST_CASE("a level that cannot run is refused", "[fields][bad]") {
    CHECK_THROWS_AS(force_level(9), std::invalid_argument);
    CHECK_FALSE(usable_levels().empty());
}

TEST_CASE("a user's text is cut between its characters", "[fields]") {
    CHECK(quoted("4340") == "\"4340\"");
    std::string umlauts = "4";
    for (int i = 0; i < 40; ++i)
        umlauts += "\xc3\xa9"; // byte 64 is the second half of one
    const std::string shown = quoted(umlauts);
    CHECK(shown == "\"" + umlauts.substr(0, 63) + "...\"");
}
