// One body, one march, looked at after a time.
#pragma once

#include "warming.hpp"
#include <fitwright/heat/body.hpp>

namespace fitwright::rules {
extern const number::Rule ambient_in_material_range, outside_above_inside, place_in_body,
    start_in_material_range;
} // namespace fitwright::rules

namespace fitwright::heat {

template <class T>
void body_outputs(const BodyInputs<T>& in, BodyOutputs<T>& out, Shape shape,
                  const materials::Material& m, Faults<T>& faults) {
    const T inner = in.inside * 0.5;
    const T outer = in.outside * 0.5;
    const T place = fields::given(in.place, in.outside) * 0.5;
    const auto good = outer > inner;
    faults.require(good, rules::outside_above_inside, in.outside);
    faults.require((place >= inner) & (place <= outer), rules::place_in_body, place * 2.0);
    const auto within = [&](const T& t) { return (t >= T(m.lowest)) & (t <= T(m.highest)); };
    faults.require(within(in.start), rules::start_in_material_range, in.start);
    faults.require(within(in.ambient), rules::ambient_in_material_range, in.ambient);
    require_heat_data(m, 0, faults);
    if (!good || !materials::told(m.conductivity)) {
        out = BodyOutputs<T>{};
        return;
    }
    Chain<T> c;
    c.metal[0] = metal_of(m);
    enum : int { inside, outside };
    c.films[inside] = {in.inner_film, T(0.0), in.ambient};
    c.films[outside] = {in.outer_film, in.emissivity, in.ambient};
    const int cells = static_cast<int>(value_of(in.cells));
    const int first = add_body(c, 0, BodyOf<T>{shape, inner, outer, cells, inside, outside});
    const double span = abs(value_of(in.start) - value_of(in.ambient));
    March<T> march(c, value_of(in.tolerance) * larger(span, 1e-3), 1e-4);
    for (int i = 0; i < c.nodes; ++i)
        march.now[i] = in.start;
    march.settle();
    const T before = all_heat(march);
    march_to(march, Watch<T>{Event::time_out, T(0.0), T(0.0)}, value_of(in.duration), NoRecord{});
    require_solved(march.converged, march.time, faults);
    const T lost = before - all_heat(march);
    out.energy_error =
        abs(lost - march.given_off) / larger(larger(abs(lost), abs(march.given_off)), T(1e-9));
    if constexpr (has_derivatives<T>) {
        const T later(0.0, in.duration.d);
        for (int i = 0; i < c.nodes; ++i)
            if (c.is_cell(i))
                march.now[i] += march.rate(i) * later;
        double kept[node_limit]; // settling again must not touch the last bit
        for (int i = 0; i < c.nodes; ++i)
            kept[i] = value_of(march.now[i]);
        march.settle();
        for (int i = 0; i < c.nodes; ++i)
            march.now[i] = T(kept[i], march.now[i].d);
    }
    // Straight between the centres of cells, and to the faces.
    const T width = (outer - inner) * (1.0 / cells);
    const double along = (value_of(place) - value_of(inner)) / value_of(width);
    const int last_centre = first + cells - 1;
    int low = first + static_cast<int>(larger(along - 0.5, 0.0));
    low = low < last_centre ? low : last_centre;
    const bool at_face = along > cells - 0.5;
    const T from = inner + width * (double(low - first) + 0.5);
    const T reach = at_face ? width * 0.5 : width;
    out.temperature =
        march.now[low] + (march.now[low + 1] - march.now[low]) *
                             (along < 0.5 && first == 0 ? T(0.0) : (place - from) / reach);
    out.surface = march.now[c.nodes - 1];
    out.innermost = march.now[0];
    out.mean = mean_of_body(c, 0, march.now);
    out.surface_flux = -film_heat<T>(c.films[outside], out.surface);
    T in_the_end(0.0);
    for (int i = 0; i < c.nodes; ++i)
        if (c.is_cell(i))
            in_the_end += c.template heat_content<T>(i, in.ambient);
    const T all = before - in_the_end;
    out.heat_share = (before - all_heat(march)) / select(all == T(0.0), T(1.0), all);
}

template <class T>
void Body::run(const T* inputs, T* outputs, const fields::Context& context, Faults<T>& faults) {
    if constexpr (is_lanes<T>) {
        lane_by_lane(&Body::alone, inputs, static_cast<int>(sizeof(BodyInputs<T>) / sizeof(T)),
                     outputs, static_cast<int>(sizeof(BodyOutputs<T>) / sizeof(T)), context,
                     faults);
    } else {
        const Shape shape = context.choices[0] == 0   ? Shape::cylinder
                            : context.choices[0] == 1 ? Shape::plate
                                                      : Shape::sphere;
        body_outputs(*reinterpret_cast<const BodyInputs<T>*>(inputs),
                     *reinterpret_cast<BodyOutputs<T>*>(outputs), shape, *context.materials[0],
                     faults);
    }
}

} // namespace fitwright::heat
