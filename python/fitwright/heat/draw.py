"""Pictures of the results of this room; matplotlib is loaded when one is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.heat.formulas import ChillResult, OvenResult, SeatingResult, SlipOnResult
from fitwright.models.results import Result

if TYPE_CHECKING:
    from fitwright.charts.picture import Picture

__all__ = ["draw"]


@checked
def draw(result: Result, against: str = "", units: str | None = None) -> Picture:
    """The picture of a result.

    `heat.slip_on`: size of bore and seat against their temperature, or `against="time"`.
    `heat.seating`: gap against press force. `heat.oven` and `heat.chill`: ring temperature against
    shaft temperature.

    `units` is "metric" or "inch".

    >>> import fitwright as fw
    >>> shaft = fw.Shaft(bore="30 mm", seat="80 mm", material="4340")
    >>> ring = fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100")
    >>> on = fw.heat.slip_on(shaft=shaft, ring=ring, interference="38 um", oven="115 degC")
    >>> answer = fw.heat.draw(on, against="time")
    """
    from fitwright.heat import pictures, seating_picture

    if isinstance(result, SlipOnResult):
        of = pictures.size_against_time if against == "time" else pictures.size_against_temperature
        return of(result, units)
    if isinstance(result, SeatingResult):
        return seating_picture.gap_against_press(result, units)
    if isinstance(result, OvenResult | ChillResult):
        return pictures.ring_against_shaft(result, units)
    raise InputError([("", f"there is no picture of {result._model}")])
