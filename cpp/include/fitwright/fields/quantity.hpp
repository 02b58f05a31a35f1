// The kinds of quantity a field can be, with the unit inside (SI, temperatures in degC) and the
// units a shop reads. Told once: unit parsing, tables, sheet, schema and docs read this table.
#pragma once

namespace fitwright::fields {

enum class Quantity : int {
    ratio,
    count,
    size, // dimensions of parts
    fine, // interferences, clearances, growths, roughness
    area,
    force,
    stress,
    modulus,
    torque,
    drag_torque, // of friction in a bearing: small beside what a nut takes
    temperature, // on the Celsius scale inside
    difference,  // between two temperatures
    time,
    speed, // of rotation
    frequency,
    revolutions, // a life
    lifetime,    // the same as running time
    viscosity,   // kinematic
    angle,
    slope, // of an axis or a face: a small angle
    mass,
    unbalance, // mass times eccentricity
    velocity,
    density,
    expansion,     // per kelvin
    conductivity,  // of heat
    heat_capacity, // of a mass
    film,          // heat per area and difference of temperature
    heat_flux,     // heat per area and time
    compliance,
    stiffness,        // force per displacement
    curvature,        // of a surface; negative when hollow
    contact_constant, // load per approach to the power 3/2
};

// shown = value * factor + offset
struct ShopUnit {
    const char* label;
    double factor;
    double offset;
    int decimals;
};

struct QuantityRow {
    Quantity quantity;
    const char* name;
    const char* si;
    ShopUnit metric;
    ShopUnit inch;
};

inline constexpr double pi = 3.14159265358979323846;

// Exact by definition: inch 25.4 mm, pound-force 4.4482216152605 N (international yard and pound,
// standard gravity).
inline constexpr double per_inch = 1.0 / 0.0254;
inline constexpr double per_pound_force = 1.0 / 4.4482216152605;
inline constexpr double per_psi = 1.0 / (4.4482216152605 / (0.0254 * 0.0254));

inline constexpr QuantityRow quantities[] = {
    {Quantity::ratio, "ratio", "1", {"", 1, 0, 3}, {"", 1, 0, 3}},
    {Quantity::count, "count", "1", {"", 1, 0, 0}, {"", 1, 0, 0}},
    {Quantity::size, "size", "m", {"mm", 1e3, 0, 3}, {"in", per_inch, 0, 5}},
    {Quantity::fine, "fine", "m", {"um", 1e6, 0, 1}, {"thou", 1e3 * per_inch, 0, 2}},
    {Quantity::area, "area", "m^2", {"mm^2", 1e6, 0, 1}, {"in^2", per_inch * per_inch, 0, 4}},
    {Quantity::force, "force", "N", {"kN", 1e-3, 0, 2}, {"lbf", per_pound_force, 0, 0}},
    {Quantity::stress, "stress", "Pa", {"MPa", 1e-6, 0, 1}, {"ksi", 1e-3 * per_psi, 0, 2}},
    {Quantity::modulus, "modulus", "Pa", {"GPa", 1e-9, 0, 1}, {"Mpsi", 1e-6 * per_psi, 0, 2}},
    {Quantity::torque,
     "torque",
     "N*m",
     {"N m", 1, 0, 0},
     {"lbf ft", per_pound_force * per_inch / 12.0, 0, 0}},
    {Quantity::drag_torque,
     "drag_torque",
     "N*m",
     {"N m", 1, 0, 3},
     {"lbf in", per_pound_force * per_inch, 0, 2}},
    {Quantity::temperature, "temperature", "degC", {"degC", 1, 0, 1}, {"degF", 1.8, 32, 1}},
    {Quantity::difference, "difference", "K", {"K", 1, 0, 1}, {"delta_degF", 1.8, 0, 1}},
    {Quantity::time, "time", "s", {"s", 1, 0, 1}, {"s", 1, 0, 1}},
    {Quantity::speed, "speed", "rad/s", {"rpm", 30.0 / pi, 0, 0}, {"rpm", 30.0 / pi, 0, 0}},
    {Quantity::frequency, "frequency", "Hz", {"Hz", 1, 0, 2}, {"Hz", 1, 0, 2}},
    {Quantity::revolutions,
     "revolutions",
     "revolution",
     {"Mrevolution", 1e-6, 0, 1},
     {"Mrevolution", 1e-6, 0, 1}},
    {Quantity::lifetime,
     "lifetime",
     "s",
     {"hour", 1.0 / 3600.0, 0, 0},
     {"hour", 1.0 / 3600.0, 0, 0}},
    {Quantity::viscosity, "viscosity", "m^2/s", {"mm^2/s", 1e6, 0, 1}, {"cSt", 1e6, 0, 1}},
    {Quantity::angle, "angle", "rad", {"deg", 180.0 / pi, 0, 2}, {"deg", 180.0 / pi, 0, 2}},
    {Quantity::slope, "slope", "rad", {"mm/m", 1e3, 0, 4}, {"thou/in", 1e3, 0, 4}},
    {Quantity::mass, "mass", "kg", {"kg", 1, 0, 2}, {"lb", 1.0 / 0.45359237, 0, 2}},
    {Quantity::unbalance,
     "unbalance",
     "kg*m",
     {"g mm", 1e6, 0, 1},
     {"oz in", per_inch / 0.028349523125, 0, 3}},
    {Quantity::velocity, "velocity", "m/s", {"mm/s", 1e3, 0, 2}, {"in/s", per_inch, 0, 3}},
    {Quantity::density,
     "density",
     "kg/m^3",
     {"kg/m^3", 1, 0, 0},
     {"lb/in^3", 0.0254 * 0.0254 * 0.0254 / 0.45359237, 0, 4}},
    {Quantity::expansion,
     "expansion",
     "1/K",
     {"um/m/K", 1e6, 0, 2},
     {"uin/in/delta_degF", 1e6 / 1.8, 0, 2}},
    // Btu of 1055.056 J (ISO 31-4), hour, foot, pound.
    {Quantity::conductivity,
     "conductivity",
     "W/m/K",
     {"W/m/K", 1, 0, 1},
     {"Btu/hour/ft/delta_degF", 3600.0 * 0.3048 / (1055.056 * 1.8), 0, 2}},
    {Quantity::heat_capacity,
     "heat_capacity",
     "J/kg/K",
     {"J/kg/K", 1, 0, 0},
     {"Btu/lb/delta_degF", 0.45359237 / (1055.056 * 1.8), 0, 4}},
    {Quantity::film,
     "film",
     "W/m^2/K",
     {"W/m^2/K", 1, 0, 1},
     {"Btu/hour/ft^2/delta_degF", 3600.0 * 0.3048 * 0.3048 / (1055.056 * 1.8), 0, 2}},
    {Quantity::heat_flux,
     "heat_flux",
     "W/m^2",
     {"kW/m^2", 1e-3, 0, 1},
     {"Btu/hour/ft^2", 3600.0 * 0.3048 * 0.3048 / 1055.056, 0, 0}},
    {Quantity::compliance,
     "compliance",
     "m/N",
     {"um/kN", 1e9, 0, 3},
     {"thou/lbf", 1e3 * per_inch / per_pound_force, 0, 8}},
    {Quantity::stiffness,
     "stiffness",
     "N/m",
     {"kN/mm", 1e-6, 0, 1},
     {"lbf/thou", per_pound_force / (1e3 * per_inch), 0, 0}},
    {Quantity::curvature, "curvature", "1/m", {"1/mm", 1e-3, 0, 5}, {"1/in", 0.0254, 0, 4}},
    // 1e-3 and 0.0254 to the power 3/2.
    {Quantity::contact_constant,
     "contact_constant",
     "N/m^1.5",
     {"N/mm^1.5", 3.1622776601683795e-5, 0, 0},
     {"lbf/in^1.5", per_pound_force * 0.004048093872429343, 0, 0}},
};

constexpr const QuantityRow& row_of(Quantity q) { return quantities[static_cast<int>(q)]; }

} // namespace fitwright::fields
