// Condensed parts, kept in memory and, where a folder is named, on disk: a second stack with the same
// part finds it there. The name of a part comes from its mesh, so that nothing old is ever found for
// something new.
#pragma once

#include <memory>
#include <string>
#include <vector>

namespace fitwright::bodies {

class Cache {
public:
    // An empty folder: memory alone. The folder is made when the first part is kept.
    // Throws DomainError where it cannot be written to.
    explicit Cache(std::string folder = "");
    ~Cache();
    Cache(const Cache&) = delete;
    Cache& operator=(const Cache&) = delete;

    const std::string& folder() const;
    int from_memory() const; // parts found there
    int from_disk() const;
    int made() const; // parts that were condensed anew
    // Files that bore the name of a part and were not one (foreign, or damaged): made anew and replaced.
    std::vector<std::string> refused() const;

    struct Store;
    Store& store() { return *store_; }

private:
    std::unique_ptr<Store> store_;
};

} // namespace fitwright::bodies
