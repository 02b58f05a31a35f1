// What the tests of the threads share: a nut, the call of a model by name, and what it refuses.
#pragma once

#include "cases.hpp"

#include <fitwright/fields/error.hpp>

namespace threads_cases {

using namespace fitwright;
using namespace fitwright::threads;

constexpr double pi = fields::pi;
inline const materials::Material& shaft_metal = cases::metal("4340");
inline const materials::Material& nut_metal = cases::metal("1045");

template <class Outputs, class Inputs>
Outputs run(const char* name, const Inputs& in, std::initializer_list<int> choices = {0, 0, 0, 0}) {
    return fields::evaluate<Outputs>(fields::model_named(name), in, {&shaft_metal, &nut_metal},
                                     choices);
}
template <class Inputs>
std::string refusal(const char* name, const Inputs& in) {
    std::vector<double> outputs(100);
    const int choices[4] = {};
    const materials::Material* metals[] = {&shaft_metal, &nut_metal};
    try {
        fields::evaluate(fields::model_named(name), reinterpret_cast<const double*>(&in),
                         outputs.data(), {metals, choices, nullptr});
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}

inline void set_friction(Nut<double>& nut, double thread, double face) {
    nut.thread_friction = nut.thread_friction_low = nut.thread_friction_high = thread;
    nut.face_friction = nut.face_friction_low = nut.face_friction_high = face;
}

template <template <class> class Inputs>
Inputs<double> with_nut() {
    auto in = fields::standard_inputs<Inputs>();
    in.nut = cases::nut().nut;
    return in;
}

} // namespace threads_cases
