// How much less of each other a screw and its nut may have than their basic profiles, by class.
// Plain numbers: a job keeps them beside its layout.
#pragma once

namespace fitwright::sizes {

// From the basic profile to the limit that takes from the overlap [m]: least major and pitch
// diameter of the external thread, greatest minor and pitch diameter of the internal one.
struct ThreadSlack {
    double external_major, external_pitch, internal_minor, internal_pitch;
};

} // namespace fitwright::sizes
