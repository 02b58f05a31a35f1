"""Names of the version before still work for one version, and say what they are now."""

from __future__ import annotations

import importlib
import sys

import fitwright as fw
import pytest


@pytest.mark.parametrize(
    ("module", "name", "now"),
    [
        ("heating", "draw", "fitwright.heat"),
        ("balls", "ball_by_ball", "fitwright.bearings"),
        ("bearing_life", "ring_life", "fitwright.bearings"),
        ("parts", "Ring", "fitwright.models.parts"),
        ("errors", "InputError", "fitwright.fields.errors"),
    ],
)
def test_a_module_that_moved_warns_and_works(module, name, now):
    sys.modules.pop(f"fitwright.{module}", None)
    with pytest.warns(DeprecationWarning, match=f"fitwright.{module} is now {now}"):
        old = importlib.import_module(f"fitwright.{module}")
    assert getattr(old, name) is getattr(importlib.import_module(now), name)


def test_a_method_that_is_in_a_group_now_warns_and_works():
    job = fw.demo()
    with pytest.warns(DeprecationWarning, match=r"Job.soak is now Job.ring\(NAME\).soak"):
        soaked = job.soak("sleeve")
    assert soaked.soak_time == job.ring("sleeve").soak().soak_time
    with pytest.warns(DeprecationWarning, match="Job.bearing_table is now Job.bearing.table"):
        table = job.bearing_table()
    assert str(table) == str(job.bearing.table())


def test_a_ring_that_is_not_there_is_refused_by_name():
    with pytest.raises(fw.InputError, match='ring: "slieve" is not a ring of this job: sleeve'):
        fw.demo().ring("slieve")
    with pytest.raises(AttributeError, match="has no attribute 'rings_of'"):
        fw.demo().rings_of()
