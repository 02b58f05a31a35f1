// Titanium, aluminium, magnesium and copper alloys, cast irons.
#include "library_parts.hpp"

namespace fitwright::materials::parts {

std::vector<Entry> others() {
    std::vector<Entry> list;
    list.push_back(entry(
        "ti-6al-4v", "titanium alloy, annealed",
        {shares_of(113.8,
                   {{-196, 1.11}, {-80, 1.05}, {20, 1}, {100, 0.95}, {200, 0.89}, {300, 0.82}}),
         {{-196, 7.5}, {-78, 8.1}, {20, 8.5}, {100, 8.6}, {315, 9.2}},
         shares_of(830, {{-196, 1.5}, {-80, 1.2}, {20, 1}, {100, 0.87}, {200, 0.74}, {300, 0.66}}),
         0.342,
         4430,
         -196,
         300,
         300},
        {"modulus: 113.8 GPa at 20 degC, Ti-6Al-4V annealed data sheet (published); share left at "
         "temperature as MIL-HDBK-5 (from memory)",
         "expansion: 20 to 100 degC (T3-03) and 20 to 315 degC, Ti-6Al-4V data sheet (published); "
         "20 degC and cold (from memory)",
         "yield: 830 MPa least at 20 degC, Callister Table B.4 (published); share left at "
         "temperature as MIL-HDBK-5 (from memory)",
         "poisson: Ti-6Al-4V annealed data sheet (published)",
         "density: Ti-6Al-4V data sheet (published)",
         "heating limit: end of the data; stress relief starts at about 480 degC (common "
         "practice)"}));
    // Cold contraction of 6061: T3-07, -389e-5 at 77 K and -213e-5 at 195 K, over 216 and 98 K.
    list.push_back(entry(
        "6061-t6", "aluminium alloy, solution treated and aged",
        {shares_of(69, {{-196, 1.11}, {-80, 1.04}, {20, 1}, {100, 0.96}, {150, 0.92}, {200, 0.87}}),
         {{-196, 18.0}, {-78, 21.7}, {20, 22.9}, {100, 23.6}, {200, 24.3}},
         {{-196, 324}, {-80, 290}, {20, 276}, {100, 262}, {150, 214}, {200, 110}},
         0.33,
         2700,
         -196,
         200,
         150},
        {"modulus: 69 GPa at 20 degC, Callister Table B.2 (published); share left at temperature "
         "as "
         "MIL-HDBK-5 (from memory)",
         "expansion: 23.6 to 100 degC, Callister Table B.6 (T3-03) (published); cold points T3-07, "
         "20 and 200 degC (from memory)",
         "yield: 276 MPa at 20 degC, Callister Table B.4 (published); others typical values after "
         "long heating, Aluminum Association (from memory)",
         "poisson: average properties of selected materials, Mechanics of Materials (published)",
         "density: Callister Table B.1 (published)",
         "heating limit: 64 h at 177 degC keep the least yield (elevated temperature effects on "
         "6xxx extrusions, published); 27 K off for safety (common practice)"}));
    list.push_back(entry(
        "7075-t6", "aluminium alloy, solution treated and aged",
        {shares_of(71, {{-196, 1.11}, {-80, 1.05}, {20, 1}, {100, 0.96}, {150, 0.92}}),
         {{-196, 18.1}, {-78, 21.5}, {20, 22.7}, {100, 23.4}, {150, 23.8}},
         {{-196, 634}, {-80, 545}, {20, 505}, {100, 448}, {150, 186}},
         0.33,
         2810,
         -196,
         150,
         105},
        {"modulus: 71 GPa at 20 degC, Callister Table B.2 (published); share left at temperature "
         "as "
         "MIL-HDBK-5 (from memory)",
         "expansion: 23.4 to 100 degC, Callister Table B.6 (T3-03) (published); other points (from "
         "memory)",
         "yield: 505 MPa at 20 degC, Callister Table B.4 (published); others typical values after "
         "long heating, Aluminum Association (from memory)",
         "poisson: material properties appendix, multimedia engineering mechanics (published)",
         "density: important properties of selected engineering materials (published)",
         "heating limit: 15 K below the ageing at 120 degC (common practice)"}));
    // Falls as leaded tin bronze in ASME B31.1: 14.4, 14.0, 13.7, 13.4 Msi at -100, 70, 200, 300 degF.
    list.push_back(entry(
        "c93200", "bearing bronze, sand cast",
        {shares_of(100, {{-80, 1.03}, {20, 1}, {93, 0.979}, {149, 0.957}, {200, 0.943}}),
         {{-80, 17.0}, {20, 17.6}, {100, 18.0}, {200, 18.4}},
         shares_of(125, {{-80, 1.08}, {20, 1}, {100, 0.94}, {150, 0.90}, {200, 0.84}}),
         0.35,
         8910,
         -80,
         200,
         150},
        {"modulus: 14.5 Msi, C93200 material data sheet; share left as leaded tin bronze in ASME "
         "B31.1 (1995) (published), 200 degC (from memory)",
         "expansion: 18.0 to 100 degC, Callister Table B.6 (T3-03) (published); other points (from "
         "memory)",
         "yield: 125 MPa at 20 degC, Callister Table B.4, sand cast (published); share left at "
         "temperature (from memory)",
         "poisson: UNS C93200 bearing bronze property table (published)",
         "density: C93200 material data sheet (published)",
         "heating limit: 10 K below the 160 degC of a property table (common practice)"}));
    list.push_back(entry(
        "c26000", "cartridge brass, half hard",
        {shares_of(110,
                   {{-196, 1.06}, {-80, 1.03}, {20, 1}, {100, 0.97}, {200, 0.93}, {300, 0.88}}),
         {{-196, 16.3}, {-78, 17.6}, {20, 18.4}, {100, 18.9}, {200, 19.4}, {300, 19.9}},
         shares_of(350, {{-196, 1.2}, {-80, 1.07}, {20, 1}, {100, 0.95}, {200, 0.85}, {300, 0.5}}),
         0.34,
         8530,
         -196,
         300,
         200},
        {"modulus: 110 GPa at 20 degC, UNS C26000 property table (published); share left at "
         "temperature (from memory)",
         "expansion: 19.9 for 20 to 300 degC, linear expansion coefficient of copper alloys, and "
         "T3-03 (published); other points (from memory)",
         "yield: 350 MPa half hard, C26000 (ASTM B36) alloy data (published); share left at "
         "temperature (from memory)",
         "poisson: cartridge brass UNS C26000, properties (published)",
         "density: cartridge brass UNS C26000, properties (published)",
         "heating limit: cold work softens from about 250 degC (common practice)"}));
    list.push_back(entry(
        "grey_iron", "grey cast iron, tensile class of about 200 to 250 MPa",
        {joined({{-80, 93.0}},
                from_fahrenheit(
                    {{70, 13.4}, {200, 13.2}, {300, 12.9}, {400, 12.6}, {500, 12.2}, {600, 11.7}},
                    gpa_per_msi)),
         {{-80, 10.0}, {20, 11.0}, {100, 11.4}, {200, 11.7}, {300, 12.3}},
         shares_of(165, {{-80, 1.0}, {20, 1}, {200, 0.97}, {300, 0.94}}),
         0.26,
         7300,
         -80,
         300,
         300},
        {"modulus: 92.4 GPa at 21 degC, Roark's Formulas for Stress and Strain (T3-06); the row "
         "taken to run on from there as in ASME B31.3, and the cold point (from memory)",
         "expansion: 11.4 near room temperature, linear expansion coefficient for metals, grade "
         "G3000, 8 % above the mean of the piping codes from 70 to 125 degF: give expansion_factor "
         "a "
         "spread of 0.92 to 1.03 (published); others after EN 1561, and the piping codes' mean "
         "(from "
         "memory)",
         "yield: least 0.1 % proof stress of EN-GJL-250, as the iron has no yield point; it breaks "
         "in tension soon after (from memory)",
         "poisson: EN 1561 (from memory)", "density: Callister Table B.1, grade G3000 (published)",
         "heating limit: below growth and scaling, end of the data (common practice)"}));
    list.push_back(entry(
        "ductile_iron", "ductile cast iron 60-40-18, annealed",
        {shares_of(169, {{-80, 1.02}, {20, 1}, {100, 0.98}, {200, 0.95}, {300, 0.91}}),
         {{-80, 10.3}, {20, 10.9}, {100, 11.2}, {200, 11.7}, {300, 12.2}},
         shares_of(276, {{-80, 1.08}, {20, 1}, {100, 0.96}, {200, 0.91}, {300, 0.85}}),
         0.28,
         7100,
         -80,
         300,
         300},
        {"modulus: 169 GPa at 20 degC, Callister Table B.2 (published); share left at temperature "
         "(from memory)",
         "expansion: 11.2 near room temperature, Callister Table B.6 (T3-03) (published); others "
         "toward 12.5 to 400 degC in EN 1563 (from memory)",
         "yield: 276 MPa least at 20 degC, Callister Table B.4 (published); share left at "
         "temperature (from memory)",
         "poisson: technological and physical values after EN 1563 (published)",
         "density: Callister Table B.1 (published)",
         "heating limit: end of the data, DIN 7190-1 allows more (from memory)"}));
    list.push_back(entry(
        "c17200", "beryllium copper, solution treated and aged (TF00)",
        {shares_of(128, {{-80, 1.03}, {20, 1}, {100, 0.97}, {200, 0.93}}),
         {{-80, 15.8}, {20, 16.5}, {100, 16.7}, {200, 17.3}, {300, 17.8}},
         shares_of(965, {{-80, 1.04}, {20, 1}, {100, 0.96}, {200, 0.90}}),
         0.30,
         8250,
         -80,
         200,
         200},
        {"modulus: 128 GPa at 20 degC, Callister Table B.2 (published); share left at temperature "
         "(from memory)",
         "expansion: 16.7 near room temperature, Callister Table B.6 (T3-03), and 17.8 from 20 to "
         "300 "
         "degC, C17200 data sheet (published); other points (from memory)",
         "yield: least of ASTM B196, aged, 140 ksi; share left at temperature (from memory)",
         "poisson: handbook value (from memory)", "density: Callister Table B.1 (from memory)",
         "heating limit: 115 K below the ageing at 315 degC (common practice)"}));
    list.push_back(entry(
        "az91d", "magnesium alloy, die cast",
        {shares_of(45, {{-80, 1.05}, {20, 1}, {100, 0.93}, {150, 0.88}}),
         {{-80, 24.2}, {20, 25.4}, {100, 26.0}, {150, 26.4}},
         shares_of(150, {{-80, 1.1}, {20, 1}, {100, 0.80}, {150, 0.66}}),
         0.35,
         1820,
         -80,
         150,
         120},
        {"modulus: 45 GPa at 20 degC, typical properties of die-casting alloys (published); share "
         "left at temperature (from memory)",
         "expansion: 26.0 near room temperature, Callister Table B.6 (published); other points "
         "(from "
         "memory)",
         "yield: 150 MPa at 20 degC, typical properties of die-casting alloys (published); share "
         "left "
         "at temperature (from memory)",
         "poisson: handbook value for magnesium (from memory)",
         "density: typical properties of die-casting alloys (published)",
         "heating limit: 10 K below the 130 degC of a property table; it creeps above (common "
         "practice)"}));
    return list;
}

} // namespace fitwright::materials::parts
