// The wall of a stepped ring as a beam on an elastic foundation: what couples its slices.
//
// Each slice is a cylindrical wall of mid radius R, thickness t and movement w(z) of its middle (on
// diameter, all of it), with shear: bending stiffness E t^3/(12 (1 - nu^2)), shear 5/6 G t
// (Timoshenko, Theory of Plates and Shells, cylindrical shells; Timoshenko beam). Per unit of the
// joint's circumference the hoop stiffness is a spring 1/middle, from Lame's movement of the middle
// by a pressure in the bore; the pressure is what the rest of the interference gives:
//   p = (reach - w)/local,  local = flexibility - middle
// so that a wall of one section is Lame's ring exactly. Two-node elements, shear at their middle.
#pragma once

#include "thick_ring.hpp"
#include <fitwright/number/number.hpp>

namespace fitwright::rings {

inline constexpr int wall_slices = 8;
inline constexpr int wall_elements = 8; // per slice
inline constexpr int wall_nodes = wall_slices * wall_elements + 1;

// One slice; sizes on diameter where they are movements.
template <class T>
struct WallSlice {
    T length;
    T bending, shear; // per circumference of the joint
    T middle;         // movement of the middle per pressure, Lame
    T free;           // movement of the wall without pressure (speed, axial stress)
    T reach;          // interference with `free` given back
    T local;          // interference per pressure that the middle does not see
    T contact;        // share of the length in contact; 0 when open
};
template <class T>
struct WallAnswer {
    T pressure[wall_slices]; // mean over the contact
    T middle[wall_slices];   // mean movement of the middle
};

template <class T>
void solve_wall(const WallSlice<T>* slices, int count, WallAnswer<T>& out) {
    // Nodes carry w and its turn; the matrix is block tridiagonal with blocks of 2 x 2.
    T own[wall_nodes][3];  // w w, w turn, turn turn
    T next[wall_nodes][4]; // to the next node
    T load[wall_nodes][2];
    const int nodes = count * wall_elements + 1;
    for (int i = 0; i < nodes; ++i) {
        for (T& x : own[i])
            x = T(0.0);
        for (T& x : load[i])
            x = T(0.0);
    }
    for (int k = 0; k < count; ++k) {
        const WallSlice<T>& s = slices[k];
        const T h = s.length * (1.0 / wall_elements);
        const T per_contact = s.contact / s.local;
        const T spring = (1.0 / s.middle + per_contact) * h * (1.0 / 6.0);
        const T push = (s.free / s.middle + s.reach * per_contact) * h * 0.5;
        const T shear = s.shear / h;
        const T turn = s.shear * 0.5;
        const T square = s.shear * h * 0.25;
        const T bend = s.bending / h;
        for (int e = 0; e < wall_elements; ++e) {
            const int i = k * wall_elements + e;
            own[i][0] += spring * 2.0 + shear;
            own[i][1] += turn;
            own[i][2] += square + bend;
            next[i][0] = spring - shear;
            next[i][1] = turn;
            next[i][2] = -turn;
            next[i][3] = square - bend;
            own[i + 1][0] += spring * 2.0 + shear;
            own[i + 1][1] += -turn;
            own[i + 1][2] += square + bend;
            load[i][0] += push;
            load[i + 1][0] += push;
        }
    }
    // Eliminate from the shoulder on.
    for (int i = 0; i < nodes; ++i) {
        const T inverse = 1.0 / (own[i][0] * own[i][2] - own[i][1] * own[i][1]);
        const T a = own[i][2] * inverse;
        const T b = -own[i][1] * inverse;
        const T c = own[i][0] * inverse;
        const T l0 = a * load[i][0] + b * load[i][1];
        const T l1 = b * load[i][0] + c * load[i][1];
        load[i][0] = l0;
        load[i][1] = l1;
        if (i + 1 == nodes)
            break;
        const T n0 = next[i][0], n1 = next[i][1], n2 = next[i][2], n3 = next[i][3];
        // inverse(own) next
        next[i][0] = a * n0 + b * n2;
        next[i][1] = a * n1 + b * n3;
        next[i][2] = b * n0 + c * n2;
        next[i][3] = b * n1 + c * n3;
        own[i + 1][0] += -(n0 * next[i][0] + n2 * next[i][2]);
        own[i + 1][1] += -(n0 * next[i][1] + n2 * next[i][3]);
        own[i + 1][2] += -(n1 * next[i][1] + n3 * next[i][3]);
        load[i + 1][0] += -(n0 * l0 + n2 * l1);
        load[i + 1][1] += -(n1 * l0 + n3 * l1);
    }
    for (int i = nodes - 2; i >= 0; --i) {
        load[i][0] += -(next[i][0] * load[i + 1][0] + next[i][1] * load[i + 1][1]);
        load[i][1] += -(next[i][2] * load[i + 1][0] + next[i][3] * load[i + 1][1]);
    }
    for (int k = 0; k < count; ++k) {
        T sum(0.0);
        for (int e = 0; e < wall_elements; ++e)
            sum += load[k * wall_elements + e][0] + load[k * wall_elements + e + 1][0];
        out.middle[k] = sum * (0.5 / wall_elements);
        const auto touches = slices[k].contact > T(0.0);
        out.pressure[k] =
            select(touches, (slices[k].reach - out.middle[k]) / slices[k].local, T(0.0));
    }
}

} // namespace fitwright::rings
