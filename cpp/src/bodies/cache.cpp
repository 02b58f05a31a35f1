#include "detail/store.hpp"
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <random>

namespace fitwright::bodies {

namespace {

namespace fs = std::filesystem;

// A file is this, the flexibility, the loads, and a sum over all of it.
struct Head {
    char mark[16];
    std::uint64_t version, order, a, b, points, numbers;
};
constexpr char mark[16] = "fitwright body\n";
constexpr std::uint64_t version = 1;
constexpr std::uint64_t byte_order = 0x0102030405060708ULL;

std::uint64_t sum_of(const void* data, std::size_t size, std::uint64_t sum) {
    const auto* bytes = static_cast<const unsigned char*>(data);
    for (std::size_t i = 0; i < size; ++i)
        sum = (sum ^ bytes[i]) * 0x100000001b3ULL;
    return sum;
}
std::uint64_t sum_of(const Head& head, const CondensedBody& body) {
    std::uint64_t sum = sum_of(&head, sizeof head, 0xcbf29ce484222325ULL);
    sum = sum_of(body.flexibility.data(), body.flexibility.size() * sizeof(double), sum);
    return sum_of(body.by_load.data(), body.by_load.size() * sizeof(double), sum);
}
Head head_of(const BodyKey& key, const CondensedBody& body) {
    Head head{};
    std::memcpy(head.mark, mark, sizeof mark);
    head.version = version;
    head.order = byte_order;
    head.a = key.a;
    head.b = key.b;
    head.points = body.points;
    head.numbers = body.flexibility.size() + body.by_load.size();
    return head;
}

} // namespace

Cache::Cache(std::string folder)
    : store_(std::make_unique<Store>()) {
    store_->folder = std::move(folder);
}
Cache::~Cache() = default;
const std::string& Cache::folder() const { return store_->folder; }
int Cache::from_memory() const {
    const std::scoped_lock lock(store_->mutex);
    return store_->from_memory;
}
int Cache::from_disk() const {
    const std::scoped_lock lock(store_->mutex);
    return store_->from_disk;
}
int Cache::made() const {
    const std::scoped_lock lock(store_->mutex);
    return store_->made;
}
std::vector<std::string> Cache::refused() const {
    const std::scoped_lock lock(store_->mutex);
    return store_->refused;
}

std::string Cache::Store::path(const BodyKey& key) const {
    char name[48];
    std::snprintf(name, sizeof name, "%016llx%016llx.body", static_cast<unsigned long long>(key.a),
                  static_cast<unsigned long long>(key.b));
    return (fs::path(folder) / name).string();
}

Kept Cache::Store::read(const BodyKey& key) {
    const std::string name = path(key);
    std::ifstream file(name, std::ios::binary);
    if (!file)
        return nullptr;
    Head head{};
    const auto refuse = [&]() -> Kept {
        refused.push_back(name);
        return nullptr;
    };
    if (!file.read(reinterpret_cast<char*>(&head), sizeof head))
        return refuse();
    std::error_code failed;
    const std::uintmax_t size = fs::file_size(name, failed);
    const std::uint64_t n = head.points;
    // Only a head that names this part and this size is believed before anything is allocated.
    if (failed || std::memcmp(head.mark, mark, sizeof mark) != 0 || head.version != version ||
        head.order != byte_order || head.a != key.a || head.b != key.b || n > 100'000 ||
        head.numbers != n * n + n * body_loads ||
        size != sizeof head + head.numbers * sizeof(double) + sizeof(std::uint64_t))
        return refuse();
    auto body = std::make_shared<CondensedBody>();
    body->points = static_cast<std::uint32_t>(n);
    body->flexibility.resize(n * n);
    body->by_load.resize(n * body_loads);
    std::uint64_t sum = 0;
    const auto take = [&file](void* data, std::size_t bytes) {
        file.read(static_cast<char*>(data), static_cast<std::streamsize>(bytes));
    };
    take(body->flexibility.data(), body->flexibility.size() * sizeof(double));
    take(body->by_load.data(), body->by_load.size() * sizeof(double));
    take(&sum, sizeof sum);
    if (!file || sum != sum_of(head, *body))
        return refuse();
    return body;
}

// Written under a name of its own, then renamed: whoever reads finds all of it or nothing.
void Cache::Store::write(const BodyKey& key, const CondensedBody& body) const {
    std::error_code failed;
    fs::create_directories(folder, failed);
    const std::string name = path(key);
    std::random_device random;
    const std::string early =
        name + "." + std::to_string(random()) + std::to_string(random()) + ".part";
    std::ofstream file(early, std::ios::binary);
    const Head head = head_of(key, body);
    const std::uint64_t sum = sum_of(head, body);
    const auto put = [&file](const void* data, std::size_t bytes) {
        file.write(static_cast<const char*>(data), static_cast<std::streamsize>(bytes));
    };
    put(&head, sizeof head);
    put(body.flexibility.data(), body.flexibility.size() * sizeof(double));
    put(body.by_load.data(), body.by_load.size() * sizeof(double));
    put(&sum, sizeof sum);
    file.close();
    if (file)
        fs::rename(early, name, failed);
    if (!file || failed) {
        fs::remove(early, failed);
        throw DomainError({Problem{"cache", "cannot write to " + folder}});
    }
}

Kept Cache::Store::get(const BodyKey& key, const std::function<CondensedBody()>& make) {
    const std::pair name{key.a, key.b};
    {
        const std::scoped_lock lock(mutex);
        if (const auto found = kept.find(name); found != kept.end()) {
            ++from_memory;
            return found->second;
        }
        if (!folder.empty())
            if (Kept found = read(key)) {
                ++from_disk;
                kept[name] = found;
                return found;
            }
    }
    const auto body = std::make_shared<const CondensedBody>(make());
    const std::scoped_lock lock(mutex);
    ++made;
    if (!folder.empty())
        write(key, *body);
    kept[name] = body;
    return body;
}

} // namespace fitwright::bodies
