#pragma once

#include <fitwright/bodies/sections.hpp>
#include <fitwright/job/layout.hpp>
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

namespace fitwright::job {

// The parts of a job in section: ring bores at their seats, microns left to the interference, every size to
// ten binary digits (0.05 %), so that parts measured again are the same mesh. Seats that differ by less than
// a 1000th are one; a fillet only moves the land. What the formulas refuse is thrown as Fault.
bodies::StackSection section_of(const Layout& at, const double* values);

// Meshes what it is asked for and keeps the last few; any thread may ask.
class SectionSource {
public:
    explicit SectionSource(double fineness)
        : fineness_(fineness) {}
    // Throws DomainError naming what cannot be meshed.
    std::shared_ptr<const bodies::Sections> of(const Layout& at, const double* values) const;

private:
    using Kept = std::pair<std::vector<double>, std::shared_ptr<const bodies::Sections>>;
    double fineness_;
    mutable std::mutex guard_;
    mutable bodies::Cache cache_;
    mutable std::vector<Kept> kept_; // the latest last
};

} // namespace fitwright::job
