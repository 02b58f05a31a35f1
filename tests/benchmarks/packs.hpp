// Inputs of a model laid out as lanes, and the time its formula takes on them.
#pragma once

#include "bench.hpp"
#include "fields/at_level.hpp"
#include "fields/parallel.hpp"
#include "kernels.hpp"
#include <fitwright/fields/level.hpp>
#include <vector>

namespace fitwright::bench {

// Calls f(Level{}) with the active level as a type; only pointers are passed on from there.
template <class F>
decltype(auto) at_active_level(F&& f) {
    static const fields::AllFormulas none{.levels = 4};
    return fields::at_level(none, fields::active_level(),
                            [&]<class Level>(fields::Formulas<Level>) { return f(Level{}); });
}

class Packs {
public:
    const int width; // samples in a pack of the level that serves the formulas
    // The samples are repeated to fill whole packs.
    Packs(const fields::AllFormulas& all, const std::vector<std::vector<double>>& samples,
          int output_count)
        : width(fields::at_level(
              all, fields::active_level(),
              []<class Level>(fields::Formulas<Level>) { return number::pack_width<Level>; }))
        , packs_((static_cast<int>(samples.size()) + width - 1) / width)
        , inputs_(static_cast<int>(samples.front().size()))
        , in_(static_cast<std::size_t>(packs_ * inputs_ * width))
        , out_(static_cast<std::size_t>(output_count * width)) {
        for (int p = 0; p < packs_; ++p)
            for (int w = 0; w < width; ++w) {
                const auto& sample =
                    samples[static_cast<std::size_t>(p * width + w) % samples.size()];
                for (int i = 0; i < inputs_; ++i)
                    in_.data()[(p * inputs_ + i) * width + w] = sample[static_cast<std::size_t>(i)];
            }
    }
    // Output `j` of lane `w` of the last pack.
    double output(int j, int w) { return out_.data()[j * width + w]; }
    int last_pack() const { return (packs_ - 1) * width; }
    void run(const fields::AllFormulas& all, const fields::Context& context, const char* what) {
        PackRun work{in_.data(), out_.data(), packs_, inputs_, false};
        fields::at_level(all, fields::active_level(),
                         [&](auto formulas) { run_packs(formulas, work, context); });
        check(!work.faulty, std::string(what) + ": the inputs break a rule");
    }
    double ns(const fields::AllFormulas& all, const fields::Context& context, const char* what,
              int repeats) {
        run(all, context, what);
        return best_ns(repeats, packs_ * width, [&] { run(all, context, what); });
    }

private:
    int packs_, inputs_;
    fields::AlignedDoubles in_, out_;
};

} // namespace fitwright::bench
