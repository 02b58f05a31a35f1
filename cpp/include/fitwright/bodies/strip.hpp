// A part and the shaft under it in the state of the moment: all that bars along z know of them.
#pragma once

namespace fitwright::bodies {

// Per length along z. Axial force is compression in the part and tension in the shaft.
//   part shorter by  ring_softness N_r + shortening p,  shaft longer by  shaft_softness N_s + ...
//   p = (interference - ring_loss N_r - shaft_loss N_s)/flexibility, not below 0
// What pressure does to the lengths is not told: by reciprocity it is pi d/2 times what the forces
// do to the fit.
template <class T>
struct Strip {
    T ring_softness, shaft_softness; // strain per axial force, 1/(E A)
    T ring_free, shaft_free;         // strain by heat and speed, from 20 degC at rest
    T diameter;                      // of the seat
    T interference;                  // left at no axial force, on diameter; negative: clearance
    T flexibility;                   // interference per pressure
    T ring_loss, shaft_loss;         // interference taken per axial force
};

} // namespace fitwright::bodies
