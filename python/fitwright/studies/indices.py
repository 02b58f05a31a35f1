"""Sobol' indices: which share of an output's variance each input makes, alone and with others."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fitwright import _core
from fitwright.fields.arguments import checked
from fitwright.fields.errors import InputError
from fitwright.fields.tables import Table
from fitwright.studies.options import StudyOptions, check_run, progress_bar

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from fitwright.job.value import Job

#: Samples per thread between two looks at the keyboard; each is evaluated once per input and twice.
BLOCK = 4096


@dataclass(frozen=True)
class InputShare:
    """Shares of the variance of an output, each with half of its 95 % interval."""

    #: its path; those of inputs that are tied to each other, which go as one, with + between
    input: str
    #: what this input makes alone
    first: float
    first_half: float
    #: what this input makes alone and together with others
    total: float
    total_half: float


def run_indices(
    job: Job,
    samples: int,
    seed: int,
    outputs: str | Sequence[tuple[str, str]] | Sequence[str] | None,
    threads: int | None,
    progress: bool | None,
) -> SobolIndices:
    problems = StudyOptions(samples, seed, None, threads, progress).problems()
    check_run(job, problems, job.level)
    numbers = [row[0] for row in job.core.limits()] if outputs is None else []
    for wanted in [outputs] if isinstance(outputs, str) else outputs or ():
        if isinstance(wanted, str):
            found = [i for i, (_, path, *_) in enumerate(job.output_rows) if path == wanted]
            if not found:
                job.core.output(job.states[0], wanted)  # raises, with the nearest paths
            numbers += found
        else:
            numbers.append(job.core.output(*wanted))
    numbers = list(dict.fromkeys(numbers))
    if not numbers:
        raise InputError([("outputs", "none to look at; set a limit or name some")])
    spreads = list(job.spreads.values())
    run = _core.IndexRun(job.core, spreads, numbers, seed, samples, job.tied())
    workers = threads or os.cpu_count() or 1
    bar = progress_bar(samples, sys.stderr.isatty() if progress is None else progress)
    stopped = False
    try:
        while run.done < samples:
            before = run.done
            run.advance(BLOCK * workers, workers)
            bar.update(run.done - before)
    except KeyboardInterrupt:
        if run.done == 0:
            raise
        stopped = True  # what is done is kept
    finally:
        bar.close()
    if run.out_of_domain == run.evaluations:
        raise InputError([("job", "no sample can be evaluated; study() tells the first fault")])
    return SobolIndices(job, run, numbers, seed, stopped)


@checked
class SobolIndices:
    """First-order and total indices of some outputs; `.table()`, `.plot()`, `[state, path]`."""

    def __init__(
        self, job: Job, run: _core.IndexRun, numbers: list[int], seed: int, stopped: bool
    ) -> None:
        self.job, self.seed, self.stopped = job, seed, stopped
        self._run = run
        self.samples: int = run.done
        self.evaluations: int = run.evaluations
        #: evaluations of these
        self.out_of_domain: int = run.out_of_domain
        #: (state, path) of the outputs, in order
        self.outputs: list[tuple[str, str]] = [
            (state, path) for state, path, *_ in (job.output_rows[i] for i in numbers)
        ]

    def _number(self, state: str | None, path: str | None) -> int:
        if state is None or path is None:
            for number in range(len(self.outputs)):
                if self._run.varies(number):
                    return number
            return 0
        if (state, path) not in self.outputs:
            self.job.core.output(state, path)  # raises when there is no such output
            raise InputError([(path, f'was not looked at; pass outputs=[("{state}", "{path}")]')])
        return self.outputs.index((state, path))

    def __getitem__(self, key: tuple[str, str]) -> list[InputShare]:
        """Shares of every input in one output by state and path, the largest total first."""
        return self._shares(self._number(*key))

    def _shares(self, number: int) -> list[InputShare]:
        shares = []
        names = list(self.job.spreads)
        for k, group in enumerate(self._run.groups):
            found = self._run.indices(number, k)
            shares.append(
                InputShare(
                    " + ".join(names[place] for place in group),
                    found.first.value,
                    found.first.half,
                    found.total.value,
                    found.total.half,
                )
            )
        return sorted(shares, key=lambda share: -share.total)

    def table(self, state: str | None = None, path: str | None = None) -> Table:
        """Every input that matters to one output; by default the first that varies."""
        number = self._number(state, path)
        state, path = self.outputs[number]
        rows = [
            [
                share.input,
                f"{share.first:.4f}",
                f"{share.first_half:.4f}",
                f"{share.total:.4f}",
                f"{share.total_half:.4f}",
            ]
            for share in self._shares(number)
            if share.total != 0.0 or share.first != 0.0
        ]
        title = f"{path} in {state}: shares of its variance, {self.samples} samples, seed "
        title += f"{self.seed}, each with half of its 95 % interval"
        if not self._run.varies(number):
            title = f"{path} in {state} does not vary"
        if self.stopped:
            title += "; stopped by hand"
        if self.out_of_domain:
            title += (
                f"; {self.out_of_domain} of {self.evaluations} evaluations out of domain, left out"
            )
        return Table(["input", "first order", "+-", "total", "+- "], rows, title)

    def plot(self, state: str | None = None, path: str | None = None, most: int = 12) -> Axes:
        """First-order and total share of the inputs that matter most, with their intervals."""
        from fitwright.charts.indices import index_bars

        number = self._number(state, path)
        shares = self._shares(number)[:most]
        axes = index_bars(
            [share.input for share in shares],
            [(share.first, share.first_half) for share in shares],
            [(share.total, share.total_half) for share in shares],
        )
        state, path = self.outputs[number]
        axes.set_title(f"{path} in {state}")
        return axes

    def __repr__(self) -> str:
        return str(self.table())

    def _repr_html_(self) -> str:
        return self.table()._repr_html_()
