#include "nearest.hpp"
#include <algorithm>
#include <array>
#include <cctype>

namespace fitwright::fields {

namespace {

std::string lowered(std::string word) {
    for (char& c : word)
        c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return word;
}

// Steps from one word to the other: a letter added, left out, changed, or two neighbours swapped
// (the slip of "4430" for "4340").
std::size_t distance(const std::string& a, const std::string& b) {
    std::array<std::vector<std::size_t>, 3> row;
    row.fill(std::vector<std::size_t>(b.size() + 1));
    for (std::size_t j = 0; j <= b.size(); ++j)
        row[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        auto& now = row[i % 3];
        const auto& before = row[(i + 2) % 3];
        const auto& two_before = row[(i + 1) % 3];
        now[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t change = before[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            now[j] = std::min({before[j] + 1, now[j - 1] + 1, change});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                now[j] = std::min(now[j], two_before[j - 2] + 1);
        }
    }
    return row[a.size() % 3][b.size()];
}

// A name longer than this is no slip of the pen, and the search for near names stays short.
constexpr std::size_t longest_name = 64;

} // namespace

std::string nearest(const std::string& wanted, const std::vector<std::string>& names) {
    const std::string asked = lowered(wanted.substr(0, longest_name));
    std::vector<std::pair<std::size_t, std::string>> ranked;
    for (const std::string& name : names)
        ranked.emplace_back(distance(asked, name.substr(0, longest_name)), name);
    std::sort(ranked.begin(), ranked.end());
    ranked.erase(std::unique(ranked.begin(), ranked.end()), ranked.end());
    std::string text;
    for (std::size_t i = 0; i < ranked.size() && i < 3; ++i)
        text += (i > 0 ? ", " : "") + ranked[i].second;
    return text;
}

} // namespace fitwright::fields
