// Carbon, alloy and bearing steels.
#include "library_parts.hpp"

namespace fitwright::materials::parts {

namespace {
// ASME Section II Part D (2001), Table TE-1, Group 1, column B: mean from 70 F, 1e-6/F (published,
// T3-01 for 200, 300, 400, 700 F; the other rows from the same stored table). -50 F: ASME B31.3
// Table C-1, which carries the same column down (published). -112 F and -325 F: from memory.
Points group_1_expansion() {
    return mean_from_20(celsius(70), from_fahrenheit({{-325, 5.0},
                                                      {-112, 6.0},
                                                      {-50, 6.2},
                                                      {70, 6.4},
                                                      {200, 6.7},
                                                      {300, 6.9},
                                                      {400, 7.1},
                                                      {500, 7.3},
                                                      {600, 7.4},
                                                      {700, 7.6}},
                                                     1.8));
}
const char* const group_1_told =
    "expansion: ASME Section II Part D Table TE-1 Group 1 (T3-01) from 70 degF up and ASME B31.3 "
    "Table C-1 at -50 degF, turned to the datum 20 degC (published); colder than -45 degC (from "
    "memory)";

// Roark's Formulas for Stress and Strain, modulus at temperature [GPa]; the columns are degF.
Points roark(double a, double b, double c, double d, double e, double f, double g, double h,
             double i, double j) {
    return from_fahrenheit({{-325, a},
                            {-200, b},
                            {-100, c},
                            {70, d},
                            {200, e},
                            {300, f},
                            {400, g},
                            {500, h},
                            {600, i},
                            {700, j}},
                           1.0);
}
Points low_carbon_modulus() {
    return roark(216.5, 212.4, 208.2, 203.4, 198.6, 195.1, 191.0, 188.2, 184.1, 175.8);
}
Points medium_carbon_modulus() {
    return roark(215.1, 211.0, 206.8, 202.0, 197.2, 193.7, 189.6, 186.8, 182.7, 174.4);
}
// ASME B31.1 (1995), modulus of Cr 1/2 % to 2 % steels [Msi] at the same temperatures.
Points chromium_modulus() {
    return from_fahrenheit({{-325, 31.6},
                            {-200, 31.0},
                            {-100, 30.4},
                            {70, 29.7},
                            {200, 29.0},
                            {300, 28.5},
                            {400, 27.9},
                            {500, 27.5},
                            {600, 26.9},
                            {700, 26.3}},
                           gpa_per_msi);
}
const char* const chromium_told =
    "modulus: ASME B31.1 (1995), row Cr-Mo steels with Cr 1/2 % to 2 %, the nearest composition "
    "(published)";

// What is left of the room-temperature yield. Colder than -80 degC the gain is not counted on.
Points carbon_shares() {
    return {{-196, 1.15}, {-80, 1.15}, {20, 1.0},  {100, 0.91},
            {200, 0.85},  {300, 0.75}, {350, 0.70}};
}
Points tempered_shares() {
    return {{-196, 1.06}, {-80, 1.06}, {20, 1.0}, {100, 0.95}, {200, 0.90}, {300, 0.84}};
}
} // namespace

std::vector<Entry> steels() {
    std::vector<Entry> list;
    list.push_back(entry(
        "1020", "low-carbon steel, hot rolled",
        {low_carbon_modulus(), group_1_expansion(), shares_of(210, carbon_shares()), 0.29, 7850,
         -196, 350, 350},
        {"modulus: Roark's Formulas for Stress and Strain, table of modulus at temperature, carbon "
         "steel C <= 0.3 % (T3-06; colder and hotter columns of the same row) (published)",
         group_1_told,
         "yield: 210 MPa least at 20 degC, Callister Table B.4 (published); share left at "
         "temperature as carbon steels in pressure-vessel codes (from memory)",
         "poisson: handbook value for carbon steel (from memory)",
         "density: Callister Table B.1 (published)",
         "heating limit: steel of low strength, DIN 7190-1 joining temperatures (from memory)"}));
    list.push_back(entry(
        "1045", "medium-carbon steel, hot rolled",
        {medium_carbon_modulus(), group_1_expansion(), shares_of(310, carbon_shares()), 0.29, 7850,
         -196, 350, 350},
        {"modulus: Roark's Formulas for Stress and Strain, table of modulus at temperature, carbon "
         "steel C >= 0.3 % (published)",
         group_1_told,
         "yield: 310 MPa at 20 degC, SAE 1045 steel properties, hot rolled (published); share left "
         "at temperature as carbon steels in pressure-vessel codes (from memory)",
         "poisson: SAE 1045 steel properties (published)",
         "density: SAE 1045 steel properties (published)",
         "heating limit: steel of low strength, DIN 7190-1 joining temperatures (from memory)"}));
    list.push_back(entry(
        "4140", "chromium-molybdenum steel, oil quenched and tempered at 650 degC",
        {chromium_modulus(), group_1_expansion(), shares_of(655, tempered_shares()), 0.29, 7850,
         -196, 300, 300},
        {chromium_told, group_1_told,
         "yield: 655 MPa at 20 degC, alloy steel AISI 4140 tensile properties, tempered at 650 "
         "degC "
         "(published); share left at temperature as low-alloy steels in MIL-HDBK-5 (from memory)",
         "poisson: AISI 4140 steel data sheet (published)",
         "density: Callister Table B.1 (published)",
         "heating limit: quenched and tempered steel, DIN 7190-1 joining temperatures, far below "
         "the tempering of 650 degC (from memory)"}));
    list.push_back(entry(
        "4340", "nickel-chromium-molybdenum steel, oil quenched and tempered at 650 degC",
        {chromium_modulus(),
         {{-196, 9.3}, {-80, 11.2}, {20, 12.0}, {100, 12.3}, {200, 12.7}, {300, 13.2}},
         shares_of(834, tempered_shares()),
         0.29,
         7850,
         -196,
         300,
         300},
        {chromium_told,
         "expansion: 12.3 to 100 degC (T3-05) and 12.7 to 200 degC, AISI 4340 steel data sheet, "
         "oil "
         "hardened (published); 20, 300 degC and cold (from memory)",
         "yield: 834 MPa at 20 degC, AISI 4340 steel data sheet, oil quenched, tempered at 650 "
         "degC, "
         "50 mm round (published); share left at temperature as low-alloy steels in MIL-HDBK-5 "
         "(from memory)",
         "poisson: AISI 4340 steel data sheet (published)",
         "density: Callister Table B.1 (published)",
         "heating limit: quenched and tempered steel, DIN 7190-1 joining temperatures, far below "
         "the tempering of 650 degC (from memory)"}));
    list.push_back(entry(
        "52100", "bearing steel, hardened, normal stabilisation",
        {chromium_modulus(),
         {{-70, 11.5}, {20, 11.8}, {100, 11.9}, {200, 11.9}, {280, 11.9}},
         {{-70, 1750}, {20, 1700}, {100, 1650}, {150, 1600}, {200, 1550}, {280, 1400}},
         0.30,
         7810,
         -70,
         280,
         120},
        {chromium_told,
         "expansion: 11.9 over 23 to 280 degC, annealed (T3-05); flat toward room temperature, "
         "where "
         "bearing practice takes 12 (from memory)",
         "yield: hardened to 60 HRC, kept below the 2034 MPa of a data sheet for balls (from "
         "memory)",
         "poisson: bearing practice (common practice)",
         "density: differences between 52100 and E52100 steel, data table (published)",
         "heating limit: MIL-HDBK-1164 Table 17 heats to 93 to 121 degC (T10-01); rings stabilised "
         "for higher temperatures bear more (common practice)"}));
    return list;
}

} // namespace fitwright::materials::parts
