// The package as another project installs it. Run by ctest once that project has been built and has
// run (see CMakeLists.txt).
#include "catch.hpp"
#include "consumer/answers.hpp"

#include <cstdlib>
#include <fstream>
#include <sstream>

TEST_CASE("the installed package gives another project the same bits", "[.consumer]") {
    const char* folder = std::getenv("FITWRIGHT_CONSUMER_ANSWERS");
    REQUIRE(folder != nullptr);
    for (const char* kind : {"plain", "fast"}) {
        std::ifstream file(std::string(folder) + "/" + kind + ".txt");
        std::ostringstream text;
        text << file.rdbuf();
        INFO(kind);
        CHECK(text.str() == answers());
    }
}
