// Tapes of formulas at inputs that a file tells, for docs/generate_accuracy.py. One request a line:
//   model;materials;choices;inputs      separated by spaces, numbers as C++ reads hexadecimal ones
// One answer a line: the number of the broken rule, or 0; how many entries; the outputs as entries; then
// the entries, "operation a b c value" each, separated by semicolons.
#include "archetype.hpp"
#include "cases.hpp"
#include "catch.hpp"

#include <cstdlib>
#include <fstream>
#include <iomanip>
#include <sstream>

using namespace fitwright;
using archetype::Number;
using archetype::Tape;

namespace {

std::vector<std::string> words(const std::string& line, char between) {
    std::vector<std::string> all;
    std::istringstream stream(line);
    for (std::string word; std::getline(stream, word, between);)
        if (!word.empty() || between == ';')
            all.push_back(word);
    return all;
}

void answer(const std::string& request, std::ostream& out) {
    const std::vector<std::string> parts = words(request + ";", ';');
    REQUIRE(parts.size() >= 4);
    const archetype::Formula formula = archetype::formula_named(parts[0]);
    REQUIRE(formula != nullptr);
    std::vector<const materials::Material*> metals;
    for (const std::string& name : words(parts[1], ' '))
        metals.push_back(&cases::metal(name.c_str()));
    std::vector<int> choices;
    for (const std::string& choice : words(parts[2], ' '))
        choices.push_back(std::stoi(choice));
    Tape tape;
    std::vector<Number> inputs;
    for (const std::string& number : words(parts[3], ' ')) {
        const double x = std::strtod(number.c_str(), nullptr);
        inputs.push_back(Number::taped(x, tape.add("input", x)));
    }
    const auto& outputs_of = *fields::model_named(parts[0]).outputs;
    std::vector<Number> outputs(fields::leaves_of(outputs_of).size(), Number(0.0));
    number::Faults<Number> faults;
    archetype::tape = &tape;
    formula(inputs.data(), outputs.data(), {metals.data(), choices.data(), nullptr}, faults);
    std::ostringstream places;
    for (const Number& x : outputs)
        places << x.node() << ' ';
    archetype::tape = nullptr;
    out << faults.first << ';' << tape.entries.size() << ';' << places.str() << ';';
    for (const Tape::Entry& e : tape.entries)
        out << e.operation << ' ' << e.arguments[0] << ' ' << e.arguments[1] << ' '
            << e.arguments[2] << ' ' << std::hexfloat << e.value << std::defaultfloat << ';';
    out << '\n';
}

} // namespace

TEST_CASE("tapes of the formulas that a file asks for", "[.accuracy]") {
    const char* from = std::getenv("FITWRIGHT_TAPES_ASKED");
    const char* to = std::getenv("FITWRIGHT_TAPES");
    REQUIRE(from != nullptr);
    REQUIRE(to != nullptr);
    std::ifstream asked(from);
    std::ofstream out(to);
    for (std::string line; std::getline(asked, line);)
        answer(line, out);
    REQUIRE(out.good());
}

TEST_CASE("a tape holds what the formula did", "[number]") {
    Tape tape;
    archetype::tape = &tape;
    const Number x = Number::taped(3.0, tape.add("input", 3.0));
    const Number y = select(x > Number(2.0), x * Number(2.0), -x);
    archetype::tape = nullptr;
    CHECK(y.told() == 6.0);
    CHECK(std::string(tape.entries[static_cast<std::size_t>(y.node())].operation) == "select");
    CHECK(tape.entries.back().value == 6.0);
}
