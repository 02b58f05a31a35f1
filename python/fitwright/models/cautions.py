"""The usual cautions of the trade, by kind of work or by tool; part of fw.tooling.

The sentences live in templates/cautions.j2, where the build sheet has them from too.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError

__all__ = ["cautions"]

#: In the order of the work.
KINDS = ("heat", "cold", "press", "hold", "torque", "afterwards")


@lru_cache(maxsize=1)
def _macros() -> Any:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("fitwright", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("cautions.j2").module


def _of_models() -> dict[str, list[str]]:
    return {m["name"]: m["cautions"].split("|") for m in _core.models() if m["cautions"]}


@checked
def cautions(work: str | None = None) -> list[str]:
    """What to mind, as sentences: the first is the one that always holds.

    `work` is a kind of work ("heat", "cold", "press", "hold", "torque", "afterwards") or a model of
    fw.tooling ("puller"); all kinds when left out.

    >>> import fitwright as fw
    >>> answer = fw.tooling.cautions("puller")
    """
    tools = _of_models()
    if work is None:
        kinds = list(KINDS)
    elif work in KINDS:
        kinds = [work]
    elif work in tools:
        kinds = tools[work]
    else:
        known = ", ".join([*KINDS, *tools])
        raise InputError([("work", f'"{work}" has no cautions of its own; there are {known}')])
    macros = _macros()
    bearing = {"heat", "hold", "afterwards"}
    told = [macros.first()]
    told += [getattr(macros, kind)(*([True] if kind in bearing else [])) for kind in kinds]
    return [text.striptags() for text in told]
