// Included by every level file (*.level.cpp). Such a file is compiled once per vector level; it may
// hold numbers, plain pointers and leaf indices, and nothing of the standard library.
#pragma once

#include <fitwright/fields/formula.hpp>

#ifndef FITWRIGHT_LEVEL
#error "a level file is compiled with FITWRIGHT_LEVEL set (see cpp/CMakeLists.txt)"
#endif

namespace fitwright {
using AtLevel = number::Isa<FITWRIGHT_LEVEL>;
}

namespace fitwright::fields {

// A model is a tag struct with `template <class T> static void run(const T*, T*, const Context&,
// Faults<T>&)`; here it is served on lanes and duals of this level.
template <class Model, class Level>
Formulas<Level> formulas() {
    using F = Formulas<Level>;
    return {&Model::template run<typename F::L>, &Model::template run<typename F::D>};
}

} // namespace fitwright::fields

#define FITWRIGHT_SERVE_AT_LEVEL(Model)                                                            \
    template fitwright::fields::Formulas<fitwright::AtLevel>                                       \
    fitwright::fields::formulas<Model, fitwright::AtLevel>();
