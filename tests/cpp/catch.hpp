// Catch2 of either generation under one include.
// A guard by name: this is precompiled, and `once` goes by the file's time, which a cache of
// compilations may have changed.
#ifndef FITWRIGHT_TESTS_CATCH_HPP
#define FITWRIGHT_TESTS_CATCH_HPP

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

#endif
