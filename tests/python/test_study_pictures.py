"""Pictures of a study and the what-if panel."""

from __future__ import annotations

import fitwright as fw
import numpy as np
import pytest


@pytest.fixture(scope="module")
def study():
    return fw.demo("blower").study(20_000, level="quick")


RISK = ("overspeed", "rings.sleeve.grip_left")
CLAMP = ("cold_build", "shoulder.clamp_low")


def test_histogram_tornado_and_cumulative_plot_say_what_they_show(study, tmp_path):
    for axes in (study.plot(), study.tornado(*RISK), study.cumulative(*RISK)):
        assert "rings.sleeve.grip_left in overspeed" in axes.get_title()
        axes.figure.savefig(tmp_path / "picture.png")


def test_the_worst_samples_share_high_friction(study, tmp_path):
    """Little clamp reaches the shoulder where thread and face are rough."""
    figure = study.worst_samples(*CLAMP, inputs=3)
    figure.savefig(tmp_path / "worst.png")
    labels = {ax.get_ylabel().split("\n")[0] for ax in figure.axes if ax.get_ylabel()}
    assert {"nut.face_friction", "nut.thread_friction"} <= labels
    bottom = next(ax for ax in figure.axes if ax.get_xlabel().startswith("nut.face_friction"))
    marked = bottom.lines[1].get_xdata()
    assert np.mean(marked) > np.mean(bottom.lines[0].get_xdata())


def test_the_pass_rate_rises_with_the_torque():
    demo = fw.demo("blower").replace({"rings.sleeve.bore": "79.990 mm"})  # its grip is not at risk
    curve = demo.replace({"nut.torque_window_low": "500 N m"}).yield_against(
        "nut.torque", ("600 N m", "800 N m", 4), samples=8192
    )
    assert list(curve.pass_rates) == sorted(curve.pass_rates)
    assert "800 N m" in str(curve)
    assert "shoulder.clamp_low in cold_build" in str(curve)
    assert curve.plot().get_xlabel() == "nut.torque [N m]"
    with pytest.raises(fw.InputError, match=r"nut\.torque: "):
        fw.demo("blower").yield_against("nut.torque", ["600 J"])


def test_the_panel_follows_its_sliders():
    panel = fw.demo("blower").panel(["nut.torque", "rings.sleeve.bore"])
    slider, _ = panel._sliders["nut.torque"]
    assert slider.value == pytest.approx(840.0)
    before = panel._table.value
    slider.value = 740.0
    assert panel.job["nut.torque"] == pytest.approx(740.0)
    assert panel._table.value != before
    bore, _ = panel._sliders["rings.sleeve.bore"]
    bore.min, bore.value = 70.0, 71.0  # a bore that no heat could open
    assert "must be below 1 %" in panel._note.value
    with pytest.raises(fw.InputError, match="name at least one input"):
        fw.demo("blower").panel([])
    with pytest.raises(fw.InputError, match=r"nut\.torques: is not an input of this job; nearest"):
        fw.demo("blower").panel(["nut.torques"])
