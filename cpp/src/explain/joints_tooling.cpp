#include "explain/detail/formulas.hpp"
// before the formulas
#include "joints/detail/bolt_pattern.hpp"
#include "joints/detail/bolted_joint.hpp"
#include "joints/detail/outer_ring.hpp"
#include "joints/detail/plate.hpp"
#include "joints/detail/ring_plate.hpp"
#include "tooling/detail/holding_fixture.hpp"
#include "tooling/detail/nut_driver.hpp"
#include "tooling/detail/press_sleeve.hpp"
#include "tooling/detail/puller.hpp"
#include "tooling/detail/weld.hpp"
#include "tooling/detail/wrench.hpp"

namespace fitwright::explain {

std::span<const NamedFormula> joint_and_tooling_formulas() {
    static constexpr NamedFormula all[] = {
        {"joints.bolt_pattern", &joints::BoltPattern::run<Number>},
        {"joints.bolted_joint", &joints::BoltedJoint::run<Number>},
        {"joints.outer_ring", &joints::OuterRing::run<Number>},
        {"joints.plate", &joints::BentPlate::run<Number>},
        {"joints.ring_plate", &joints::RingPlate::run<Number>},
        {"tooling.column", &tooling::ColumnModel::run<Number>},
        {"tooling.holding_fixture", &tooling::HoldingFixture::run<Number>},
        {"tooling.multiplier", &tooling::Multiplier::run<Number>},
        {"tooling.nut_driver", &tooling::NutDriver::run<Number>},
        {"tooling.press_sleeve", &tooling::PressSleeve::run<Number>},
        {"tooling.puller", &tooling::Puller::run<Number>},
        {"tooling.weld", &tooling::Weld::run<Number>},
        {"tooling.wrench_adapter", &tooling::WrenchAdapter::run<Number>},
    };
    return all;
}

} // namespace fitwright::explain
