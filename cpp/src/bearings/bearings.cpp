// The models of this room: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/mounted.hpp"
#include "detail/shear.hpp"
#include "fields/at_level.hpp"

namespace fitwright::bearings {

const fields::Model& hertz_model() {
    static constexpr const char* places[] = {"", "first", "second"};
    static const fields::Model model{
        {"bearings", "hertz", "Size, stress and approach of two curved bodies pressed together.",
         "lesser/greater relative curvature = (1 - m) D(m)/B(m), m = 1 - (b/a)^2; "
         "a^3 = 3 Q g E(m) a^2/(pi s b^2), p0 = 3 Q/(2 pi a b), approach = 3 Q g K(m)/(2 pi a); "
         "shear = (sy - sz)/2 on the axis; orthogonal: (b/a)^2 = (t^2 - 1)(2 t - 1)",
         "Elastic, smooth, dry, both bodies large beside the contact; elastic data at 20 degC; "
         "ellipticity up to 200.",
         "Hertz, J. reine angew. Math. 92 (1881); Johnson, Contact Mechanics, chapter 4; Lundberg "
         "& "
         "Palmgren (1947), orthogonal shear (from memory)",
         "fw.bearings.hertz(first=fw.Body(curvature_x=100.0, curvature_y=100.0, "
         "material=\"52100\"), "
         "second=fw.Body(curvature_y=-90.0, material=\"52100\"), load=\"2 kN\").contact_stress"},
        &fields::Declared<HertzInputs>::declaration,
        &fields::Declared<HertzOutputs>::declaration,
        fields::all_formulas<Hertz>(&Hertz::run<double>),
        places};
    return model;
}

const fields::Model& line_contact_model() {
    static constexpr const char* places[] = {""};
    static const fields::Model model{
        {"bearings", "line_contact", "Width and stresses of two bodies pressed together on a line.",
         "b^2 = 4 Q g/(pi L s), p0 = 2 Q/(pi b L); shear 0.30028 p0 at 0.78615 b, orthogonal "
         "p0/4 at b/2",
         "Elastic, smooth, dry, line long beside its width and evenly loaded; no approach, since "
         "that depends on the shape of the whole bodies; elastic data at 20 degC.",
         "Hertz (1881); Johnson, Contact Mechanics, section 4.2 (from memory)",
         "fw.bearings.line_contact(first_curvature=\"0.1 1/mm\", length=\"20 mm\", load=\"5 kN\", "
         "first=fw.LineBody(material=\"52100\"), "
         "second=fw.LineBody(material=\"52100\")).contact_stress"},
        &fields::Declared<LineInputs>::declaration,
        &fields::Declared<LineOutputs>::declaration,
        fields::all_formulas<LineContact>(&LineContact::run<double>),
        places};
    return model;
}

const fields::Model& mounted_model() {
    // The last one makes "ball_temperature" of a rule that speaks of a temperature.
    static constexpr const char* places[] = {"", "bearing", "ball"};
    static const fields::Model model{
        {"bearings", "mounted",
         "The clearance left in a mounted ball bearing, and what a steady thrust does to it.",
         "Pd = Pd0 - inner growth + outer growth - 2 ball growth; cos a0 = 1 - Pd/(2 A), "
         "A = (fi + fo - 1) D; thrust = Z K y^1.5 sin a, y = A (cos a0/cos a - 1)",
         "One row, thrust along the axis, all balls alike, no centrifugal force, rigid rings but "
         "for "
         "the contacts; contact constants at 20 degC and the unmounted contact angle.",
         "Harris & Kotzalas, Essential Concepts of Bearing Technology: clearance, contact angle, "
         "centric thrust; Hertz",
         "fw.bearings.mounted(bearing=fw.Bearing(balls=14, ball_diameter=\"19 mm\", "
         "pitch_diameter=\"110 mm\", inner_curvature=0.52, outer_curvature=0.53, "
         "clearance=\"250 um\", material=\"52100\"), inner_growth=\"60 um\", thrust=\"20 kN\", "
         "material=\"52100\").inner_stress"},
        &fields::Declared<MountedInputs>::declaration,
        &fields::Declared<MountedOutputs>::declaration,
        fields::all_formulas<Mounted>(&Mounted::run<double>),
        places};
    return model;
}

HertzOutputs<double> hertz(const HertzInputs<double>& inputs, const materials::Material& first,
                           const materials::Material& second) {
    return fields::evaluate<HertzOutputs<double>>(hertz_model(), inputs, {&first, &second});
}

MountedOutputs<double> mounted(const MountedInputs<double>& inputs,
                               const materials::Material& rings, const materials::Material& balls) {
    return fields::evaluate<MountedOutputs<double>>(mounted_model(), inputs, {&rings, &balls});
}

} // namespace fitwright::bearings
