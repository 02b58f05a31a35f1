// The models of this room: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/squareness.hpp"
#include "fields/at_level.hpp"

namespace fitwright::stack {

const fields::Model& wedge_model() {
    static constexpr const char* places[] = {"", "shaft", "ring"};
    static const fields::Model model{
        {"stack", "wedge",
         "How one ring out of square bends a clamped shaft, and the unbalance that makes.",
         "M = (w/D)/(L/EI_shaft + L/EI_ring), valid while M < N (Do^2 + d^2)/(8 Do); unbalance "
         "m e and the couple of the tilt, against m G/omega",
         "Beams of plane sections; all faces closed (else a finding); rings free to tilt on their "
         "seats: a tight grip takes up part of a kink at the ring itself. Angles small. For "
         "several "
         "rings and their best clocking: fw.stack.SquareStack.",
         "Beam theory, Timoshenko, Strength of Materials I; kern of a ring section; ISO 21940-11 "
         "(permissible unbalance, its shares from memory)",
         "fw.stack.wedge(shaft=fw.SquareShaft(bore=\"30 mm\", material=\"4340\"), "
         "ring=fw.SquareRing(bore=\"80 mm\", outside=\"105 mm\", length=\"30 mm\", wedge=\"10 "
         "um\", "
         "runout=\"20 um\", material=\"52100\"), clamp=\"40 kN\", rotor_mass=\"60 kg\", "
         "speed=\"11000 rpm\").moment"},
        &fields::Declared<WedgeInputs>::declaration,
        &fields::Declared<WedgeOutputs>::declaration,
        fields::all_formulas<Squareness>(&Squareness::run<double>),
        places};
    return model;
}

} // namespace fitwright::stack
