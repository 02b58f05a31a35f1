"""Makes the table of cpp/src/stack/shoulder.cpp: random stacks in section, a fit, its error.

usage: shoulder_table.py [COUNT]      (3600 stacks as it was made, a few minutes; needs SciPy)

Each stack is a ring that grips a shaft against a collar, frictionless and with its faces closed:
the stroke of the nut per force, less that of the same ring on a rigid plane. Two thirds are fitted,
the others tell the error.
"""

from __future__ import annotations

import math
import random
import sys
from typing import Any

import fitwright as fw
import numpy as np
from scipy.optimize import least_squares

SEAT, STEEL, POISSON = 0.08, 206e9, 0.3
Row = dict[str, float]


def metal(modulus: float) -> fw.Material:
    return fw.materials.own(
        "table", modulus=f"{modulus / 1e9} GPa", poisson=POISSON, expansion="11.5e-6 1/K",
        density="7850 kg/m^3", yield_strength="900 MPa", heating_limit="300 degC",
        highest="1000 degC",
    )  # fmt: skip


def stroke(
    shape: Row, on_plane: bool, interference: float, forces: tuple[float, float]
) -> tuple[float, bool]:
    """Of the nut per force, and whether all contacts were closed."""
    d = SEAT
    length = shape["L"] * d
    slices = [(length + 0.045, shape["bore"] * d, d)]
    behind = 0.0
    if not on_plane:
        slices.insert(0, (shape["h"] * d, shape["bore"] * d, shape["D"] * d))
        behind = shape["h"] * d
        if shape["db"]:
            slices.insert(0, (0.8 * d, shape["bore"] * d, shape["db"] * d))
            behind += 0.8 * d
    shaft = fw.bodies.ShaftSection(
        slices=slices, material=metal(STEEL), behind=behind, thread=(length, 0.016),
        land=None if on_plane else (shape["li"] * d, shape["lo"] * d),
    )  # fmt: skip
    ring = fw.bodies.RingSection(
        slices=[(length, d, shape["ro"] * d)], material=metal(STEEL * shape["Er"])
    )
    found = fw.bodies.Sections(shaft=shaft, rings={"r": ring}).history(
        interference={"r": interference}, friction=0.0, states={"cold": fw.bodies.State()},
        steps=["slip_on r", "state cold", "nut_on", *(("tighten", force) for force in forces)],
    )  # fmt: skip
    before, after = found.steps[-2:]
    closed = after.faces[0].pressure.min() > 0.0 and after.seats[0].pressure.min() > 0.0
    travel = float(after.nut_travel) - float(before.nut_travel)
    return travel / (forces[1] - forces[0]), bool(closed)


def shape_of(rnd: random.Random) -> Row | None:
    u = rnd.uniform
    s = {"bore": rnd.choice([0.0, u(0.2, 0.75)]), "D": u(1.08, 1.7), "h": math.exp(u(-2.6, 0.0))}
    s["ro"] = u(1.12, 1.8)
    top = min(s["D"], s["ro"])
    s["lo"] = rnd.choice([top, u(1.08, top)])
    s["li"] = rnd.choice([1.0, 1.0 + u(0.01, 0.1)])
    s["L"] = u(0.15, 1.0)
    s["db"] = rnd.choice([0.0, u(max(s["bore"] + 0.15, 0.6), min(s["D"], 1.3))])
    s["Er"] = rnd.choice([1.0, 1.0, math.exp(u(-1.05, 1.05))])
    inside = (
        s["lo"] - s["li"] >= 0.06 and s["L"] >= 0.5 * (s["ro"] - 1.0) and 0.4 <= s["Er"] <= 2.5
        and 0.09 <= s["h"] <= 1.0 and s["bore"] <= 0.7 and 1.1 <= s["D"] <= 1.6
    )  # fmt: skip
    return s if inside else None


def rows_of(count: int) -> list[Row]:
    rnd = random.Random(11)
    rows: list[Row] = []
    while len(rows) < count:
        shape = shape_of(rnd)
        for interference, forces in ((1e-4, (1e5, 1.4e5)), (1e-4, (6e5, 7e5)), (4e-4, (6e5, 7e5))):
            if shape is None:
                break
            try:
                plane, flat = stroke(shape, True, interference, forces)
                collar, closed = stroke(shape, False, interference, forces)
            except fw.InputError:
                break  # a step too small to mesh
            if flat and closed:
                rows.append({**shape, "c": (collar - plane) * STEEL * SEAT})
                break
    return rows


def quadratic(x: list[Any]) -> Any:
    terms = [np.ones_like(x[0]), *x]
    terms += [x[i] * x[j] for i in range(len(x)) for j in range(i, len(x))]
    return np.stack(terms, 1)


def parts(rows: list[Row], goes_on: bool) -> tuple[Any, ...]:
    """The columns of detail/shoulder.hpp: T1, T2, T3, terms of P and of Q."""
    g = {key: np.array([row[key] for row in rows]) for key in rows[0]}
    a, mean = (g["lo"] - g["li"]) / 4.0, 0.5 * (g["lo"] + g["li"])
    area, h, nu = math.pi / 4.0 * (g["lo"] ** 2 - g["li"] ** 2), g["h"], POISSON
    bracket = 2.0 * h * np.arctan(a / h) * (1.0 - nu / (1.0 - nu))
    bracket += 2.0 * a * (np.log(1.0 + (h / a) ** 2) - 2.0 * math.log(2.0) + 1.0)
    strip = bracket * (1.0 - nu**2) / math.pi / area
    shear = (1.0 + nu) * np.log(mean) / (math.pi * h)
    spread = 4.0 / math.pi / (1.0 - g["bore"] ** 2)
    collar = [np.log(h), g["bore"] ** 2, g["D"] - 1.3, g["li"] - 1.03, g["lo"] - 1.25]
    collar.append(g["db"] - 1.0 if goes_on else np.zeros_like(h))
    end = [np.log(g["L"]), np.log(g["ro"] - 1.0), mean - 1.15, g["lo"] - g["li"]]
    return g, strip, shear, spread, quadratic(collar), quadratic(end)


def model(x: Any, g: Any, strip: Any, shear: Any, spread: Any, p: Any, q: Any) -> Any:
    of_ring = (q @ x[30:]) / (g["ro"] ** 2 - 1.0) / g["Er"]
    return (strip + x[0] * shear + x[1] * spread) * np.exp(p @ x[2:30]) + of_ring


def main() -> None:
    rows = rows_of(int(sys.argv[1]) if len(sys.argv) > 1 else 3600)
    for goes_on, name in ((False, "shoulder_cut"), (True, "shoulder_goes_on")):
        mine = [row for row in rows if (row["db"] > 0.0) == goes_on]
        order = np.random.default_rng(0).permutation(len(mine))
        fitted = [mine[i] for i in order[: 2 * len(mine) // 3]]
        held = [mine[i] for i in order[2 * len(mine) // 3 :]]
        columns = parts(fitted, goes_on)
        start = np.zeros(45)
        start[:2] = 0.5, 0.1

        def off(x: Any, columns: Any = columns) -> Any:
            return model(x, *columns) / columns[0]["c"] - 1.0

        x = least_squares(off, start, x_scale="jac", max_nfev=300).x
        for told, these in (("fitted", fitted), ("not fitted", held)):
            error = off(x, parts(these, goes_on))
            print(f"// {told}: {len(error)}, rms {error.std():.3f}, largest {abs(error).max():.3f}")
        if not goes_on:  # no shaft beyond: the sixth variable of the collar is 0
            pairs = [(i, j) for i in range(6) for j in range(i, 6)]
            x[[8, *(9 + k for k, pair in enumerate(pairs) if 5 in pair)]] = 0.0
        numbers = [f"{value:.5g}" for value in x]
        groups = (numbers[:1], numbers[1:2], numbers[2:30], numbers[30:])
        print(
            f"const ShoulderTable {name}{{", *(", ".join(group) for group in groups), "};", sep="\n"
        )


if __name__ == "__main__":
    main()
