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


def test_the_panel_follows_its_sliders(tmp_path):
    panel = fw.demo("blower").panel(["nut.torque", "rings.sleeve.bore"])
    torque, bore = panel._rows["nut.torque"], panel._rows["rings.sleeve.bore"]
    assert torque.box.value == pytest.approx(840.0)
    first = panel._digest.value
    for value in (835.0, 830.0, 820.0):  # one drag
        torque.slider.value = value
    assert torque.box.value == 820.0
    assert panel.job["nut.torque"] == pytest.approx(820.0)
    assert panel._digest.value != first
    assert "before: " in panel._changes.value
    # Typed beyond the slider: taken, and said.
    assert torque.slider.max < 2000.0
    torque.box.value = 2000.0
    assert panel.job["nut.torque"] == pytest.approx(2000.0)
    assert torque.note.value.startswith("beyond ")
    assert "not met" in panel._digest.value
    # What the job refuses is said and changes nothing.
    bore.box.value = 71.0  # a bore that no heat could open
    assert "must be below 1 %" in panel._note.value
    assert panel.job["rings.sleeve.bore"] == fw.demo("blower")["rings.sleeve.bore"]
    panel.undo()
    assert (torque.box.value, bore.note.value, panel._note.value) == (2000.0, "", "")
    panel.undo()
    assert torque.box.value == 820.0
    assert torque.note.value == ""
    assert panel._note.value == ""
    panel._file.value = str(tmp_path / "tried.toml")
    panel._written()
    assert "written: " in panel._note.value
    assert fw.Job.load(tmp_path / "tried.toml")["nut.torque"] == pytest.approx(820.0)
    panel.undo()
    assert panel._digest.value == first
    assert panel._changes.value == ""
    assert panel.job["nut.torque"] == fw.demo("blower")["nut.torque"]
    panel.undo()  # nothing left to take back
    panel._file.value = str(tmp_path / "no" / "folder.toml")
    panel._written()
    assert "color:#a11" in panel._note.value
    with pytest.raises(fw.InputError, match="name at least one input"):
        fw.demo("blower").panel([])
    with pytest.raises(fw.InputError, match=r"nut\.torques: is not an input of this job; nearest"):
        fw.demo("blower").panel(["nut.torques"])
