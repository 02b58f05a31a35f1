// A model is one formula with declared inputs and outputs. Told once here, it is served to Python,
// to the reference checks, to batches, to studies and to derivatives by the same few functions.
#pragma once

#include <fitwright/fields/between.hpp>
#include <fitwright/fields/field.hpp>
#include <fitwright/fields/formula.hpp>
#include <initializer_list>
#include <span>
#include <string>
#include <vector>

namespace fitwright::fields {

// The formula of a model on the levels it has. The others are empty, and the one below serves for them.
struct AllFormulas {
    Formula<double> scalar;
    int levels; // the highest it has
    Formulas<number::Isa<0>> baseline;
    Formulas<number::Isa<2>> v2;
    Formulas<number::Isa<3>> v3;
    Formulas<number::Isa<4>> v4;
};

struct Text {
    const char* room;
    const char* name;
    const char* answers;  // what question it answers, one line
    const char* equation; // with the symbols of docs/theory
    const char* validity; // range and assumptions
    const char* source;
    const char* example; // runnable Python
    // Cautions that belong beside the answer, by kind, separated by '|' (fw.tooling.cautions).
    const char* cautions = "";
};

struct Model {
    Text text;
    const Declaration* inputs;
    const Declaration* outputs;
    AllFormulas formulas;
    // Names of the places a fault can speak of, by number; place 0 is the model itself.
    std::span<const char* const> places = {};
    // Milliseconds and more a sample: batches are cut finer, so that every thread has its share.
    bool in_time = false;
};

// A declaration laid flat, in the order of the struct in memory.
struct Leaf {
    std::string path; // "ring.bore"
    const Field* field;
};
std::vector<Leaf> leaves_of(const Declaration&);
// Paths of the materials ("shaft.material") and of the choices, in order; a declaration's own
// material comes before those of its parts.
std::vector<std::string> materials_of(const Declaration&);
std::vector<Leaf> choices_of(const Declaration&);

// The inputs of T with the standard values filled in; required fields are NaN.
std::vector<double> standard_values(const Declaration&);
template <template <class> class Inputs>
Inputs<double> standard_inputs() {
    const std::vector<double> values = standard_values(Declared<Inputs>::declaration);
    return *reinterpret_cast<const Inputs<double>*>(values.data());
}

// All models the library serves by name (python/bindings, reference checks).
std::span<const Model* const> all_models();
const Model& model_named(const std::string& room_and_name); // "rings.fit"

// Empty when the value is allowed, else the sentence the user reads.
std::string range_problem(double value, const Field&);

// One evaluation. Throws DomainError with the path, the value, the rule and the unit.
void evaluate(const Model&, const double* inputs, double* outputs, const Context&);

// The same on the struct types of a model: what the C++ calls of the rooms are made of.
template <class Outputs, class Inputs>
Outputs evaluate(const Model& model, const Inputs& inputs,
                 std::initializer_list<const materials::Material*> materials,
                 std::initializer_list<int> choices = {}) {
    Outputs outputs;
    evaluate(model, reinterpret_cast<const double*>(&inputs), reinterpret_cast<double*>(&outputs),
             {materials.begin(), choices.begin(), nullptr});
    return outputs;
}

// n evaluations: input i of sample k is columns[i][k * strides[i]]; results[j] may be null.
struct Batch {
    const double* const* columns;
    const std::int64_t* strides; // 0: the same for all samples, 1: one after the other
    double* const* results;
    std::int64_t count;
};
// On the active vector level and `threads` threads. Throws DomainError for the first sample that
// is out of domain.
void evaluate(const Model&, const Batch&, const Context&, int threads, const Between& between = {});

// Derivatives at one point, row by row (outputs x inputs); `one_sided` tells whether some hold on one
// side only.
struct Slopes {
    std::vector<double> outputs;
    std::vector<double> derivatives;
    bool one_sided;
};

// Exact derivatives d outputs / d inputs, row by row (outputs x inputs), at one point.
void jacobian(const Model&, const double* inputs, double* outputs, double* derivatives,
              const Context&);

} // namespace fitwright::fields
