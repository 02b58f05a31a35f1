// Condensed parts are found again in memory and on disk, and what is foreign or damaged there is refused.
#include "bodies_cases.hpp"
#include <filesystem>
#include <fstream>
#include <thread>

using namespace fitwright;
using namespace cases;
namespace fs = std::filesystem;

namespace {

StackSection two_alike() {
    const RingSection ring = ring_of({slice(20, 80, 120)});
    StackSection s = on_collar({slice(20, 40, 100), slice(100, 40, 80)}, {ring, ring}, 84, 100);
    return s;
}

struct Folder {
    fs::path path;
    Folder() {
        static int number = 0;
        path = fs::temp_directory_path() /
               ("fitwright-cache-" + std::to_string(::getpid()) + "-" + std::to_string(++number));
        fs::remove_all(path);
    }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::vector<fs::path> files() const {
        std::vector<fs::path> all;
        if (fs::exists(path))
            for (const auto& entry : fs::directory_iterator(path))
                all.push_back(entry.path());
        return all;
    }
};

} // namespace

TEST_CASE("the second stack with a part finds it in memory, another metal too", "[once][bodies]") {
    bodies::Cache cache;
    StackSection s = two_alike();
    const Sections first(s, {}, &cache);
    CHECK(cache.made() == 3);
    // Sizes in microns, metals, heat and speed are no geometry: only Poisson's ratio is asked again.
    s.rings[0].modulus = 71e9;
    const Sections second(s, {}, &cache);
    CHECK(cache.made() == 3);
    CHECK(cache.from_memory() == 3);
    s.rings[0].poisson = 0.33;
    const Sections third(s, {}, &cache);
    CHECK(cache.made() == 4);
    // The numbers are those of a stack made without a cache.
    s.rings[0].poisson = 0.3;
    const Sections fresh(s);
    CHECK(second.contacts().compliance == fresh.contacts().compliance);
}

TEST_CASE("a cache on disk serves the next run with the same bits", "[once][bodies]") {
    const Folder folder;
    const StackSection s = two_alike();
    std::vector<double> made;
    {
        bodies::Cache cache(folder.path.string());
        made = Sections(s, {}, &cache).contacts().compliance;
        CHECK(folder.files().size() == 3);
    }
    bodies::Cache cache(folder.path.string());
    CHECK(Sections(s, {}, &cache).contacts().compliance == made);
    CHECK(cache.from_disk() == 3);
    CHECK(cache.made() == 0);
    CHECK(cache.refused().empty());
}

TEST_CASE("damaged, cut and foreign files are refused and made anew", "[once][bodies]") {
    const Folder folder;
    const StackSection s = two_alike();
    std::vector<double> made;
    {
        bodies::Cache cache(folder.path.string());
        made = Sections(s, {}, &cache).contacts().compliance;
    }
    const auto spoil = [&](int how) {
        for (const fs::path& file : folder.files()) {
            if (how == 0) { // one bit in the middle
                std::fstream f(file, std::ios::in | std::ios::out | std::ios::binary);
                f.seekg(static_cast<std::streamoff>(fs::file_size(file) / 2));
                char c = 0;
                f.get(c);
                f.seekp(static_cast<std::streamoff>(fs::file_size(file) / 2));
                f.put(static_cast<char>(c ^ 1));
            } else if (how == 1) { // cut short
                fs::resize_file(file, fs::file_size(file) - 9);
            } else if (how == 2) { // empty
                fs::resize_file(file, 0);
            } else { // something else under that name
                std::ofstream(file) << std::string(5000, 'x');
            }
        }
    };
    for (int how = 0; how < 4; ++how) {
        CAPTURE(how);
        spoil(how);
        bodies::Cache cache(folder.path.string());
        CHECK(Sections(s, {}, &cache).contacts().compliance == made);
        CHECK(cache.refused().size() == 3);
        CHECK(cache.made() == 3);
        // And replaced.
        bodies::Cache next(folder.path.string());
        CHECK(Sections(s, {}, &next).contacts().compliance == made);
        CHECK(next.from_disk() == 3);
    }
    // A part under another part's name is foreign as well.
    const auto files = folder.files();
    fs::copy_file(files[0], files[1], fs::copy_options::overwrite_existing);
    bodies::Cache cache(folder.path.string());
    CHECK(Sections(s, {}, &cache).contacts().compliance == made);
    CHECK(cache.refused().size() == 1);
    for (const fs::path& file : folder.files())
        CHECK(file.extension() == ".body"); // nothing half written is left behind
}

TEST_CASE("a cache that cannot be written to says so", "[once][bodies]") {
    const Folder folder;
    std::ofstream(folder.path) << "a file where a folder should be";
    bodies::Cache cache((folder.path / "inside").string());
    CHECK_THROWS_WITH(Sections(two_alike(), {}, &cache),
                      ContainsSubstring("cache: cannot write to"));
}

TEST_CASE("threads share a cache", "[once][bodies]") {
    bodies::Cache cache;
    const StackSection s = two_alike();
    const Sections alone(s);
    std::vector<std::thread> threads;
    std::vector<char> same(4, 0);
    for (std::size_t k = 0; k < same.size(); ++k)
        threads.emplace_back([&, k] {
            const Sections one(s, {}, &cache);
            same[k] = one.contacts().compliance == alone.contacts().compliance;
        });
    for (std::thread& t : threads)
        t.join();
    CHECK(same == std::vector<char>(4, 1));
}
