// Bearing steels that keep their hardness hot, or do not rust.
#include "library_parts.hpp"

namespace fitwright::materials::parts {

std::vector<Entry> bearing_steels() {
    std::vector<Entry> list;
    // Means from 70 degF; 10.8 to 20 degC is the straight line of the first two.
    list.push_back(entry(
        "m50", "hot-hardness bearing steel, vacuum melted, hardened, tempered at about 540 degC",
        {shares_of(214, {{-70, 1.022}, {20, 1}, {100, 0.977}, {200, 0.943}, {316, 0.903}}),
         joined({{-70, 10.2}}, mean_from_20(celsius(70), {{20, 10.8},
                                                          {celsius(200), 11.21},
                                                          {celsius(400), 11.84},
                                                          {celsius(600), 12.29}})),
         {{-70, 2150}, {20, 2100}, {100, 2000}, {200, 1850}, {316, 1650}},
         0.29,
         7870,
         -70,
         315,
         200},
        {"modulus: 31 Msi at room temperature, M50 bearing steel data sheet (published); share "
         "left "
         "at temperature as the chromium steels of ASME B31.1 (from memory)",
         "expansion: M50 bearing steel data sheet, 70 to 200, 400 and 600 degF, turned to 20 degC "
         "(published); cold point (from memory)",
         "yield: hardened to 62 HRC, compressive 0.2 % proof (from memory)",
         "poisson: M50 tool steel, annealed, property table (published)",
         "density: M50 bearing steel data sheet (published)",
         "heating limit: far below the tempering of 540 degC; the sheet tells service to 427 degC, "
         "seals, cages and grease bear less (common practice)"}));
    // Means from 0 degC 10.1 to 100, 10.3 to 200 degC; 9.94 to 20 degC is their straight line.
    list.push_back(entry(
        "440c", "martensitic stainless bearing steel, hardened, tempered at 204 degC",
        {shares_of(200, {{-80, 1.022}, {20, 1}, {100, 0.975}, {200, 0.94}, {260, 0.92}}),
         joined({{-80, 9.5}}, mean_from_20(0, {{20, 9.94}, {100, 10.1}, {200, 10.3}, {600, 11.7}})),
         shares_of(1900, {{-80, 1.03}, {20, 1}, {100, 0.95}, {200, 0.88}, {260, 0.83}}), 0.28, 7650,
         -80, 200, 150},
        {"modulus: 200 GPa at 20 degC, grade 440C data table (published); share left at "
         "temperature "
         "as the chromium steels of ASME B31.1 (from memory)",
         "expansion: grade 440C data table, 0 to 100, 200 and 600 degC, turned to 20 degC "
         "(published); cold point (from memory)",
         "yield: 1900 MPa at 20 degC, tempered at 204 degC, grade 440C data table (published); "
         "share "
         "left at temperature (from memory)",
         "poisson: 440C stainless steel, annealed, property table (published)",
         "density: grade 440C data table (published)",
         "heating limit: 54 K below the tempering (common practice)"}));
    return list;
}

} // namespace fitwright::materials::parts
