"""Commands that ask a job: study, solve, sweep."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from fitwright.commands.answer import Answer, add_job, load
from fitwright.fields.errors import InputError
from fitwright.job.findings import evaluate

__all__ = ["add"]


def add(commands: Any, form: argparse.ArgumentParser) -> None:
    study = commands.add_parser("study", parents=[form], help="how often every limit holds")
    add_job(study)
    study.add_argument("--samples", type=int, default=100_000)
    study.add_argument("--seed", type=int, default=1)
    study.add_argument("--level", choices=("quick", "history", "heating"))
    study.add_argument("--plot", type=Path, help="histogram of what is most at risk, to a file")
    study.set_defaults(run=run_study)
    solve = commands.add_parser("solve", parents=[form], help="the input that reaches a target")
    add_job(solve)
    solve.add_argument("--vary", required=True, help="path of the input, as nut.torque")
    solve.add_argument("--output", required=True, help="path of the output")
    solve.add_argument("--target", required=True, help="value with its unit, as 10kN")
    solve.add_argument("--state", help="the first one when left out")
    solve.add_argument("--between", nargs=2, metavar=("LOW", "HIGH"))
    solve.set_defaults(run=run_solve)
    sweep = commands.add_parser("sweep", parents=[form], help="outputs over a range of an input")
    add_job(sweep)
    sweep.add_argument("--vary", required=True, help="path of the input")
    sweep.add_argument("--range", nargs=3, required=True, metavar=("FROM", "TO", "COUNT"))
    sweep.add_argument("--outputs", nargs="+", help="paths; those with a limit when left out")
    sweep.add_argument("--plot", type=Path, help="picture, to a file")
    sweep.set_defaults(run=run_sweep)


def run_study(given: argparse.Namespace) -> Answer:
    from fitwright.charts.picture import save

    job, _ = load(given)
    study = job.study(given.samples, seed=given.seed, level=given.level)
    lines = [str(study.table(units=given.units))]
    if study.at_risk:
        risk = study.at_risk[0]
        lines.append(f"\nMost at risk: {risk.path} in {risk.state}, kept in {risk.pass_rate:.2%}.")
        lines.append(str(study.sensitivity(risk.state, risk.path, units=given.units)))
    if given.plot is not None:
        save(study.plot(), given.plot)
        lines.append(f"Written: {given.plot}")
    more = {"pass_rate": study.pass_rate, "interval": list(study.interval), "seed": study.seed}
    return Answer("\n".join(lines), study.to_dict(), more)


def run_solve(given: argparse.Namespace) -> Answer:
    job, _ = load(given)
    between = None if given.between is None else (given.between[0], given.between[1])
    found = job.solve(
        vary=given.vary,
        output=given.output,
        target=given.target,
        state=given.state,
        between=between,
    )
    state = given.state or job.states[0]
    findings = evaluate(found.job)
    value, reached = found.value, findings[state, given.output]
    shown = [given.vary, value.shown(given.units), given.output, reached.shown(given.units), state]
    text = "{} = {} gives {} = {} in {}".format(*shown)
    digest = findings.digest(given.units)
    lines = [text, f"with it: {digest.headline}"]
    lines += [f"  NOT MET  {f.path} in {f.state}: {f.value}" for f in digest.not_met]
    record = {
        "vary": given.vary,
        "value": float(value),
        "output": given.output,
        "state": state,
        "reached": float(reached),
        "limits_met": findings.passed,
    }
    return Answer("\n".join(lines), [record])


def run_sweep(given: argparse.Namespace) -> Answer:
    from fitwright.charts.picture import save

    job, _ = load(given)
    low, high, count = given.range
    if not count.isdigit() or int(count) < 2:
        raise InputError([("range", f'"{count}" must be a whole number of points from 2')])
    swept = job.sweep({given.vary: (low, high, int(count))}, outputs=given.outputs)
    lines = [str(swept.table(given.units, rows=int(count)))]
    if given.plot is not None:
        save(swept.plot(), given.plot)
        lines.append(f"Written: {given.plot}")
    return Answer("\n".join(lines), swept.to_dict())
