#include <fitwright/stack/section_refinement.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fitwright/number/number.hpp>
#include <numbers>

namespace fitwright::stack {

namespace {

// Differences below this share of the scale are rounding; those below the second are nothing to act on,
// whatever their pattern.
constexpr double rounding = 1e-5;
constexpr double nothing = 2e-3;
// What shrinks more slowly than this a halving has no limit that three meshes could tell.
constexpr double least_order = 0.4;

struct Run {
    bodies::Sections sections;
    SectionResult<double> result;
};

double mean_of(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double v : values)
        sum += v;
    return values.empty() ? 0.0 : sum / static_cast<double>(values.size());
}

// Growth over an outside, each point by the length it stands for.
double mean_growth(const bodies::Sections& sections, int part, const std::vector<double>& growth) {
    const std::vector<double>& z = sections.outside_z(part);
    double sum = 0.0, length = 0.0;
    for (std::size_t i = 0; i + 1 < z.size(); ++i) {
        const double step = std::abs(z[i + 1] - z[i]);
        sum += 0.5 * step * (growth[i] + growth[i + 1]);
        length += step;
    }
    return length > 0.0 ? sum / length : mean_of(growth);
}

double interpolated(const std::vector<double>& x, const std::vector<double>& y, double at) {
    const auto next = std::upper_bound(x.begin(), x.end(), at);
    if (next == x.begin())
        return y.front();
    if (next == x.end())
        return y.back();
    const auto i = static_cast<std::size_t>(next - x.begin());
    const double share = (at - x[i - 1]) / (x[i] - x[i - 1]);
    return y[i - 1] + share * (y[i] - y[i - 1]);
}

// Places and pressures of a ring's seat at the ends of elements; a point twice (two stretches) once.
void along_seat(const Run& run, std::size_t step, std::size_t ring, std::vector<double>& z,
                std::vector<double>& p) {
    const auto& h = run.result.history;
    for (int j = h.seat_begin[ring]; j < h.seat_begin[ring + 1]; ++j) {
        const auto& seat = h.steps[step].seats[static_cast<std::size_t>(j)];
        if (!z.empty() && seat.place <= z.back())
            continue;
        z.push_back(seat.place);
        p.push_back(seat.pressure);
    }
}

SeatProfile profile(const Run& middle, const Run& fine, std::size_t step, std::size_t ring) {
    SeatProfile out;
    along_seat(fine, step, ring, out.z, out.pressure);
    std::vector<double> z, p;
    along_seat(middle, step, ring, z, p);
    for (std::size_t i = 0; i < out.z.size(); ++i)
        out.change.push_back(z.empty() ? 0.0 : out.pressure[i] - interpolated(z, p, out.z[i]));
    return out;
}

struct Largest {
    double value = 0.0, z = 0.0, r = 0.0;
};
Largest largest(const Run& run, std::size_t step, int part) {
    const bodies::SectionField field = run.sections.field(part, run.result.steps[step].acts);
    const bodies::SectionMesh mesh = run.sections.mesh(part);
    Largest most;
    for (std::size_t n = 0; n < mesh.r.size(); ++n)
        if (field.von_mises[n] > most.value)
            most = {field.von_mises[n], mesh.z[n], mesh.r[n]};
    return most;
}

std::string text(double value, fields::Quantity quantity) { return show(value, quantity); }

void explain(Peak& peak, const bodies::StackSection& stack) {
    using fields::Quantity;
    const Refined& v = peak.von_mises;
    const std::string place =
        "at z = " + text(peak.z, Quantity::size) + ", r = " + text(peak.r, Quantity::size);
    const bodies::ShaftSection& shaft = stack.shaft;
    const bool at_fillet =
        peak.part == 0 && shaft.fillet > 0.0 && std::abs(peak.z) <= 1.5 * shaft.fillet;
    if (!peak.refused) {
        peak.text =
            place + (at_fillet ? ", fillet of radius " + text(shaft.fillet, Quantity::size) : "");
        return;
    }
    peak.text = "no peak can be told " + place + ": " + text(v.coarse, Quantity::stress) + ", " +
                text(v.middle, Quantity::stress) + ", " + text(v.fine, Quantity::stress) +
                " as the mesh is halved; " +
                (at_fillet ? "mesh the fillet of radius " + text(shaft.fillet, Quantity::size) +
                                 " more finely"
                           : "an edge there is modelled sharp: tell its chamfer or fillet, or use "
                             "the pressure away from it");
}

} // namespace

Refined refined(double coarse, double middle, double fine, double scale) {
    Refined r{coarse, middle, fine, fine, 0.0, 0.0, Trend::settled};
    const double first = middle - coarse;
    const double second = fine - middle;
    r.error = std::abs(second);
    if (std::max(std::abs(first), std::abs(second)) <= rounding * std::abs(scale))
        return r;
    const double ratio = second != 0.0 ? first / second : 0.0;
    if (ratio >= std::exp2(least_order)) {
        r.trend = Trend::converges;
        r.order = number::log(ratio) / std::numbers::ln2;
        r.limit = fine + second / (ratio - 1.0);
        r.error = std::abs(r.limit - middle);
    } else if (std::abs(second) > nothing * std::abs(scale)) {
        r.trend = Trend::unsteady;
        r.error = std::max(std::abs(first), std::abs(second));
    }
    return r;
}

SectionRefinement section_refinement(const bodies::StackSection& stack,
                                     const SectionHistory<double>& history, std::size_t looked_at,
                                     bodies::Fineness fineness, bodies::Cache* cache) {
    if (looked_at >= history.plan.steps.size())
        throw DomainError(
            {Problem{"looked_at", std::to_string(looked_at) + " is not the number of a step"}});
    std::vector<Run> runs;
    SectionRefinement out;
    for (int halvings = 0; halvings < 3; ++halvings) {
        fineness.halvings = halvings;
        bodies::Sections sections(stack, fineness, cache);
        SectionResult<double> result = section_history(sections, history);
        out.unknowns[halvings] = sections.unknowns();
        runs.push_back({std::move(sections), std::move(result)});
    }
    const auto of = [&](double scale, const auto& read) {
        return refined(read(runs[0]), read(runs[1]), read(runs[2]), scale);
    };
    const std::size_t rings = stack.rings.size();
    for (std::size_t k = 0; k < history.plan.steps.size(); ++k) {
        RefinedStep& step = out.steps.emplace_back();
        const StepResult<double>& told = runs[2].result.history.steps[k];
        double force = 1.0;
        for (const Face<double>& f : told.faces)
            force = std::max(force, f.force);
        for (std::size_t f = 0; f < told.faces.size(); ++f) {
            step.face_force.push_back(
                of(force, [&](const Run& r) { return r.result.history.steps[k].faces[f].force; }));
            step.face_gap.push_back(
                of(20e-6, [&](const Run& r) { return r.result.history.steps[k].faces[f].gap; }));
        }
        for (std::size_t i = 0; i < rings; ++i)
            step.mean_pressure.push_back(
                of(runs[2].result.steps[k].mean_pressure[i],
                   [&](const Run& r) { return r.result.steps[k].mean_pressure[i]; }));
        for (std::size_t p = 0; p <= rings; ++p)
            step.growth.push_back(of(20e-6, [&](const Run& r) {
                return mean_growth(r.sections, static_cast<int>(p), r.result.steps[k].growth[p]);
            }));
    }
    for (std::size_t i = 0; i < rings; ++i)
        out.seats.push_back(profile(runs[1], runs[2], looked_at, i));
    for (std::size_t p = 0; p <= rings; ++p) {
        const auto part = static_cast<int>(p);
        const Largest most[] = {largest(runs[0], looked_at, part),
                                largest(runs[1], looked_at, part),
                                largest(runs[2], looked_at, part)};
        Peak peak{part, most[2].z, most[2].r, {}, false, ""};
        peak.von_mises = refined(most[0].value, most[1].value, most[2].value, 5.0 * most[2].value);
        peak.refused = peak.von_mises.trend == Trend::unsteady;
        explain(peak, stack);
        out.peaks.push_back(std::move(peak));
    }
    return out;
}

} // namespace fitwright::stack
