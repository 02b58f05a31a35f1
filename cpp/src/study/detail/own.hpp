// An expression on every number type. Plain pointers: level files see it.
#pragma once

#include <fitwright/fields/formula.hpp>
#include <fitwright/number/number.hpp>

namespace fitwright::rules {
extern const number::Rule divisor_not_zero, root_of_positive;
} // namespace fitwright::rules

namespace fitwright::study {

using namespace number;

// As study/own_outputs.hpp tells them.
struct OwnStep {
    int what, place;
    double value;
};
struct OwnExpression {
    const OwnStep* steps;
    int count;
};
inline constexpr int own_depth = 32;

// What the context of a system with outputs of one's own points to: its own formula and context.
struct OwnWork {
    fields::Formula<double> scalar;
    fields::Formulas<number::Isa<0>> baseline;
    fields::Formulas<number::Isa<2>> v2;
    fields::Formulas<number::Isa<3>> v3;
    fields::Formulas<number::Isa<4>> v4;
    fields::Context context;
    const OwnExpression* expressions;
    int count;
};

// The value that all steps leave. Both sides of a branch stay finite.
template <class T>
T value_of(const OwnExpression& e, const T* inputs, const T* outputs, number::Faults<T>& faults) {
    T waiting[own_depth];
    for (T& value : waiting)
        value = T(0.0);
    int n = 0;
    for (int k = 0; k < e.count; ++k) {
        const OwnStep& s = e.steps[k];
        if (s.what <= 2) {
            waiting[n++] = s.what == 0   ? outputs[s.place]
                           : s.what == 1 ? inputs[s.place]
                                         : T(s.value);
            continue;
        }
        T& x = s.what >= 7 && s.what <= 9 ? waiting[n - 1] : waiting[n - 2];
        const T& y = waiting[n - 1];
        switch (s.what) {
        case 3:
            x = x + y;
            break;
        case 4:
            x = x - y;
            break;
        case 5:
            x = x * y;
            break;
        case 6: {
            const auto vanishes = y == T(0.0);
            faults.require(!vanishes, rules::divisor_not_zero, y);
            x = x / select(vanishes, T(1.0), y);
            break;
        }
        case 7:
            x = -x;
            break;
        case 8:
            faults.kink(x == T(0.0));
            x = select(x < T(0.0), -x, x);
            break;
        case 9: {
            const auto negative = x < T(0.0);
            faults.require(!negative, rules::root_of_positive, x);
            faults.kink(x == T(0.0));
            x = root0(select(negative, T(0.0), x));
            break;
        }
        case 10:
            faults.kink(x == y);
            x = select(y < x, y, x);
            break;
        default:
            faults.kink(x == y);
            x = select(x < y, y, x);
            break;
        }
        if (s.what < 7 || s.what > 9)
            --n;
    }
    return waiting[0];
}

// Which formula runs on a number type.
FITWRIGHT_INLINE const auto& own_at(const OwnWork& w, number::Isa<0>) { return w.baseline; }
FITWRIGHT_INLINE const auto& own_at(const OwnWork& w, number::Isa<2>) { return w.v2; }
FITWRIGHT_INLINE const auto& own_at(const OwnWork& w, number::Isa<3>) { return w.v3; }
FITWRIGHT_INLINE const auto& own_at(const OwnWork& w, number::Isa<4>) { return w.v4; }

template <class T>
void run_own(const OwnWork& w, const T* in, T* out, number::Faults<T>& f) {
    for (int i = 0; i < w.count; ++i) {
        f.place = i;
        out[i] = value_of(w.expressions[i], in, out + w.count, f);
    }
}

template <class T>
struct OwnRun {
    static void inner(const OwnWork& w, const T* in, T* out, const fields::Context& c,
                      number::Faults<T>& f) {
        w.scalar(in, out, c, f);
    }
    static void own(const OwnWork& w, const T* in, T* out, number::Faults<T>& f) {
        run_own(w, in, out, f);
    }
};
template <int N, class Level>
struct OwnRun<number::Dual<N, Level>> {
    using T = number::Dual<N, Level>;
    static void inner(const OwnWork& w, const T* in, T* out, const fields::Context& c,
                      number::Faults<T>& f) {
        own_at(w, Level{}).dual(in, out, c, f);
    }
    static void own(const OwnWork& w, const T* in, T* out, number::Faults<T>& f) {
        run_own(w, in, out, f);
    }
};
// They belong to the first part of a formula in parts, whose codes are told already.
template <int W, class Level>
struct OwnRun<number::Lanes<W, Level>> {
    using T = number::Lanes<W, Level>;
    static void inner(const OwnWork& w, const T* in, T* out, const fields::Context& c,
                      number::Faults<T>& f) {
        own_at(w, Level{}).lanes(in, out, c, f);
    }
    static void own(const OwnWork& w, const T* in, T* out, number::Faults<T>& f) {
        number::Faults<T> mine;
        run_own(w, in, out, mine);
        f.code = select(f.code == T(0.0), mine.code, f.code);
        for (int s = 0; f.stages != nullptr && s < 2; ++s)
            f.stages[s] = select(f.stages[s] == T(0.0), mine.code, f.stages[s]);
    }
};

struct WithOwn {
    template <class T>
    static void run(const T* in, T* out, const fields::Context& context, number::Faults<T>& f) {
        const OwnWork& w = *static_cast<const OwnWork*>(context.layout);
        fields::Context inner = w.context;
        inner.stop = context.stop;
        OwnRun<T>::inner(w, in, out + w.count, inner, f);
        OwnRun<T>::own(w, in, out, f);
    }
};

} // namespace fitwright::study
