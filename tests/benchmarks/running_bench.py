"""The running bearing beside SciPy's fsolve on the same equations, one core each.

The equations are those of tests/python/test_running.py, started from the angles at rest. Answers
are compared before anything is timed; a wrong one ends the run with 1.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "python"))

from bench import check, least_time
from fitwright import _core
from fitwright.models.results import Arguments
from scipy.optimize import fsolve
from test_running import Bearing

COUNT = 20_000


def main() -> None:
    ours: list[float] = []
    theirs: list[float] = []
    for seed in range(20):
        b = Bearing(seed)
        radial = b.a - b.clearance / 2
        share = b.thrust / b.z

        def wrong(x, b=b, radial=radial, share=share):  # type: ignore[no-untyped-def]
            ball, _, _, axial, _ = b.ball(x[4] * b.a, radial, x[:4])
            return np.append(ball, (axial - share) / share)

        start = b.start()
        read = Arguments("bearings.thrust_equilibrium", b.arguments())
        numbers = [float(v) for v in read.values]
        outputs = _core.evaluate("bearings.thrust_equilibrium", numbers, read.materials, [])
        x = fsolve(wrong, start, xtol=1e-12)
        _, qi, qo, _, _ = b.ball(x[4] * b.a, radial, x[:4])
        check(abs(outputs[2] / qi - 1) < 1e-6, f"bearing {seed}: inner load")
        check(abs(outputs[3] / qo - 1) < 1e-6, f"bearing {seed}: outer load")
        theirs.append(least_time(lambda w=wrong, s=start: fsolve(w, s, xtol=1e-12), 10))  # type: ignore[misc]
        # Neighbours of one bearing, as a study sees them: every sample another thrust.
        columns = [np.array([v]) for v in numbers]
        place = read.paths.index("thrust")
        columns[place] = numbers[place] * np.linspace(0.9, 1.1, COUNT)

        def many(columns=columns, read=read, outputs=outputs):  # type: ignore[no-untyped-def]
            return _core.evaluate_batch(
                "bearings.thrust_equilibrium",
                columns,
                read.materials,
                [],
                COUNT,
                1,
                list(range(len(outputs))),
            )

        ours.append(least_time(many, 3) / COUNT)
    mine, fsolves = float(np.median(ours)), float(np.median(theirs))
    print("\nThrust equilibrium at speed, 20 bearings, one core, median per solve")
    print(f"  scipy.optimize.fsolve, equations in NumPy scalars      {1e6 * fsolves:10.2f} us")
    print(f"  bearings.thrust_equilibrium, level {_core.active_level():<20}{1e6 * mine:10.2f} us")
    print(f"  ratio {fsolves / mine:.0f}, wanted >= 100; wanted <= 20 us a solve")


if __name__ == "__main__":
    main()
