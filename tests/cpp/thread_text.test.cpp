// Threads as a drawing writes them, and what they cannot be.
#include "catch.hpp"

#include <fitwright/fields/error.hpp>
#include <fitwright/sizes/threads.hpp>
#include <functional>

using namespace fitwright;
using namespace fitwright::sizes;

namespace {

double mm(double metres) { return metres * 1e3; }
double inches(double metres) { return metres / 0.0254; }

std::string message(const std::function<void()>& call) {
    try {
        call();
    } catch (const DomainError& error) {
        return error.what();
    }
    return "";
}
bool says(const std::string& text, const std::function<void()>& call) {
    const std::string told = message(call);
    CAPTURE(told);
    return told.find(text) != std::string::npos;
}

} // namespace

TEST_CASE("threads are read as a drawing writes them") {
    CHECK(thread("M75x2-6g").name == "M75x2-6g");
    CHECK(mm(thread("M 75 x 2 - 6g").pitch) == Approx(2.0));
    CHECK(thread("M75\u00d72-LH-6g").name == "M75x2-6g");
    CHECK(thread("M10").name == "M10x1.5-6g");
    CHECK(thread("M10", Feature::hole).name == "M10x1.5-6H");
    CHECK(thread("M75x2").series == "fine");
    CHECK(thread("M200x3-6g").series == "fine");
    CHECK(thread("M74x2-6g").series == "not listed");
    CHECK(inches(thread("3-12 UN-2A").nominal) == Approx(3.0)); // inches: number 3 has 48 or 56
    CHECK(inches(thread("3-48 UNC-2A").nominal) == Approx(0.099));
    CHECK(inches(thread("#10-32 UNF-2B").nominal) == Approx(0.190));
    CHECK(inches(thread("0.190-32 UNF-2B").nominal) == Approx(0.190));
    CHECK(inches(thread("1 1/4-7 UNC").nominal) == Approx(1.25));
    CHECK(inches(thread("1-1/4-7 UNC-2B").nominal) == Approx(1.25));
    CHECK(thread("1/2-13 UNRC-2A").series == "UNC");
    CHECK(thread("1/2-13 UNC", Feature::hole).name == "1/2-13 UNC-2B");
    CHECK(std::isinf(thread("M10-6H").major.upper));
}

TEST_CASE("what a thread cannot be is told with the way out") {
    CHECK(says("thread: \"10x1\" is not a thread like", [] { thread("10x1"); }));
    CHECK(says("is not a thread like", [] { thread(""); }));
    CHECK(says("is not a thread like", [] { thread("M"); }));
    CHECK(says("is not a thread like", [] { thread("Mx2"); }));
    CHECK(says("is not a thread like", [] { thread("M10x"); }));
    CHECK(says("is not a thread like", [] { thread("M10x1-6g-x"); }));
    CHECK(says("is not a thread like", [] { thread("1/0-13 UNC"); }));
    CHECK(says("\"6k\" is not a class of ISO 965-1", [] { thread("M10-6k"); }));
    CHECK(says("\"4g6h\" is not a class", [] { thread("M10-4g6h"); }));
    CHECK(says(
        "M75 has no coarse pitch (ISO 261); tell the pitch like M75x4; its fine pitches are 4, "
        "3, 2, 1.5 mm",
        [] { thread("M75"); }));
    CHECK(says("pitch 1.1 mm is not one of ISO 965-1: 0.2, 0.25", [] { thread("M10x1.1-6g"); }));
    CHECK(says("no tolerance for pitch 1 mm at 75 mm; it has pitch 1.5, 2, 3, 4, 5, 5.5, 6 mm",
               [] { thread("M75x1-6g"); }));
    CHECK(says("must be from 1 to 355 mm", [] { thread("M400x6-6g"); }));
    CHECK(
        says("no grade 5 of the major diameter of an external thread with pitch 1.5 mm; it has 4, "
             "6, 8",
             [] { thread("M10-5g"); }));
    CHECK(says(
        "no grade 6 of the pitch diameter of an internal thread with pitch 0.25 mm; it has 4, 5",
        [] { thread("M1-6H"); }));
    CHECK(says("no position e for pitch 0.4 mm", [] { thread("M2-6e"); }));
    CHECK(says("UNC at 0.5 in has 13 threads per inch, not 12", [] { thread("1/2-12 UNC-2A"); }));
    CHECK(says("UNF has no thread of 3 in; other pitches are UN or UNS",
               [] { thread("3-12 UNF-2A"); }));
    CHECK(says("constant pitch with 4, 6, 8", [] { thread("3-10 UN-2A"); }));
    CHECK(says("class 1A is only for UNC and UNF from 1/4 in on", [] { thread("3-12 UN-1A"); }));
    CHECK(says("\"4A\" is not a class of ASME B1.1", [] { thread("1/2-13 UNC-4A"); }));
    CHECK(says("\"UNX\" is not a unified series", [] { thread("1/2-13 UNX-2A"); }));
    CHECK(says("like \"M10-6H/6g\"", [] { thread_fit("M10-6g/6H"); }));
    CHECK(says("like \"M10-6H/6g\"", [] { thread_fit("M10-6H"); }));
    CHECK(message([] { thread(std::string(100000, 'M')); }).size() < 300);
}
