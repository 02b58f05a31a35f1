// What a formula did, operation by operation, for whoever does it again with more digits
// (docs/generate_accuracy.py reads it with 50).
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace archetype {

class Tape {
public:
    struct Entry {
        const char* operation;
        int arguments[3]; // entries before it; -1: none
        double value;     // of "constant", else what double made of it
    };

    int add(const char* operation, double value, int a = -1, int b = -1, int c = -1) {
        entries.push_back({operation, {a, b, c}, value});
        return static_cast<int>(entries.size()) - 1;
    }

    std::vector<Entry> entries;
};

// The tape that numbers write to; none but while something is taped.
inline thread_local Tape* tape = nullptr;

} // namespace archetype
