// What a cache keeps, and how it stands on disk.
#pragma once

#include "condensed.hpp"
#include <fitwright/bodies/cache.hpp>
#include <functional>
#include <map>
#include <mutex>

namespace fitwright::bodies {

using Kept = std::shared_ptr<const CondensedBody>;

struct Cache::Store {
    std::string folder;
    int from_memory = 0, from_disk = 0, made = 0;
    std::vector<std::string> refused;
    std::map<std::pair<std::uint64_t, std::uint64_t>, Kept> kept;
    std::mutex mutex;

    // From memory, from disk, or by `make`, which is then kept. May be called by several threads.
    Kept get(const BodyKey& key, const std::function<CondensedBody()>& make);

private:
    std::string path(const BodyKey& key) const;
    Kept read(const BodyKey& key);
    void write(const BodyKey& key, const CondensedBody& body) const;
};

} // namespace fitwright::bodies
