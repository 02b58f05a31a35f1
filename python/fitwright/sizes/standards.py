"""Sizes as a drawing or a bearing catalogue tells them: ISO 286, ISO 492, ISO 5753-1, threads; and
as they were measured.

>>> fw.sizes.limits("80 m5").upper          # [m]
>>> fw.sizes.fit("120 H7/s6").interference_least
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Shown, Table
from fitwright.fields.units import Number, UnitProblem, Values, shown, to_si
from fitwright.sizes.measured import Measured, measured
from fitwright.sizes.thread_limits import Thread, ThreadFit, metric_pitches, thread, thread_fit

__all__ = [
    "Clearance",
    "Fit",
    "Limits",
    "LimitsOfMany",
    "Measured",
    "Thread",
    "ThreadFit",
    "bearing_bore",
    "bearing_clearance",
    "bearing_outside",
    "fit",
    "fit_of",
    "limits",
    "limits_of",
    "measured",
    "metric_pitches",
    "standard_tolerance",
    "thread",
    "thread_fit",
    "tolerance_classes",
]


def _both(value: float, quantity: str) -> list[str]:
    return [shown(value, quantity), shown(value, quantity, "inch")]


class Limits(Shown):
    """Limits of one size [m]: `nominal`, `lower`, `upper` and the deviations from nominal."""

    def __init__(self, made: _core.SizeLimits) -> None:
        self._made = made
        self.name: str = made.name
        self.hole: bool = made.hole
        self.nominal: float = made.nominal
        self.lower: float = made.lower
        self.upper: float = made.upper
        self.lower_deviation: float = made.lower_deviation
        self.upper_deviation: float = made.upper_deviation

    def table(self) -> Table:
        rows = [
            [end, *_both(size, "size"), *_both(deviation, "fine")]
            for end, size, deviation in (
                ("upper", self.upper, self.upper_deviation),
                ("lower", self.lower, self.lower_deviation),
            )
        ]
        return Table(["limit", "size", "inch", "from nominal", "inch"], rows, self.name)


class Fit(Shown):
    """A hole and a shaft: least and greatest interference on the diameter [m]; a negative one is
    a clearance."""

    def __init__(self, made: _core.SizeFit) -> None:
        self.name: str = made.name
        self.hole, self.shaft = Limits(made.hole()), Limits(made.shaft())
        self.interference_least: float = made.interference_least
        self.interference_greatest: float = made.interference_greatest

    def table(self) -> Table:
        rows = [
            ["interference, greatest", *_both(self.interference_greatest, "fine")],
            ["interference, least", *_both(self.interference_least, "fine")],
            ["shaft, upper limit", *_both(self.shaft.upper, "size")],
            ["shaft, lower limit", *_both(self.shaft.lower, "size")],
            ["hole, upper limit", *_both(self.hole.upper, "size")],
            ["hole, lower limit", *_both(self.hole.lower, "size")],
        ]
        return Table(["", "metric", "inch"], rows, self.name)


class Clearance(Shown):
    """Radial clearance of a bearing before it is mounted [m]: `least` and `greatest`."""

    def __init__(self, name: str, least: float, greatest: float) -> None:
        self.name, self.least, self.greatest = name, least, greatest

    def table(self) -> Table:
        rows = [["greatest", *_both(self.greatest, "fine")], ["least", *_both(self.least, "fine")]]
        return Table(["radial clearance", "metric", "inch"], rows, self.name)


class LimitsOfMany(NamedTuple):
    """Limits of many sizes [m], in the shape of `nominal`."""

    nominal: NDArray[np.float64]
    lower: NDArray[np.float64]
    upper: NDArray[np.float64]


def _text(path: str, value: str, example: str) -> str:
    if not isinstance(value, str):
        raise InputError([(path, f"{value!r} must be text like {example}")])
    return value


def _size(path: str, value: Number) -> Values:
    try:
        return to_si(value, "size")
    except UnitProblem as problem:
        raise InputError([(path, str(problem))]) from problem


def _one_size(path: str, value: Number) -> float:
    size = _size(path, value)
    if not isinstance(size, float):
        raise InputError([(path, "must be one size")])
    return size


@checked
def limits(size: str) -> Limits:
    """Limits of a nominal size in mm with an ISO 286 class: "80 m5" is a shaft, "80 H7" a hole.

    `size` is text; a class that is not defined is refused with the nearest three.

    >>> import fitwright as fw
    >>> answer = fw.sizes.limits("80 m5").upper_deviation
    """
    return Limits(_core.size_limits(_text("size", size, '"80 m5"')))


@checked
def limits_of(class_: str, nominal: Number) -> LimitsOfMany:
    """Limits of many nominal sizes in one ISO 286 class.

    `class_` is text like "m5", `nominal` an array of sizes [m].

    >>> import fitwright as fw
    >>> answer = fw.sizes.limits_of("m5", [0.070, 0.080]).upper
    """
    sizes = np.asarray(_size("nominal", nominal), dtype=np.float64)
    lower, upper = _core.size_limits_of(_text("class_", class_, '"m5"'), sizes)
    return LimitsOfMany(sizes, lower, upper)


@checked
def fit(text: str) -> Fit:
    """Least and greatest interference of a hole and a shaft of one nominal size: "120 H7/s6".

    `text` has the size in mm, then the class of the hole and that of the shaft.

    >>> import fitwright as fw
    >>> answer = fw.sizes.fit("120 H7/s6").interference_least
    """
    return Fit(_core.size_fit(_text("fit", text, '"120 H7/s6"')))


def fit_of(hole: Limits, shaft: Limits) -> Fit:
    """The same of any two limits: a bearing bore on a seat, say.

    `hole` and `shaft` are limits of this room.

    >>> import fitwright as fw
    >>> bore, seat = fw.sizes.bearing_bore("80 mm", "5"), fw.sizes.limits("80 m5")
    >>> answer = fw.sizes.fit_of(bore, seat).interference_greatest
    """
    wrong = [
        (path, rule)
        for path, part, is_hole, rule in (
            ("hole", hole, True, "must be the limits of a hole"),
            ("shaft", shaft, False, "must be the limits of a shaft"),
        )
        if not isinstance(part, Limits) or part.hole is not is_hole
    ]
    if wrong:
        raise InputError(wrong)
    return Fit(_core.size_fit_of(hole._made, shaft._made))


@checked
def standard_tolerance(grade: int, nominal: Number) -> float:
    """Width of an ISO 286 grade [m]: 1 to 18, 0 for IT0 and -1 for IT01.

    `nominal` [m] is one size, `grade` the number of the grade.

    >>> import fitwright as fw
    >>> answer = fw.sizes.standard_tolerance(7, "80 mm")
    """
    if not isinstance(grade, int) or isinstance(grade, bool) or not -1 <= grade <= 18:
        raise InputError([("grade", f"{grade!r} must be a whole number from -1 to 18")])
    return _core.standard_tolerance(grade, _one_size("nominal", nominal))


@checked
def bearing_bore(nominal: Number, class_: str = "normal") -> Limits:
    """Limits of the mean bore of a radial bearing, ISO 492 class "normal", "6", "5" or "4".

    `nominal` [m] is one size, `class_` the tolerance class.

    >>> import fitwright as fw
    >>> answer = fw.sizes.bearing_bore("80 mm", "5").lower
    """
    size = _one_size("nominal", nominal)
    return Limits(_core.bearing_bore(size, _text("class_", class_, '"5"')))


@checked
def bearing_outside(nominal: Number, class_: str = "normal") -> Limits:
    """Limits of the mean outside diameter of a radial bearing, ISO 492.

    `nominal` [m] is one size, `class_` "normal", "6", "5" or "4".

    >>> import fitwright as fw
    >>> answer = fw.sizes.bearing_outside("140 mm", "6").lower
    """
    size = _one_size("nominal", nominal)
    return Limits(_core.bearing_outside(size, _text("class_", class_, '"5"')))


@checked
def bearing_clearance(bore: Number, group: str = "CN") -> Clearance:
    """Radial clearance of a deep groove ball bearing, ISO 5753-1 group "C2", "CN", "C3" to "C5".

    `bore` [m] is one size, `group` the clearance group.

    >>> import fitwright as fw
    >>> answer = fw.sizes.bearing_clearance("80 mm", "C3").greatest
    """
    size = _one_size("bore", bore)
    least, greatest = _core.bearing_clearance(size, _text("group", group, '"C3"'))
    return Clearance(f"{group}, bore {shown(size, 'size')}", least, greatest)


def tolerance_classes() -> list[str]:
    """Every class of ISO 286-2 that the library knows, holes first.

    >>> import fitwright as fw
    >>> answer = "H7" in fw.sizes.tolerance_classes()
    """
    return _core.tolerance_classes()
