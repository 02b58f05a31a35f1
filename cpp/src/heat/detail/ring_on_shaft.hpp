// A ring and the shaft under it as one chain, per metre of length. The shaft beyond the ring draws
// heat off like a long fin that has settled, G = sqrt(h P k A) a side (Incropera et al., Fundamentals
// of Heat and Mass Transfer, ch. 3): less than it takes at first, so that times come out long.
#pragma once

#include "bodies.hpp"
#include "rings/detail/fit.hpp"
#include "watch.hpp"

namespace fitwright::rules {
extern const number::Rule heat_data_told;
} // namespace fitwright::rules

namespace fitwright::heat {

// The end of a range of which a run is made: how fast heat is taken.
template <class T>
struct Taking {
    T air_film, standing_gap, contact_factor;
};

namespace films {
enum : int { shaft_bore, seat, ring_bore, ring_outside, ring_ends, shaft_ends };
}

template <class T>
struct RingOnShaft {
    Chain<T> chain;
    int shaft_first, shaft_cells, ring_first, ring_cells;
    int seat_node, bore_node;

    // Nothing but air between them.
    void apart() {
        chain.joint_after = -1;
        chain.film[seat_node] = films::seat;
        chain.film[bore_node] = films::ring_bore;
    }
    void together() {
        chain.joint_after = seat_node;
        chain.film[seat_node] = chain.film[bore_node] = -1;
    }
    void start(March<T>& m, const T& shaft, const T& ring) const {
        for (int i = 0; i < chain.nodes; ++i)
            m.now[i] = chain.body[i] == 0 ? shaft : ring;
    }
    T heat_content(const March<T>& m) const {
        T sum(0.0);
        for (int i = 0; i < chain.nodes; ++i)
            if (chain.is_cell(i))
                sum += chain.template heat_content<T>(i, m.now[i]);
        return sum;
    }
};

template <class T, class Inputs>
void assemble(RingOnShaft<T>& pair, const Inputs& in, const T& interference,
              const Taking<T>& taking, const T& warmest, const materials::Material& ms,
              const materials::Material& mr, Faults<T>& faults) {
    Chain<T>& c = pair.chain;
    c.metal[0] = metal_of(ms);
    c.metal[1] = metal_of(mr);
    const Film<T> air{taking.air_film, in.emissivity, in.room};
    for (Film<T>& f : c.films)
        f = air;
    const int cells = static_cast<int>(value_of(in.cells));
    pair.ring_cells = cells / 2;
    pair.shaft_cells = cells - pair.ring_cells;
    const T seat = in.shaft.seat * 0.5;
    const T bore = in.shaft.bore * 0.5;
    const T area = (seat * seat - bore * bore) * fields::pi;
    const double k_shaft = materials::at(ms.conductivity, value_of(in.room));
    const double k_ring = materials::at(mr.conductivity, value_of(in.room));
    // The fin loses by convection and, linearised at the room, by radiation.
    const T fin_film =
        taking.air_film + in.emissivity * (4.0 * stefan_boltzmann) * cube(in.room + kelvin);
    const T fin = root0(fin_film * in.shaft.seat * fields::pi * k_shaft * area) * in.shaft_goes_on;
    c.films[films::shaft_ends] = {fin, T(0.0), in.room};
    pair.shaft_first =
        add_body(c, 0,
                 BodyOf<T>{Shape::cylinder, bore, seat, pair.shaft_cells, films::shaft_bore,
                           films::seat, films::shaft_ends, 1.0 / (area * in.ring.length)});
    pair.seat_node = c.nodes - 1;
    pair.bore_node = c.nodes;
    pair.ring_first = add_body(c, 1,
                               BodyOf<T>{Shape::cylinder, seat, in.ring.outside * 0.5,
                                         pair.ring_cells, films::ring_bore, films::ring_outside,
                                         films::ring_ends, 2.0 / in.ring.length});
    const rings::Joint<T> joint = rings::joint_of(
        rings::JointInputs<T>{in.shaft.bore, in.shaft.modulus_factor, in.shaft.expansion_factor,
                              in.room, in.shaft.seat, T(0.0), interference, T(0.0), in.room},
        in.ring, ms, mr, rings::JointPlaces{1, 2}, faults);
    faults.place = 0;
    const T across = (warmest + in.shaft_temperature) * 0.5 + kelvin;
    const T contact = fields::given(in.ring.contact_length, in.ring.length);
    c.joint = {in.shaft.seat,
               in.shaft.seat - interference,
               in.shaft.expansion_factor,
               in.ring.expansion_factor,
               seat * (2.0 * fields::pi) * contact / in.ring.length,
               in.gas_conductivity,
               taking.standing_gap,
               in.asperity_slope / in.asperity_height * taking.contact_factor *
                   (1.25 * 2.0 * k_shaft * k_ring / (k_shaft + k_ring)),
               in.contact_hardness,
               joint.flexibility,
               in.emissivity / (2.0 - in.emissivity) * (4.0 * stefan_boltzmann) * cube(across)};
}

// What every transient of a ring needs of its materials.
template <class T>
void require_heat_data(const materials::Material& m, int place, Faults<T>& faults) {
    faults.place = place;
    const bool there = materials::told(m.conductivity) && materials::told(m.heat_capacity);
    faults.require(T(there ? 1.0 : 0.0) > T(0.0), rules::heat_data_told, T(0.0));
    faults.place = 0;
}

} // namespace fitwright::heat
