// A job as a value: a plan (names, materials, order) and a flat list of inputs with paths.
#pragma once

#include <fitwright/bearings/ball_by_ball.hpp>
#include <fitwright/bearings/life.hpp>
#include <fitwright/fields/error.hpp>
#include <fitwright/fields/model.hpp>
#include <fitwright/job/layout.hpp>
#include <fitwright/job/steps.hpp>
#include <fitwright/materials/material.hpp>
#include <fitwright/stack/section_history.hpp>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fitwright::fields {
struct Served;
}

namespace fitwright::job {

struct RingPlan {
    std::string name;
    std::string seat;
    materials::Entry material;
    bool grips = true;
    stack::Reaction press_against = stack::Reaction::shaft; // of the usual steps
    int slices = 0; // its outside has steps and is told by so many slices
};
struct SealPlan {
    std::string name;
    std::string ring;          // of the stack
    materials::Entry material; // of the stator
    bool at_bore = false;      // of the shaft under the ring
};
struct BearingPlan {
    materials::Entry balls;
    materials::Entry outer_ring;
    std::vector<std::string> inner_rings; // one ring of the stack, or two next to each other
};
struct ServicePlan { // of the bearing
    bearings::BearingKind kind = bearings::BearingKind::radial;
    bearings::Grooves grooves = bearings::Grooves::standard;
    bearings::Lubrication lubrication = bearings::Lubrication::oil_filtered;
    bearings::Cleanliness cleanliness = bearings::Cleanliness::normal;
    bool pocket = false; // told, what holds the outer ring
};
// The plate over the outer ring (no kind, no name), or a tool; metals and choices in the order of its model.
struct AttachedPlan {
    std::string name, kind; // "press_sleeve" ...
    std::vector<std::string> rings;
    std::vector<materials::Entry> materials;
    std::vector<int> choices;
};
// Names are lower-case words; rings in order from the shoulder; the first state is as built.
struct Plan {
    materials::Entry shaft;
    materials::Entry nut;
    bool left_hand = false;
    int nut_form = 0, nut_face_law = 0; // threads::Form, threads::FaceLaw
    int rotation =
        0; // of the shaft seen from the nut end: 0 not told, 1 clockwise, 2 anticlockwise
    std::optional<materials::Entry> lock;
    bool has_shoulder = false;             // its collar is told
    int lock_tabs = 0, lock_slots = 0;     // 0: not told
    bool has_torque_window = false;        // both ends of it are given
    std::string thread_class;              // of nut and shaft, "6H/6g"; empty: the usual one
    bool has_runouts = false;              // something out of square is told
    bool has_ring_loads = false;           // a state tells of a radial load or a tilting moment
    std::vector<std::string> torque_rings; // a state tells a torque they pass to the shaft
    std::optional<BearingPlan> bearing;
    std::optional<ServicePlan> service;     // none: no oil is told, no lives are asked for
    std::optional<materials::Entry> pocket; // metal of what the outer ring is fitted in, where told
    bool in_section = false;                // the history runs on parts in section
    std::optional<AttachedPlan> plate;
    bool plate_at_nut = true; // its side of the outer ring
    std::vector<std::string> seats;
    std::vector<RingPlan> rings;
    std::vector<SealPlan> seals;
    std::vector<AttachedPlan> tools;
    std::vector<std::string> states;
    std::vector<StepPlan> steps; // none: the usual sequence
};

using InputPath = fields::Leaf; // "rings.sleeve.bore"
struct OutputPath {
    std::string state;
    std::string path; // "shoulder.clamp_low"
    const fields::Field* field;
};
// An output with a limit. none (NaN) where there is no such side.
struct Limit {
    int output;
    double at_least;
    double at_most;
};
// What a reserve is a share of: the limit, or the scale of the output's field where the limit is 0.
double reserve_scale(const OutputPath& output, double limit);

// Positive margins are good. The reserve is the margin over the scale.
struct Finding {
    int output;
    double value;
    double limit;
    bool is_least;
    double margin;
    double reserve;
    double scale;
};

// Of outputs that came out, each limit with what is left of it.
std::vector<Finding> findings_of(std::span<const OutputPath>, std::span<const Limit>,
                                 const std::vector<double>& outputs);

class Job {
public:
    // Throws DomainError naming everything that is wrong with the plan.
    explicit Job(const Plan& plan);

    const Plan& plan() const { return *plan_; }
    const std::vector<InputPath>& inputs() const { return *inputs_; }
    // Those of the level the job stands at, as everything below is.
    std::span<const OutputPath> outputs() const {
        return std::span(*outputs_).first(static_cast<std::size_t>(output_count()));
    }
    std::span<const Limit> limits() const;
    // Those that hold where the job says nothing, of all levels.
    const std::vector<Limit>& usual_limits() const { return *usual_limits_; }
    Level level() const { return level_; }
    // The same job, asked at another level.
    Job at(Level level) const;
    int output_count() const { return layout_->outputs_at(level_); }
    const fields::AllFormulas& formulas() const;
    const Layout& layout() const { return *layout_; }
    fields::Context context(const fields::Stop* stop = nullptr) const {
        return {nullptr, nullptr, layout_.get(), stop};
    }

    // Leaf number of a path; an unknown path throws DomainError with the three nearest.
    int leaf(const std::string& path) const;
    int output(const std::string& state, const std::string& path) const;

    const std::vector<double>& values() const { return values_; }
    // The size of the thread is its nominal one: limits by class follow it.
    void set(int leaf, double value);
    // `pattern` may hold * for a whole name ("rings.*.grip_left"); state "*" means all states.
    // Throws DomainError when nothing matches.
    void set_limit(const std::string& pattern, const std::string& state, double at_least,
                   double at_most);

    // Everything that is wrong with the values: ranges, missing fields, impossible geometry.
    std::vector<Problem> problems() const;

    // Throws DomainError.
    std::vector<double> evaluate(const fields::Between& between = {}) const;
    // The steps one after the other, with every point of every seat, friction as it is.
    stack::HistoryResult<double> history(const fields::Between& between = {}) const;
    // The same job with its history on parts in section, or on bars. Copies share what was meshed.
    Job in_section(double fineness = 1.0) const;
    Job in_bars() const;
    bool is_in_section() const { return sections_ != nullptr; }
    // As meshed at the sizes it has. Throws DomainError naming what cannot be meshed.
    std::shared_ptr<const bodies::Sections> sections() const;
    // The steps in section with every point, friction as it is. Throws DomainError.
    stack::SectionResult<double> section_history(const fields::Between& between = {}) const;
    // Every ball in a state, whether a radial load is told or not. Throws DomainError.
    bearings::BallByBall balls(const std::string& state) const;
    std::vector<Finding> findings(const std::vector<double>& outputs) const {
        return findings_of(*outputs_, limits(), outputs);
    }
    // All derivatives d outputs / d inputs (outputs x inputs); `one_sided` tells whether some hold on
    // one side only.
    using Jacobian = fields::Slopes;
    Jacobian jacobian(const fields::Between& between = {}) const;
    // Those of some outputs by some inputs (outputs x leaves), told by number.
    Jacobian slopes(const std::vector<int>& outputs, const std::vector<int>& leaves,
                    const fields::Between& between = {}) const;
    // Which of them hold on one side only, because the output has a kink where the job stands (outputs
    // x inputs): contact opening, slip, a knot of a material table. 0: both sides, 1: one side.
    // An input at the end of its range counts as having no other side to differ from: 0.
    std::vector<char> one_sided(const fields::Between& between = {}) const;
    std::vector<char> one_sided(const std::vector<int>& outputs, const std::vector<int>& leaves,
                                const fields::Between& between = {}) const;
    // Some inputs take many values; columns of the wanted outputs come back.
    std::vector<std::vector<double>> sweep(const std::vector<int>& leaves,
                                           const std::vector<std::vector<double>>& columns,
                                           const std::vector<int>& outputs, int threads,
                                           const fields::Between& between = {}) const;
    // The value of one input at which an output reaches its target, between `lower` and `upper`
    // (none: the allowed range of the input). Throws DomainError saying what was reached.
    double solve(int leaf, int output, double target, double lower, double upper,
                 const fields::Between& between = {}) const;

    std::string path_of(const Fault& fault) const;

private:
    fields::Served served() const;
    double solve_until(int leaf, int output, double target, double lower, double upper,
                       const fields::Stop&) const;
    std::vector<Problem> field_problems() const;
    void add_thread_problems(std::vector<Problem>& problems) const;
    void add_pocket_problems(std::vector<Problem>& problems) const;
    bool has_thread_class() const;
    sizes::ThreadSlack thread_slack(const std::string& classes) const;
    std::vector<Problem> geometry_problems(const std::vector<Problem>& bad_fields) const;
    std::vector<std::string> parts_of(const Fault& fault) const;

    std::shared_ptr<const Plan> plan_;
    std::shared_ptr<const Layout> layout_;
    std::shared_ptr<const std::vector<InputPath>> inputs_;
    std::shared_ptr<const std::vector<OutputPath>> outputs_;
    struct Index; // of both, by path
    std::shared_ptr<const Index> index_;
    std::vector<double> values_;
    std::shared_ptr<const SectionSource> sections_; // of an `in_section`
    std::vector<Limit> limits_;                     // of all levels, in the order of the outputs
    std::shared_ptr<const std::vector<Limit>> usual_limits_;
    Level level_ = Level::quick;
};

// The formula of a whole job at one level.
const fields::AllFormulas& quick_formulas();
const fields::AllFormulas& history_formulas();
const fields::AllFormulas& heating_formulas();

// Declarations of the parts of a job file, by table name.
struct TableOfParts {
    const char* table; // "rotor", "ring"
    const fields::Declaration* declaration;
};
std::vector<TableOfParts> tables_of_parts();

// What a job can have of other rooms' models: "plate", "fitted_plate" (in a [pocket] that tells the ring's
// outside), and each kind of tool.
struct AttachedKind {
    std::string name, model;
    bool serves_rings;
    std::vector<KnownInput> known;
    std::vector<std::string> known_materials;
};
std::vector<AttachedKind> attached_kinds();

} // namespace fitwright::job
