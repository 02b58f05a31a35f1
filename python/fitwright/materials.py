"""The metals that come with the library, and a user's own."""

from __future__ import annotations

from collections.abc import Sequence

from fitwright import _core
from fitwright._core import Material
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.fields.units import Number, UnitProblem, shown, to_si
from fitwright.fields.user_text import problem_with, told

__all__ = ["Material", "library", "material", "own"]


def __dir__() -> list[str]:
    return sorted(__all__)


def material(name: str | Material) -> Material:
    """A material by name; a `Material` is passed through.

    An unknown `name` is refused with the nearest.

    >>> import fitwright as fw
    >>> answer = fw.materials.material("4140").heating_limit
    """
    if isinstance(name, Material):
        return name
    if not isinstance(name, str):
        raise InputError([("material", f"{told(name)} is not the name of a material")])
    return _core.find_material(name)


def library() -> Table:
    """All materials that come with the library, at 20 degC, with what they may see in the oven.

    >>> import fitwright as fw
    >>> answer = fw.materials.library()
    """
    rows = []
    for name in _core.material_names():
        m = _core.find_material(name)
        rows.append(
            [
                name,
                m.title,
                shown(m.at("modulus", 20.0), "modulus"),
                shown(m.at("expansion", 20.0), "expansion"),
                shown(m.at("yield", 20.0), "stress"),
                shown(m.at("conductivity", 20.0), "conductivity"),
                shown(m.at("heat_capacity", 20.0), "heat_capacity"),
                shown(m.heating_limit, "temperature"),
            ]
        )
    head = [
        "name",
        "metal",
        "modulus",
        "mean expansion",
        "yield",
        "conductivity",
        "heat capacity",
        "heating limit",
    ]
    return Table(head, rows)


def own(
    name: str,
    *,
    modulus: Number,
    expansion: Number,
    yield_strength: Number,
    poisson: Number,
    density: Number,
    heating_limit: Number,
    conductivity: Number = None,
    heat_capacity: Number = None,
    lowest: Number = None,
    highest: Number = None,
    title: str = "",
    source: str = "the user's own data",
) -> Material:
    """A material of your own.

    `modulus`, `expansion` (mean, from 20 degC), `yield_strength`, `conductivity` and
    `heat_capacity` are a number, or a list of (temperature, value) pairs in order of temperature.
    `lowest` and `highest` [degC] bound their use. Left out, they are the ends of the data told as
    pairs; where everything is one number each, both must be told: a value measured at 20 degC is
    no licence for another temperature, and only you know how far yours holds. Conductivity and
    heat capacity may be left out: only heating and cooling in time ask for them.

    `name` is what results call it, `title` and `source` what a sheet shows; `poisson` [1],
    `density` [kg/m^3] and `heating_limit` [degC], the hottest it may get in the oven, are
    numbers; the limit lies between `lowest` and `highest`.

    >>> import fitwright as fw
    >>> bronze = fw.materials.own(
    ...     "shop_bronze", modulus="105 GPa", expansion="17.8e-6 / K", yield_strength="140 MPa",
    ...     poisson=0.34, density="8800 kg/m^3", lowest="0 degC", highest="180 degC",
    ...     heating_limit="160 degC",
    ... )
    >>> answer = bronze.heating_limit
    """
    if not isinstance(name, str):
        raise InputError([("name", f"{told(name)} must be text")])
    problems: list[tuple[str, str]] = []
    texts = (("name", name), ("title", title), ("source", source))
    for path, text in texts:
        if wrong := problem_with(text):
            problems.append((path, wrong))

    def number(path: str, value: Number, quantity: str) -> float:
        try:
            read = to_si(value, quantity)
        except UnitProblem as problem:
            problems.append((path, str(problem)))
            return 0.0
        if not isinstance(read, float):
            problems.append((path, "must be one number"))
            return 0.0
        return read

    def points(path: str, value: Number, quantity: str) -> list[tuple[float, float]]:
        if isinstance(value, Sequence) and not isinstance(value, str):
            pairs = [p for p in value if isinstance(p, list | tuple) and len(p) == 2]
            if len(pairs) < len(value):
                problems.append((path, "must be one value, or a list of (temperature, value)"))
            return [
                (number(path, at, "temperature"), number(path, held, quantity))
                for at, held in pairs
            ]
        return [(low, number(path, value, quantity))]

    ends: list[float] = []
    for told_points in (modulus, expansion, yield_strength, conductivity, heat_capacity):
        if isinstance(told_points, Sequence) and not isinstance(told_points, str):
            for pair in told_points:
                if isinstance(pair, list | tuple) and len(pair) == 2:
                    try:
                        ends.append(float(to_si(pair[0], "temperature")))
                    except (UnitProblem, TypeError):
                        continue  # told below, with its path
    for path, given, which in (("lowest", lowest, "lowest"), ("highest", highest, "highest")):
        if given is None and not ends:
            problems.append(
                (
                    path,
                    f"must be told: the {which} temperature the data hold for. Each is one number "
                    "here, so nothing says how far; tell it, or pairs (temperature, value)",
                )
            )
    low = number("lowest", lowest, "temperature") if lowest is not None else min(ends, default=20.0)
    high = (
        number("highest", highest, "temperature")
        if highest is not None
        else max(ends, default=20.0)
    )
    tables = [
        points("modulus", modulus, "modulus"),
        points("expansion", expansion, "expansion"),
        points("yield_strength", yield_strength, "stress"),
        [] if conductivity is None else points("conductivity", conductivity, "conductivity"),
        [] if heat_capacity is None else points("heat_capacity", heat_capacity, "heat_capacity"),
    ]
    nu = number("poisson", poisson, "ratio")
    rho = number("density", density, "density")
    limit = number("heating_limit", heating_limit, "temperature")
    for path, good, rule in (
        ("poisson", 0.0 <= nu < 0.5, "must be from 0 to below 0.5"),
        ("density", rho > 0.0, "must be positive"),
        ("highest", high >= low, "must not be below lowest"),
        (
            "heating_limit",
            low <= limit <= high or any(path in ("lowest", "highest") for path, _ in problems),
            f"{shown(limit, 'temperature')} must lie between lowest and highest, "
            f"{shown(low, 'temperature')} to {shown(high, 'temperature')}",
        ),
        ("modulus", all(v > 0.0 for _, v in tables[0]), "must be positive"),
        ("yield_strength", all(v > 0.0 for _, v in tables[2]), "must be positive"),
        ("conductivity", all(v > 0.0 for _, v in tables[3]), "must be positive"),
        ("heat_capacity", all(v > 0.0 for _, v in tables[4]), "must be positive"),
    ):
        if not good:
            problems.append((path, rule))
    if problems:
        raise InputError([(f"{name}.{path}", text) for path, text in problems])
    try:
        made = _core.own_material(
            name,
            title or name,
            tables[0],
            tables[1],
            tables[2],
            tables[3],
            tables[4],
            nu,
            rho,
            low,
            high,
            limit,
            [source],
        )
    except ValueError as error:
        raise InputError([(name, str(error))]) from error
    # Beyond its points a property goes on as it went: still a property of a metal?
    wrong_ends = [
        (f"{name}.{path}", f"is not positive at {shown(end, 'temperature')}, where its data end")
        for path, property, there in (
            ("modulus", "modulus", True),
            ("yield_strength", "yield", True),
            ("conductivity", "conductivity", conductivity is not None),
            ("heat_capacity", "heat_capacity", heat_capacity is not None),
        )
        for end in (low, high)
        if there and not made.at(property, end) > 0.0
    ]
    if wrong_ends:
        raise InputError(wrong_ends)
    return made
