"""A short run of the attack, with fixed seeds and counted in cases; `make hard` is the long one.

What was found is kept in corpus/ and asked again for ever.
"""

from __future__ import annotations

import tomllib
import warnings
from pathlib import Path
from random import Random

import attack
import fitwright as fw
import job_grammar
import large_jobs
import model_calls
import pytest
import questions
from faults import LONG, limits, python, some
from fitwright.job.size_limits import LIMITS

CORPUS = Path(__file__).parent / "corpus"


def expected(text: str) -> str:
    """The first line of a kept case says what must come of it: "refused" or "answered"."""
    return text.split("\n", 1)[0].removeprefix("#").split(":")[0].strip()


@pytest.mark.parametrize("path", sorted(CORPUS.glob("*.toml")), ids=lambda path: path.stem)
def test_what_was_found_once_holds(path, tmp_path):
    text = path.read_text(encoding="utf-8")
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for seed in range(3 if LONG else 1):
            assert questions.ask_job(text, Random(seed)) == expected(text)
        if expected(text) == "answered":
            job = fw.Job.loads(text)
            job.draw(tmp_path / "x.svg")
            job.sheet(tmp_path / "x.html")
            page = (tmp_path / "x.html").read_text(encoding="utf-8")
            assert page.replace("\n", "").replace("\N{NO-BREAK SPACE}", "").isprintable()


@pytest.mark.parametrize("batch", range(6 if LONG else 2))
def test_job_files_are_jobs_or_are_refused(batch):
    counts = {"refused": 0, "answered": 0}
    for number in range(batch * 150, (batch + 1) * 150):
        counts[attack.run_case("job", 19, number)] += 1
    assert counts["answered"] > 15, "the grammar makes no jobs any more"
    assert counts["refused"] > 50, "the mutations spoil nothing any more"


@pytest.mark.parametrize("name", model_calls.NAMES)
def test_a_model_answers_with_numbers_or_refuses(name):
    counts = {"refused": 0, "answered": 0}
    for number in range(60 if LONG else 20):
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            counts[model_calls.call_model(name, Random(f"{name} {number}"))] += 1
    assert counts["answered"] > (2 if LONG else 0)


def test_the_grammar_writes_what_it_means():
    for number in range(50):
        document = job_grammar.legal(Random(number))
        assert tomllib.loads(job_grammar.toml(document)) == document


#: Files as long as a file may be, and longer, of one kind each.
LIMIT = '[[limit]]\\noutput = "rings.*.{}"\\nat_least = "0.1"\\n'
LARGE = {
    "tables": "''.join(f'[a{i}]\\n' for i in range(110_000))",
    "rings": "'[[ring]]\\n' * 110_000",
    "limits": f"demo + '{LIMIT.format('grip_left')}' * 15_000",
    "limits that are told": f"demo + '{LIMIT.format('grip_left')}' * 990",
    "limits of nothing": f"demo + '{LIMIT.format('grip')}' * 900",
    "keys": "demo + ''.join(f'a{i} = 1\\n' for i in range(40_000))",
    "unknown keys": "demo.replace('[nut]', '[nut]\\n' + '\\n'.join(f'a{i}=1' for i in range(999)))",
    "parts": "demo + '[[step]]\\nname = \"a\"\\nparts = [\\n' + '\"a\",\\n' * 60_000 + ']\\n'",
    "readings": "demo + 'x = [' + '1,\\n' * 150_000 + ']'",
    "dotted": "''.join('a.' * 400 + f'b{i} = 1\\n' for i in range(1000))",
    "inline": "''.join(f'a{i} = ' + '{a = ' * 100 + '1' + '}' * 100 + '\\n' for i in range(900))",
    "states": "demo + ''.join(f'[[state]]\\nname = \"x{i}\"\\n' for i in range(20_000))",
    "names": "demo + ''.join(f'[[seat]]\\nname = \"{\"a\" * 900}\"\\n' for i in range(48))",
    "text": "'a' * 10**6",
}
REFUSED = """
import fitwright as fw, resource, sys
from importlib import resources
demo = (resources.files("fitwright") / "demos" / "blower.toml").read_text()
fw.Job.loads(demo)
text = {text}
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
try:
    fw.Job.loads(text)
except fw.InputError as error:
    assert error.problems
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""


@pytest.mark.parametrize("kind", some(LARGE, 5))
def test_a_large_file_takes_little_memory(kind, tmp_path):
    done = python(REFUSED.format(text=LARGE[kind]), tmp_path, limits(CPU=20))
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) < 100_000  # kB


def test_the_largest_job_that_may_be_is_one():
    """As many rings, states, seals and steps as there may be at once."""
    most = {name: limit for name, (limit, _) in LIMITS.items()}
    rings, states = large_jobs.rings(most["rings"]), large_jobs.states(most["states"])
    rest = large_jobs.SHAFT_AND_NUT + large_jobs.LOCK
    job = fw.Job.loads(rest + states + rings)
    assert len(job.states) == most["states"]
    assert len(job.core.steps()) <= most["steps"]
    assert job.evaluate("quick")["s99", "rings.r47.pressure"] > 0.0
    for kind, row in (("state", states), ("ring", rings)):
        more = row.split("[[")[1].replace('0"', 'x"', 1)
        with pytest.raises(fw.InputError, match=f"{kind}: .* at most {most[kind + 's']} "):
            fw.Job.loads(rest + states + rings + "[[" + more)
