// A formula as the core calls it: numbers in, numbers out, on any number type. All that a level
// file needs to see of a model.
#pragma once

#include <cstdint>
#include <fitwright/fields/stop.hpp>
#include <fitwright/number/faults.hpp>

namespace fitwright::materials {
struct Material;
}

namespace fitwright::fields {

// Structure a formula may read besides its numbers: materials in the order of the parts that have
// one, choices in the order of declaration, and for a job its layout. What steps through time asks
// `stop` at each step; whoever gave it throws away what comes back after it said yes.
struct Context {
    const materials::Material* const* materials = nullptr;
    const int* choices = nullptr;
    const void* layout = nullptr;
    const Stop* stop = nullptr;
    FITWRIGHT_INLINE bool stopped() const { return asked_to_stop(stop); }
};

template <class T>
using Formula = void (*)(const T* inputs, T* outputs, const Context&, number::Faults<T>&);

// The same formula on the number types of one vector level.
template <class Level>
struct Formulas {
    using L = number::Lanes<number::pack_width<Level>, Level>;
    using D = number::Dual<number::direction_count<Level>, Level>;
    Formula<L> lanes;
    Formula<D> dual;
};
// Explicitly instantiated in the level file of the room that owns the model.
template <class Model, class Level>
Formulas<Level> formulas();

// A value the user left out is worked out by the formula itself (see fields::worked_out).
template <class T>
FITWRIGHT_INLINE auto is_given(const T& x) {
    return x < T(1e300);
}
template <class T>
FITWRIGHT_INLINE T given(const T& x, const T& otherwise) {
    using number::select;
    return select(is_given(x), x, otherwise);
}

} // namespace fitwright::fields
