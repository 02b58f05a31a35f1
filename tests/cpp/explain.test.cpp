// The calculation, shown: what a recorded formula says, and that it is what was computed.
#include "cases.hpp"
#include "catch.hpp"
#include "reference_call.hpp"

#include <algorithm>
#include <cstring>
#include <fitwright/explain/job.hpp>
#include <fitwright/explain/model.hpp>
#include <fitwright/explain/number.hpp>

using namespace fitwright;
using explain::Kind;
using explain::Line;
using explain::Number;
using explain::Operation;
using explain::Recording;

namespace {

// Lines of one answer of a small formula of x (a size, 80 mm) and t (a temperature, 70 degC).
template <class F>
std::vector<Line> shown(const F& formula, const materials::Material* metal = nullptr) {
    Recording recording;
    const double values[] = {0.08, 70.0};
    Number in[2];
    for (int i = 0; i < 2; ++i)
        in[i] = Number::at(values[i],
                           recording.add(Operation::input, values[i], -1, -1, -1, double(i)));
    const Recording::Open open(&recording);
    const Number answer = formula(in[0], in[1]);
    explain::Words words;
    words.inputs = {{"ring.bore", "bore", fields::Quantity::size},
                    {"temperature", "of it", fields::Quantity::temperature}};
    words.outputs = {{"answer", "what is asked", fields::Quantity::size, answer.node()}};
    if (metal != nullptr)
        words.metals = {{metal, "4340"}};
    return lines_of(recording, words, {0});
}

const Line& line_named(const std::vector<Line>& lines, const std::string& name) {
    const auto found = std::find_if(lines.begin(), lines.end(),
                                    [&](const Line& line) { return line.name == name; });
    INFO(name << "\n" << explain::printed(lines));
    REQUIRE(found != lines.end());
    return *found;
}

} // namespace

TEST_CASE("a line has its formula in symbols, with numbers and units, and its result",
          "[explain][once]") {
    const auto lines = shown([](const Number& x, const Number&) { return x * 0.5 + 1e-3; });
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].kind == Kind::input);
    CHECK(lines[0].name == "ring.bore");
    CHECK((lines[0].result + lines[0].unit) == "80mm");
    CHECK(lines[1].name == "answer");
    CHECK(lines[1].formula == "0.5 * ring.bore + 1 mm");
    CHECK(lines[1].numbers == "0.5 * 80 mm + 1 mm");
    CHECK(lines[1].latex == "0.5 \\cdot \\text{ring.bore} + 1\\,\\mathrm{mm}");
    CHECK(lines[1].result == "41");
    CHECK(lines[1].unit == "mm");
}

TEST_CASE("named values are lines of their own, and parts of what is too long", "[explain][once]") {
    const auto named_lines = shown([](const Number& x, const Number&) {
        const Number area = named("area of the face", square(x) * fields::pi / 4.0);
        return sqrt(area) + area / x;
    });
    const Line& area = line_named(named_lines, "area of the face");
    CHECK(area.formula == "pi * ring.bore^2 / 4");
    CHECK(area.numbers == "pi * (80 mm)^2 / 4");
    CHECK(area.unit == "mm^2");
    CHECK(named_lines.back().formula == "sqrt(area_of_the_face) + area_of_the_face / ring.bore");

    const auto cut = shown([](const Number& x, const Number&) {
        Number sum = x;
        for (int i = 1; i < 20; ++i)
            sum += square(x * double(i)) / (x + double(i));
        return sum;
    });
    CHECK(cut.size() > 3);
    for (const Line& line : cut)
        CHECK(line.formula.size() <= 120);
    CHECK(line_named(cut, "part 1").meaning == "for answer");
}

TEST_CASE("a branch says why it was taken", "[explain][once]") {
    const auto lines = shown(
        [](const Number& x, const Number& t) { return select(t > Number(20.0), x * 2.0, x); });
    REQUIRE(lines.back().because.size() == 1);
    CHECK(lines.back().because[0] == "temperature > 20 degC (70 degC)");
    CHECK(lines.back().formula == "2 * ring.bore");
    const auto other = shown([](const Number& x, const Number& t) {
        return select((t > Number(20.0)) & !(x > Number(0.01)), x * 2.0, x);
    });
    CHECK(other.back().because[0] == "ring.bore > 10 mm (80 mm)");
    CHECK(other.back().formula == "ring.bore");
}

TEST_CASE("a metal's property is read between two points of its table", "[explain][once]") {
    const materials::Material& metal = cases::metal("4340");
    const auto lines =
        shown([&](const Number& x,
                  const Number& t) { return x * materials::free_growth(metal, Number(1.0), t); },
              &metal);
    const Line& expansion = line_named(lines, "expansion of 4340");
    CHECK(expansion.kind == Kind::property);
    CHECK(expansion.meaning == "4340");
    CHECK(expansion.unit == "um/m/K");
    CHECK(expansion.value == materials::at(metal.expansion, 70.0));
}

namespace {
// x^3 = a
template <class T>
struct CubeEquation {
    T a;
    number::Residual<T> operator()(const T& x) const { return {x * x * x - a, x * x * 3.0}; }
    CubeEquation<number::Value<T>> values() const { return {number::value_of(a)}; }
};
} // namespace

TEST_CASE("a root is shown by its equation and what is left of it", "[explain][once]") {
    const auto lines = shown([](const Number& x, const Number&) {
        const Number unit = x / x;
        using number::root;
        const auto r =
            root(CubeEquation<Number>{unit * 5.0}, unit * 0.0, unit * 5.0, unit, Number(0.0));
        return named("third root", r.x) * x;
    });
    const Line& root = line_named(lines, "third root");
    CHECK(root.kind == Kind::root);
    CHECK(root.formula == "equation_of_third_root = 0");
    const Line& equation = line_named(lines, "equation of third root");
    CHECK(equation.kind == Kind::equation);
    CHECK(number::abs(equation.value) < 1e-14);
    CHECK(number::to_bits(root.value) ==
          number::to_bits(number::root(CubeEquation<double>{5.0}, 0.0, 5.0, 1.0, 0.0).x));
}

TEST_CASE("numbers are rounded to seven digits and carry a unit that suits them",
          "[explain][once]") {
    const auto of = [](double value) {
        return shown([&](const Number& x, const Number&) { return x * value; }).back().result;
    };
    CHECK(of(1.0 / 3.0) == "26.66667");
    CHECK(of(0.0) == "0");
}

TEST_CASE("every model of the archive shows what it computes", "[explain][once]") {
    std::size_t formulas = 0;
    for (const reference::Case& c : reference::cases) {
        if (std::strcmp(c.model, "materials") == 0)
            continue;
        INFO(c.title);
        const reference::Call call(c);
        const std::vector<double> wanted = call.on_double();
        const std::vector<std::string> metals(call.pointers.size(), "metal");
        const explain::Calculation all(*call.model, call.inputs.data(), call.context(), metals);
        for (std::size_t i = 0; i < wanted.size(); ++i) {
            INFO(all.words().outputs[i].path);
            CHECK(number::to_bits(all.value(static_cast<int>(i))) == number::to_bits(wanted[i]));
        }
        // One output of each case in turn, whole.
        const int output = static_cast<int>(formulas % wanted.size());
        const std::vector<Line> lines = all.lines(output);
        REQUIRE(!lines.empty());
        CHECK(lines.size() < 2500);
        for (const Line& line : lines) {
            INFO(line.name << " = " << line.formula);
            CHECK(!line.name.empty());
            CHECK((line.kind == Kind::stepped || line.formula.size() < 300));
        }
        ++formulas;
    }
    CHECK(formulas > 100);
}

TEST_CASE("a whole job shows each output from the job file on", "[explain][once]") {
    const job::Job job = cases::blower().at(job::Level::quick);
    const std::vector<double> wanted = job.evaluate();
    const explain::JobCalculation all(job);
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        INFO(all.words().outputs[i].path);
        CHECK(number::to_bits(all.value(static_cast<int>(i))) == number::to_bits(wanted[i]));
    }
    const std::vector<Line> lines = all.lines({job.output("full_load", "rings.sleeve.pressure")});
    CHECK(lines.back().name == "rings.sleeve.pressure [full_load]");
    CHECK(lines.back().value ==
          wanted[static_cast<std::size_t>(job.output("full_load", "rings.sleeve.pressure"))]);
    CHECK(lines.back().unit == "MPa");
    CHECK(line_named(lines, "rings.sleeve.bore").kind == Kind::input);
    const Line& root = *std::find_if(lines.begin(), lines.end(),
                                     [](const Line& line) { return line.kind == Kind::root; });
    CHECK(root.name.starts_with("tension of the shaft"));
    CHECK(root.unit == "kN");
    const std::string text = explain::printed(lines);
    CHECK(text.find("which makes equation_of_tension_of_the_shaft") != std::string::npos);
}

TEST_CASE("limits of validity are told with how near they are", "[explain][once]") {
    const explain::JobCalculation all(cases::blower());
    const auto limits = all.limits();
    REQUIRE(!limits.empty());
    for (std::size_t i = 1; i < limits.size(); ++i)
        CHECK(limits[i - 1].room <= limits[i].room);
    const auto bore = std::find_if(limits.begin(), limits.end(), [](const auto& limit) {
        return limit.sentence.find("must be smaller than the seat") != std::string::npos;
    });
    REQUIRE(bore != limits.end());
    CHECK(bore->path == "shaft.bore");
    CHECK(bore->compared == "shaft.bore < seats.main.diameter (30 mm < 80.036 mm)");
    CHECK(number::abs(bore->room - (1.0 - 30.0 / 80.036)) < 1e-12);
}

TEST_CASE("a bearing's balls under a radial load are found in steps, and it says from what",
          "[explain][once]") {
    const reference::Case* found = nullptr;
    for (const reference::Case& c : reference::cases)
        if (std::strcmp(c.model, "bearings.equilibrium") == 0)
            found = &c;
    REQUIRE(found != nullptr);
    const reference::Call call(*found);
    CHECK(!explain::has_formula(*call.model));
    const std::vector<std::string> metals(call.pointers.size(), "metal");
    const explain::Calculation all(*call.model, call.inputs.data(), call.context(), metals);
    const auto lines = all.lines(0);
    CHECK(lines.back().kind == Kind::stepped);
    CHECK(lines.back().formula.find("bearing.ball_diameter") != std::string::npos);
    CHECK(explain::printed(lines).find("found in steps of time or of a search") !=
          std::string::npos);
}

TEST_CASE("what cannot be evaluated cannot be shown", "[explain][once]") {
    auto in = cases::fit();
    in.ring.outside = 0.07;
    const materials::Material* metals[] = {&cases::metal("4340"), &cases::metal("52100")};
    CHECK_THROWS_AS(explain::Calculation(fields::model_named("rings.fit"),
                                         reinterpret_cast<const double*>(&in),
                                         {metals, nullptr, nullptr}, {"4340", "52100"}),
                    DomainError);
}
