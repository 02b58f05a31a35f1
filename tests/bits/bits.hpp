// One number for all the bits that a set of models, jobs and studies answers with: the same on every
// compiler, processor, level and system, or an answer hangs on where it was worked out.
#pragma once

#include <cstdint>
#include <cstring>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace fitwright::bits {

// FNV-1a over the bytes of the bits, the low ones first whatever the machine.
class Hash {
public:
    void add(std::uint64_t bits) {
        for (int k = 0; k < 8; ++k, bits >>= 8)
            value_ = (value_ ^ (bits & 0xff)) * 0x100000001b3;
        ++numbers_;
    }
    void add(double x) {
        std::uint64_t bits = 0;
        std::memcpy(&bits, &x, sizeof bits);
        add(bits);
    }
    void add(const std::vector<double>& all) {
        for (const double x : all)
            add(x);
    }
    void add(std::string_view text) {
        for (const char c : text)
            add(static_cast<std::uint64_t>(static_cast<unsigned char>(c)));
    }
    std::uint64_t value() const { return value_; }
    std::int64_t numbers() const { return numbers_; }

private:
    std::uint64_t value_ = 0xcbf29ce484222325;
    std::int64_t numbers_ = 0;
};

// A case answers into the hash it is given.
using Case = std::function<void(Hash&)>;
using Tell = std::function<void(const std::string& name, const Case&)>;

// The models, each at its published cases and at inputs scattered about them.
void models(const Tell&);
// Jobs at every level of asking, their derivatives, sweeps, studies and questions turned round.
// `brief`: fewer samples, for a machine that is only imitated.
void jobs(const Tell&, bool brief);

} // namespace fitwright::bits
