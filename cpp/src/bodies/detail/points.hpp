// Where bodies can touch: the only thing a contact solver knows of them. A point is one axial
// movement; points are numbered along z.
#pragma once

#include <vector>

namespace fitwright::bodies {

// A place on a seat: the part moves on the shaft by the sum of weight times movement of its points.
template <class T>
struct SeatAt {
    int part;
    int point[4];
    double weight[4]; // 0 where fewer points are needed
    T place;          // z
    T area;           // of the seat that it stands for
    template <class S>
    S moved(const S* u) const {
        return (u[point[0]] * weight[0] + u[point[1]] * weight[1]) +
               (u[point[2]] * weight[2] + u[point[3]] * weight[3]);
    }
    template <class S>
    void push(S* force, const S& x) const {
        for (int i = 0; i < 4; ++i)
            force[point[i]] += x * weight[i];
    }
};
// The two ends of a part and the shaft beside them.
struct Ends {
    int first, last;             // points of the part
    int shaft_first, shaft_last; // points of the shaft
    int middle;                  // where a thrust enters
    int seat_begin, seat_end;    // its seats
};

// Friction at a place of a seat: the force on the part towards the shoulder, and its slopes by the
// part's movement and by the normal force there.
struct FrictionAt {
    double force, by_movement, by_normal;
};

template <class T>
struct Points {
    int count = 0, reach = 0;
    int fixed = 0;   // the shaft at the shoulder
    int nut_end = 0; // the shaft under the nut
    std::vector<Ends> ends;
    std::vector<SeatAt<T>> seats;
};

// What a solver asks of bodies (a condensed finite-element body answers the same):
//   const Points<T>& points()
//   using Load:             what heat, speed and the like do to them; a vector space (blend)
//   void add(length, contact length, diameter, elements, apart)  the next part; `apart`: its seat is taken
//        to touch nowhere (it may then have fewer points)
//   bool astray()           whether a part that was taken so touches after all
//   void at(const Load&, const std::vector<char>& on, bool whole)  go to that load; parts not on are
//        left out; unless `whole`, nothing acts on the shaft beyond the last part that is on
//   int loaded()            the points before this one carry all forces; those from there on follow
//   void follow(S* u)       their movements, on doubles and on T
//   void respond(const double* u, double* force, double* normal, Band& k, Friction& friction)
//        forces at the loaded points that hold the movements u, with the slopes of them all, and the normal
//        force on each seat; it chooses what has opened, and asks friction(seat, normal force, movement
//        of the part on the shaft) at every seat of a part that is on
//   void respond(const T* u, T* force, T* normal)          the same on T, with the same choice
//   void place(int part, const Load&, const T& movement, T* u)  a part without force, first end there
//   double stiffness(int part), length(int part)           scales

} // namespace fitwright::bodies
