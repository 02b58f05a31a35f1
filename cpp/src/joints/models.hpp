// The models of this room by the names users know, each with its formula (src/all_models.hpp).
#pragma once

// clang-format off
#define FITWRIGHT_JOINTS_MODELS(FORMULA, STEPPED) \
    FORMULA(joints, bolted_joint, BoltedJoint) \
    FORMULA(joints, bolt_pattern, BoltPattern) \
    FORMULA(joints, plate, BentPlate) \
    FORMULA(joints, ring_plate, RingPlate) \
    FORMULA(joints, outer_ring, OuterRing)
// clang-format on
