// Where the parts of a stack can touch, and how their contact forces move them: all that the contact
// solver of the history knows of elastic bodies with many points. Condensed sections fill it; bars can.
//
// Forces, in this order, each of a pair of parts, with the movement it works on:
//   seats     normal: pushes the ring outwards, the shaft inwards; ring less shaft, outwards
//   seats     friction: pushes the ring along +z, the shaft along -z; ring less shaft, along z
//   faces     of each ring towards the shoulder: pushes it along +z, its partner along -z; ring less
//             partner: the gap
//   ends      one for each ring: pushes its end towards the nut along -z, the shaft's thread along +z;
//             thread less end
// Movements are elastic ones: each ring may shift along z as a whole besides.
#pragma once

#include <cstddef>
#include <vector>

namespace fitwright::bodies {

struct ContactPoints {
    std::size_t rings = 0;
    // Of each ring: seats seat_begin[k] to before seat_begin[k + 1]; faces alike.
    std::vector<std::size_t> seat_begin, face_begin;
    std::vector<double> seat_z, seat_radius, seat_area,
        seat_length;             // length: of seat it stands for
    std::vector<int> seat_slice; // of the ring
    std::vector<double> face_radius, face_area;
    std::vector<char> on_shaft; // whether the face of a ring has the shaft (or a plane) as partner

    // Movement of each by each force, row by row; symmetric, positive.
    std::vector<double> compliance;
    // What of its diagonal is the contact's own (peaks pressed flat), above 0 everywhere.
    std::vector<double> own;
    // Movement of each by a load of one, row by row: free strain of heat, its gradient, and density
    // times speed squared, of the shaft, then of each ring.
    std::vector<double> by_load;
    // By a push of one on ring k along -z: on its end towards the nut, and where an axial load enters;
    // by a pull of one on the shaft's thread along +z.
    std::vector<double> by_push, by_thrust, by_pull;

    std::size_t seats() const { return seat_z.size(); }
    std::size_t faces() const { return face_area.size(); }
    std::size_t size() const { return 2 * seats() + faces() + rings; }
    std::size_t face(std::size_t i) const { return 2 * seats() + i; }
    std::size_t end(std::size_t ring) const { return 2 * seats() + faces() + ring; }
};

} // namespace fitwright::bodies
