"""Values as they are set and read at the bench: 110 degC, 0.047 mm, 16 s."""

from __future__ import annotations

from fitwright.fields import units as shop
from fitwright.fields.value import Value
from fitwright.sheet.writer import UNBROKEN, Writer, printed

__all__ = ["BenchWriter"]

#: Decimals a dial, an oven and a clock have, by quantity or unit; others as everywhere.
DECIMALS = {"temperature": 0, "difference": 0, "force": 1, "MPa": 0, "ksi": 1, "angle": 0}
#: Small lengths by system: decimals, and one more below so much [m].
SMALL = {"metric": (3, 10e-6), "inch": (4, 25.4e-6)}
#: From here on a time is told in minutes, and above ten seconds in whole ones.
MINUTES, WHOLE_SECONDS = 120.0, 10.0


class BenchWriter(Writer):
    """A writer whose digits a person can set."""

    def value(self, value: float, quantity: str) -> str:
        if quantity == "time":
            return _time(value)
        if quantity == "fine":
            return self._small(value)
        row = shop.shop_unit(quantity, self.system)
        most = DECIMALS.get(quantity, DECIMALS.get(str(row["label"]), 9))
        decimals = min(int(row["decimals"]), most)
        number = f"{value * row['factor'] + row['offset']:.{decimals}f}"
        return printed(f"{number} {row['label']}") if row["label"] else number

    def _small(self, value: float) -> str:
        """As micrometers and dials read it: in whole mm or inches."""
        row = shop.shop_unit("size", self.system)
        decimals, below = SMALL[self.system]
        decimals += abs(value) < below
        text = f"{value * row['factor']:.{decimals}f}"
        if not text.strip("-0."):
            text = text.removeprefix("-")
        return f"{text}{UNBROKEN}{row['label']}"

    def shown(self, value: Value) -> str:
        worked_out = float(value) == float("inf")
        return "worked out" if worked_out else self.value(float(value), value.quantity)

    def no_more(self, value: float) -> str:
        """A time that must not be overrun, in whole seconds below it."""
        return _time(value // 1.0 if value >= WHOLE_SECONDS else value)


def _time(value: float) -> str:
    if value >= MINUTES:
        return f"{value / 60.0:.0f}{UNBROKEN}min"
    decimals = 0 if value >= WHOLE_SECONDS else 1
    return f"{value:.{decimals}f}{UNBROKEN}s"
