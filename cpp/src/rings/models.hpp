// The models of this room by the names users know, each with its formula (src/all_models.hpp).
#pragma once

// clang-format off
#define FITWRIGHT_RINGS_MODELS(FORMULA, STEPPED) \
    FORMULA(rings, thick_ring, ThickRing) \
    FORMULA(rings, fit, Fit) \
    FORMULA(rings, seal, Seal) \
    FORMULA(rings, face_gap, FaceGap) \
    FORMULA(rings, nest, Nest) \
    FORMULA(rings, stepped, Stepped) \
    FORMULA(rings, elastic_plastic_fit, ElasticPlasticFit) \
    FORMULA(rings, hot_ring, HotRing) \
    FORMULA(rings, slip, Slip) \
    FORMULA(rings, overhang, Overhang)
// clang-format on
