"""Any document and any text is a job or an input error."""

from __future__ import annotations

import copy
import datetime
import math
import tomllib
from importlib import resources

import fitwright as fw
import numpy as np
import pytest
from fitwright.job import tables as jobfile
from fitwright.job import text as jobtext
from hypothesis import given, settings
from hypothesis import strategies as st

DOCUMENT = tomllib.loads(
    (resources.files("fitwright") / "demos" / "blower.toml").read_text(encoding="utf-8")
)

TEXTS = st.one_of(
    st.text(max_size=12),
    st.text("\x00\x01\x1b\r\n\t\x7f\u202e\ufeff %{}[]\"'\\", max_size=8),
    st.sampled_from(
        ["nan mm", "1e308 mm", "-1e308 N", "1e-320 m", "0 mm", "-5 mm", "343 K", "1e9 rpm", "0 rpm",
         "-273.15 degC", "2000 degC", "1e7 N m", "80 mm", "38 um", "1 kN", "0.5", "-0", "1e5",
         "main", "sleeve", "nut", "normal", "uniform", "slide", "left", "*", "4340", "cold_build"]
    ),
    st.builds(
        lambda value, unit: f"{value!r} {unit}",
        st.floats(allow_nan=False, allow_infinity=False),
        st.sampled_from(["mm", "um", "m", "N", "kN", "N m", "degC", "K", "rpm", "rad/s", "MPa"]),
    ),
)  # fmt: skip
JUNK = st.recursive(
    st.one_of(
        TEXTS,
        st.booleans(),
        st.integers(),
        st.integers(min_value=10**300, max_value=10**320),
        st.floats(),
        st.just(datetime.date(2026, 1, 1)),
        st.just(datetime.time(12, 0)),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(
            st.one_of(TEXTS, st.sampled_from(["value", "low", "high", "spread", "deviation"])),
            inner,
            max_size=4,
        ),
    ),
    max_leaves=6,
)


def places(value, path=()):
    yield path
    items = value.items() if isinstance(value, dict) else enumerate(value)
    for key, item in items:
        if isinstance(item, dict | list):
            yield from places(item, (*path, key))
        else:
            yield (*path, key)


PLACES = [path for path in places(DOCUMENT) if path]
WAYS = st.sampled_from(["replace", "delete", "add", "twice", "back"])
MUTATION = st.tuples(st.sampled_from(PLACES), WAYS, TEXTS, JUNK)


def mutate(document, path, how, key, junk):
    place = document
    try:
        for step in path[:-1]:
            place = place[step]
        if how == "delete":
            del place[path[-1]]
        elif how == "replace":
            place[path[-1]] = junk
        elif how == "twice" and isinstance(place, list):
            place.append(copy.deepcopy(place[path[-1]]))
        elif how == "back" and isinstance(place, list):
            place.reverse()
        elif isinstance(place[path[-1]], dict):
            place[path[-1]][key] = junk
    except (KeyError, IndexError, TypeError):
        pass  # an earlier mutation took the place away


def holds(job):
    """A job that was accepted answers with numbers."""
    try:
        findings = job.evaluate()
        _, slopes, _ = job.core.jacobian()
    except fw.InputError:
        return
    assert all(math.isfinite(value) for value in findings._numbers)
    assert all(math.isfinite(f.reserve) and math.isfinite(f.margin) for f in findings)
    assert np.isfinite(slopes).all()
    assert "nan" not in repr(findings).split()


@settings(max_examples=400)
@given(st.lists(MUTATION, min_size=1, max_size=3))
def test_any_document_is_a_job_or_an_input_error(mutations):
    document = copy.deepcopy(DOCUMENT)
    for mutation in mutations:
        mutate(document, *mutation)
    with pytest.MonkeyPatch.context() as patch:

        def parse(_):
            jobtext._check_depth(document, "", 0)
            return document

        patch.setattr(jobfile, "parse", parse)
        try:
            job = fw.Job.loads("")
        except fw.InputError as raised:
            error = raised
        else:
            return holds(job)
    assert all(isinstance(path, str) and text for path, text in error.problems)
    assert max(len(line) for line in str(error).splitlines()) < 1000


@settings(max_examples=150)
@given(
    st.lists(
        st.tuples(st.floats(0.0, 1.0), st.integers(0, 40), st.text(max_size=6)),
        min_size=1,
        max_size=3,
    )
)
def test_any_text_is_a_job_or_an_input_error(demo_text, edits):
    text = demo_text
    for where, taken, put in edits:
        at = int(where * len(text))
        text = text[:at] + put + text[at + taken :]
    try:
        job = fw.Job.loads(text)
    except fw.InputError:
        return
    holds(job)
