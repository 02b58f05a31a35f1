"""A Python function on the columns of a study: against the same output told as an expression."""

import fitwright as fw
import numpy as np
import pytest

HOLDING = "rings.sleeve.holding_force"
OWN = {"half": {"of": f"{HOLDING} / 2", "at_least": "15 kN"}}


@pytest.fixture(scope="module")
def study():
    job = fw.demo("blower").with_outputs(OWN)
    return job.study(
        70_000, seed=3, level="quick", progress=False, keep=[HOLDING, "outputs.half", "nut.preload"]
    )


def half(force):
    return force / 2.0


def test_it_is_the_same_as_an_expression(study):
    found = study.of_columns(half, HOLDING, "full_load", quantity="force", at_least="15 kN")
    told = study["full_load", "outputs.half"]
    assert found.samples == told.samples
    assert found.pass_rate == told.pass_rate
    assert found.interval == told.interval
    assert float(found.mean) == pytest.approx(told.statistics.mean, rel=1e-12)
    assert found.deviation == pytest.approx(told.statistics.deviation, rel=1e-9)
    assert float(found.quantile(0.01)) == pytest.approx(
        float(study.quantile("full_load", "outputs.half", 0.01)), rel=1e-3
    )
    assert np.array_equal(found.column, study.columns["full_load", "outputs.half"])
    assert "half in full_load" in repr(found)
    assert "kN" in repr(found)
    # What moves it most by its exact derivatives moves it most by correlation too.
    effects = study.contributions("full_load", "outputs.half")
    first = next(iter(effects))
    assert next(iter(found.shares)) == first
    budget = sum(effect**2 for effect in effects.values())
    assert found.shares[first] == pytest.approx(effects[first] ** 2 / budget, abs=0.08)


def test_what_is_no_number_does_not_pass(study):
    middle = float(study.of_columns(half, HOLDING).quantile(0.5)) * 2.0
    found = study.of_columns(lambda force: np.where(force > middle, force, np.nan), HOLDING)
    assert 0 < found.not_numbers < found.samples
    assert found.statistics.passed == found.samples - found.not_numbers
    assert "counted as not passed" in repr(found)


def test_a_wrong_function_is_named(study):
    def message(function, outputs=HOLDING, **told):
        with pytest.raises(fw.InputError) as error:
            study.of_columns(function, outputs, **told)
        return str(error.value)

    assert "was not kept in cold_build; ask study(keep=" in message(half, "lock.reserve")
    calls = []

    def breaks_later(force):
        calls.append(len(force))
        if len(calls) > 1:
            raise ZeroDivisionError("too thin")
        return force

    text = message(breaks_later)
    assert text.startswith(
        "function: breaks_later raised ZeroDivisionError in samples 65536 to 69999"
    )
    assert calls == [65_536, 4464]
    text = message(lambda force: force[:10])
    assert "gave an array of shape (10,) in samples 0 to 65535; it must be as its columns" in text
    assert "made no number of any sample" in message(lambda force: force * np.nan)
    assert 'quantity: "weight" is none of' in message(half, quantity="weight")
    assert message(half, quantity="force", at_least="3 mm").startswith("at_least: ")
