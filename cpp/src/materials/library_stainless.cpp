// Stainless steels and the nickel alloy.
#include "library_parts.hpp"

namespace fitwright::materials::parts {

namespace {
// ASME B31.1 (1995), modulus at temperature [Msi] at these degF.
Points b31(double a, double b, double c, double d, double e, double f, double g, double h,
           double i) {
    return from_fahrenheit({{-325, a},
                            {-200, b},
                            {-100, c},
                            {70, d},
                            {200, e},
                            {300, f},
                            {400, g},
                            {500, h},
                            {600, i}},
                           gpa_per_msi);
}
} // namespace

std::vector<Entry> stainless_and_nickel() {
    std::vector<Entry> list;
    // T3-04 tells means from 0 degC: 17.3 to 100 and 17.8 to 315 degC; 17.1 to 20 degC is their
    // straight line. The cold points are T3-07 (-280e-5 at 77 K, -146e-5 at 195 K) over 216 and 98 K.
    list.push_back(entry(
        "304", "austenitic stainless steel, annealed",
        {b31(30.3, 29.7, 29.1, 28.3, 27.6, 27.0, 26.5, 25.8, 25.3),
         joined({{-196, 13.0}, {-78, 14.9}},
                mean_from_20(0, {{20, 17.1}, {100, 17.3}, {315, 17.8}})),
         shares_of(205, {{-196, 1.2}, {-80, 1.15}, {20, 1}, {100, 0.82}, {200, 0.69}, {300, 0.62}}),
         0.29, 8000, -196, 300, 300},
        {"modulus: ASME B31.1 (1995), austenitic steels; T3-04 gives 193 to 200 GPa (published)",
         "expansion: data sheet, AISI type 304 (T3-04), turned from 0 to 20 degC (published); cold "
         "points T3-07 (from memory)",
         "yield: 205 MPa least at 20 degC, ASTM A213 as told in 304 mechanical properties "
         "(published); share left at temperature as in pressure-vessel codes (from memory)",
         "poisson: data sheet, AISI type 304 (T3-04) (published)",
         "density: Callister Table B.1 (published)",
         "heating limit: end of the data; well below the sensitising range from 425 degC (common "
         "practice)"}));
    // Means from 0 degC 16.0 to 100 and 16.2 to 315 degC; 15.9 to 20 degC is their straight line. Cold as
    // 304, whose fits at NIST stand for both.
    list.push_back(entry(
        "316", "austenitic stainless steel with molybdenum, annealed",
        {b31(30.3, 29.7, 29.1, 28.3, 27.6, 27.0, 26.5, 25.8, 25.3),
         joined({{-196, 12.4}, {-78, 14.2}},
                mean_from_20(0, {{20, 15.9}, {100, 16.0}, {315, 16.2}})),
         shares_of(205, {{-196, 1.2}, {-80, 1.15}, {20, 1}, {100, 0.82}, {200, 0.69}, {300, 0.62}}),
         0.28, 8000, -196, 300, 300},
        {"modulus: ASME B31.1 (1995), austenitic steels; the data sheet gives 193 GPa (published)",
         "expansion: data sheet of annealed bar, AISI type 316 (asm.matweb.com, MQ316J), 0 to 100 "
         "and 0 to 315 degC, turned to 20 degC; other pages tell 16.5 and 17.5 to 100 degC "
         "(published); cold, in proportion to 304 (from memory)",
         "yield: 205 MPa least of ASTM A240 (from memory), below the 240 of that data sheet; share "
         "left at temperature as 304 (from memory)",
         "poisson: annealed 316L property table (makeitfrom.com) (published)",
         "density: data sheet of annealed bar, AISI type 316 (published)",
         "heating limit: end of the data; well below the sensitising range from 425 degC (common "
         "practice)"}));
    // Means from 0 degC 9.9 to 100, 11.0 to 315 degC; 9.5 to 20 degC is their straight line.
    list.push_back(entry(
        "410", "martensitic stainless steel, hardened, tempered at about 600 degC",
        {b31(31.2, 30.7, 30.1, 29.2, 28.5, 27.9, 27.3, 26.7, 26.1),
         joined({{-80, 9.0}}, mean_from_20(0, {{20, 9.5}, {100, 9.9}, {315, 11.0}})),
         shares_of(724, {{-80, 1.05}, {20, 1}, {100, 0.95}, {200, 0.91}, {300, 0.88}}), 0.28, 7800,
         -80, 300, 300},
        {"modulus: ASME B31.1 (1995), chromium steels Cr 12 %, 17 %, 27 % (published)",
         "expansion: AISI type 410S data sheet, 0 to 100 degC (T3-05) and 0 to 315 degC, turned to "
         "20 degC; EN 10088-1 tells 10.5 to 100 degC (published); cold point (from memory)",
         "yield: 724 MPa at 20 degC, 410 stainless steel data (published); share left at "
         "temperature as 12 % chromium steels (from memory)",
         "poisson: handbook value for 12 % chromium steel (from memory)",
         "density: AISI type 410S data sheet (published)",
         "heating limit: quenched and tempered steel, DIN 7190-1 joining temperatures, far below "
         "the tempering (from memory)"}));
    list.push_back(entry(
        "17-4ph", "precipitation-hardening stainless steel, aged at 552 degC (H1025)",
        {{{-80, 205}, {20, 200}, {100, 195}, {200, 185}, {300, 175}},
         {{-80, 10.4}, {20, 10.8}, {100, 10.9}, {300, 11.1}},
         shares_of(1000, {{-80, 1.05}, {20, 1}, {100, 0.93}, {200, 0.86}, {300, 0.81}}),
         0.27,
         7800,
         -80,
         300,
         300},
        {"modulus: EN 10088-1 as told in elevated temperature physical properties, 630 "
         "(published); "
         "cold point (from memory)",
         "expansion: EN 10088-1 as above, 10.9 to 100 and 11.1 to 300 degC (published); 20 degC as "
         "T3-05 and cold point (from memory)",
         "yield: least of ASTM A564 H1025, 145 ksi; share left as MIL-HDBK-5 (from memory)",
         "poisson: producers' data (from memory)", "density: producers' data (from memory)",
         "heating limit: far below the ageing, and below the embrittling range above 300 degC "
         "(common practice)"}));
    // The data sheet tells means from 25 degC; 12.3 to 20 degC is the line of its first two.
    list.push_back(entry(
        "718", "nickel alloy, solution treated and aged",
        {from_fahrenheit({{-325, 31.3},
                          {-86, 30.6},
                          {70, 29.6},
                          {200, 29.2},
                          {400, 28.8},
                          {600, 27.6},
                          {800, 26.5},
                          {1000, 25.5}},
                         gpa_per_msi),
         joined({{-196, 10.4}, {-78, 11.6}}, mean_from_20(25, {{20, 12.3},
                                                               {celsius(200), 12.8},
                                                               {celsius(400), 13.5},
                                                               {celsius(600), 13.9},
                                                               {celsius(800), 14.2},
                                                               {celsius(1000), 14.4}})),
         shares_of(1034, {{-196, 1.13},
                          {-80, 1.05},
                          {20, 1},
                          {100, 0.98},
                          {200, 0.95},
                          {300, 0.93},
                          {400, 0.92},
                          {500, 0.91}}),
         0.29, 8220, -196, 500, 500},
        {"modulus: alloy 718 technical data sheet, 70 to 1000 degF; cold points from another, its "
         "-308 degF value held to -325 degF (published)",
         "expansion: alloy 718 technical data sheet, from 25 degC, turned to 20 degC; T3-05 "
         "remembers 12.8 to 13.0 (published); cold points (from memory)",
         "yield: least of AMS 5663 at 20 degC, 150 ksi; share left at temperature (from memory)",
         "poisson: alloy 718 data sheet, 70 degF (published)",
         "density: alloy 718 technical data sheet (published)",
         "heating limit: 120 K below the second ageing at 620 degC (common practice)"}));
    return list;
}

} // namespace fitwright::materials::parts
