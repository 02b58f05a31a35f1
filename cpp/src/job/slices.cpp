// What is asked of the slices of a ring beyond the ranges of their fields.
#include "slices.hpp"
#include <cmath>

namespace fitwright::rules {
extern const number::Rule slices_overlap;
} // namespace fitwright::rules

namespace fitwright::job {

namespace {
std::string show_size(double x) { return show(x, fields::Quantity::size); }
} // namespace

// Slices follow each other without overlap or gap and make up the ring. A size is told once.
void add_slice_problems(const Inputs<double>& job, int ring, const std::string& path,
                        std::vector<Problem>& problems) {
    for (const auto& [name, told] : {std::pair{".outside", job.ring(ring).outside},
                                     std::pair{".contact_length", job.ring(ring).contact_length}})
        if (std::isfinite(told))
            problems.push_back({path + name, "is told by the slices of the ring; leave it out"});
    const int first = job.at.first_member[ring];
    double end = 0.0;
    for (int m = first; m < job.at.first_member[ring + 1]; ++m) {
        const Slice<double>& s = job.slice(m);
        const std::string start = path + ".slice" + std::to_string(m - first + 1) + ".start";
        if (std::isfinite(s.start) && s.start < end - 1e-9)
            problems.push_back({start, fault_text({rules::slices_overlap, 0, s.start})});
        else if (std::isfinite(s.start) && s.start > end + 1e-9)
            problems.push_back({start, show_size(s.start) +
                                           " lies beyond the end of the slice before it (" +
                                           show_size(end) +
                                           "): the slices of a ring leave no gap; leave start out "
                                           "to let one follow the other"});
        end += s.length;
    }
    const double length = job.ring(ring).length;
    if (std::isfinite(length) && std::isfinite(end) && std::fabs(length - end) > 1e-9)
        problems.push_back({path + ".length",
                            show_size(length) + " is not the sum of the lengths of the slices (" +
                                show_size(end) + "); correct it or leave it out"});
}

} // namespace fitwright::job
