"""The page docs/accuracy.md: every closed form and every spread against 50 digits.

usage: generate_accuracy.py [PAGE] [--calls N] [--tests PROGRAM]
Needs the C++ tests in build/release (make test-cpp) and mpmath; about an hour of processor time.
"""

from __future__ import annotations

import argparse
import math
import re
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "tests" / "hard"))

import exact_spreads  # noqa: E402
import fifty_digits  # noqa: E402
from fifty_digits import UNIT, Call  # noqa: E402
from fitwright import units  # noqa: E402
from fitwright.models.results import MODELS, flat_fields  # noqa: E402

#: Beyond, an answer is the difference of nearly equal numbers that the caller gave.
WELL = 1e3
#: Calls at a time, and entries of the tapes of a model after which it is asked no more: what seeks
#: a root writes millions.
AT_A_TIME = 8
MOST_ENTRIES = 40_000_000

OPENING = """\
# Accuracy of the arithmetic

Made by docs/generate_accuracy.py; do not edit. A sample of it runs with the tests
(`tests/hard/test_accuracy.py`).

Double precision against 50 digits: the C++ tests write down every operation of a formula, mpmath
does the same operations on the same inputs. So this page is about rounding alone: whether a formula
describes your parts is the matter of [verification](verification.md), and what a formula leaves out
(points of a quadrature, steps of an iteration) is the matter of its own tests. Models that step
through time or seek a balance ({stepped}) are no closed forms and are not here.

Up to {calls} calls of each model (fewer where one call is millions of operations): some about its
example, some anywhere within the ranges that its inputs tell. A call that is refused is left out,
and so is a zero: what lies 10^10 below numbers of its kind in the same answer.

- *worst* and *RMS*: relative error of the answers that are well conditioned.
- *condition*: how many times a relative error of the inputs comes back in the answer, the sum over
  the inputs of |slope x input / answer|; the greatest met. An answer that is a small difference of
  large inputs (an interference of 30 um out of two diameters of 80 mm: 2700 each) cannot be better
  than its inputs, whoever computes it: a diameter is one double, rounded to 1.1e-16 of itself.
- *well*: share of the answers that are well conditioned, up to {well:.0f}. The others are held by
  the next column.
- *in its own measure*: the worst of error / (1 + condition), in units of 2^-53, over all answers.
  A few to a few hundred means: all that is lost was lost in the inputs already.

"""

SPREADS = """\
## Spreads

Quantiles at shares from 1e-9 to 1 - 1e-9, and standard deviations, against 50 digits. *of the
spread* is the error over the spread's standard deviation or width, whichever is less; *in units*
is the error in units of the last place of the value. A quantile in the upper tail is conditioned
by its share: 1 - u has the digits that a double near 1 has. A beta quantile is read from a table
(129 values a deviation would not change a histogram), measured readings are drawn as they stand.

| spread | looked at | of the spread, worst | RMS | in units, worst | deviation, worst |
|---|---|---|---|---|---|
"""


@dataclass
class Tally:
    """Errors of one output."""

    well: list[float] = field(default_factory=list)
    seen: int = 0
    condition: float = 0.0
    measure: float = 0.0

    def add(self, output: fifty_digits.Output) -> None:
        self.seen += 1
        if output.exact == 0 and output.value == 0.0:
            self.well.append(0.0)
            return
        if math.isfinite(output.condition):
            self.condition = max(self.condition, output.condition)
            self.measure = max(self.measure, output.error / (1.0 + output.condition) / UNIT)
        if output.condition <= WELL:
            self.well.append(output.error)

    def row(self) -> tuple[str, ...]:
        worst = max(self.well, default=math.nan)
        squares = math.sqrt(sum(x * x for x in self.well) / max(1, len(self.well)))
        share = len(self.well) / self.seen if self.seen else math.nan
        return (
            _number(worst), _number(squares), f"{self.condition:.1g}", f"{100.0 * share:.0f} %",
            f"{self.measure:.1f}",
        )  # fmt: skip


def _number(x: float) -> str:
    return "" if math.isnan(x) else "0" if x == 0.0 else f"{x:.1e}"


def _domain(model: str, answered: Sequence[Call]) -> str:
    """From where to where each input lay."""
    told = []
    for k, leaf in enumerate(flat_fields(model, "inputs")):
        values = [c.numbers[k] for c in answered if math.isfinite(c.numbers[k])]
        if not values or leaf["kind"] != "number" or re.search(r"\d\.", leaf["name"]):
            continue
        low, high = (units.shown(x, leaf["quantity"]) for x in (min(values), max(values)))
        told.append(f"{leaf['name']} {low}" + (f" to {high}" if high != low else ""))
    return "; ".join(told)


def tallies(model: str, calls: Sequence[Call], tests: Path) -> tuple[list[Call], dict[str, Tally]]:
    """The calls that were answered, and the errors by output; members of a list count together."""
    answered = []
    by_name: dict[str, Tally] = {}
    entries = 0
    for first in range(0, len(calls), AT_A_TIME):
        if entries > MOST_ENTRIES:
            break
        for call, told in fifty_digits.tapes(calls[first : first + AT_A_TIME], tests):
            entries += len(told)
            found = fifty_digits.outputs(call, told)
            if found:
                answered.append(call)
            for output in found:
                if not fifty_digits.is_zero(call, output, found) or output.error == 0.0:
                    by_name.setdefault(re.sub(r"\d+\.", "s.", output.name), Tally()).add(output)
    return answered, by_name


def formulas(names: Iterable[str], count: int, tests: Path) -> str:
    rooms: dict[str, list[str]] = {}
    for name in names:
        rooms.setdefault(name.split(".")[0], []).append(name)
    text = ""
    for room, models in rooms.items():
        text += f"## {room}\n\n"
        for name in models:
            answered, found = tallies(name, fifty_digits.calls(name, count, 1), tests)
            print(name, len(answered), file=sys.stderr, flush=True)
            text += f"### {name}\n\n{MODELS[name]['answers']} {len(answered)} answers. "
            text += f"Domain: {_domain(name, answered)}.\n\n"
            text += "| output | worst | RMS | condition | well | in its own measure |\n"
            text += "|---" * 6 + "|\n"
            for output, tally in found.items():
                text += "| " + " | ".join((f"`{output}`", *tally.row())) + " |\n"
            text += "\n"
    return text


def quantile_errors(
    kind: exact_spreads.Kind, count: int, seed: int
) -> tuple[list[float], float, float]:
    """Of the spread at each share; the worst in units of the last place; the worst deviation."""
    random = Random(f"{kind.shape} {seed}")
    relative: list[float] = []
    units_off = deviation_off = 0.0
    while len(relative) < count:
        s = kind.make(random)
        if s.problem():
            continue
        sigma = s.standard_deviation
        if kind.shape in ("uniform", "triangular", "truncated_normal"):
            exact = exact_spreads.deviation(s)
            deviation_off = max(deviation_off, float(abs(sigma / exact - 1)))
        for u in exact_spreads.shares(random):
            value = s.quantile(u)
            off = float(abs(exact_spreads.QUANTILES[kind.shape](s, exact_spreads.mpf(u)) - value))
            relative.append(off / sigma)
            units_off = max(units_off, off / math.ulp(value))
    return relative, units_off, deviation_off


def spreads(count: int) -> str:
    text = SPREADS
    for kind in exact_spreads.KINDS:
        relative, units_off, deviation_off = quantile_errors(kind, count, 1)
        print(kind.shape, max(relative), file=sys.stderr, flush=True)
        squares = math.sqrt(sum(x * x for x in relative) / len(relative))
        told = _number(deviation_off) if deviation_off else "as told"
        cells: Any = (kind.shape, kind.about, _number(max(relative)), _number(squares))
        text += "| " + " | ".join((*cells, f"{units_off:.0f}", told)) + " |\n"
    return text


def page(count: int, tests: Path) -> str:
    stepped = ", ".join(f"`{name}`" for name in fifty_digits.STEPPED)
    opening = OPENING.format(stepped=stepped, calls=count, well=WELL)
    return (
        opening + spreads(count) + "\n" + formulas(fifty_digits.NAMES, count, tests).rstrip() + "\n"
    )


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("page", nargs="?", type=Path, default=HERE / "accuracy.md")
    parser.add_argument("--calls", type=int, default=400)
    parser.add_argument("--tests", type=Path, default=fifty_digits.TESTS)
    asked = parser.parse_args()
    asked.page.write_text(page(asked.calls, asked.tests), encoding="utf-8")
