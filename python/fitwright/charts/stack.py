"""Pictures of a stack's history: force along the stack after each step, and the joint diagram."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from fitwright.charts.figures import BODY, DASHES, INK, LIMIT, SERIES, new_axes
from fitwright.charts.picture import drawable
from fitwright.fields import units as shop

__all__ = ["JointForces", "StepForces", "force_along_stack", "joint_diagram"]


class StepForces(NamedTuple):
    """Force at every face after a step [N], shoulder first, and which faces stand apart."""

    title: str
    forces: list[float]
    apart: list[bool]


def force_along_stack(
    names: Sequence[str], lengths: Sequence[float], steps: Sequence[StepForces], system: str
) -> Axes:
    """Force at every face over its place along the shaft; between faces the seat takes or gives."""
    size, force = shop.shop_unit("size", system), shop.shop_unit("force", system)
    ends = np.concatenate([[0.0], np.cumsum(np.asarray(lengths))]) * size["factor"]
    ax = new_axes(8.6, 4.8)
    for left, right, name, shade in zip(
        ends[:-1], ends[1:], names, np.resize([0.0, 1.0], len(names)), strict=True
    ):
        ax.axvspan(left, right, color="#eef2f6" if shade else "#f8f9fb", zorder=0)
        ax.text(
            0.5 * (left + right),
            0.985,
            drawable(name, 40).replace(" ", "\n"),
            transform=ax.get_xaxis_transform(),
            ha="center",
            va="top",
            fontsize=7.5,
            color="#555555",
        )
    highest = 0.0
    for number, step in enumerate(steps):
        shown = np.asarray(step.forces) * force["factor"]
        highest = max(highest, float(shown.max(initial=0.0)))
        ax.plot(
            ends,
            shown,
            marker="o",
            markersize=3.2,
            linewidth=1.6,
            color=SERIES[number % len(SERIES)],
            linestyle=DASHES[(number // len(SERIES)) % len(DASHES)],
            label=drawable(step.title, 36),
        )
        open_faces = np.flatnonzero(step.apart)
        ax.plot(
            ends[open_faces],
            shown[open_faces],
            "o",
            markersize=8,
            markerfacecolor="none",
            markeredgecolor=LIMIT,
        )
    ax.set_ylim(0.0, 1.25 * max(highest, 1e-9))
    ax.set_xlim(ends[0], ends[-1])
    ax.set_xlabel(f"from shoulder to nut [{size['label']}]; a red ring marks an open face")
    ax.set_ylabel(f"force at the face [{force['label']}]")
    ax.legend(frameon=False, fontsize=8.5, loc="center left", bbox_to_anchor=(1.0, 0.5))
    return ax


class JointForces(NamedTuple):
    """Forces [N] over the thrust: at nut and shoulder, each as it is and at its least."""

    thrust: NDArray[np.float64]
    nut: NDArray[np.float64]
    shoulder: NDArray[np.float64]
    nut_least: NDArray[np.float64]
    shoulder_least: NDArray[np.float64]


def joint_diagram(
    forces: JointForces, opens: Sequence[tuple[str, float]], here: float, system: str
) -> Axes:
    """Nut and shoulder force against thrust, where a face opens, and the thrust that is `here`."""
    force = shop.shop_unit("force", system)
    thrust, nut, shoulder, nut_least, shoulder_least = (
        np.asarray(column) * force["factor"] for column in forces
    )
    ax = new_axes(7.6, 4.6)
    ax.plot(thrust, nut, color=SERIES[1], linewidth=1.8, label="nut")
    ax.plot(thrust, nut_least, color=SERIES[1], linewidth=1.0, dashes=(4, 3), label="nut, least")
    ax.plot(thrust, shoulder, color=SERIES[0], linewidth=1.8, label="shoulder")
    ax.plot(
        thrust,
        shoulder_least,
        color=SERIES[0],
        linewidth=1.0,
        dashes=(4, 3),
        label="shoulder, least",
    )
    for name, at in opens:
        place = at * force["factor"]
        ax.axvline(place, color=LIMIT, linewidth=1.2)
        ax.annotate(
            f"{name} opens",
            xy=(place, 0.97),
            xycoords=("data", "axes fraction"),
            xytext=(3.0, 0.0),
            textcoords="offset points",
            rotation=90,
            va="top",
            fontsize=8.5,
            color=LIMIT,
        )
    here *= force["factor"]
    right = here > 0.5 * (thrust[0] + thrust[-1])
    ax.axvline(here, color=INK, linewidth=0.9, linestyle=":")
    ax.annotate(
        "thrust of the state",
        xy=(here, 0.03),
        xycoords=("data", "axes fraction"),
        xytext=(-3.0 if right else 3.0, 0.0),
        ha="right" if right else "left",
        textcoords="offset points",
        fontsize=8.5,
        color=INK,
    )
    ax.axhline(0.0, color=BODY, linewidth=0.8)
    ax.grid(True, linewidth=0.4, alpha=0.6)
    ax.set_xlabel(f"thrust, positive towards the shoulder [{force['label']}]")
    ax.set_ylabel(f"force [{force['label']}]")
    ax.legend(frameon=False, fontsize=9)
    return ax
