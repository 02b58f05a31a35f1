// How the owner of a long call gets a word in: a key pressed, a bar to move on, a time that is up.
#pragma once

#include <functional>

namespace fitwright::fields {

// Called some ten times a second from the thread that made the call. What it throws ends the call: the
// other threads leave at their next sample or step, and it comes out of the call.
using Between = std::function<void()>;

} // namespace fitwright::fields
