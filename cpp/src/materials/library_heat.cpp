// Thermal conductivity and specific heat of the metals of the library.
#include "library_parts.hpp"

#include <map>
#include <stdexcept>

namespace fitwright::materials::parts {

namespace {
struct HeatData {
    Points conductivity;  // [W/(m K)] against degC; may reach further than the metal's range
    Points heat_capacity; // [J/(kg K)]
    std::string conductivity_told;
    std::string heat_capacity_told;
};

// EN 1993-1-2, steel from 20 to 600 degC (formula read); colder as pure iron, 216 at 100 K
// (Incropera Table A.1, read), 384 at 200 K and 145 at 77 K (from memory).
Points steel_heat_capacity() {
    Points points{{-196, 145}, {-173.15, 216}, {-73.15, 384}};
    for (double t : {20.0, 100.0, 200.0, 300.0, 360.0})
        points.emplace_back(t, 425.0 + t * (0.773 + t * (-1.69e-3 + t * 2.22e-6)));
    return points;
}
const char* const steel_told =
    "heat capacity: formula of EN 1993-1-2 for carbon steel (published); below 20 degC as pure "
    "iron, "
    "Incropera Table A.1, 216 at 100 K (published); 384 at 200 K and 145 at 77 K (from memory)";

std::map<std::string, HeatData> carbon_and_alloy() {
    return {
        {"1020",
         {{{-196, 50}, {-80, 52}, {20, 51.8}, {100, 51.0}, {200, 48.9}, {300, 46.1}, {360, 43.8}},
          steel_heat_capacity(),
          "conductivity: classical measurements of steel of 0.23 % carbon, 51.9 at room "
          "temperature "
          "in Callister Table B.7; cold points (from memory)",
          steel_told}},
        {"1045",
         {{{-196, 44}, {-80, 50}, {20, 51.2}, {100, 50.7}, {200, 48.2}, {300, 45.6}, {360, 43.4}},
          steel_heat_capacity(),
          "conductivity: classical measurements of steel of 0.4 % carbon; a data book tells 53.6 "
          "for "
          "0.5 % carbon; cold points (from memory)",
          steel_told}},
        {"4140",
         {{{-196, 33}, {-80, 42}, {20, 43}, {100, 42.7}, {200, 42.3}, {300, 40}},
          steel_heat_capacity(),
          "conductivity: 43 at 20 degC, normalized 4140, property table (published); others (from "
          "memory)",
          steel_told}},
        {"4340",
         {{{-196, 33}, {-80, 42.5}, {20, 44}, {100, 43.5}, {200, 42}, {300, 40}},
          steel_heat_capacity(),
          "conductivity: 44 at 20 degC, normalized 4340, property table (published); quenched and "
          "tempered steel may have 38; other points (from memory)",
          steel_told}},
        {"52100",
         {{{-70, 37}, {20, 40}, {100, 40}, {200, 39}, {280, 37.5}},
          steel_heat_capacity(),
          "conductivity: hardened; data sheets of the annealed steel tell 46.6 (from memory)",
          steel_told}},
        {"m50",
         {{{-70, 33}, {20, 35}, {100, 35}, {200, 34.5}, {316, 34}},
          steel_heat_capacity(),
          "conductivity: 35 at 20 degC, annealed, M50 tool steel property table (published); "
          "hardened steel conducts less, other points (from memory)",
          steel_told}},
    };
}

std::map<std::string, HeatData> stainless_and_nickel_alloys() {
    return {
        // EN 10088-1 tells 15 and 500 at 20 degC, the cryogenic fit 15.1 and 471.
        {"304",
         {{{-196, 7.93}, {-150, 10.22}, {-80, 12.44}, {20, 15.0}, {127, 16.6}, {327, 19.8}},
          {{-196, 205}, {-150, 324}, {-100, 389}, {-40, 446}, {20, 475}, {127, 515}, {327, 557}},
          "conductivity: NIST cryogenic fit to 300 K and 15 at 20 degC in EN 10088-1 (published); "
          "hot "
          "points Incropera Table A.1 (from memory)",
          "heat capacity: NIST cryogenic fit, EN 10088-1 tells 500 at 20 degC; hot points "
          "Incropera "
          "Table A.1 (from memory)"}},
        {"316",
         {{{-196, 7.9}, {-150, 10.1}, {-80, 12.2}, {20, 14.6}, {100, 15.6}, {300, 18.5}},
          {{-196, 205}, {-150, 324}, {-100, 380}, {-40, 425}, {20, 450}, {93, 485}, {300, 530}},
          "conductivity: 14.6 near room temperature, physical properties of 316 tube "
          "(tubingchina.com) (published); cold and hot in proportion to 304 (from memory)",
          "heat capacity: 450 at 20 and 485 at 93 degC, the same page (published); cold as 304, "
          "300 "
          "degC (from memory)"}},
        {"410",
         {{{-80, 29}, {20, 30}, {100, 30}, {300, 30}},
          {{-80, 390}, {20, 460}, {100, 485}, {300, 565}},
          "conductivity: 30 at 20 degC, EN 10088-1 (published); data sheets tell 24.9 at 100 degC; "
          "course with temperature (from memory)",
          "heat capacity: 460 at 20 degC, EN 10088-1 (published); others as carbon steel (from "
          "memory)"}},
        {"440c",
         {{{-80, 22}, {20, 23.5}, {100, 24.2}, {200, 24.8}},
          {{-80, 385}, {20, 440}, {100, 475}, {200, 520}},
          "conductivity: 24.2 at 100 degC, grade 440C data table (published); EN 10088-1 tells 15 "
          "for its steels; others (from memory)",
          "heat capacity: mean of 460 from 0 to 100 degC, grade 440C data table (published); "
          "course "
          "with temperature as carbon steel (from memory)"}},
        {"17-4ph",
         {{{-80, 14}, {20, 16}, {100, 17.1}, {200, 18.6}, {300, 20}},
          {{-80, 430}, {20, 500}, {100, 520}, {300, 590}},
          "conductivity: 16 at 20 degC, EN 10088-1, 630 (published); others (from memory)",
          "heat capacity: 500 at 20 degC, EN 10088-1, 630 (published); data sheets tell 460; "
          "others "
          "(from memory)"}},
        {"718",
         {{{-196, 6.4}, {-78, 9.2}, {20, 11.4}, {93, 12.5}, {204, 14.1}, {316, 15.7}, {500, 18.4}},
          {{-196, 200}, {-78, 370}, {20, 435}, {100, 455}, {300, 500}, {500, 540}},
          "conductivity: producers' data, 79 Btu in/(h ft2 degF) at 70 degF (from memory)",
          "heat capacity: producers' data, 0.104 Btu/(lb degF) at 70 degF (from memory)"}},
    };
}

std::map<std::string, HeatData> light_metals() {
    return {
        {"ti-6al-4v",
         {{{-196, 3.4}, {-78, 5.5}, {20, 6.7}, {100, 7.4}, {200, 8.7}, {300, 9.8}},
          {{-196, 280}, {-78, 480}, {20, 526}, {100, 560}, {200, 580}, {300, 605}},
          "conductivity: 6.7, Ti-6Al-4V data sheet, told there to 300 degC (published); its course "
          "as "
          "MIL-HDBK-5 (from memory)",
          "heat capacity: 526 at 25 degC, Ti-6Al-4V data sheet (published); others as MIL-HDBK-5 "
          "(from memory)"}},
        // The fits end at 300 K; beyond, the conductivity of the alloy rises slowly.
        {"6061-t6",
         {{{-196, 83.6},
           {-150, 109.3},
           {-80, 134.2},
           {-40, 143.9},
           {20, 154.4},
           {100, 163},
           {200, 172}},
          {{-196, 349}, {-150, 608}, {-100, 780}, {-40, 878}, {20, 935}, {100, 975}, {200, 1025}},
          "conductivity: NIST cryogenic fit to 300 K, T6; handbooks tell 167 at 25 degC "
          "(published); "
          "100 and 200 degC (from memory)",
          "heat capacity: NIST cryogenic fit to 300 K, whose 943 at 20 degC is taken 1 % lower; "
          "handbooks tell 896 (published); 100 and 200 degC (from memory)"}},
        {"7075-t6",
         {{{-196, 71}, {-80, 112}, {20, 130}, {100, 142}, {150, 149}},
          {{-196, 349}, {-150, 608}, {-100, 780}, {-40, 865}, {20, 900}, {100, 940}, {150, 965}},
          "conductivity: 130 at 25 degC, handbook value, and its course (from memory)",
          "heat capacity: as 6061 when cold, handbooks tell 860 to 960 at 25 degC (from memory)"}},
        {"az91d",
         {{{-80, 64}, {20, 73}, {100, 79}, {150, 83}},
          {{-80, 960}, {20, 1050}, {100, 1090}, {150, 1110}},
          "conductivity: 73 at 20 degC, AZ91A property table (published); others (from memory)",
          "heat capacity: 1050, typical properties of die-casting alloys, AZ91D (published); "
          "others "
          "(from memory)"}},
    };
}

std::map<std::string, HeatData> copper_alloys_and_irons() {
    return {
        // Incropera, phosphor gear bronze: 41, 54, 65, 74 at 200, 300, 400, 600 K.
        {"c93200",
         {shares_of(59.0 / 54.0,
                    {{-80, 40}, {-73.15, 41}, {26.85, 54}, {126.85, 65}, {326.85, 74}}),
          {{-80, 352}, {20, 376}, {200, 400}},
          "conductivity: course of phosphor gear bronze in Incropera Table A.1 (published), to the "
          "59 "
          "at 20 degC of C93200 tables (from memory)",
          "heat capacity: 376 at 20 degC, C93200 tables, and its course (from memory)"}},
        {"c26000",
         {{{-196, 67}, {-173.15, 75}, {-73.15, 95}, {26.85, 110}, {126.85, 137}, {326.85, 149}},
          {{-196, 225}, {-173.15, 260}, {-73.15, 360}, {26.85, 380}, {126.85, 395}, {326.85, 425}},
          "conductivity: cartridge brass at 100, 200, 300, 400 and 600 K, Incropera Table A.1 "
          "(published); coldest point (from memory)",
          "heat capacity: cartridge brass at 200, 300, 400 and 600 K, Incropera Table A.1 "
          "(published); colder (from memory)"}},
        {"c17200",
         {{{-80, 84}, {20, 107}, {100, 120}, {200, 135}},
          {{-80, 380}, {20, 420}, {100, 430}, {200, 445}},
          "conductivity: 107 at 20 degC, C17200 data sheet (published); others (from memory)",
          "heat capacity: 420 at 20 degC, producers' data, and its course; a space agency's list "
          "tells "
          "418 (from memory)"}},
        {"grey_iron",
         {{{-80, 47}, {20, 48.5}, {100, 48.5}, {200, 47.5}, {300, 46.5}},
          {{-80, 400}, {20, 460}, {100, 490}, {200, 510}, {300, 535}},
          "conductivity: EN 1561, grade of 250 MPa; a property table tells 46, a data book 52 "
          "(from "
          "memory)",
          "heat capacity: EN 1561 tells means of 460 to 200 degC; property tables tell 420 to 490 "
          "(from memory)"}},
        {"ductile_iron",
         {{{-80, 34}, {20, 35}, {100, 36}, {300, 36.2}},
          {{-80, 400}, {20, 461}, {100, 490}, {300, 550}},
          "conductivity: 36.2 at 300 degC in EN 1563, ferritic grade; others (from memory)",
          "heat capacity: EN 1563 tells a mean of 515 to 500 degC; points after it (from memory)"}},
    };
}
} // namespace

void add_heat_data(Entry& e) {
    for (auto* group :
         {carbon_and_alloy, stainless_and_nickel_alloys, light_metals, copper_alloys_and_irons}) {
        const auto data = group();
        const auto found = data.find(e.name);
        if (found == data.end())
            continue;
        const HeatData& heat = found->second;
        Material& m = e.numbers;
        m.conductivity = table_within(m.lowest, m.highest, heat.conductivity, 1.0);
        m.heat_capacity = table_within(m.lowest, m.highest, heat.heat_capacity, 1.0);
        e.sources.push_back(heat.conductivity_told);
        e.sources.push_back(heat.heat_capacity_told);
        return;
    }
    throw std::logic_error("no conductivity and heat capacity for " + e.name);
}

} // namespace fitwright::materials::parts
