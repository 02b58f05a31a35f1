"""One model asked as a job is: `fw.single`, and each verb in one call."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from fitwright.face.verbs import Verbs
from fitwright.fields.arguments import checked
from fitwright.fields.units import Number
from fitwright.studies.single import SingleModel, single_model

if TYPE_CHECKING:
    from fitwright.job.derivatives import Derivatives
    from fitwright.studies.function import Function
    from fitwright.studies.indices import SobolIndices
    from fitwright.studies.rare import RareFailures
    from fitwright.studies.result import Study
    from fitwright.studies.solve import Solution
    from fitwright.studies.sweep import Sweep
    from fitwright.studies.worst_case import WorstCases

__all__ = [
    "Single",
    "derivatives",
    "function",
    "rare_failures",
    "single",
    "sobol_indices",
    "solve",
    "study",
    "sweep",
    "worst_case",
]

#: A model as fw.rings.fit is one, or its name, "rings.fit".
Model = Callable[..., Any] | str
Limits = Mapping[str, Any]
Pairs = Mapping[tuple[str, str], float]


@checked
class Single(Verbs, SingleModel):
    """One model with its inputs told, made by `fw.single`: it is asked as a job is.

    `.study()`, `.solve()`, `.sweep()`, `.worst_case()`, `.derivatives()`, `.sobol_indices()`,
    `.rare_failures()`, `.function()` and the rest. Inputs are named by path ("shaft.seat"); where a
    job has a state, "as_given" stands.
    """


def single(
    model: Model,
    *,
    limits: Limits | None = None,
    correlations: Pairs | None = None,
    **inputs: Any,
) -> Single:
    """One model with its inputs told, to be asked as a job is. Nothing changes in place.

    Inputs are those of a call of the model; a number that scatters is told as in a job file, by a
    table of its value and spread, and a part as an object or as a table of its fields. Limits are
    those that the outputs declare (yield uses, say), and what is told here.

    Parameters
    ----------
    model : fw.rings.fit, or "rings.fit"
    limits : by output, {"holding_force": (">=", "30 kN")} or {"at_least": ..., "at_most": ...}
    correlations : of normal scores, {("shaft.seat", "ring.bore"): 0.5}

    Raises
    ------
    InputError : naming each input by path, with the value, the rule and the unit

    Example
    -------
    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> fit = fw.single(fw.rings.fit, limits={"holding_force": (">=", "30 kN")}, **parts)
    >>> answer = fit.study(10_000, progress=False).pass_rate
    """
    return single_model(Single, model, inputs, limits, correlations)


def study(
    model: Model,
    samples: int = 100_000,
    *,
    seed: int = 1,
    outputs: str | Sequence[str] | None = None,
    threads: int | None = None,
    progress: bool | None = None,
    design: str = "plain",
    executor: Any = None,
    checkpoint: str | os.PathLike[str] | None = None,
    keep: str | Sequence[str] = (),
    until_width: float | None = None,
    columns_to: str | os.PathLike[str] | None = None,
    limits: Limits | None = None,
    correlations: Pairs | None = None,
    **inputs: Any,
) -> Study:
    """A Monte Carlo study of one model over all that scatters: `fw.single(...)`, then its `study`,
    with the options of `Job.study`.

    `inputs` are those of a call of the `model`, which may be told with spreads; `limits` and
    `correlations` as in `fw.single`. `samples` are drawn with `seed` by the `design`, on `threads`
    or an `executor`, with or without a bar of `progress`; `outputs` are those that are counted.
    `checkpoint` and `columns_to` are folders, `keep` names outputs whose samples are kept, and
    `until_width` stops when the interval of the pass rate is that narrow.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> limits = {"holding_force": (">=", "30 kN")}
    >>> answer = fw.study(fw.rings.fit, 10_000, limits=limits, progress=False, **parts)
    """
    asked = single(model, limits=limits, correlations=correlations, **inputs)
    return asked.study(
        samples,
        seed=seed,
        outputs=outputs,
        threads=threads,
        progress=progress,
        design=design,
        executor=executor,
        checkpoint=checkpoint,
        keep=keep,
        until_width=until_width,
        columns_to=columns_to,
    )


def solve(
    model: Model,
    *,
    vary: str,
    output: str,
    target: Number,
    between: tuple[Number | None, Number | None] | None = None,
    **inputs: Any,
) -> Solution[Single]:
    """The value of one input of a model at which an output reaches its target.

    `.value`, and `.job`, the model with that value. What is worked out when it is left out can be
    varied too: the interference of `rings.fit`. `vary` and `output` are paths, `target` what the
    output is to be, `between` the ends of the search, `inputs` those of a call of the `model`.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> found = fw.solve(
    ...     fw.rings.fit, vary="ring.length", output="holding_force", target="40 kN", **parts
    ... )
    >>> answer = found.value
    """
    return single(model, **inputs).solve(vary=vary, output=output, target=target, between=between)


def sweep(
    model: Model,
    ranges: Mapping[str, tuple[Number, Number, int] | Sequence[Number]],
    outputs: str | Sequence[str] | None = None,
    *,
    limits: Limits | None = None,
    **inputs: Any,
) -> Sweep:
    """One or several inputs of a model over (from, to, how many) or a list; several are paired up.

    `ranges` are by path of the input, `outputs` what is looked at (all when left out); `limits` and
    `inputs` as in `fw.single`.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> ranges = {"shaft.seat": ("80.02 mm", "80.06 mm", 9)}
    >>> answer = fw.sweep(fw.rings.fit, ranges, "holding_force", **parts)
    """
    return single(model, limits=limits, **inputs).sweep(ranges, outputs)


def worst_case(
    model: Model,
    output: str | None = None,
    *,
    budget: int = 20_000,
    limits: Limits | None = None,
    **inputs: Any,
) -> WorstCases:
    """Least and greatest value of an output, or of all that have limits, over all ends of the
    scatter. Of one model they are found by search, not proven as those of a job are.

    `budget` bounds how many times the `model` is asked; `limits` and `inputs` as in `fw.single`.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> answer = fw.worst_case(fw.rings.fit, "holding_force", **parts)
    """
    return single(model, limits=limits, **inputs).worst_case(path=output, budget=budget)


def derivatives(model: Model, **inputs: Any) -> Derivatives:
    """Exact derivative of every output of a model to every input (SI): ("as_given", output, input).

    `inputs` are those of a call of the `model`.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> answer = fw.derivatives(fw.rings.fit, **parts).table("as_given", "holding_force")
    """
    return single(model, **inputs).derivatives()


def sobol_indices(
    model: Model,
    samples: int = 16_384,
    *,
    seed: int = 1,
    outputs: str | Sequence[str] | None = None,
    threads: int | None = None,
    progress: bool | None = None,
    limits: Limits | None = None,
    correlations: Pairs | None = None,
    **inputs: Any,
) -> SobolIndices:
    """Share of the variance of outputs of a model that each scattering input makes.

    `samples` of each input are drawn with `seed` on `threads`, with or without a bar of `progress`;
    `outputs` are those asked for, `limits`, `correlations` and `inputs` as in `fw.single`.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> answer = fw.sobol_indices(
    ...     fw.rings.fit, 1024, outputs="holding_force", progress=False, **parts
    ... )
    """
    asked = single(model, limits=limits, correlations=correlations, **inputs)
    wanted = [outputs] if isinstance(outputs, str) else outputs
    return asked.sobol_indices(
        samples, seed=seed, outputs=wanted, threads=threads, progress=progress
    )


def rare_failures(
    model: Model,
    samples: int = 200_000,
    *,
    seed: int = 1,
    until: float | None = 0.1,
    starts: int = 4,
    threads: int | None = None,
    limits: Limits | None = None,
    correlations: Pairs | None = None,
    **inputs: Any,
) -> RareFailures:
    """How often any limit of a model fails, however rarely: see `Job.rare_failures`.

    At most `samples` are drawn with `seed` on `threads`, fewer where half the interval is already a
    share `until` of the probability; `starts` searches look for where it fails first. `limits`,
    `correlations` and `inputs` as in `fw.single`.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> limits = {"holding_force": (">=", "20 kN")}
    >>> answer = fw.rare_failures(fw.rings.fit, 20_000, limits=limits, **parts).probability
    """
    asked = single(model, limits=limits, correlations=correlations, **inputs)
    return asked.rare_failures(samples, seed=seed, until=until, starts=starts, threads=threads)


def function(
    model: Model,
    inputs: Sequence[str],
    outputs: Sequence[str],
    *,
    outside: str = "raise",
    threads: int | None = None,
    limits: Limits | None = None,
    **told: Any,
) -> Function:
    """A model as a function of arrays, `f(X) -> Y`, with `f.jacobian(X)`: see `Job.function`.

    `inputs` and `outputs` are paths, in the order of the columns of X and Y; `told` are the inputs
    of a call of the `model`. `outside="nan"` answers NaN where the model refuses, and no error;
    rows are shared out to `threads`. `limits` as in `fw.single`.

    >>> import fitwright as fw
    >>> seat = {"value": "80.04 mm", "spread": "normal", "deviation": "2 um"}
    >>> parts = {
    ...     "shaft": fw.Shaft(seat=seat, material="4340"),
    ...     "ring": fw.Ring(bore="80 mm", outside="105 mm", length="30 mm", material="52100"),
    ... }
    >>> f = fw.function(fw.rings.fit, ["shaft.seat"], ["holding_force"], **parts)
    >>> answer = f([0.08004])[0]
    """
    return single(model, limits=limits, **told).function(
        inputs, outputs, outside=outside, threads=threads
    )
