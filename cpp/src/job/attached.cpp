// The plate and the tools of a job: which models they are, what the job knows of their inputs, what they
// are called, and the calls that run them in the baseline.
#include "attached.hpp"
#include "all_models.hpp"
#include "fields/at_level.hpp"
#include "fields/fault_path.hpp"
#include "fields/parallel.hpp"
#include "fields/slopes.hpp"
#include "plan.hpp"
#include <algorithm>
#include <fitwright/fields/level.hpp>
#include <limits>
#include <stdexcept>

namespace fitwright::job {

namespace {

struct Kind {
    const char* name; // "" for the plate
    const fields::Model& (*model)();
    bool serves_rings;
    std::vector<KnownInput> known;
    std::vector<std::string> known_materials;
};

const Kind& plate_kind(bool fitted) {
    static const std::vector<KnownInput> known{
        {"ring.temperature", Known::outer_ring_temperature, "states.*.lags.outer_ring"},
        {"plate.temperature", Known::pocket_temperature, "states.*.lags.pocket"},
        {"pocket.temperature", Known::pocket_temperature, "states.*.lags.pocket"},
        {"bolt.temperature", Known::pocket_temperature, "states.*.lags.pocket"},
        {"thread.temperature", Known::pocket_temperature, "states.*.lags.pocket"},
        {"thrust_to_plate", Known::thrust_to_plate, "states.*.thrust"},
        {"thrust_to_shoulder", Known::thrust_to_shoulder, "states.*.thrust"},
        {"tilting_moment", Known::tilting_moment, "states.*.moment"}};
    static const Kind plain{"", &joints::ring_plate_model, false, known, {"ring.material"}};
    static const Kind in_fit = [] {
        Kind k = plain;
        k.known.push_back({"ring.outside", Known::pocket_ring_outside, "pocket.ring_outside"});
        return k;
    }();
    return fitted ? in_fit : plain;
}

const std::vector<Kind>& tool_kinds() {
    static const std::vector<Kind> kinds{
        {"press_sleeve",
         &tooling::press_sleeve_model,
         true,
         {{"force", Known::press, "rings.*.press, or the step that presses hardest"},
          {"face.inside", Known::ring_bore, "rings.*.bore"},
          {"face.outside", Known::end_outside, "rings.*.outside"},
          {"face.temperature", Known::oven_setting, "rings.*.oven, or what is needed"}},
         {"face.material"}},
        {"puller",
         &tooling::puller_model,
         true,
         {{"pull", Known::cold_pull,
           "the ring's grip, cold, at the high ends of friction and "
           "workshop.breakaway"}},
         {"groove.material"}},
        {"holding_fixture", &tooling::holding_fixture_model, false, {}, {}},
        {"nut_driver",
         &tooling::nut_driver_model,
         false,
         {{"torque", Known::breaking_torque,
           "the high end of nut.torque, times workshop.breakaway"},
          {"nut.outside", Known::nut_outside, "nut.outside"},
          {"nut.thread", Known::thread_diameter, "nut.diameter"}},
         {"nut.material"}},
        {"wrench_adapter",
         &tooling::wrench_adapter_model,
         false,
         {{"torque", Known::torque, "nut.torque"}},
         {}},
        {"multiplier",
         &tooling::multiplier_model,
         false,
         {{"torque", Known::torque, "nut.torque"}},
         {}}};
    return kinds;
}

const Kind* kind_named(const std::string& name) {
    const auto& kinds = tool_kinds();
    const auto at =
        std::find_if(kinds.begin(), kinds.end(), [&](const Kind& k) { return name == k.name; });
    return at == kinds.end() ? nullptr : &*at;
}
const Kind& kind_of(const Plan& plan, const AttachedPlan& of, bool is_plate) {
    return is_plate ? plate_kind(has_pocket_fit(plan)) : *kind_named(of.kind);
}

const KnownInput* known_at(const Kind& kind, const std::string& path) {
    const auto at = std::find_if(kind.known.begin(), kind.known.end(),
                                 [&](const KnownInput& k) { return path == k.input; });
    return at == kind.known.end() ? nullptr : &*at;
}

// The plate of the model joins the table it is told in: "plate.thickness".
std::string told_as(const AttachedPlan& of, bool is_plate, const std::string& path) {
    if (!is_plate)
        return "tools." + of.name + "." + path;
    return path.rfind("plate.", 0) == 0 ? path : "plate." + path;
}

const materials::Material* known_material(const Plan& plan, const std::string& path, int ring) {
    if (path == "ring.material")
        return &plan.bearing->outer_ring.numbers;
    if (path == "nut.material")
        return &plan.nut.numbers;
    return &plan.rings[static_cast<std::size_t>(ring)].material.numbers;
}

Attached attached_one(const Plan& plan, const AttachedPlan& of, bool is_plate, int ring) {
    const Kind& kind = kind_of(plan, of, is_plate);
    Attached a{};
    a.model = &kind.model();
    a.ring = ring;
    const auto leaves = fields::leaves_of(*a.model->inputs);
    a.input_count = static_cast<int>(leaves.size());
    a.output_count = static_cast<int>(fields::leaves_of(*a.model->outputs).size());
    const auto metals = fields::materials_of(*a.model->inputs);
    if (a.input_count > attached_inputs || a.output_count > attached_outputs ||
        metals.size() > attached_materials || of.choices.size() > attached_choices)
        throw std::logic_error(std::string(a.model->text.name) + " is too large for a job");
    for (int i = 0; i < a.input_count; ++i)
        if (const KnownInput* known = known_at(kind, leaves[static_cast<std::size_t>(i)].path))
            a.known[a.known_count++] = {i, known->known};
    for (std::size_t m = 0; m < metals.size(); ++m) {
        const bool known = std::find(kind.known_materials.begin(), kind.known_materials.end(),
                                     metals[m]) != kind.known_materials.end();
        a.materials[m] = known ? known_material(plan, metals[m], ring) : &of.materials[m].numbers;
    }
    std::copy(of.choices.begin(), of.choices.end(), a.choices);
    return a;
}

// Which of them a number of Layout::attached is.
struct Which {
    const AttachedPlan* of;
    bool is_plate;
    std::string ring;
};
Which which(const Plan& plan, int number) {
    int next = 0;
    if (plan.plate && next++ == number)
        return {&*plan.plate, true, ""};
    for (const AttachedPlan& tool : plan.tools) {
        if (tool.rings.empty() && next++ == number)
            return {&tool, false, ""};
        for (const std::string& ring : tool.rings)
            if (next++ == number)
                return {&tool, false, ring};
    }
    throw std::out_of_range("no such plate or tool");
}

} // namespace

std::vector<AttachedKind> attached_kinds() {
    std::vector<AttachedKind> all;
    const auto add = [&](const char* name, const Kind& k) {
        const fields::Text& text = k.model().text;
        all.push_back({name, std::string(text.room) + "." + text.name, k.serves_rings, k.known,
                       k.known_materials});
    };
    add("plate", plate_kind(false));
    add("fitted_plate", plate_kind(true));
    for (const Kind& k : tool_kinds())
        add(k.name, k);
    return all;
}

std::vector<Attached> attached_of(const Plan& plan) {
    std::vector<Attached> all;
    if (plan.plate)
        all.push_back(attached_one(plan, *plan.plate, true, -1));
    const std::vector<std::string> rings = ring_names(plan);
    for (const AttachedPlan& tool : plan.tools) {
        if (tool.rings.empty())
            all.push_back(attached_one(plan, tool, false, -1));
        for (const std::string& ring : tool.rings)
            all.push_back(attached_one(plan, tool, false, index_of(rings, ring)));
    }
    return all;
}

void add_attached_problems(const Plan& plan, std::vector<Problem>& problems) {
    if (plan.plate && !plan.bearing)
        problems.push_back({"plate", "needs a bearing: it is bolted over its outer ring"});
    const std::vector<std::string> rings = ring_names(plan);
    int count = plan.plate ? 1 : 0;
    for (const AttachedPlan& tool : plan.tools) {
        const std::string here = "tools." + tool.name;
        const Kind* kind = kind_named(tool.kind);
        if (kind == nullptr) {
            problems.push_back({here + ".kind", quoted(tool.kind) + " is no kind of tool"});
            continue;
        }
        if (kind->serves_rings && tool.rings.empty())
            problems.push_back({here + ".rings", "must name the rings it serves"});
        if (!kind->serves_rings && !tool.rings.empty())
            problems.push_back({here + ".rings", "mean nothing to a " + tool.kind});
        for (std::size_t i = 0; i < tool.rings.size(); ++i) {
            const std::string& ring = tool.rings[i];
            if (index_of(rings, ring) < 0)
                problems.push_back({here + ".rings", quoted(ring) + " is not a ring"});
            if (std::find(tool.rings.begin(), tool.rings.begin() + static_cast<long>(i), ring) !=
                tool.rings.begin() + static_cast<long>(i))
                problems.push_back({here + ".rings", quoted(ring) + " is named twice"});
        }
        count += std::max(static_cast<int>(tool.rings.size()), 1);
    }
    if (count > attached_limit)
        problems.push_back({"tools", "at most " + std::to_string(attached_limit) +
                                         " in a job, each counted for every ring it serves"});
}

void add_attached_inputs(const AttachedPlan& of, bool is_plate, const Plan& plan,
                         std::vector<InputPath>& into) {
    const Kind& kind = kind_of(plan, of, is_plate);
    for (const fields::Leaf& leaf : fields::leaves_of(*kind.model().inputs))
        if (known_at(kind, leaf.path) == nullptr)
            into.push_back({told_as(of, is_plate, leaf.path), leaf.field});
}

void add_attached_outputs(const AttachedPlan& of, const std::string& ring, const std::string& state,
                          std::vector<OutputPath>& into) {
    const bool is_plate = of.kind.empty();
    const fields::Model& model =
        is_plate ? joints::ring_plate_model() : kind_named(of.kind)->model();
    const std::string prefix =
        is_plate ? "plate." : "tools." + of.name + (ring.empty() ? "." : "." + ring + ".");
    for (const fields::Leaf& leaf : fields::leaves_of(*model.outputs))
        into.push_back({state, prefix + leaf.path, leaf.field});
}

int own_inputs(const Attached& attached) { return attached.input_count - attached.known_count; }

std::string attached_part(const Plan& plan, int number) {
    const Which w = which(plan, number);
    return w.is_plate ? "plate" : "tools." + w.of->name;
}

std::string attached_path(const Plan& plan, const Layout& at, int number, const Fault& fault) {
    const Which w = which(plan, number);
    const std::string path = fields::path_of_fault(*at.attached[number].model, fault);
    const KnownInput* known = known_at(kind_of(plan, *w.of, w.is_plate), path);
    const std::string told = told_as(*w.of, w.is_plate, path);
    std::string with;
    if (!w.ring.empty())
        with = " with rings." + w.ring;
    if (known != nullptr)
        with += std::string(" (by ") + known->told_by + ")";
    return told + with;
}

namespace {

const Attached& attached_in(const fields::Context& context) {
    return *static_cast<const Attached*>(context.layout);
}

void values(const double* inputs, double* outputs, int stride, const fields::Context& context,
            double& code, double& value) {
    const Attached& a = attached_in(context);
    double in[attached_inputs];
    double out[attached_outputs];
    for (int i = 0; i < a.input_count; ++i)
        in[i] = inputs[i * stride];
    std::vector<Fault> broken;
    number::Faults<double> faults;
    faults.collected = &broken;
    a.model->formulas.scalar(in, out, {a.materials, a.choices, nullptr}, faults);
    if (!broken.empty()) {
        code = broken.front().rule + 4096.0 * broken.front().place;
        value = broken.front().value;
        return;
    }
    for (int j = 0; j < a.output_count; ++j)
        outputs[j * stride] = out[j];
}

void slopes(const double* inputs, double* outputs, int stride, int slope_at, int directions,
            const fields::Context& context, double& code, bool& one_sided) {
    const Attached& a = attached_in(context);
    bool moves = false;
    for (int i = 0; i < a.input_count; ++i)
        for (int k = 0; k < directions; ++k)
            moves = moves || inputs[i * stride + slope_at + k] != 0.0;
    if (!moves) { // as most inputs of a job do nothing to a tool; outputs come with no slopes
        double value = 0.0;
        values(inputs, outputs, stride, context, code, value);
        return;
    }
    fields::at_level(a.model->formulas, fields::active_level(),
                     [&]<class Level>(fields::Formulas<Level> served) {
                         fields::AlignedDoubles workspace(static_cast<std::size_t>(
                             (a.input_count + a.output_count) * fields::doubles_per_dual<Level>()));
                         fields::SlopeWork work{inputs, outputs,  a.input_count, a.output_count,
                                                stride, slope_at, directions,    workspace.data(),
                                                false,  0.0};
                         fields::slope_passes(served, work, {a.materials, a.choices, nullptr});
                         one_sided = one_sided || work.one_sided;
                         code = work.code;
                     });
}

// Whether every lane that is not out asks the same.
bool all_alike(const Attached& a, const double* inputs, int width, const double* codes) {
    const auto live = std::find(codes, codes + width, 0.0) - codes;
    for (int i = 0; i < a.input_count; ++i)
        for (int w = 0; w < width; ++w)
            if (codes[w] == 0.0 && !(inputs[i * width + w] == inputs[i * width + live]))
                return false;
    return true;
}

void lanes(const Attached& a, const double* inputs, double* outputs, int width, double* codes) {
    const double* const end = codes + width;
    const auto live = std::find(codes, codes + width, 0.0) - codes;
    std::fill(outputs, outputs + a.output_count * width, 0.0);
    if (codes + live == end)
        return;
    if (all_alike(a, inputs, width, codes)) { // no scatter reaches this tool
        double value = 0.0;
        values(inputs + live, outputs + live, width, {nullptr, nullptr, &a}, codes[live], value);
        for (int w = 0; w < width; ++w) {
            if (codes[w] == 0.0)
                codes[w] = codes[live];
            for (int j = 0; j < a.output_count; ++j)
                outputs[j * width + w] = outputs[j * width + live];
        }
        return;
    }
    constexpr int most = number::lane_count;
    double in[attached_inputs * most];
    const double* columns[attached_inputs];
    std::int64_t strides[attached_inputs];
    double low[attached_inputs];
    double high[attached_inputs];
    unsigned char flags[attached_inputs];
    double* results[attached_outputs];
    for (int i = 0; i < a.input_count; ++i) {
        for (int w = 0; w < width; ++w)
            in[i * width + w] = inputs[i * width + (codes[w] == 0.0 ? w : static_cast<int>(live))];
        columns[i] = in + i * width;
        strides[i] = 1;
        low[i] = -std::numeric_limits<double>::infinity();
        high[i] = std::numeric_limits<double>::infinity();
        flags[i] = 0;
    }
    for (int j = 0; j < a.output_count; ++j)
        results[j] = outputs + j * width;
    alignas(64) double workspace[(attached_inputs + attached_outputs) * most];
    const fields::BatchSlice all{columns,        strides, results, 0,     width,    a.input_count,
                                 a.output_count, low,     high,    flags, workspace};
    const fields::Context context{a.materials, a.choices, nullptr};
    const fields::FaultPlace found =
        fields::at_level(a.model->formulas, fields::active_level(),
                         [&](auto served) { return fields::batch_slice(served, all, context); });
    if (found.sample < 0)
        return;
    for (int w = 0; w < width; ++w) {
        double value = 0.0;
        if (codes[w] == 0.0)
            values(inputs + w, outputs + w, width, {nullptr, nullptr, &a}, codes[w], value);
    }
}

} // namespace

LevelCalls attached_calls() { return {&values, &slopes}; }
AttachedLanes attached_lanes() { return &lanes; }

} // namespace fitwright::job
