// The gauge is right at 20 degC and grows with heat like any part, so that
//
//   size at 20 degC = (reading + correction) (1 + alpha_g (theta - delta))/(1 + (alpha_g + d) theta)
//
// with theta the part's temperature less 20 degC, delta part less gauge temperature, d part less gauge
// expansion: told by these the sources are independent (JCGM 100, H.1.2).
#include <fitwright/sizes/measured.hpp>

#include <cmath>
#include <fitwright/fields/error.hpp>
#include <fitwright/number/basic.hpp>
#include <limits>

namespace fitwright::sizes {

namespace {

constexpr double known = std::numeric_limits<double>::infinity();

void require(bool good, const std::string& path, const std::string& text) {
    if (!good)
        throw DomainError({{path, text}});
}

void check(const Reading& in, const std::string& path) {
    require(!in.readings.empty(), path, "needs at least one reading");
    for (const double r : in.readings)
        require(r > 0.0 && r <= 10.0, path,
                show(r, fields::Quantity::size) + " must be above 0 and at most 10 m");
    const double last = in.readings.front();
    for (const double r : in.readings)
        require(std::abs(r - last) < 0.01 * last, path,
                show(r, fields::Quantity::size) + " is no second reading of " +
                    show(last, fields::Quantity::size));
    require(std::abs(in.correction) < 0.001 * last, path + ".correction",
            show(in.correction, fields::Quantity::fine) + " must be small beside the size");
    for (const auto& [value, name] :
         {std::pair{in.gauge_uncertainty, ".gauge_uncertainty"},
          {in.repeatability, ".repeatability"},
          {in.temperature_uncertainty, ".temperature_uncertainty"},
          {in.difference_uncertainty, ".difference_uncertainty"},
          {in.expansion_uncertainty, ".expansion_uncertainty"},
          {in.expansion_difference_uncertainty, ".expansion_difference_uncertainty"}})
        require(value >= 0.0 && std::isfinite(value), path + name,
                "must be a standard uncertainty, not below 0");
    for (const auto& [value, name] : {std::pair{in.part_temperature, ".part_temperature"},
                                      {in.gauge_temperature, ".gauge_temperature"}})
        require(value >= -50.0 && value <= 150.0, path + name,
                show(value, fields::Quantity::temperature) +
                    " must be from -50 to 150 degC; let the part cool before it is measured");
    for (const auto& [value, name] : {std::pair{in.part_expansion, ".part_expansion"},
                                      {in.gauge_expansion, ".gauge_expansion"}})
        require(value >= 0.0 && value <= 1e-4, path + name, "must be from 0 to 100 um/m/K");
}

struct Mean {
    double value;
    double deviation; // of one reading
};
Mean mean_of(const std::vector<double>& readings) {
    double sum = 0.0;
    for (const double r : readings)
        sum += r - readings.front();
    const auto count = static_cast<double>(readings.size());
    const double mean = readings.front() + sum / count;
    double squares = 0.0;
    for (const double r : readings)
        squares += (r - mean) * (r - mean);
    return {mean, readings.size() > 1 ? std::sqrt(squares / (count - 1.0)) : 0.0};
}

} // namespace

double combined_uncertainty(const std::vector<BudgetLine>& budget) {
    double squares = 0.0;
    for (const BudgetLine& line : budget)
        squares += line.contribution * line.contribution;
    return std::sqrt(squares);
}

namespace {
double fourth_power(double x) { return number::square(x * x); }
} // namespace

double effective_degrees_of_freedom(const std::vector<BudgetLine>& budget) {
    const double combined = combined_uncertainty(budget);
    double sum = 0.0;
    for (const BudgetLine& line : budget)
        sum += fourth_power(line.contribution) / line.degrees_of_freedom;
    return sum > 0.0 ? fourth_power(combined) / sum : known;
}

MeasuredSize measured_size(const Reading& in, const std::string& path) {
    check(in, path);
    const Mean mean = mean_of(in.readings);
    const auto count = static_cast<double>(in.readings.size());
    const double reading = mean.value + in.correction;
    const double theta = in.part_temperature - 20.0;
    const double delta = in.part_temperature - in.gauge_temperature;
    const double gauge = 1.0 + in.gauge_expansion * (theta - delta);
    const double part = 1.0 + in.part_expansion * theta;

    MeasuredSize out{};
    out.factor = gauge / part;
    out.size = reading * out.factor;
    const auto add = [&](const char* source, double uncertainty, double sensitivity,
                         double degrees) {
        out.budget.push_back(
            {source, uncertainty, sensitivity, std::abs(uncertainty * sensitivity), degrees});
    };
    const bool several = in.readings.size() > 1;
    add("scatter of the readings", (several ? mean.deviation : in.repeatability) / std::sqrt(count),
        out.factor, several ? count - 1.0 : known);
    add("gauge calibration", in.gauge_uncertainty, out.factor, known);
    add("temperature of part less gauge", in.difference_uncertainty,
        -reading * in.gauge_expansion / part, known);
    add("temperature of the part", in.temperature_uncertainty,
        reading * (in.gauge_expansion - out.factor * in.part_expansion) / part, known);
    add("expansion of part less gauge", in.expansion_difference_uncertainty,
        -out.size * theta / part, known);
    add("expansion of the gauge", in.expansion_uncertainty,
        reading * (theta - delta - out.factor * theta) / part, known);
    // Where a temperature is 20 degC its product with an unknown expansion is all that is left:
    // second-order terms (JCGM 100, 5.1.2 note and H.1.7).
    add("expansion and temperature together",
        number::norm2(in.expansion_difference_uncertainty * in.temperature_uncertainty,
                      in.expansion_uncertainty * in.difference_uncertainty),
        out.size, known);
    out.uncertainty = combined_uncertainty(out.budget);
    out.gauge_part = combined_uncertainty({out.budget.begin() + 1, out.budget.end()});
    out.degrees_of_freedom = effective_degrees_of_freedom(out.budget);
    return out;
}

} // namespace fitwright::sizes
