"""JSON Schema of the job file, for editors, from the field declarations of the core."""

from __future__ import annotations

import json
import math
from typing import Any

SPREADS = [
    "normal",
    "truncated_normal",
    "uniform",
    "triangular",
    "lognormal",
    "beta",
    "measured",
    "process",
]


def number(field: dict[str, Any]) -> dict[str, Any]:
    """A value, or a table with the value and how it scatters."""
    plain: list[dict[str, Any]] = [{"type": "string"}]
    if field["quantity"] in ("ratio", "count"):
        plain.append({"type": "number"})
    value = {"anyOf": plain}
    spread = {
        "type": "object",
        "properties": {
            "value": value,
            "low": value,
            "high": value,
            "spread": {"enum": SPREADS},
            "deviation": value,
            "class": {"type": "string"},
            "measured": {"type": "array", "items": value, "minItems": 1},
            "gauge": value,
            "of": {"enum": ["one_part", "these_parts", "process"]},
            "repeatability": value,
            "part_temperature": value,
            "gauge_temperature": value,
            "part_material": {"type": "string"},
            "gauge_material": {"type": "string"},
            "temperature_uncertainty": value,
            "difference_uncertainty": value,
            "cp": {"type": "number"},
            "cpk": {"type": "number"},
            "towards": {"enum": ["low", "high"]},
        },
        "additionalProperties": False,
    }
    return {"description": field["meaning"], "anyOf": [*plain, spread]}


def table(declaration: dict[str, Any], extra: dict[str, Any], needed: list[str]) -> dict[str, Any]:
    properties: dict[str, Any] = dict(extra)
    required = list(needed)
    if declaration["has_material"]:
        properties["material"] = {"type": "string"}
        required.append("material")
    for field in declaration["fields"]:
        if field["kind"] == "choice":
            properties[field["name"]] = {
                "description": field["meaning"],
                "enum": field["words"].split("|"),
            }
        elif field["kind"] == "number":
            properties[field["name"]] = number(field)
            if math.isnan(field["standard"]):
                required.append(field["name"])
    return {
        "description": declaration["meaning"],
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": False,
    }


def attached(
    declaration: dict[str, Any], kind: dict[str, Any], extra: dict[str, Any], prefix: str = ""
) -> dict[str, Any]:
    """A model of another room as a table: its parts are tables in it; what the job knows is not."""
    own = {
        **declaration,
        "has_material": declaration["has_material"]
        and f"{prefix}material" not in kind["known_materials"],
        "fields": [f for f in declaration["fields"] if prefix + f["name"] not in kind["known"]],
    }
    told = table(own, extra, [])
    for field in declaration["fields"]:
        if field["kind"] == "part":
            inside = attached(field["part"], kind, {}, f"{prefix}{field['name']}.")
            told["properties"][field["name"]] = inside
            if inside["required"]:
                told["required"].append(field["name"])
    return told


def plate_table(core: Any, text: dict[str, Any]) -> dict[str, Any]:
    """The model's own plate is the table itself; what a fitted pocket knows may be left out."""
    kind = core.attached_kinds()["plate"]
    inputs = next(m for m in core.models() if f"{m['room']}.{m['name']}" == kind["model"])["inputs"]
    extra = {"title": text, "side": {"enum": ["nut", "shoulder"]}}
    told = attached(inputs, kind, extra)
    own = told["properties"].pop("plate")
    told["properties"] |= own["properties"]
    told["required"] = [*[k for k in told["required"] if k != "plate"], *own["required"]]
    ring = told["properties"]["ring"]
    ring["required"] = [key for key in ring["required"] if key != "outside"]
    return told


def tool_table(core: Any, name: dict[str, Any], text: dict[str, Any]) -> dict[str, Any]:
    """One table for each kind of tool."""
    models = {f"{m['room']}.{m['name']}": m["inputs"] for m in core.models()}
    kinds = []
    for word, kind in core.attached_kinds().items():
        if word.endswith("plate"):
            continue
        extra = {"name": name, "title": text, "kind": {"const": word}}
        if kind["serves_rings"]:
            extra["rings"] = {"type": "array", "items": text, "minItems": 1}
        told = attached(models[kind["model"]], kind, extra)
        told["required"] += ["name", "kind", *(["rings"] if kind["serves_rings"] else [])]
        kinds.append(told)
    return {"description": "a tool the shop made", "type": "object", "oneOf": kinds}


def schema_text(core: Any) -> str:
    tables = core.job_tables()
    name = {"type": "string", "pattern": "^[a-z][a-z0-9_]*$"}
    text = {"type": "string"}
    lag = number({"quantity": "difference", "meaning": "how much hotter than the shaft"})
    torque = number({"quantity": "torque", "meaning": "torque the ring passes to the shaft"})
    count = {"type": "integer", "minimum": 1, "maximum": 360}
    points = {"anyOf": [{"type": "string"}, {"type": "array"}]}
    properties = {
        "title": text,
        "note": text,
        "units": {"enum": ["metric", "inch"], "description": "how the job is shown"},
        "fidelity": {
            "enum": ["bars", "section"],
            "description": "what the steps of the history run on",
        },
        "shaft": table(tables["shaft"], {}, []),
        "nut": table(tables["nut"], {"thread": text, "thread_class": text, "lubricant": text}, []),
        "workshop": table(tables["workshop"], {}, []),
        "lock": table(
            tables["lock"],
            {"kind": text, "tabs": count, "slots": count},
            [],
        ),
        "shoulder": table(tables["shoulder"], {}, []),
        "service": table(tables["service"], {}, []),
        "pocket": table(tables["pocket"], {"material": text}, []),
        "plate": plate_table(core, text),
        "bearing": table(
            tables["bearing"],
            {
                "inner_rings": {"type": "array", "items": text, "minItems": 1, "maxItems": 2},
                "outer_ring_material": text,
            },
            ["inner_rings", "outer_ring_material"],
        ),
    }
    ring = table(
        tables["ring"],
        {
            "name": name,
            "title": text,
            "seat": text,
            "slices": {
                "description": "in place of outside, from the shoulder on",
                "type": "array",
                "minItems": 1,
                "maxItems": 8,
                "items": table(tables["slice"], {}, []),
            },
        },
        ["name", "seat"],
    )
    nut = properties["nut"]
    nut["required"] = [key for key in nut["required"] if key not in ("diameter", "pitch")]
    nut["anyOf"] = [{"required": ["diameter", "pitch"]}, {"required": ["thread"]}]
    ring["required"] = [key for key in ring["required"] if key not in ("outside", "length")]
    ring["anyOf"] = [{"required": ["outside", "length"]}, {"required": ["slices"]}]
    lists = {
        "seat": table(tables["seat"], {"name": name}, ["name"]),
        "ring": ring,
        "seal": table(
            tables["seal"],
            {"name": name, "title": text, "ring": text},
            ["name", "ring"],
        ),
        "state": table(
            {
                **tables["state"],
                "fields": [
                    *tables["state"]["fields"],
                    *tables["state_service"]["fields"],
                    *tables["state_loads"]["fields"],
                ],
            },
            {
                "name": name,
                "title": text,
                "lags": {"type": "object", "additionalProperties": lag},
                "torques": {"type": "object", "additionalProperties": torque},
            },
            ["name"],
        ),
        "step": table(
            tables["step"],
            {
                "name": name,
                "title": text,
                "state": text,
                "parts": {"type": "array", "items": text, "minItems": 1},
                "from": text,
                "to": text,
                "times": {"type": "integer", "minimum": 1, "maximum": 1000},
            },
            ["name"],
        ),
        "tool": tool_table(core, name, text),
        "limit": {
            "description": "a finding's limit: an output path (* for any name) and its bounds",
            "type": "object",
            "properties": {
                "output": text,
                "states": {"type": "array", "items": text},
                "at_least": {"type": ["string", "number"]},
                "at_most": {"type": ["string", "number"]},
            },
            "required": ["output"],
            "additionalProperties": False,
        },
        "output": {
            "description": "an output of one's own: an expression over paths, with its limits",
            "type": "object",
            "properties": {
                "name": name,
                "title": text,
                "of": text,
                "states": {"type": "array", "items": text, "minItems": 1},
                "at_least": {"type": ["string", "number"]},
                "at_most": {"type": ["string", "number"]},
            },
            "required": ["name", "of"],
            "additionalProperties": False,
        },
        "correlation": {
            "description": "two inputs that scatter together (Gaussian copula); 0 frees a pair",
            "type": "object",
            "properties": {
                "between": {"type": "array", "items": text, "minItems": 2, "maxItems": 2},
                "value": {"type": "number", "minimum": -1, "maximum": 1},
            },
            "required": ["between", "value"],
            "additionalProperties": False,
        },
        "material": {
            "description": "a material of your own",
            "type": "object",
            "properties": {
                "name": text,
                "title": text,
                "source": text,
                "modulus": points,
                "expansion": points,
                "yield_strength": points,
                "conductivity": points,
                "heat_capacity": points,
                "poisson": {"type": "number"},
                "density": text,
                "lowest": text,
                "highest": text,
                "heating_limit": text,
            },
            "required": [
                "name",
                "modulus",
                "expansion",
                "yield_strength",
                "poisson",
                "density",
                "heating_limit",
            ],
            "additionalProperties": False,
        },
    }
    for key, item in lists.items():
        properties[key] = {"type": "array", "items": item}
    schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "fitwright job file",
        "type": "object",
        "properties": properties,
        "required": ["shaft", "nut", "seat", "ring", "state"],
        "additionalProperties": False,
    }
    return json.dumps(schema, indent=2) + "\n"
