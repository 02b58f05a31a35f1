// From a plan to the layout of its numbers and the names of its inputs and outputs.
#include "plan.hpp"
#include "attached.hpp"
#include "combined.hpp"
#include "history.hpp"
#include "steps.hpp"
#include <algorithm>
#include <fitwright/job/parts.hpp>
#include <numeric>

namespace fitwright::job {

namespace {

// One lag per part beside the shaft: the field every one of them shares.
const fields::Field lag_field{fields::Kind::number,
                              "lag",
                              fields::Quantity::difference,
                              {-500.0, 500.0},
                              0.0,
                              "how much hotter than the shaft the part is; negative when cooler"};

} // namespace

const fields::Field& lag() { return lag_field; }

namespace {

const fields::Field& passed_torque() {
    static const fields::Field field{
        fields::Kind::number, "torque", fields::Quantity::torque,
        {0.0, 1e8},           0.0,      "torque the ring passes to the shaft, either way round"};
    return field;
}

// What a ring with slices need not tell.
const fields::Field sliced_outside{
    fields::Kind::number, "outside",          fields::Quantity::size,
    {1e-5, 6.3},          fields::worked_out, "told by the slices: the greatest of theirs"};
const fields::Field sliced_length{
    fields::Kind::number,   "length",
    fields::Quantity::size, {1e-5, 3.15},
    fields::worked_out,     "length along the shaft; the sum of the slices when left out"};

void add_ring_inputs(const RingPlan& ring, std::vector<InputPath>& into) {
    const std::size_t first = into.size();
    const std::string prefix = "rings." + ring.name + ".";
    add_inputs<Ring>(prefix, into);
    for (std::size_t i = first; ring.slices > 0 && i < into.size(); ++i) {
        if (into[i].path == prefix + "outside")
            into[i].field = &sliced_outside;
        else if (into[i].path == prefix + "length")
            into[i].field = &sliced_length;
    }
}

std::string slice_path(const RingPlan& ring, int slice) {
    return "rings." + ring.name + ".slice" + std::to_string(slice + 1) + ".";
}

} // namespace

std::vector<std::string> ring_names(const Plan& plan) {
    std::vector<std::string> names;
    for (const RingPlan& r : plan.rings)
        names.push_back(r.name);
    return names;
}

std::string torque_path(const std::string& state, const std::string& ring) {
    return "states." + state + ".torques." + ring;
}

std::vector<std::string> seal_names(const Plan& plan) {
    std::vector<std::string> names;
    for (const SealPlan& s : plan.seals)
        names.push_back(s.name);
    return names;
}

bool has_pocket_fit(const Plan& plan) { return plan.bearing && plan.pocket; }
bool has_pocket_lag(const Plan& plan) {
    return has_pocket_fit(plan) || (plan.bearing && plan.plate);
}

std::vector<std::string> lag_names(const Plan& plan) {
    std::vector<std::string> names = ring_names(plan);
    names.push_back("nut");
    if (plan.lock)
        names.push_back("lock");
    if (plan.bearing) {
        names.push_back("outer_ring");
        names.push_back("balls");
    }
    if (has_pocket_lag(plan))
        names.push_back("pocket");
    for (const SealPlan& s : plan.seals)
        names.push_back(s.name);
    return names;
}

namespace {

// Of BearingOutputs, what enclosures know nothing of: the balls at speed and what is heard of them.
constexpr int running_size =
    static_cast<int>(sizeof(bearings::RunningOutputs<double>) / sizeof(double)) + 6;

int assembled_size(const Layout& at) {
    return size_of<ShoulderAssembled>() + size_of<NutAssembled>() +
           (at.has_lock ? size_of<LockAssembled>() : 0) + at.rings * size_of<RingAssembled>();
}

bool has_heat_data(const materials::Material& m) {
    return materials::told(m.conductivity) && materials::told(m.heat_capacity);
}

} // namespace

Layout layout_of(const Plan& plan) {
    Layout at{};
    at.seats = static_cast<int>(plan.seats.size());
    at.rings = static_cast<int>(plan.rings.size());
    at.states = static_cast<int>(plan.states.size());
    at.has_lock = plan.lock.has_value();
    at.has_shoulder = plan.has_shoulder;
    at.has_bearing = plan.bearing.has_value();
    at.thread_form = plan.nut_form;
    at.thread_face_law = plan.nut_face_law;
    at.hand = plan.left_hand ? 1 : 0;
    at.rotation = plan.rotation;
    at.meetings_per_turn =
        plan.lock && plan.lock_tabs > 0 ? std::lcm(plan.lock_tabs, plan.lock_slots) : 0;
    at.has_torque_window = plan.has_torque_window;
    at.has_window = at.meetings_per_turn > 0 && plan.has_torque_window;
    at.has_square = plan.has_runouts;
    at.has_combined = plan.has_ring_loads;
    at.has_arch = plan.bearing && plan.bearing->inner_rings.size() == 2;
    at.shaft = &plan.shaft.numbers;
    at.nut = &plan.nut.numbers;
    at.lock = plan.lock ? &plan.lock->numbers : nullptr;
    at.balls = plan.bearing ? &plan.bearing->balls.numbers : nullptr;
    at.outer_ring = plan.bearing ? &plan.bearing->outer_ring.numbers : nullptr;
    for (int i = 0; i < at.rings; ++i) {
        const RingPlan& r = plan.rings[static_cast<std::size_t>(i)];
        at.ring_materials[i] = &r.material.numbers;
        at.ring_seat[i] = index_of(plan.seats, r.seat);
        at.ring_grips[i] = r.grips;
    }
    at.seals = static_cast<int>(plan.seals.size());
    for (int i = 0; i < at.seals; ++i) {
        const SealPlan& s = plan.seals[static_cast<std::size_t>(i)];
        at.seal_materials[i] = &s.material.numbers;
        at.seal_ring[i] = index_of(ring_names(plan), s.ring);
        at.seal_at_bore[i] = s.at_bore;
    }
    at.has_pocket_fit = has_pocket_fit(plan);
    at.has_pocket_lag = has_pocket_lag(plan);
    at.has_plate = plan.plate.has_value();
    at.plate_at_nut = plan.plate_at_nut;
    at.pocket = at.has_pocket_fit ? &plan.pocket->numbers : nullptr;
    at.has_service = plan.service.has_value();
    if (plan.service) {
        at.has_pocket = plan.service->pocket;
        at.bearing_kind = static_cast<int>(plan.service->kind);
        at.grooves = static_cast<int>(plan.service->grooves);
        at.lubrication = static_cast<int>(plan.service->lubrication);
        at.cleanliness = static_cast<int>(plan.service->cleanliness);
    }
    at.inner_first = at.inner_last = -1;
    if (plan.bearing) {
        const std::vector<std::string> rings = ring_names(plan);
        at.inner_first = index_of(rings, plan.bearing->inner_rings.front());
        at.inner_last = index_of(rings, plan.bearing->inner_rings.back());
        const auto held_by = [&](int i) { return i < 0 || (i < at.rings && at.ring_grips[i]); };
        at.inner_faces_held =
            (held_by(at.inner_first - 1) ? 1 : 0) + (held_by(at.inner_last + 1) ? 1 : 0);
    }

    int next = 0;
    const auto take = [&](int size) {
        const int first = next;
        next += size;
        return first;
    };
    at.rotor_at = take(size_of<Rotor>());
    at.nut_at = take(size_of<Nut>());
    at.lock_at = at.has_lock ? take(size_of<stack::Lock>()) : -1;
    at.shoulder_in_at = at.has_shoulder ? take(size_of<stack::Shoulder>()) : -1;
    at.bearing_at = at.has_bearing ? take(size_of<bearings::Bearing>()) : -1;
    at.service_at = at.has_service ? take(size_of<Service>()) : -1;
    at.pocket_at = at.has_pocket || at.has_pocket_fit ? take(size_of<Pocket>()) : -1;
    at.seats_at = take(at.seats * size_of<Seat>());
    at.rings_at = take(at.rings * size_of<Ring>());
    at.seals_at = take(at.seals * size_of<Seal>());
    at.slices_at = next;
    at.members = 0;
    for (int i = 0; i < at.rings; ++i) {
        const int slices = plan.rings[static_cast<std::size_t>(i)].slices;
        at.first_member[i] = at.members;
        for (int k = 0; k < std::max(slices, 1); ++k) {
            at.member_ring[at.members] = i;
            at.member_slice[at.members++] = slices > 0 ? take(size_of<Slice>()) : -1;
        }
    }
    at.first_member[at.rings] = at.members;
    int of_tool = -1; // its first
    for (const Attached& one : attached_of(plan)) {
        Attached& a = at.attached[at.attached_count++] = one;
        const bool again = of_tool >= 0 && attached_part(plan, of_tool) ==
                                               attached_part(plan, at.attached_count - 1);
        if (!again)
            of_tool = at.attached_count - 1;
        a.own_at = again ? at.attached[of_tool].own_at : take(own_inputs(a));
    }
    at.lag_of_nut = at.rings;
    at.lag_of_lock = at.rings + 1;
    at.lag_of_outer_ring = at.rings + (at.has_lock ? 2 : 1);
    at.lag_of_balls = at.lag_of_outer_ring + 1;
    at.lag_of_pocket = at.lag_of_balls + 1;
    at.lag_of_seals = at.rings + 1 + (at.has_lock ? 1 : 0) + (at.has_bearing ? 2 : 0) +
                      (at.has_pocket_lag ? 1 : 0);
    at.lags_in_state = at.lag_of_seals + at.seals;
    at.loads_in_state =
        size_of<State>() + at.lags_in_state + (at.has_service ? size_of<StateService>() : 0);
    at.torques_in_state = at.loads_in_state + (at.has_combined ? size_of<StateLoads>() : 0);
    at.torques = static_cast<int>(plan.torque_rings.size());
    for (int k = 0; k < at.torques; ++k)
        at.torque_ring[k] =
            index_of(ring_names(plan), plan.torque_rings[static_cast<std::size_t>(k)]);
    at.state_size = at.torques_in_state + at.torques;
    at.states_at = take(at.states * at.state_size);
    at.workshop_at = take(size_of<Workshop>());
    at.steps_at = take(static_cast<int>(plan.steps.size()) * size_of<Step>());
    at.input_count = next;

    next = 0;
    at.shoulder_at = take(size_of<stack::ShoulderOutputs>());
    at.nut_out_at = take(size_of<stack::NutOutputs>());
    at.strength_at = take(size_of<NutStrength>());
    at.drive_at = at.rotation > 0 ? take(size_of<NutDrive>()) : -1;
    at.stack_at = take(size_of<stack::StackOutputs>());
    at.square_at =
        at.has_square ? take(size_of<SquareState>() + at.rings * size_of<SquareRingState>()) : -1;
    at.bearing_out_at = at.has_bearing ? take(size_of<BearingOutputs>()) : -1;
    at.running_out_at = at.bearing_out_at + size_of<BearingOutputs>() - running_size;
    at.combined_out_at = at.has_combined ? take(size_of<bearings::EquilibriumOutputs>()) : -1;
    at.service_out_at = at.has_service ? take(size_of<ServiceOutputs>()) : -1;
    at.pocket_out_at = at.has_pocket ? take(size_of<PocketOutputs>()) : -1;
    at.pocket_fit_out_at = at.has_pocket_fit ? take(size_of<PocketFitOutputs>()) : -1;
    if (at.has_plate)
        at.attached[0].outputs_at = take(at.attached[0].output_count);
    at.seals_out_at = take(at.seals * size_of<SealOutputs>());
    at.slices_out_at = next;
    for (int m = 0; m < at.members; ++m)
        if (at.member_slice[m] >= 0)
            take(size_of<SliceOutputs>());
    at.rings_out_at = take(at.rings * size_of<RingOutputs>());
    at.torques_out_at = take(at.torques * size_of<RingTorqueOutputs>());
    at.outputs_per_state = next;
    next = at.states * at.outputs_per_state;
    at.tightened_at = take(size_of<Tightened>());
    at.torque_held_at = at.has_torque_window ? take(size_of<TorqueHeld>()) : -1;
    at.meetings_at = at.meetings_per_turn > 0 ? take(size_of<Meetings>()) : -1;
    at.window_at = at.has_window ? take(size_of<TorqueWindow>()) : -1;
    at.duty_at = at.has_service ? take(size_of<DutyOutputs>()) : -1;
    for (int k = at.has_plate ? 1 : 0; k < at.attached_count; ++k)
        at.attached[k].outputs_at = take(at.attached[k].output_count);
    at.give_at = at.has_shoulder ? take(size_of<stack::ShoulderGive>()) : -1;
    at.assembled_at = take(assembled_size(at));
    at.ovens_at = take(at.rings * size_of<heat::OvenOutputs>());
    at.output_count = next;
    lay_steps(plan, at);
    at.step_outputs = size_of<ShoulderStep>() + size_of<NutStep>() + size_of<StackStep>() +
                      (at.rings + (at.has_lock ? 1 : 0)) * size_of<PartStep>();
    at.heated_outputs = size_of<HeatedOutputs>();
    for (int i = 0; i < at.rings; ++i) {
        at.press_outside[i] =
            plan.rings[static_cast<std::size_t>(i)].press_against == stack::Reaction::outside;
        if (at.ring_grips[i] && has_heat_data(*at.shaft) && has_heat_data(*at.ring_materials[i]))
            at.heated_ring[at.heated++] = i;
    }
    at.level_counts[0] = at.output_count;
    at.arches_at = at.output_count + at.steps * at.step_outputs;
    at.level_counts[1] =
        at.steps * at.step_outputs + (at.has_arch ? at.states * size_of<ArchOutputs>() : 0);
    at.level_counts[2] = at.heated * at.heated_outputs;
    at.calls[1] = history_calls();
    at.calls[2] = heating_calls();
    at.combined = combined_calls();
    at.attached_calls = attached_calls();
    at.attached_lanes = attached_lanes();
    return at;
}

std::vector<InputPath> inputs_of(const Plan& plan) {
    std::vector<InputPath> in;
    add_inputs<Rotor>("shaft.", in);
    add_inputs<Nut>("nut.", in);
    if (plan.lock)
        add_inputs<stack::Lock>("lock.", in);
    if (plan.has_shoulder)
        add_inputs<stack::Shoulder>("shoulder.", in);
    if (plan.bearing)
        add_inputs<bearings::Bearing>("bearing.", in);
    if (plan.service)
        add_inputs<Service>("service.", in);
    if ((plan.service && plan.service->pocket) || has_pocket_fit(plan))
        add_inputs<Pocket>("pocket.", in);
    for (const std::string& s : plan.seats)
        add_inputs<Seat>("seats." + s + ".", in);
    for (const RingPlan& r : plan.rings)
        add_ring_inputs(r, in);
    for (const SealPlan& s : plan.seals)
        add_inputs<Seal>("seals." + s.name + ".", in);
    for (const RingPlan& r : plan.rings)
        for (int k = 0; k < r.slices; ++k)
            add_inputs<Slice>(slice_path(r, k), in);
    if (plan.plate)
        add_attached_inputs(*plan.plate, true, plan, in);
    for (const AttachedPlan& tool : plan.tools)
        add_attached_inputs(tool, false, plan, in);
    for (const std::string& s : plan.states) {
        add_inputs<State>("states." + s + ".", in);
        for (const std::string& part : lag_names(plan))
            in.push_back({"states." + s + ".lags." + part, &lag()});
        if (plan.service)
            add_inputs<StateService>("states." + s + ".", in);
        if (plan.has_ring_loads)
            add_inputs<StateLoads>("states." + s + ".", in);
        for (const std::string& ring : plan.torque_rings)
            in.push_back({torque_path(s, ring), &passed_torque()});
    }
    add_inputs<Workshop>("workshop.", in);
    add_step_inputs(plan, in);
    return in;
}

std::vector<OutputPath> outputs_of(const Plan& plan) {
    std::vector<OutputPath> out;
    const Layout at = layout_of(plan);
    for (const std::string& s : plan.states) {
        add_outputs<stack::ShoulderOutputs>(s, "shoulder.", out);
        add_outputs<stack::NutOutputs>(s, "nut.", out);
        add_outputs<NutStrength>(s, "nut.", out);
        if (at.rotation > 0)
            add_outputs<NutDrive>(s, "nut.", out);
        add_outputs<stack::StackOutputs>(s, "stack.", out);
        if (at.has_square) {
            add_outputs<SquareState>(s, "stack.", out);
            for (const RingPlan& r : plan.rings)
                add_outputs<SquareRingState>(s, "rings." + r.name + ".", out);
        }
        if (plan.bearing)
            add_outputs<BearingOutputs>(s, "bearing.", out);
        if (at.has_combined)
            add_outputs<bearings::EquilibriumOutputs>(s, "bearing.combined.", out);
        if (plan.service)
            add_outputs<ServiceOutputs>(s, "bearing.", out);
        if (plan.service && plan.service->pocket)
            add_outputs<PocketOutputs>(s, "bearing.", out);
        if (at.has_pocket_fit)
            add_outputs<PocketFitOutputs>(s, "bearing.", out);
        if (plan.plate)
            add_attached_outputs(*plan.plate, "", s, out);
        for (const SealPlan& seal : plan.seals)
            add_outputs<SealOutputs>(s, "seals." + seal.name + ".", out);
        for (const RingPlan& r : plan.rings)
            for (int k = 0; k < r.slices; ++k)
                add_outputs<SliceOutputs>(s, slice_path(r, k), out);
        for (const RingPlan& r : plan.rings)
            add_outputs<RingOutputs>(s, "rings." + r.name + ".", out);
        for (const std::string& ring : plan.torque_rings)
            add_outputs<RingTorqueOutputs>(s, "rings." + ring + ".", out);
    }
    const std::string& built = plan.states.front();
    add_outputs<Tightened>(built, "nut.", out);
    if (at.has_torque_window)
        add_outputs<TorqueHeld>(built, "nut.", out);
    if (at.meetings_per_turn > 0)
        add_outputs<Meetings>(built, "lock.", out);
    if (at.has_window)
        add_outputs<TorqueWindow>(built, "lock.", out);
    if (plan.service)
        add_outputs<DutyOutputs>(built, "bearing.", out);
    for (const AttachedPlan& tool : plan.tools) {
        if (tool.rings.empty())
            add_attached_outputs(tool, "", built, out);
        for (const std::string& ring : tool.rings)
            add_attached_outputs(tool, ring, built, out);
    }
    if (plan.has_shoulder)
        add_outputs<stack::ShoulderGive>(built, "shoulder.", out);
    add_outputs<ShoulderAssembled>(built, "shoulder.", out);
    add_outputs<NutAssembled>(built, "nut.", out);
    if (plan.lock)
        add_outputs<LockAssembled>(built, "lock.", out);
    for (const RingPlan& r : plan.rings)
        add_outputs<RingAssembled>(built, "rings." + r.name + ".", out);
    for (const RingPlan& r : plan.rings)
        add_outputs<heat::OvenOutputs>(built, "rings." + r.name + ".", out);
    add_step_outputs(plan, out);
    if (at.has_arch)
        for (const std::string& s : plan.states)
            add_outputs<ArchOutputs>(s, "bearing.", out);
    for (int k = 0; k < at.heated; ++k)
        add_outputs<HeatedOutputs>(
            built, "rings." + plan.rings[static_cast<std::size_t>(at.heated_ring[k])].name + ".",
            out);
    return out;
}

std::vector<TableOfParts> tables_of_parts() {
    return {{"shaft", &fields::Declared<Rotor>::declaration},
            {"nut", &fields::Declared<Nut>::declaration},
            {"lock", &fields::Declared<stack::Lock>::declaration},
            {"shoulder", &fields::Declared<stack::Shoulder>::declaration},
            {"bearing", &fields::Declared<bearings::Bearing>::declaration},
            {"service", &fields::Declared<Service>::declaration},
            {"pocket", &fields::Declared<Pocket>::declaration},
            {"seat", &fields::Declared<Seat>::declaration},
            {"ring", &fields::Declared<Ring>::declaration},
            {"slice", &fields::Declared<Slice>::declaration},
            {"seal", &fields::Declared<Seal>::declaration},
            {"state", &fields::Declared<State>::declaration},
            {"state_service", &fields::Declared<StateService>::declaration},
            {"state_loads", &fields::Declared<StateLoads>::declaration},
            {"workshop", &fields::Declared<Workshop>::declaration},
            {"step", &fields::Declared<Step>::declaration}};
}

} // namespace fitwright::job
