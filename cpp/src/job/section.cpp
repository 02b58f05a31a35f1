// A job's parts in section, and the job that takes its history level from them.
#include "section.hpp"
#include "detail/section.hpp"
#include "fields/pause.hpp"
#include <algorithm>
#include <cmath>
#include <fitwright/job/job.hpp>

namespace fitwright::job {

namespace {

// Below it sizes are one (a 1000th of the seat), or a chamfer none.
constexpr double same = 1e-3;

// To ten binary digits.
double meshed(double size) {
    int exponent = 0;
    const double digits = std::frexp(size, &exponent);
    return std::isfinite(size) ? std::ldexp(std::round(std::ldexp(digits, 10)), exponent - 10)
                               : size;
}

// Where the ring is shorter in contact than it is long, half of that at each end is a chamfer.
double chamfer_of(const Inputs<double>& job, int i) {
    if (job.at.has_slices(i))
        return 0.0;
    const Ring<double>& r = job.ring(i);
    const double leg = meshed(0.5 * (r.length - fields::given(r.contact_length, r.length)));
    const double wall = 0.5 * (r.outside - r.bore);
    return leg > same * r.bore && leg < 0.4 * wall && leg < 0.25 * r.length ? leg : 0.0;
}

} // namespace

bodies::StackSection section_of(const Layout& at, const double* values) {
    const Inputs<double> job{values, at};
    number::Faults<double> faults;
    const Assembly<double> assembly = assemble(job, faults);
    auto scene = std::make_unique<Scene<double>>();
    set_scene(*scene, job, 0, assembly, faults);
    const Rotor<double>& rotor = job.rotor();

    bodies::StackSection s;
    bodies::ShaftSection& shaft = s.shaft;
    shaft.modulus = scene->members[0].joint.shaft.modulus;
    shaft.poisson = at.shaft->poisson;
    double seat = meshed(job.seat(at.ring_seat[0]).diameter);
    const double hollow = meshed(rotor.bore);
    if (at.has_shoulder) {
        stack::Shoulder<double> collar = job.shoulder();
        for (double* size : {&collar.outside, &collar.length, &collar.beyond, &collar.land_outside,
                             &collar.land_inside})
            *size = meshed(*size);
        shaft.behind = collar.length;
        if (std::isfinite(collar.beyond)) {
            const double more = 0.8 * seat;
            if (std::abs(collar.beyond - collar.outside) > same * seat) {
                shaft.slices.push_back({more, hollow, collar.beyond});
                shaft.slices.push_back({collar.length, hollow, collar.outside});
            } else {
                shaft.slices.push_back({more + collar.length, hollow, collar.outside});
            }
            shaft.behind += more;
        } else {
            shaft.slices.push_back({collar.length, hollow, collar.outside});
        }
        const auto land = stack::land_of(collar, seat);
        shaft.land_inside = land.inside;
        shaft.land_outside = land.outside;
    }
    double z = 0.0;
    for (int i = 0; i < at.rings; ++i) {
        const double own = meshed(job.seat(at.ring_seat[i]).diameter);
        if (std::abs(own - seat) > same * seat)
            seat = own;
        double length = 0.0;
        for (int m = at.first_member[i]; m < at.first_member[i + 1]; ++m)
            length += meshed(scene->members[m].length);
        if (i > 0 && shaft.slices.back().outside == seat)
            shaft.slices.back().length += length;
        else
            shaft.slices.push_back({length, hollow, seat});
        z += length;

        bodies::RingSection& ring = s.rings.emplace_back();
        for (int m = at.first_member[i]; m < at.first_member[i + 1]; ++m) {
            const stack::Member<double>& member = scene->members[m];
            const double outside = meshed(2.0 * member.joint.ring.outer);
            const double long_ = meshed(member.length);
            if (!ring.slices.empty() &&
                std::abs(ring.slices.back().outside - outside) < same * seat)
                ring.slices.back().length += long_;
            else
                ring.slices.push_back({long_, seat, outside});
        }
        ring.modulus = scene->members[at.first_member[i]].joint.ring.modulus;
        ring.poisson = at.ring_materials[i]->poisson;
        ring.chamfers.shoulder_bore = ring.chamfers.nut_bore = chamfer_of(job, i);
    }
    const Nut<double>& nut = job.nut();
    const double root = meshed(assembly.thread.root_diameter);
    const double height = meshed(nut.height);
    double bore = seat;
    double outside = s.rings.back().slices.back().outside;
    double beyond = 1.5 * height;
    if (at.has_lock) {
        const stack::Lock<double>& lock = job.lock();
        bore = std::max(meshed(lock.bore), std::min(root, seat));
        outside = meshed(lock.outside);
        bodies::RingSection& washer = s.rings.emplace_back();
        const double thickness = meshed(lock.thickness);
        washer.slices.push_back({thickness, bore, outside});
        washer.modulus = scene->washer.section.modulus;
        washer.poisson = at.lock->poisson;
        z += thickness;
        beyond += thickness;
    }
    if (std::abs(root - seat) > same * seat && root < seat)
        shaft.slices.push_back({beyond, hollow, root});
    else
        shaft.slices.back().length += beyond;
    shaft.thread_start = z;
    shaft.thread_length = height;
    s.nut_inside = std::max(meshed(nut.face_inside), bore);
    s.nut_outside = std::min(meshed(nut.face_outside), outside);
    return s;
}

namespace {

// All that a mesh of a job hangs on, in one row.
std::vector<double> row_of(const bodies::StackSection& s) {
    const bodies::ShaftSection& shaft = s.shaft;
    std::vector<double> row{shaft.modulus,       shaft.poisson,      shaft.behind,
                            shaft.land_inside,   shaft.land_outside, shaft.thread_start,
                            shaft.thread_length, s.nut_inside,       s.nut_outside};
    const auto add = [&row](const std::vector<bodies::Slice>& slices) {
        row.push_back(static_cast<double>(slices.size()));
        for (const bodies::Slice& one : slices)
            row.insert(row.end(), {one.length, one.bore, one.outside});
    };
    add(shaft.slices);
    for (const bodies::RingSection& ring : s.rings) {
        row.insert(row.end(), {ring.modulus, ring.poisson, ring.chamfers.nut_bore});
        add(ring.slices);
    }
    return row;
}

constexpr std::size_t kept_stacks = 4;

} // namespace

std::shared_ptr<const bodies::Sections> SectionSource::of(const Layout& at,
                                                          const double* values) const {
    bodies::StackSection stack = section_of(at, values);
    std::vector<double> row = row_of(stack);
    const std::lock_guard<std::mutex> alone(guard_);
    const auto known =
        std::find_if(kept_.begin(), kept_.end(), [&](const Kept& one) { return one.first == row; });
    if (known != kept_.end()) {
        std::rotate(known, known + 1, kept_.end());
        return kept_.back().second;
    }
    auto made = std::make_shared<const bodies::Sections>(
        std::move(stack), bodies::Fineness{fineness_, 1, 400'000}, &cache_);
    if (kept_.size() == kept_stacks)
        kept_.erase(kept_.begin());
    kept_.emplace_back(std::move(row), made);
    return made;
}

Job Job::in_section(double fineness) const {
    Job there = in_bars();
    there.sections_ = std::make_shared<const SectionSource>(fineness);
    auto changed = std::make_shared<Layout>(*layout_);
    changed->sections = there.sections_.get();
    there.layout_ = std::move(changed);
    return there;
}

Job Job::in_bars() const {
    Job there = *this;
    auto changed = std::make_shared<Layout>(*layout_);
    changed->sections = nullptr;
    there.layout_ = std::move(changed);
    there.sections_.reset();
    return there;
}

namespace {

const SectionSource& told(const std::shared_ptr<const SectionSource>& sections) {
    if (sections == nullptr)
        throw DomainError(std::vector<Problem>{
            {"fidelity", "must be section: the history of this job is on bars"}});
    return *sections;
}

} // namespace

std::shared_ptr<const bodies::Sections> Job::sections() const {
    const SectionSource& source = told(sections_);
    if (std::vector<Problem> wrong = problems(); !wrong.empty())
        throw DomainError(std::move(wrong));
    return source.of(*layout_, values_.data());
}

stack::SectionResult<double> Job::section_history(const fields::Between& between) const {
    const std::shared_ptr<const bodies::Sections> meshed = sections();
    return fields::with_pauses(between, [&](const fields::Stop& stop) {
        number::Faults<double> faults;
        const Inputs<double> job{values_.data(), *layout_};
        stack::SectionHistory<double> steps = section_history_of(job, End::value, faults);
        steps.plan.stop = &stop;
        return stack::section_history(*meshed, steps);
    });
}

} // namespace fitwright::job
