"""Job files by a grammar: legal ones of every shape, and ways to spoil them.

A document is a plain dict as the TOML reader gives it; `toml` writes it out. Everything hangs on
the random generator that is handed in: the same seed gives the same text.
"""

from __future__ import annotations

import copy
import datetime
from random import Random
from typing import Any

STEELS = ("4340", "4140", "1045", "1020", "52100")
SHAPES = ("normal", "uniform", "triangular", "truncated_normal", "lognormal", "beta", "measured")


def _mm(value: float) -> str:
    return f"{value:.4f} mm"


def _spread(random: Random, value: float, unit: str, width: float) -> Any:
    """A value as plain text, or with a scatter of some shape about it."""
    told = f"{value:.6g} {unit}".strip()

    def at(x: float) -> str:
        return f"{value + x * width:.8g} {unit}".strip()

    def size(x: float) -> str:
        return f"{abs(x * width):.4g} {unit}".strip()

    if random.random() < 0.6:
        return told
    shape = random.choice(SHAPES)
    given: dict[str, Any] = {"value": told, "spread": shape}
    if shape in ("normal", "lognormal"):
        given["deviation"] = size(0.3)
    elif shape == "uniform" or shape == "triangular":
        given |= {"low": at(-1.0), "high": at(1.0)}
    elif shape == "truncated_normal" or shape == "beta":
        given |= {"low": at(-1.0), "high": at(1.0), "deviation": size(0.4)}
    else:
        of = random.choice(["these_parts", "one_part", "process"])
        readings = [at(random.uniform(-1.0, 1.0)) for _ in range(random.randint(4, 7))]
        if of == "one_part" and random.random() < 0.3:
            readings = readings[: random.randint(1, 3)]
        given = {"measured": readings, "of": of, "spread": "measured", "gauge": size(0.1)}
        if of == "one_part" and (len(readings) < 4 or random.random() < 0.3):
            given["repeatability"] = size(0.05)
        if random.random() < 0.5:
            del given["spread"]
    return given


def legal(random: Random) -> dict[str, Any]:
    """A job that makes sense: rings on a shaft, a nut, states; now and then all there is."""
    seat = random.choice([25.0, 40.0, 60.0, 80.0, 120.0])
    has_bearing = random.random() < 0.5
    count = random.randint(2 if has_bearing else 1, 6)
    document: dict[str, Any] = {"title": random.choice(["a job", "Gebläse, Größe 2", "job $1"])}
    document["shaft"] = {
        "material": random.choice(STEELS),
        "bore": _mm(random.choice([0.0, 0.3]) * seat),
    }
    document["seat"] = [
        {"name": "main", "diameter": _spread(random, seat + 0.0006 * seat, "mm", 0.002)}
    ]
    if random.random() < 0.2:
        document["seat"].append({"name": "second", "diameter": _mm(seat - 1.0)})
    rings = []
    inner = ["r0"] if random.random() < 0.5 else ["r0", "r1"]
    for k in range(count):
        on = random.choice(document["seat"])["name"]
        here = seat if on == "main" else seat - 1.0
        slides = random.random() < 0.25 and not (has_bearing and f"r{k}" in inner)
        ring: dict[str, Any] = {
            "name": f"r{k}",
            "seat": on,
            "material": random.choice(STEELS),
            "bore": _spread(random, here + (0.05 if slides else 0.0001 * here), "mm", 0.002),
            "length": _mm(here * random.uniform(0.2, 0.6)),
            "friction": random.choice(
                ["0.15", {"value": "0.15", "low": "0.12", "high": "0.18"},
                 {"value": "0.15", "low": "0.12", "high": "0.18", "spread": "triangular"}]
            ),
        }  # fmt: skip
        if slides:
            ring["joint"] = "slide"
        if random.random() < 0.15 and not (has_bearing and f"r{k}" in inner):
            part = here * random.uniform(0.1, 0.3)
            ring["slices"] = [
                {"outside": _mm(here * random.uniform(1.2, 1.6)), "length": _mm(part)}
                for _ in range(random.randint(1, 3))
            ]
            del ring["length"]
        else:
            ring["outside"] = _mm(here * random.uniform(1.2, 1.6))
        if random.random() < 0.5:
            ring["roughness"] = f"{random.uniform(0.5, 4.0):.2f} um"
        if random.random() < 0.3:
            ring["overhang"] = {"value": "0.3", "low": "0", "high": "0.5"}
        if random.random() < 0.3:
            ring |= {"wedge": "0.5 um", "wedge_angle": "40 deg", "runout": "8 um"}
        if random.random() < 0.2:
            ring["press_against"] = random.choice(["shaft", "outside"])
        if random.random() < 0.2:
            ring["press"] = "5 kN"
        rings.append(ring)
    document["ring"] = rings
    document["nut"] = {
        "material": random.choice(STEELS),
        "diameter": _mm(seat * 0.94),
        "pitch": random.choice(["1.5 mm", "2 mm", "12 tpi"]),
        "height": _mm(seat * 0.25),
        "outside": _mm(seat * 1.3),
        "face_inside": _mm(seat * 0.96),
        "face_outside": _mm(seat * 1.2),
        "thread_friction": {"value": "0.125", "low": "0.10", "high": "0.15"},
        "face_friction": _spread(random, 0.125, "", 0.02),
        "torque": _spread(random, 0.0012 * seat**3, "N m", 0.00006 * seat**3),
    }
    if random.random() < 0.5:
        document["nut"]["hand"] = random.choice(["left", "right"])
    if random.random() < 0.6:
        document["lock"] = {
            "material": "1020",
            "bore": _mm(seat * 0.945),
            "outside": _mm(seat * 1.22),
            "thickness": "1.5 mm",
        }
        if random.random() < 0.5:
            document["lock"] |= {"tabs": 17, "slots": random.choice([4, 6])}
            if random.random() < 0.5:
                torque = 0.0012 * seat**3
                document["nut"]["torque_window_low"] = f"{0.9 * torque:.1f} N m"
                document["nut"]["torque_window_high"] = f"{1.1 * torque:.1f} N m"
    if has_bearing:
        document["bearing"] = {
            "material": "52100",
            "outer_ring_material": "52100",
            "inner_rings": inner,
            "balls": random.randint(9, 17),
            "ball_diameter": _mm(seat * 0.22),
            "pitch_diameter": _mm(seat * 1.45),
            "inner_curvature": 0.515,
            "outer_curvature": 0.52,
            "clearance": _spread(random, 0.0018 * seat, "mm", 0.0001 * seat),
        }
        for ring in rings[: len(inner)]:
            ring["outside"] = _mm(seat * 1.3)
        if random.random() < 0.4:
            document["service"] = {
                "viscosity_40": "46 mm^2/s",
                "viscosity_100": "6.8 mm^2/s",
                "lubrication": "oil_filtered",
                "cleanliness": "normal",
            }
    document["state"] = [{"name": "built", "title": "as built"}]
    for k in range(random.randint(0, 4)):
        state: dict[str, Any] = {
            "name": f"s{k}",
            "speed": random.choice(["0 rpm", f"{random.randint(100, 6000)} rpm", "50 rad/s"]),
            "shaft_temperature": _spread(random, random.uniform(0.0, 90.0), "degC", 5.0)
            if random.random() < 0.7
            else "150 degF",
        }
        if isinstance(state["shaft_temperature"], dict):
            for key in ("deviation", "gauge", "repeatability"):
                if key in state["shaft_temperature"]:
                    state["shaft_temperature"][key] = "2 K"
        if has_bearing and random.random() < 0.7:
            state["thrust"] = f"{random.uniform(-0.4, 0.8) * seat * 0.1:.3f} kN"
        if has_bearing and random.random() < 0.2:
            state |= {"radial_load": "1 kN", "moment": "5 N m"}
        if random.random() < 0.6:
            state["lags"] = {
                part: f"{random.uniform(-10.0, 15.0):.2f} K"
                for part in random.sample(
                    [r["name"] for r in rings] + ["nut"], random.randint(0, 2)
                )
            }
        if "service" in document:
            state["share"] = 0.5
        document["state"].append(state)
    for _ in range(random.randint(0, 3)):
        path, least = random.choice(
            [("shoulder.clamp_low", "1 kN"), ("rings.*.grip_left", "0.1"),
             ("nut.force_low", "1 kN"), ("rings.r0.pressure", "1 MPa"), ("nut.force", "1 kN")]
        )  # fmt: skip
        limit: dict[str, Any] = {"output": path, random.choice(["at_least", "at_most"]): least}
        if random.random() < 0.4:
            limit["states"] = [random.choice(document["state"])["name"]]
        document.setdefault("limit", []).append(limit)
    scattered = [f"rings.{r['name']}.bore" for r in rings if isinstance(r["bore"], dict)]
    if len(scattered) > 1 and random.random() < 0.3:
        document["correlation"] = [
            {"between": random.sample(scattered, 2), "value": random.choice([0.5, -0.3, 0.9])}
        ]
    if random.random() < 0.15:
        document["material"] = [
            {
                "name": "ours",
                "modulus": [["20 degC", "205 GPa"], ["300 degC", "190 GPa"]],
                "expansion": "11.5 um/m/K",
                "yield_strength": "500 MPa",
                "poisson": 0.3,
                "density": "7850 kg/m^3",
                "heating_limit": "200 degC",
                "lowest": "-40 degC",
                "highest": "300 degC",
            }
        ]
        rings[0]["material"] = "ours"
    if random.random() < 0.2:
        steps = [
            {"name": f"on_{r['name']}", "kind": "slip_on", "parts": [r["name"]]} for r in rings
        ]
        if "lock" in document:
            steps.append({"name": "washer", "kind": "slip_on", "parts": ["lock"]})
        steps += [{"name": n, "kind": k} for n, k in (("up", "nut_on"), ("go", "tighten"))]
        steps.append({"name": "locked", "kind": "lock"})
        steps += [
            {"name": state["name"], "kind": "state", "state": state["name"]}
            for state in document["state"][1:]
        ]
        document["step"] = steps
    return document


# -- as text --------------------------------------------------------------------------------------


def _quoted(text: str) -> str:
    out = ""
    for character in text:
        if character in '"\\':
            out += "\\" + character
        elif ord(character) < 32 or ord(character) == 127:
            out += f"\\u{ord(character):04x}"
        elif 0xD800 <= ord(character) < 0xE000:
            out += "?"
        else:
            out += character
    return f'"{out}"'


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_quoted(str(k))} = {_value(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, float):
        return {"inf": "inf", "-inf": "-inf", "nan": "nan"}.get(repr(value), repr(value))
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    return str(value)


def toml(document: dict[str, Any]) -> str:
    """The document as a job file, tables as a person would write them."""
    lines: list[str] = []
    tables: list[str] = []
    for key, value in document.items():
        rows = value if isinstance(value, list) else [value]
        name = key if key.isidentifier() and key.isascii() else _quoted(key)
        if not rows or not all(isinstance(row, dict) for row in rows):
            lines.append(f"{name} = {_value(value)}")
            continue
        for row in rows:
            tables.append(f"\n[[{name}]]" if isinstance(value, list) else f"\n[{name}]")
            tables += [f"{_quoted(str(k))} = {_value(v)}" for k, v in row.items()]
    return "\n".join([*lines, *tables]) + "\n"


# -- spoiled --------------------------------------------------------------------------------------

HOSTILE = (
    "", " ", "\x00", "\x07\x1b[2J", "\u202enut", "\ufeff", "$x^2$", "$\\undefined$", "{{ 7*7 }}",
    "<script>alert(1)</script>", "%s%n", "../../etc/passwd", "a" * 300, "é" * 50, "𝔘", "nan",
    "inf mm", "-inf N", "1e308 mm", "-1e308 N", "1e-320 m", "0 mm", "-5 mm", "343 K", "1e9 rpm",
    "2000 degC",
    "-273.15 degC", "1e7 N m", "1 mm*9**9**9", "1 mm**99999999", "(((((mm", "1 1/0 in", "0,05 mm",
    "1,500 mm", "0 tpi", "80", "mm", "main", "r0", "built", "nut", "balls", "normal", "slide", "*",
    "rings.*.*", "*.*.*", "rings.r0.bore", "process", "one_part", "__class__",
    "None", "True", "1e400", "0x10", "1_000 mm",
)  # fmt: skip


def junk(random: Random, depth: int = 0) -> Any:
    """A value of any kind."""
    kind = random.randrange(11 if depth < 3 else 8)
    if kind < 3:
        return random.choice(HOSTILE)
    if kind == 3:
        number = random.choice([0.0, -1.0, 1e300, -1e300, 1e-300, float("inf"), float("nan"), 0.1])
        return f"{number!r} {random.choice(['mm', 'N', 'degC', 'K', 'rpm', 'N m', 'MPa', ''])}"
    if kind == 4:
        return random.choice([0, 1, -1, 7, 300, 2**31, 2**63 - 1, -(2**63), 10**18])
    if kind == 5:
        return random.choice([0.0, -0.5, 1e308, float("inf"), float("nan"), 1e-320, 3.7])
    if kind == 6:
        return random.random() < 0.5
    if kind == 7:
        return random.choice([datetime.date(2026, 1, 1), datetime.time(12, 0)])
    if kind < 10:
        return [junk(random, depth + 1) for _ in range(random.randrange(4))]
    keys = ["value", "low", "high", "spread", "deviation", "measured", "name", "x", *HOSTILE[:3]]
    return {random.choice(keys): junk(random, depth + 1) for _ in range(random.randrange(4))}


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place of a document, by keys and indices."""
    found = [path] if path else []
    if isinstance(value, dict):
        for key, item in value.items():
            found += places(item, (*path, key))
    elif isinstance(value, list):
        for index, item in enumerate(value):
            found += places(item, (*path, index))
    return found


def _holder(document: Any, path: tuple[Any, ...]) -> Any:
    for step in path[:-1]:
        document = document[step]
    return document


def _words(random: Random, text: str) -> str:
    """A number or a unit in a text put in place of another."""
    number, _, unit = text.partition(" ")
    units = [
        "mm",
        "um",
        "m",
        "in",
        "thou",
        "N",
        "kN",
        "lbf",
        "N m",
        "degC",
        "degF",
        "K",
        "rpm",
        "s",
        "",
    ]
    if random.random() < 0.5:
        return f"{number} {random.choice(units)}"
    factors = [0.0, -1.0, 1e-6, 1e6, 0.5, 2.0, 1.001, 1e12]
    try:
        return f"{float(number) * random.choice(factors)!r} {unit}"
    except ValueError:
        return text[::-1]


def spoil(random: Random, document: dict[str, Any]) -> dict[str, Any]:
    """One change of structure or value."""
    spoiled: dict[str, Any] = copy.deepcopy(document)
    path = random.choice(places(spoiled))
    holder, key = _holder(spoiled, path), path[-1]
    value = holder[key]
    way = random.randrange(10)
    if way == 0:
        del holder[key]
    elif way == 1:
        holder[key] = junk(random)
    elif way in (2, 3, 4) and isinstance(value, str):
        holder[key] = _words(random, value)
    elif way == 5 and isinstance(holder, dict):
        holder[random.choice([*HOSTILE, "bore", "spread", "name", "title"])] = junk(random)
    elif way == 6 and isinstance(value, list):
        value *= random.choice([2, 3, 60]) if len(value) < 10 else 2
    elif way == 7 and isinstance(value, list):
        random.shuffle(value)
    elif way == 8:
        other = random.choice(places(spoiled))
        holder[key] = copy.deepcopy(_holder(spoiled, other)[other[-1]])
    elif way == 9 and isinstance(value, dict):
        value[random.choice(["low", "high", "deviation", "value"])] = junk(random)
    else:
        holder[key] = random.choice(HOSTILE)
    return spoiled


def spoil_text(random: Random, text: str) -> str:
    """One change of the text itself."""
    at = random.randrange(len(text) + 1)
    way = random.randrange(6)
    if way == 0:
        return text[:at] + text[at + random.randrange(40) :]
    if way == 1:
        return text[:at] + random.choice(HOSTILE) + text[at:]
    lines = text.split("\n")
    line = random.randrange(len(lines))
    if way == 2:
        lines.insert(random.randrange(len(lines)), lines[line])
    elif way == 3:
        del lines[line]
    elif way == 4:
        lines[line] = lines[line] * random.choice([2, 50])
    else:
        other = random.randrange(len(lines))
        lines[line], lines[other] = lines[other], lines[line]
    return "\n".join(lines)


def job_text(random: Random) -> str:
    """A job file, legal in one of four, else spoiled once to four times."""
    document = legal(random)
    if random.random() < 0.25:
        return toml(document)
    for _ in range(random.randint(1, 4)):
        document = spoil(random, document) or {"title": ""}
    text = toml(document)
    for _ in range(random.choice([0, 0, 0, 1, 2])):
        text = spoil_text(random, text)
    return text
