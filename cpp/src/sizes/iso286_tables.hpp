// The tables of ISO 286-1 in micrometres, by steps of nominal size in millimetres. The tables are the
// standard, not its formulas: those serve as a check (tests/cpp/sizes.test.cpp).
//
// Sources, looked up:
//   [MD] Narayana, Kannaiah & Venkata Reddy, Machine Drawing, Tables 15.1 to 15.4 (sizes to 500 mm)
//   [MH] Machinery's Handbook, 31st ed., Table 6a, holes A to N (sizes to 250 mm)
//   [TR] a technical-reference page "Fundamental deviations of holes and shafts" (500 to 3150 mm)
//   [IT] public pages of the grades: IT5 to IT11 to 3150 mm, IT1 to IT14 to 315 mm
// Everything else is from memory (ISO 286-1:2010), and said so at its table.
#pragma once

#include <array>
#include <cstddef>
#include <iterator>

namespace fitwright::sizes::tables {

// No value in the standard.
inline constexpr double none = -1.0;

// Upper ends of the fine steps; a step holds its upper end and not its lower one. The step to 1 mm
// has the values of the step to 3 mm but fewer classes.
inline constexpr std::array<double, 42> fine_ends{
    1,   3,   6,   10,   14,   18,   24,   30,   40,   50,   65,   80,   100,  120,
    140, 160, 180, 200,  225,  250,  280,  315,  355,  400,  450,  500,  560,  630,
    710, 800, 900, 1000, 1120, 1250, 1400, 1600, 1800, 2000, 2240, 2500, 2800, 3150};
inline constexpr std::array<double, 21> main_ends{3,   6,    10,   18,   30,   50,   80,
                                                  120, 180,  250,  315,  400,  500,  630,
                                                  800, 1000, 1250, 1600, 2000, 2500, 3150};
inline constexpr std::size_t fine_to_500 = 26; // fine steps up to 500 mm
inline constexpr std::size_t main_to_500 = 13;

// Columns IT01, IT0, IT1 ... IT18. To 500 mm: IT01 to IT16 [MD], IT17 and IT18 from memory. Above:
// IT5 to IT11 [IT], the others from memory.
inline constexpr int lowest_grade = -1;
inline constexpr int highest_grade = 18;
inline constexpr double grades[21][20] = {
    {0.3, 0.5, 0.8, 1.2, 2, 3, 4, 6, 10, 14, 25, 40, 60, 100, 140, 250, 400, 600, 1000, 1400},
    {0.4, 0.6, 1, 1.5, 2.5, 4, 5, 8, 12, 18, 30, 48, 75, 120, 180, 300, 480, 750, 1200, 1800},
    {0.4, 0.6, 1, 1.5, 2.5, 4, 6, 9, 15, 22, 36, 58, 90, 150, 220, 360, 580, 900, 1500, 2200},
    {0.5, 0.8, 1.2, 2, 3, 5, 8, 11, 18, 27, 43, 70, 110, 180, 270, 430, 700, 1100, 1800, 2700},
    {0.6, 1, 1.5, 2.5, 4, 6, 9, 13, 21, 33, 52, 84, 130, 210, 330, 520, 840, 1300, 2100, 3300},
    {0.6, 1, 1.5, 2.5, 4, 7, 11, 16, 25, 39, 62, 100, 160, 250, 390, 620, 1000, 1600, 2500, 3900},
    {0.8, 1.2, 2, 3, 5, 8, 13, 19, 30, 46, 74, 120, 190, 300, 460, 740, 1200, 1900, 3000, 4600},
    {1, 1.5, 2.5, 4, 6, 10, 15, 22, 35, 54, 87, 140, 220, 350, 540, 870, 1400, 2200, 3500, 5400},
    {1.2, 2, 3.5, 5, 8, 12, 18, 25, 40, 63, 100, 160, 250, 400, 630, 1000, 1600, 2500, 4000, 6300},
    {2, 3, 4.5, 7, 10, 14, 20, 29, 46, 72, 115, 185, 290, 460, 720, 1150, 1850, 2900, 4600, 7200},
    {2.5, 4, 6, 8, 12, 16, 23, 32, 52, 81, 130, 210, 320, 520, 810, 1300, 2100, 3200, 5200, 8100},
    {3, 5, 7, 9, 13, 18, 25, 36, 57, 89, 140, 230, 360, 570, 890, 1400, 2300, 3600, 5700, 8900},
    {4, 6, 8, 10, 15, 20, 27, 40, 63, 97, 155, 250, 400, 630, 970, 1550, 2500, 4000, 6300, 9700},
    {none, none, 9,   11,  16,   22,   32,   44,   70,   110,
     175,  280,  440, 700, 1100, 1750, 2800, 4400, 7000, 11000},
    {none, none, 10,  13,  18,   25,   36,   50,   80,   125,
     200,  320,  500, 800, 1250, 2000, 3200, 5000, 8000, 12500},
    {none, none, 11,  15,  21,   28,   40,   56,   90,   140,
     230,  360,  560, 900, 1400, 2300, 3600, 5600, 9000, 14000},
    {none, none, 13,  18,   24,   33,   47,   66,   105,   165,
     260,  420,  660, 1050, 1650, 2600, 4200, 6600, 10500, 16500},
    {none, none, 15,  21,   29,   39,   55,   78,   125,   195,
     310,  500,  780, 1250, 1950, 3100, 5000, 7800, 12500, 19500},
    {none, none, 18,  25,   35,   46,   65,   92,   150,   230,
     370,  600,  920, 1500, 2300, 3700, 6000, 9200, 15000, 23000},
    {none, none, 22,   30,   41,   55,   78,   110,   175,   280,
     440,  700,  1100, 1750, 2800, 4400, 7000, 11000, 17500, 28000},
    {none, none, 26,   36,   50,   68,   96,   135,   210,   330,
     540,  860,  1350, 2100, 3300, 5400, 8600, 13500, 21000, 33000},
};

// Amounts of the fundamental deviations that change with the main steps: a shaft of cd to g lies that
// much below the nominal size, one of k (grades 4 to 7) to p that much above; a hole the other way.
// To 500 mm: cd to g [MH] to 250 mm, d to g above [MD]; k [MH]; m, n, p [MD] to 180 mm, above by the
// holes M, N, P of [MD]. Above 500 mm [TR].
inline constexpr const char* main_letters[] = {"cd", "d", "e", "ef", "f", "fg",
                                               "g",  "k", "m", "n",  "p"};
inline constexpr double main_amounts[21][std::size(main_letters)] = {
    {34, 20, 14, 10, 6, 4, 2, 0, 2, 4, 6},
    {46, 30, 20, 14, 10, 6, 4, 1, 4, 8, 12},
    {56, 40, 25, 18, 13, 8, 5, 1, 6, 10, 15},
    {none, 50, 32, none, 16, none, 6, 1, 7, 12, 18},
    {none, 65, 40, none, 20, none, 7, 2, 8, 15, 22},
    {none, 80, 50, none, 25, none, 9, 2, 9, 17, 26},
    {none, 100, 60, none, 30, none, 10, 2, 11, 20, 32},
    {none, 120, 72, none, 36, none, 12, 3, 13, 23, 37},
    {none, 145, 85, none, 43, none, 14, 3, 15, 27, 43},
    {none, 170, 100, none, 50, none, 15, 4, 17, 31, 50},
    {none, 190, 110, none, 56, none, 17, 4, 20, 34, 56},
    {none, 210, 125, none, 62, none, 18, 4, 21, 37, 62},
    {none, 230, 135, none, 68, none, 20, 5, 23, 40, 68},
    {none, 260, 145, none, 76, none, 22, 0, 26, 44, 78},
    {none, 290, 160, none, 80, none, 24, 0, 30, 50, 88},
    {none, 320, 170, none, 86, none, 26, 0, 34, 56, 100},
    {none, 350, 195, none, 98, none, 28, 0, 40, 66, 120},
    {none, 390, 220, none, 110, none, 30, 0, 48, 78, 140},
    {none, 430, 240, none, 120, none, 32, 0, 58, 92, 170},
    {none, 480, 260, none, 130, none, 34, 0, 68, 110, 195},
    {none, 520, 290, none, 145, none, 38, 0, 76, 135, 240},
};

// Those that change with the fine steps, the same way round; the first row serves to 3 mm. To 500 mm:
// a, b, c [MH] to 250 mm, above [MD]; r to zc [MD] (above 180 mm by the holes). Above 500 mm [TR].
inline constexpr const char* fine_letters[] = {"a", "b", "c", "r", "s",  "t",  "u",
                                               "v", "x", "y", "z", "za", "zb", "zc"};
inline constexpr double fine_amounts[25][std::size(fine_letters)] = {
    {270, 140, 60, 10, 14, none, 18, none, 20, none, 26, 32, 40, 60},
    {270, 140, 70, 15, 19, none, 23, none, 28, none, 35, 42, 50, 80},
    {280, 150, 80, 19, 23, none, 28, none, 34, none, 42, 52, 67, 97},
    {290, 150, 95, 23, 28, none, 33, none, 40, none, 50, 64, 90, 130},
    {290, 150, 95, 23, 28, none, 33, 39, 45, none, 60, 77, 108, 150},
    {300, 160, 110, 28, 35, none, 41, 47, 54, 63, 73, 98, 136, 188},
    {300, 160, 110, 28, 35, 41, 48, 55, 64, 75, 88, 118, 160, 218},
    {310, 170, 120, 34, 43, 48, 60, 68, 80, 94, 112, 148, 200, 274},
    {320, 180, 130, 34, 43, 54, 70, 81, 97, 114, 136, 180, 242, 325},
    {340, 190, 140, 41, 53, 66, 87, 102, 122, 144, 172, 226, 300, 405},
    {360, 200, 150, 43, 59, 75, 102, 120, 146, 174, 210, 274, 360, 480},
    {380, 220, 170, 51, 71, 91, 124, 146, 178, 214, 258, 335, 445, 585},
    {410, 240, 180, 54, 79, 104, 144, 172, 210, 254, 310, 400, 525, 690},
    {460, 260, 200, 63, 92, 122, 170, 202, 248, 300, 365, 470, 620, 800},
    {520, 280, 210, 65, 100, 134, 190, 228, 280, 340, 415, 535, 700, 900},
    {580, 310, 230, 68, 108, 146, 210, 252, 310, 380, 465, 600, 780, 1000},
    {660, 340, 240, 77, 122, 166, 236, 284, 350, 425, 520, 670, 880, 1150},
    {740, 380, 260, 80, 130, 180, 258, 310, 385, 470, 575, 740, 960, 1250},
    {820, 420, 280, 84, 140, 196, 284, 340, 425, 520, 640, 820, 1050, 1350},
    {920, 480, 300, 94, 158, 218, 315, 385, 475, 580, 710, 920, 1200, 1550},
    {1050, 540, 330, 98, 170, 240, 350, 425, 525, 650, 790, 1000, 1300, 1700},
    {1200, 600, 360, 108, 190, 268, 390, 475, 590, 730, 900, 1150, 1500, 1900},
    {1350, 680, 400, 114, 208, 294, 435, 530, 660, 820, 1000, 1300, 1650, 2100},
    {1500, 760, 440, 126, 232, 330, 490, 595, 740, 920, 1100, 1450, 1850, 2400},
    {1650, 840, 480, 132, 252, 360, 540, 660, 820, 1000, 1250, 1600, 2100, 2600},
};
inline constexpr const char* large_letters[] = {"r", "s", "t", "u"};
inline constexpr double large_amounts[16][std::size(large_letters)] = {
    {150, 280, 400, 600},    {155, 310, 450, 660},    {175, 340, 500, 740},
    {185, 380, 560, 840},    {210, 430, 620, 940},    {220, 470, 680, 1050},
    {250, 520, 780, 1150},   {260, 580, 840, 1300},   {300, 640, 960, 1450},
    {330, 720, 1050, 1600},  {370, 820, 1200, 1850},  {400, 920, 1350, 2000},
    {440, 1000, 1500, 2300}, {460, 1100, 1650, 2500}, {550, 1250, 1900, 2900},
    {580, 1400, 2100, 3200},
};

// j: how far the shaft reaches below the nominal size (grades 5 and 6, 7, 8), how far the hole reaches
// above it (grades 6, 7, 8). Shafts [MD] to 10 mm and above 180 mm, from memory between; holes [MH] to
// 315 mm, above [MD].
inline constexpr double shaft_j[13][3] = {
    {2, 4, 6},      {2, 4, none},   {2, 5, none},  {3, 6, none},   {4, 8, none},
    {5, 10, none},  {7, 12, none},  {9, 15, none}, {11, 18, none}, {13, 21, none},
    {16, 26, none}, {18, 28, none}, {20, 32, none}};
inline constexpr double hole_j[13][3] = {{2, 4, 6},    {5, 6, 10},   {5, 8, 12},   {6, 10, 15},
                                         {8, 12, 20},  {10, 14, 24}, {13, 18, 28}, {16, 22, 34},
                                         {18, 26, 41}, {22, 30, 47}, {25, 36, 55}, {29, 39, 60},
                                         {33, 43, 66}};

// The grades that ISO 286-2 gives each letter (from memory); above 500 mm from grade 6 on, but for h
// and js. Letters in the order of the alphabet.
struct LetterRow {
    const char* letters;
    int shaft_from, shaft_to, hole_from, hole_to;
};
inline constexpr LetterRow letter_rows[] = {
    {"a", 9, 13, 9, 13},    {"b", 8, 13, 8, 13},  {"c", 8, 12, 8, 13},   {"cd", 5, 10, 6, 10},
    {"d", 5, 13, 6, 13},    {"e", 5, 10, 5, 10},  {"ef", 3, 10, 3, 10},  {"f", 3, 10, 3, 10},
    {"fg", 3, 10, 3, 10},   {"g", 3, 10, 3, 10},  {"h", -1, 18, -1, 18}, {"j", 5, 8, 6, 8},
    {"js", -1, 18, -1, 18}, {"k", 3, 13, 3, 10},  {"m", 3, 9, 3, 10},    {"n", 3, 9, 3, 11},
    {"p", 3, 10, 3, 10},    {"r", 3, 10, 3, 10},  {"s", 3, 10, 3, 10},   {"t", 5, 8, 5, 8},
    {"u", 5, 9, 5, 10},     {"v", 5, 8, 5, 8},    {"x", 5, 10, 5, 10},   {"y", 6, 10, 6, 10},
    {"z", 6, 11, 6, 11},    {"za", 6, 11, 6, 11}, {"zb", 7, 11, 7, 11},  {"zc", 7, 11, 7, 11}};

} // namespace fitwright::sizes::tables
