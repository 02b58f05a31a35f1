"""A sample of docs/accuracy.md: no formula loses more than its inputs have lost already, no
quantile more than a hair of its spread."""

from __future__ import annotations

import math
from random import Random

import exact_spreads
import fifty_digits
import pytest
from fifty_digits import UNIT

#: error / (1 + condition) in units of 2^-53
MOST = 300.0
#: Shares that are a difference from 1: exact to 2^-52 of 1, not of themselves.
FROM_ONE = {("tooling.wrench_adapter", "error")}


@pytest.mark.skipif(not fifty_digits.TESTS.exists(), reason="needs the C++ tests (make test-cpp)")
def test_no_formula_loses_more_than_its_inputs_have_lost():
    asked = [call for name in fifty_digits.NAMES for call in fifty_digits.calls(name, 3, 7)]
    answered = set()
    lost = []
    for call, told in fifty_digits.tapes(asked):
        found = fifty_digits.outputs(call, told)
        for output in found:
            answered.add(call.model)
            is_zero = fifty_digits.is_zero(call, output, found)
            if (call.model, output.name) in FROM_ONE:
                assert abs(output.value - float(output.exact)) < 4.0 * UNIT
                continue
            if math.isfinite(output.condition) and output.exact and not is_zero:
                measure = output.error / (1.0 + output.condition) / UNIT
                if not measure < MOST:
                    lost.append((call.model, output.name, measure, call.line()))
    assert lost == []
    # Three calls a model: a few ask only what the model refuses.
    assert len(answered) > 0.7 * len(fifty_digits.NAMES)


@pytest.mark.parametrize("kind", exact_spreads.KINDS, ids=lambda kind: kind.shape)
def test_quantiles_are_those_of_fifty_digits(kind):
    random = Random(kind.shape)
    made = [s for s in (kind.make(random) for _ in range(6)) if not s.problem()]
    assert made
    for s in made:
        for u in exact_spreads.shares(random):
            exact = exact_spreads.QUANTILES[kind.shape](s, exact_spreads.mpf(u))
            value = s.quantile(u)
            # A value keeps its own last place; what is left counts in deviations.
            off = max(0.0, float(abs(exact - value)) - 2.0 * math.ulp(value))
            assert off <= (3e-6 if kind.shape == "beta" else 1e-9) * s.standard_deviation, (
                s.low,
                u,
            )


@pytest.mark.parametrize("shape", ["uniform", "triangular", "truncated_normal"])
def test_deviations_are_those_of_fifty_digits(shape):
    kind = next(k for k in exact_spreads.KINDS if k.shape == shape)
    random = Random(shape)
    for _ in range(20):
        s = kind.make(random)
        if not s.problem():
            assert abs(s.standard_deviation / exact_spreads.deviation(s) - 1) < 1e-9
