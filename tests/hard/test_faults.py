"""What happens when the machine fails: killed, full, refused, limited, two at once, stopped."""

from __future__ import annotations

import json
import os
import shutil
import signal
import stat
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from random import Random

import fitwright as fw
import large_jobs
import numpy as np
import pytest
from faults import LONG, begun, interrupt, limits, python, some
from fitwright.studies.checkpoint import MAGIC

SAMPLES = 400_000  # six blocks and a bit, and three of histories
STUDY = """
import fitwright as fw, sys
levels = {{"quick": {samples}, "history": {samples} // 650}}
study = fw.demo("blower").study(
    {samples}, seed={seed}, checkpoint={folder!r}, levels=levels, progress=False
)
print(study.pass_rate.hex(), [f.statistics.mean.hex() for f in study][:40])
"""


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """What the study says when nothing happens."""
    folder = tmp_path_factory.mktemp("whole")
    done = python(STUDY.format(samples=SAMPLES, seed=7, folder="kept"), folder)
    assert done.returncode == 0, done.stderr
    return done.stdout


# -- killed ---------------------------------------------------------------------------------------


def test_killed_at_random_moments_a_study_carries_on_to_the_same_bits(whole, tmp_path):
    random, kills = Random(19), 0
    script = STUDY.format(samples=SAMPLES, seed=7, folder="kept")
    while kills < (20 if LONG else 4):
        process = begun(script, tmp_path)
        time.sleep(random.uniform(0.3, 1.6))
        if process.poll() is not None:
            for block in list((tmp_path / "kept").glob("*block-*"))[::2]:
                block.unlink()  # it came to its end: half of the work once more
        process.kill()
        process.communicate()
        kills += 1
    done = python(script, tmp_path)
    assert done.stdout == whole, done.stderr


def test_a_worker_that_is_killed_is_told(demo):
    with ProcessPoolExecutor(1) as executor:
        executor.submit(os.kill, executor.submit(os.getpid).result(), signal.SIGKILL)
        with pytest.raises(fw.InputError, match="executor: has lost a worker"):
            demo.study(200_000, executor=executor, level="quick", progress=False)


# -- two at once ----------------------------------------------------------------------------------


def test_two_studies_started_at_once_on_one_folder(tmp_path):
    """One of them has the folder, the other is told; none answers with blocks of the other."""
    alone = {
        seed: python(
            STUDY.format(samples=70_000, seed=seed, folder=f"alone{seed}"), tmp_path
        ).stdout
        for seed in (1, 2)
    }
    for number in range(8 if LONG else 1):
        scripts = [STUDY.format(samples=70_000, seed=s, folder=f"both{number}") for s in (1, 2)]
        processes = [begun(script, tmp_path) for script in scripts]
        answers = [process.communicate() for process in processes]
        refused = 0
        for seed, (out, err) in zip((1, 2), answers, strict=True):
            if out:
                assert out == alone[seed]
            else:
                assert "holds another study" in err
                refused += 1
        assert refused == 1


# -- what lies in the folder of a checkpoint ------------------------------------------------------


LEVELS = {"quick": 70_000, "history": 20}


def _study(job, folder, seed=3, levels=LEVELS):
    return job.study(seed=seed, levels=levels, checkpoint=folder, progress=False)


@pytest.fixture(scope="module")
def finished(demo, tmp_path_factory):
    folder = tmp_path_factory.mktemp("finished")
    return folder, _study(demo, folder)


@pytest.fixture
def kept(finished, tmp_path):
    """A folder with the finished blocks of a study, and the study."""
    folder, study = finished
    shutil.copytree(folder, tmp_path / "kept")
    return tmp_path / "kept", study


def _same(study, other):
    assert study.pass_rate == other.pass_rate
    assert [f.statistics.mean for f in study] == [f.statistics.mean for f in other]


@pytest.mark.parametrize("seed", [3, 4])
def test_blocks_without_their_manifest_answer_for_their_own_study_alone(demo, kept, seed):
    folder, study = kept
    (folder / "study.json").unlink()
    if seed == 3:
        _same(study, _study(demo, folder))
    else:
        with pytest.raises(fw.InputError, match="holds another study"):
            _study(demo, folder, seed)


@pytest.mark.parametrize("levels", [{"quick": 70_000}, {"quick": 70_000, "history": 21}])
def test_blocks_of_other_levels_are_of_another_study(demo, kept, levels):
    folder, _ = kept
    with pytest.raises(fw.InputError, match="holds another study"):
        _study(demo, folder, levels=levels)


def test_a_block_of_one_level_does_not_answer_for_another(demo, kept):
    folder, study = kept
    for level in ("", "history-"):
        shutil.copy(folder / "block-00000000", folder / f"{level}block-00000001")
    shutil.copy(folder / "block-00000001", folder / "history-block-00000000")
    _same(study, _study(demo, folder))


def _forged(block: bytes, change) -> bytes:
    """A block with other numbers and a hash that agrees."""
    import hashlib

    head, body = block[: len(MAGIC) + 32], bytearray(block[len(MAGIC) + 64 :])
    change(body)
    return head + hashlib.sha256(head + b"quick" + bytes(body)).digest() + bytes(body)


def _counts_more(body):
    body[56 + 8 :] = body[56 + 8 :][::-1]


def _with(place: slice, data: bytes):
    def change(block: bytes) -> bytes:
        return _forged(block, lambda body: body.__setitem__(place, data))

    return change


FORGED = {
    "empty": lambda block: b"",
    "short": lambda block: block[:40],
    "cut": lambda block: block[: len(block) // 2],
    "a bit": lambda block: block[:500] + bytes([block[500] ^ 1]) + block[501:],
    "an older version": lambda block: block[len(MAGIC) + 32 :],
    "text": lambda block: b"not a block" * 100,
    "no numbers": lambda block: _forged(block, lambda body: body.clear()),
    "huge sizes": _with(slice(16, 24), b"\xff" * 7 + b"\x7f"),
    "minus": _with(slice(16, 24), b"\xff" * 8),
    "other place": _with(slice(0, 8), b"\x05" + b"\0" * 7),
    "turned": lambda block: _forged(block, _counts_more),
    "zeros": lambda block: _forged(block, lambda body: _zeros(body)),
    "nan": _with(slice(56, 64), b"\xff" * 8),
}


def _zeros(body):
    body[56:] = bytes(len(body) - 56)


@pytest.mark.parametrize("kind", FORGED)
def test_a_damaged_or_forged_block_is_run_again(demo, kept, kind):
    folder, study = kept
    block = folder / "block-00000000"
    block.write_bytes(FORGED[kind](block.read_bytes()))
    _same(study, _study(demo, folder))


@pytest.mark.parametrize(
    "manifest", [b"", b"{", b"[1]", b"\xff\xfe", b"[" * 50_000, b" " * 200_000, b'{"study": "x"}']
)
def test_a_manifest_that_is_none_is_told(demo, kept, manifest):
    folder, _ = kept
    (folder / "study.json").write_bytes(manifest)
    with pytest.raises(fw.InputError, match=r"study\.json|holds another study"):
        _study(demo, folder)


@pytest.mark.parametrize("name", ["study.json", "block-00000000"])
def test_a_pipe_in_the_folder_is_not_waited_for(demo, kept, name):
    folder, _ = kept
    (folder / name).unlink()
    os.mkfifo(folder / name)
    with pytest.raises(fw.InputError, match="it is not a file"):
        _study(demo, folder)


def test_nothing_on_disk_is_unpickled(kept):
    folder, _ = kept
    for path in folder.iterdir():
        assert b"\x80\x05" not in path.read_bytes()[:200]
    assert set(json.loads((folder / "study.json").read_text())) == {"study", "seed", "samples"}


# -- files ----------------------------------------------------------------------------------------

FULL = """
import fitwright as fw, sys
job = fw.demo("blower")
try:
    {call}
except fw.InputError as error:
    print(error)
    raise SystemExit(3)
"""
WRITES = {
    "draw": 'job.draw("out.svg")',
    "png": 'job.draw("out.png")',
    "sheet": 'job.sheet("out.html")',
    "checkpoint": 'job.study(100_000, level="quick", checkpoint="out", progress=False)',
    "columns": 'job.study(100_000, level="quick", keep="nut.force", columns_to="out")',
}


@pytest.mark.parametrize("kind", WRITES)
def test_a_full_disk_is_told_and_leaves_nothing_behind(kind, tmp_path):
    for name in ("out.svg", "out.png", "out.html"):
        (tmp_path / name).write_text("what was there")
    before = limits(FSIZE=10_000)  # no file can grow beyond
    done = python(FULL.format(call=WRITES[kind]), tmp_path, before)
    assert done.returncode == 3, done.stderr
    assert "cannot be written: File too large" in done.stdout
    left = [p for p in tmp_path.rglob("*") if p.is_file()]
    assert not [p for p in left if p.name.startswith(".") or p.suffix == ".part"]
    for name in ("out.svg", "out.png", "out.html"):
        assert (tmp_path / name).read_text() == "what was there"


@pytest.mark.parametrize("place", ["no such folder", "a file", "/proc"])
@pytest.mark.parametrize("kind", ["draw", "sheet"])
def test_where_nothing_can_be_written_it_is_told(demo, tmp_path, place, kind):
    (tmp_path / "a file").write_text("")
    name = "x.html" if kind == "sheet" else "x.svg"
    target = f"{place}/{name}" if place == "/proc" else tmp_path / place / name
    with pytest.raises(fw.InputError, match=rf"{name}: cannot be written: "):
        getattr(demo, kind)(target)


def test_a_checkpoint_where_no_folder_can_be_made_is_told(demo, tmp_path):
    (tmp_path / "a file").write_text("")
    with pytest.raises(fw.InputError, match="a file/kept: cannot be made"):
        demo.study(1000, checkpoint=tmp_path / "a file" / "kept", progress=False)


@pytest.mark.parametrize("kind", ["draw", "sheet"])
def test_no_link_is_followed_on_writing(demo, tmp_path, kind):
    precious = tmp_path / "precious"
    precious.write_text("keep me")
    link = tmp_path / ("out.html" if kind == "sheet" else "out.svg")
    link.symlink_to(precious)
    getattr(demo, kind)(link)
    assert precious.read_text() == "keep me"
    assert not link.is_symlink()
    assert link.stat().st_size > 1000


def test_what_is_no_file_is_not_written_over(demo, tmp_path):
    pipe = tmp_path / "pipe.svg"
    os.mkfifo(pipe)
    with pytest.raises(fw.InputError, match="it is there and is not a file"):
        demo.draw(pipe)
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    with pytest.raises(fw.InputError, match="it is not a file"):
        fw.Job.load(pipe)


# -- limits of the machine ------------------------------------------------------------------------

THREADS = """
import fitwright as fw
job = fw.demo("blower")
study = job.study(70_000, seed=3, threads=64, level="quick", progress=False)
swept = job.sweep({{"nut.torque": ("600 N m", "700 N m", 2000)}})
import resource
resource.setrlimit(resource.RLIMIT_AS, ({room}, {room}))
again = job.study(70_000, seed=3, threads=64, level="quick", progress=False)
assert again.pass_rate == study.pass_rate
same = job.sweep({{"nut.torque": ("600 N m", "700 N m", 2000)}})
assert all((same[key] == swept[key]).all() for key in swept.outputs)
print("answered")
"""


def test_where_no_thread_can_be_started_the_work_is_done_without(tmp_path):
    """Each thread would take a gigabyte of stack, and there is less."""
    before = limits(STACK=1 << 30)
    done = python(THREADS.format(room=1 << 30), tmp_path, before)
    assert done.stdout == "answered\n", done.stderr


MEMORY = """
import fitwright as fw, resource, sys
job = fw.demo("blower")
import matplotlib.figure, jinja2, pint, tqdm
job.evaluate("quick").table()
with open("/proc/self/statm") as file:
    used = int(file.read().split()[0]) * resource.getpagesize()
resource.setrlimit(resource.RLIMIT_AS, (used + {room}, used + {room}))
try:
    {call}
except MemoryError:
    print("memory")
except fw.InputError as error:
    print(error)
else:
    print("answered")
assert job.evaluate("quick").worst.path
"""


@pytest.mark.parametrize("room", some([20 << 20, 1 << 20, 100 << 20], 1))
@pytest.mark.parametrize(
    "call",
    [
        'job.study(200_000, threads=8, level="quick", progress=False)',
        "job.derivatives()",
        'job.study(5000, level="quick", progress=False).sensitivity()',
        'job.evaluate("history")',
        'job.sweep({"nut.torque": ("600 N m", "700 N m", 20000)}, outputs="bearing.inner_peak")',
        "job.sobol_indices(4096, threads=8, progress=False)",
    ],
)
def test_with_little_memory_a_call_answers_or_says_so(call, room, tmp_path):
    done = python(MEMORY.format(call=call, room=room), tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() in ("memory", "answered"), done.stdout


# -- Ctrl-C ---------------------------------------------------------------------------------------

FIT = """
shaft = fw.Shaft(seat="80 mm", bore="30 mm", material="4340")
ring = fw.Ring(bore="79.96 mm", outside="105 mm", length="30 mm", material="52100")
ovens = np.linspace(120.0, 160.0, 20_000)
"""
LARGE_TEXT = (
    large_jobs.SHAFT_AND_NUT
    + '[[state]]\nname = "built"\n'
    + large_jobs.states(60)
    + large_jobs.rings(30)
)
LARGE = f"large = fw.Job.loads({LARGE_TEXT!r})"
CALLS = {
    "study": ("", 'job.study(10**9, level="quick", progress=False)', "answer.stopped"),
    "study of all levels": ("", "job.study(10**9, progress=False)", "answer.stopped"),
    "study of histories": (
        "",
        'job.study(10**6, level="history", progress=False)',
        "answer.stopped",
    ),
    "study with columns": (
        "",
        'job.study(10**8, level="quick", keep="shoulder.clamp_low", progress=False)',
        "answer.stopped and {len(c) for c in answer.columns.values()} == {answer.samples}",
    ),
    "indices": ("", "job.sobol_indices(10**8, progress=False)", "answer.stopped"),
    "sweep of histories": (
        "",
        'job.sweep({"nut.torque": ("600 N m", "700 N m", 100_000)}, level="history")',
        "False",
    ),
    "yield against": (
        "",
        'job.yield_against("nut.torque", np.linspace(600.0, 700.0, 5000), samples=200_000)',
        "answer.stopped and len(answer.studies) == len(answer.values)",
    ),
    "reuse at a rate": (
        "",
        "job.reuse_limits(at=0.9, samples=20_000, progress=False)",
        "answer.stopped",
    ),
    "reuse at worst": ("", 'job.reuse_limits(at="worst_case", progress=False)', "answer.stopped"),
    "worst case": ("", "job.worst_case(boxes=10**6, budget=10**6)", "answer.stopped"),
    "solve a history": (
        "",
        'job.solve(vary="seats.main.diameter", output="nut.clamp_least", state="trip", '
        'target="-5000 kN", level="history")',
        "False",
    ),
    "best at a rate": (
        "",
        'job.solve_for({"nut.torque": ("500 N m", "800 N m"), "rings.sleeve.bore": '
        '("79.98 mm", "80.0 mm")}, at=0.9999, samples=200_000)',
        "False",
    ),
    # CPython ends by SIGINT once an import of SciPy was interrupted: so it is loaded before.
    "match": (
        "import scipy.optimize; seats = (80.03e-3 + 1e-8 * np.arange(1500)).tolist(); "
        "bores = (79.99e-3 + 1e-8 * np.arange(1500)).tolist()",
        'job.match(seats, {"sleeve": bores})',
        "False",
    ),
    "derivatives of a history": ("", 'job.derivatives(level="history")', "False"),
    "a long history": (LARGE, 'large.evaluate("history")', "False"),
    "heating": (LARGE, 'large.evaluate("heating")', "False"),
    "slip on": (
        FIT,
        "fw.heat.slip_on(shaft=shaft, ring=ring, oven=ovens)",
        "False",
    ),
    "clocking": (
        "import scipy.optimize; "
        'stack = job.squareness("full_load", rotor_mass="180 kg", grade="2.5 mm/s")',
        'stack.clock("bend", ways=10**8, slots={"sleeve": 0, "wheel": 0, "slinger": 0})',
        "False",
    ),
}


@pytest.mark.skipif(sys.platform != "linux", reason="reads processor time from /proc")
@pytest.mark.parametrize("kind", CALLS)
def test_a_long_call_hears_ctrl_c(kind, tmp_path):
    setup, call, stopped = CALLS[kind]
    moments = 20 if LONG else 1
    found = interrupt(setup, call, stopped, tmp_path, moments, seed=len(kind))
    # A quick machine may be done before it comes.
    outcomes = {outcome for outcome, _ in found} - {"done", "after"}
    assert outcomes <= {"heard", "partial"}, found
    threads = os.cpu_count() or 1
    # One second of a processor; a slow one of somebody else's is given three.
    assert max(took for _, took in found) / threads < (1.0 if LONG else 3.0), found


def test_a_study_that_is_stopped_says_so_and_is_a_study_of_fewer_samples(tmp_path):
    done = python(
        """
        import os, signal, fitwright as fw
        from fitwright.studies import run as study_run
        signal.signal(signal.SIGINT, signal.default_int_handler)

        class Bar:
            def update(self, samples):
                os.kill(os.getpid(), signal.SIGINT)  # after the first block

            def close(self):
                pass

        study_run.progress_bar = lambda *_: Bar()
        job = fw.demo("blower")
        study = job.study(10**9, seed=5, level="quick", progress=False)
        assert study.stopped == "stopped by hand" and 0 < study.samples < 10**9
        assert "stopped by hand" in str(study.table())
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        again = job.study(study.samples, seed=5, level="quick", progress=False)
        assert again.pass_rate == study.pass_rate
        print("same")
        """,
        tmp_path,
    )
    assert done.stdout == "same\n", done.stderr


def test_arrays_of_a_call_that_is_interrupted_stay_whole():
    values = np.linspace(0.08, 0.081, 1000)
    kept = values.copy()
    fw.rings.thick_ring(bore=values, outside=0.1, material="4340")
    assert (values == kept).all()
