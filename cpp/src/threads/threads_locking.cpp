// Lock tabs and hand of thread: told to users, and instantiated for double.
#include "all_models.hpp"
#include "detail/locking.hpp"
#include "fields/at_level.hpp"

namespace fitwright::threads {

const fields::Model& lock_tabs_model() {
    static const fields::Model model{
        {"threads", "lock_tabs",
         "Whether a tab meets a slot within a torque window, and what that does to the force.",
         "meeting angle = 2 pi/lcm(tabs, slots); step = meeting angle lead/(2 pi)/C; chance = "
         "min(1, window/step)",
         "Equal spacing, one tab bent, the nut turned on and never back; tabs and slots may stand "
         "anyhow to each other. Friction the same all through the window.",
         "Counting; springs in series. Held against every angle in turn (tests)",
         "fw.threads.lock_tabs(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "tabs=17, slots=4, torque_low=\"550 N m\", torque_high=\"650 N m\", compliance=\"0.5 "
         "um/kN\").chance"},
        &fields::Declared<LockTabsInputs>::declaration,
        &fields::Declared<LockTabsOutputs>::declaration,
        fields::all_formulas<LockTabs>(&LockTabs::run<double>)};
    return model;
}

const fields::Model& hand_model() {
    static const fields::Model model{
        {"threads", "hand",
         "Whether drag, creep, start, trip and reverse rotation tighten or loosen the nut, and by "
         "how much.",
         "torque on the nut against thread F d2/2 (mu_n - tan l)/(1 + mu_n tan l), with the face "
         "for inertia",
         "The nut free on the shaft: no lock, no key in the washer. Rings push the nut through its "
         "face alone. A loose ring on a turning shaft creeps backwards under a load that stands "
         "still; under a load that turns with the shaft it does not. Vibration across the axis is "
         "not in it.",
         "Equilibrium of the nut; common practice on hands of thread",
         "fw.threads.hand(nut=fw.Nut(diameter=\"75 mm\", pitch=\"2 mm\", height=\"20 mm\", "
         "outside=\"105 mm\", face_inside=\"76 mm\", face_outside=\"98 mm\", material=\"1045\"), "
         "rotation=\"clockwise\", preload=\"50 kN\", drag_torque=\"20 N m\", speed=\"11000 "
         "rpm\").drag_margin"},
        &fields::Declared<HandInputs>::declaration,
        &fields::Declared<HandOutputs>::declaration,
        fields::all_formulas<Handed>(&Handed::run<double>)};
    return model;
}

} // namespace fitwright::threads
