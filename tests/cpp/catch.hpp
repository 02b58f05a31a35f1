// Catch2 of either generation under one include.
#pragma once

// Under the sanitizers the core is up to a hundred times slower: tests by number take fewer there.
#ifdef FITWRIGHT_WATCHED
constexpr bool watched = true;
#else
constexpr bool watched = false;
#endif

#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
#else
#include <catch2/catch.hpp>
inline auto ContainsSubstring(const std::string& text) { return Catch::Matchers::Contains(text); }
#endif
