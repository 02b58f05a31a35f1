// A long call asks now and then whether it shall go on. Plain: formulas and level files see it.
#pragma once

#include <fitwright/number/isa.hpp>

namespace fitwright::fields {

struct Stop {
    bool (*ask)(void*) = nullptr; // cheap, from the thread it was made for
    void* of = nullptr;
};

FITWRIGHT_INLINE bool asked_to_stop(const Stop* stop) {
    return stop != nullptr && stop->ask(stop->of);
}

} // namespace fitwright::fields
