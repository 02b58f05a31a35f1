// Runs the tests at the level named by FITWRIGHT_TEST_LEVEL; 77 (skipped) where it cannot run.
#define CATCH_CONFIG_RUNNER
#include "catch.hpp"

#include <cstdio>
#include <cstdlib>
#include <fitwright/fields/level.hpp>
#include <string>

int main(int argc, char** argv) {
    const char* wanted = std::getenv("FITWRIGHT_TEST_LEVEL");
    if (wanted != nullptr) {
        bool found = false;
        for (const int level : fitwright::fields::usable_levels())
            if (std::string(wanted) == "v" + std::to_string(level)) {
                fitwright::fields::force_level(level);
                found = true;
            }
        if (!found) {
            std::printf("%s not tested here: this processor cannot run it\n", wanted);
            return 77;
        }
    }
    return Catch::Session().run(argc, argv);
}
