// A measured size: corrected to 20 degC (ISO 1), with its uncertainty budget (JCGM 100, the GUM).
#pragma once

#include <string>
#include <vector>

namespace fitwright::sizes {

// Standard uncertainties. What is left at its standard value counts as known.
struct Reading {
    std::vector<double> readings;     // what the gauge showed [m]
    double correction = 0.0;          // of the gauge by its certificate, added to the reading [m]
    double gauge_uncertainty = 0.0;   // of the gauge and its setting master at 20 degC [m]
    double repeatability = 0.0;       // of one reading; of several their own scatter is used [m]
    double part_temperature = 20.0;   // [degC]
    double gauge_temperature = 20.0;  // of the scale or the setting master [degC]
    double part_expansion = 11.5e-6;  // mean from 20 degC [1/K]
    double gauge_expansion = 11.5e-6; // [1/K]
    // Of the temperature of the part, and of the difference between part and gauge [K].
    double temperature_uncertainty = 0.0;
    double difference_uncertainty = 0.0;
    // Of the gauge's expansion, and of the part's less the gauge's [1/K]: the tables' bounds of 2e-6
    // and 1e-6 for steels, each point between equally likely (GUM H.1.3).
    double expansion_uncertainty = 1.2e-6;
    double expansion_difference_uncertainty = 0.58e-6;
};

struct BudgetLine {
    std::string source;
    double uncertainty;  // standard uncertainty of the source, in its unit
    double sensitivity;  // size per that unit
    double contribution; // their product [m]
    double degrees_of_freedom;
};

struct MeasuredSize {
    double size;               // at 20 degC [m]
    double factor;             // size over corrected reading
    double uncertainty;        // combined standard uncertainty [m]
    double gauge_part;         // the same without the scatter of the readings [m]
    double degrees_of_freedom; // effective, by Welch and Satterthwaite; infinite when all are known
    std::vector<BudgetLine> budget;
};

// Throws DomainError.
MeasuredSize measured_size(const Reading&, const std::string& path = "measured");

// Root of the sum of squares, and the effective degrees of freedom of the sum.
double combined_uncertainty(const std::vector<BudgetLine>& budget);
double effective_degrees_of_freedom(const std::vector<BudgetLine>& budget);

} // namespace fitwright::sizes
