"""What is asked of a job, and what must hold of every answer: an InputError with text, or numbers
that are numbers."""

from __future__ import annotations

import math
import pickle
from collections.abc import Callable
from random import Random
from typing import Any

import fitwright as fw
import numpy as np


class Broken(AssertionError):
    """An answer that must not be."""


def _finite(name: str, values: Any) -> None:
    if not np.all(np.isfinite(np.asarray(values, dtype=np.float64))):
        raise Broken(f"{name}: not a number, or without end, that nobody has named")


def check_error(error: fw.InputError) -> None:
    """Each problem has text, all of it can be shown, none is longer than a screen."""
    if not error.problems or not all(text for _, text in error.problems):
        raise Broken("an InputError without text")
    lines = str(error).split("\n")
    if not all(line.isprintable() for line in lines):
        raise Broken(f"an error that a screen would obey: {str(error)[:200]!r}")
    if max(map(len, lines)) > 2300:
        raise Broken("an error longer than a screen")


def _evaluate(job: fw.Job, random: Random) -> None:
    findings = job.evaluate("quick")
    _finite("findings", findings._numbers)
    for finding in findings:
        _finite(f"{finding.path} in {finding.state}", [finding.margin, finding.reserve])
    # A ring may be called nan.
    if "nan" not in job.file.text and "nan" in repr(findings).split():
        raise Broken("nan in a table")


def _derivatives(job: fw.Job, random: Random) -> None:
    _finite("derivatives", job.core.jacobian()[1])


def _study(job: fw.Job, random: Random) -> None:
    _look_at(job.study(300, seed=random.randrange(1000), level="quick", progress=False))


def _study_of_levels(job: fw.Job, random: Random) -> None:
    levels = {"quick": 100, "history": 16, "heating": 16}
    _look_at(job.study(seed=random.randrange(1000), levels=levels, progress=False))


def _look_at(study: fw.Study) -> None:
    _finite("pass rate", [study.pass_rate, *study.interval])
    for finding in study:
        s = finding.statistics
        if s.count:
            _finite(f"study of {finding.path}", [s.mean, s.deviation, s.skewness])
    repr(study)


def _sensitivity(job: fw.Job, random: Random) -> None:
    repr(job.study(50, level="quick", progress=False).sensitivity())


def _replace(job: fw.Job, random: Random) -> None:
    path, *_ = random.choice(job.input_rows)
    value = random.choice([0.0, -1.0, 1e9, float(job[path]) * 1.01, "1 mm", "300 K", None, [1.0]])
    job.replace({path: value}).evaluate("quick")


def _solve(job: fw.Job, random: Random) -> None:
    path, *_ = random.choice(job.input_rows)
    state, output, *_ = random.choice(job.output_rows)
    job.solve(vary=path, output=output, state=state, target=random.choice([0.0, 1.0, 1e4, -1e9]))


def _sweep(job: fw.Job, random: Random) -> None:
    path, *_ = random.choice(job.input_rows)
    here = float(job[path])
    if not math.isfinite(here):
        here = 1.0
    swept = job.sweep({path: (here * 0.99, here * 1.01 + 1e-9, 7)})
    for column in swept.outputs.values():
        _finite("sweep", column)
    repr(swept)


def _history(job: fw.Job, random: Random) -> None:
    findings = job.evaluate("history")
    _finite("history", findings._numbers)


def _heating(job: fw.Job, random: Random) -> None:
    _finite("heating", job.evaluate("heating")._numbers)


def _pickled(job: fw.Job, random: Random) -> None:
    again = pickle.loads(pickle.dumps(job))
    if list(again._core.values()) != list(job.core.values()):
        raise Broken("a job that changes when it is pickled")


def _tables(job: fw.Job, random: Random) -> None:
    units = random.choice(["metric", "inch"])
    for table in (job.inputs(units), job.evaluate("quick").table(units, all_states=True)):
        text = str(table) + table._repr_html_()
        if not text.replace("\n", "").isprintable():
            raise Broken("a table that a screen would obey")


#: The verbs of a job, and how often each is asked: what takes its time seldom.
VERBS: tuple[tuple[Callable[[fw.Job, Random], None], float], ...] = (
    (_evaluate, 1.0),
    (_derivatives, 0.5),
    (_study, 0.4),
    (_sensitivity, 0.2),
    (_replace, 0.5),
    (_solve, 0.3),
    (_sweep, 0.3),
    (_tables, 0.3),
    (_pickled, 0.1),
    (_history, 0.1),
    (_heating, 0.03),
    (_study_of_levels, 0.03),
)


def ask_job(text: str, random: Random) -> str:
    """ "refused", or "answered" where the file is a job. Raises what must not be raised."""
    try:
        job = fw.Job.loads(text)
    except fw.InputError as error:
        check_error(error)
        return "refused"
    for verb, often in VERBS:
        if random.random() < often:
            try:
                verb(job, random)
            except fw.InputError as error:
                check_error(error)
    return "answered"
