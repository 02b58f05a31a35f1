"""The attack on the house: `make hard`, or python tests/hard/attack.py --cases 1000000 --seed 7.

Cases are numbered; a case is all that its number and the seed say, whoever runs it. Workers take
them in batches and tell each number before they begin it, so that a crash or a hang has a name too.
What is found is written to build/hard with the line that makes it again.
"""

from __future__ import annotations

import argparse
import collections
import multiprocessing
import multiprocessing.connection
import os
import resource
import sys
import time
import traceback
import warnings
from pathlib import Path
from random import Random
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

import job_grammar
import model_calls
import questions

ROOT = Path(__file__).resolve().parents[2]
KINDS = ("job", "model")
#: Processor seconds that one case may take.
LONGEST = 10.0
#: Bytes of address space of a worker: a case that wants more is found as an error.
MEMORY = 6 << 30


def run_case(kind: str, seed: int, number: int) -> str:
    """One case; "refused" or "answered". Raises what must not be."""
    random = Random(f"{kind} {seed} {number}")
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        if kind == "job":
            return questions.ask_job(job_grammar.job_text(random), random)
        name = model_calls.NAMES[number % len(model_calls.NAMES)]
        return model_calls.call_model(name, random)


def case_text(kind: str, seed: int, number: int) -> str:
    """What a case consists of, to be kept as a file."""
    if kind == "job":
        return job_grammar.job_text(Random(f"{kind} {seed} {number}"))
    return model_calls.NAMES[number % len(model_calls.NAMES)]


def _work(pipe: Any, kind: str, seed: int, numbers: range, memory: int) -> None:
    if memory:
        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    for number in numbers:
        pipe.send(("begin", number))
        began = time.process_time()
        try:
            outcome = run_case(kind, seed, number)
        except BaseException:
            pipe.send(("bad", number, traceback.format_exc()))
            outcome = "bad"
        took = time.process_time() - began
        if took > LONGEST:
            pipe.send(("bad", number, f"took {took:.1f} s of processor time"))
        pipe.send(("end", number, outcome, took))
    pipe.send(("done",))


class Run:
    """Workers under watch."""

    def __init__(
        self, kind: str, seed: int, cases: int, workers: int, memory: int, first: int = 0
    ) -> None:
        self.kind, self.seed, self.memory = kind, seed, memory
        self.batches = collections.deque(
            range(k, min(k + 200, first + cases)) for k in range(first, first + cases, 200)
        )
        self.workers = workers
        self.found: list[tuple[int, str]] = []
        self.counts: collections.Counter[str] = collections.Counter()
        self.slowest = (0.0, -1)

    def __call__(self) -> list[tuple[int, str]]:
        context = multiprocessing.get_context("fork")
        running: dict[Any, list[Any]] = {}
        while self.batches or running:
            while self.batches and len(running) < self.workers:
                numbers = self.batches.popleft()
                ours, theirs = context.Pipe(duplex=False)
                told = (theirs, self.kind, self.seed, numbers, self.memory)
                process = context.Process(target=_work, args=told)
                process.start()
                theirs.close()
                running[ours] = [process, numbers, None, _processor_time(process.pid)]
            for pipe in multiprocessing.connection.wait(list(running), timeout=1.0):
                self._hear(pipe, running)
            for pipe in list(running):
                process, _, at, since = running[pipe]
                # Twice the time: a case that ends by itself tells it, this one does not end.
                if at is not None and _processor_time(process.pid) - since > 2.0 * LONGEST:
                    process.kill()
                    self._lost(pipe, running, f"still running after {2.0 * LONGEST:.0f} s")
        return self.found

    def _hear(self, pipe: Any, running: dict[Any, list[Any]]) -> None:
        entry = running[pipe]
        try:
            message = pipe.recv()
        except EOFError:
            entry[0].join()
            self._lost(pipe, running, f"the process ended with status {entry[0].exitcode}")
            return
        if message[0] == "begin":
            entry[2], entry[3] = message[1], _processor_time(entry[0].pid)
        elif message[0] == "bad":
            self._note(message[1], message[2])
        elif message[0] == "end":
            self.counts[message[2]] += 1
            self.slowest = max(self.slowest, (message[3], message[1]))
            entry[2] = None
        else:
            entry[0].join()
            del running[pipe]

    def _lost(self, pipe: Any, running: dict[Any, list[Any]], why: str) -> None:
        process, numbers, at, _ = running.pop(pipe)
        process.join()
        if at is None:
            at = numbers.start
        self._note(at, why)
        self.counts["bad"] += 1
        if at + 1 < numbers.stop:
            self.batches.append(range(at + 1, numbers.stop))

    def _note(self, number: int, why: str) -> None:
        self.found.append((number, why))
        folder = ROOT / "build" / "hard"
        folder.mkdir(parents=True, exist_ok=True)
        name = f"{self.kind}-{self.seed}-{number}"
        (folder / f"{name}.txt").write_text(why, encoding="utf-8", errors="backslashreplace")
        if self.kind == "job":
            text = case_text(self.kind, self.seed, number)
            (folder / f"{name}.toml").write_text(text, encoding="utf-8", errors="replace")
        print(f"\n{why.strip().splitlines()[-1]}", file=sys.stderr)
        print(f"  again: {_again(self.kind, self.seed, number)}", file=sys.stderr, flush=True)


def _again(kind: str, seed: int, number: int) -> str:
    return f"python tests/hard/attack.py --kind {kind} --seed {seed} --only {number}"


def _processor_time(pid: int | None) -> float:
    try:
        fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
    except OSError:
        return 0.0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=20_000, help="of each kind")
    parser.add_argument("--seed", type=int, default=int(time.time()))
    parser.add_argument("--kind", choices=KINDS, action="append")
    parser.add_argument("--only", type=int, help="one case, in this process")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--memory", type=int, default=MEMORY, help="of a worker; 0: as it is")
    given = parser.parse_args()
    kinds = given.kind or list(KINDS)
    if given.only is not None:
        print(case_text(kinds[0], given.seed, given.only))
        print(run_case(kinds[0], given.seed, given.only))
        return 0
    print(f"seed {given.seed}")
    bad = 0
    for kind in kinds:
        run = Run(kind, given.seed, given.cases, given.workers, given.memory)
        found = run()
        bad += len(found)
        told = ", ".join(f"{count} {word}" for word, count in sorted(run.counts.items()))
        slowest, at = run.slowest
        print(f"{kind}: {told}; slowest {slowest:.2f} s of processor time (case {at})", flush=True)
    print("nothing found" if not bad else f"{bad} found; see build/hard")
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main())
