"""The running bearing against the equations as the books write them, solved by SciPy.

Jones (1960); Harris & Kotzalas, Advanced Concepts of Bearing Technology (from memory): positions of
the ball and approaches as unknowns, outer race control. Contact constants by SciPy's elliptic
integrals.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable
from typing import Any

import fitwright as fw
import numpy as np
import pytest
from fitwright.bearings.balls import ball_by_ball, draw_angles, draw_clearance
from numpy.typing import NDArray
from scipy.optimize import brentq, fsolve
from scipy.special import ellipe, ellipk

STEEL = fw.materials.material("52100")
Array = NDArray[np.float64]


def contact_constant(across: float, along: float, flexibility: float) -> float:
    """K of load = K approach^1.5 by Harris's equation for the ellipticity."""
    difference = (along - across) / (along + across)

    def wrong(k: float) -> float:
        m = 1 - 1 / k**2
        e = ellipe(m)
        return ((k**2 + 1) * e - 2 * ellipk(m)) / ((k**2 - 1) * e) - difference

    k = brentq(wrong, 1 + 1e-6, 300, xtol=1e-15, rtol=1e-14)
    m = 1 - 1 / k**2
    a = (3 * flexibility * ellipe(m) * k**2 / (np.pi * (across + along))) ** (1 / 3)
    approach = 3 * flexibility * ellipk(m) / (2 * np.pi * a)
    return float(approach**-1.5)


class Bearing:
    """One random bearing, and its equations."""

    def __init__(self, seed: int) -> None:
        random = np.random.default_rng(seed)
        self.dm = random.uniform(0.05, 0.3)
        self.d = self.dm * random.uniform(0.1, 0.2)
        self.z = int(0.9 * np.pi / np.arcsin(self.d / self.dm))
        self.fi, self.fo = random.uniform(0.515, 0.54, 2)
        self.a = (self.fi + self.fo - 1) * self.d
        self.free = random.uniform(np.radians(12), np.radians(40))
        self.clearance = 2 * self.a * (1 - np.cos(self.free))
        self.speed = random.uniform(5, 45) / (self.dm / 2)
        self.thrust = self.z * self.d**2 * 10 ** random.uniform(6.0, 7.3)
        self.steel = STEEL
        self.flexibility = 2 * self._one(self.steel)
        gamma = self.d * np.cos(self.free) / self.dm
        self.ki = contact_constant(
            (2 - 1 / self.fi) / self.d, 2 / (self.d * (1 - gamma)), self.flexibility
        )
        self.ko = contact_constant(
            (2 - 1 / self.fo) / self.d, 2 / (self.d * (1 + gamma)), self.flexibility
        )
        self.mass = float(self.steel.density) * np.pi / 6 * self.d**3

    @staticmethod
    def _one(metal: Any) -> float:
        young = (
            1
            / fw.bearings.hertz(
                first=fw.Body(curvature_x=1.0, curvature_y=1.0, material=metal),
                second=fw.Body(material=metal),
                load=1.0,
            ).stiffness
        )  # sphere on flat: K = 4/3 E* sqrt(R), 1/E* = 2 (1 - nu^2)/E
        return float(young * 4 / 3 / 2)

    def arguments(self) -> dict[str, Any]:
        return {
            "bearing": fw.Bearing(
                balls=self.z,
                ball_diameter=self.d,
                pitch_diameter=self.dm,
                inner_curvature=self.fi,
                outer_curvature=self.fo,
                clearance=self.clearance,
                inner_shoulder=0.4,
                outer_shoulder=0.4,
                material=self.steel,
            ),
            "thrust": self.thrust,
            "speed": self.speed,
            "material": self.steel,
        }

    def start(self) -> Array:
        """The unknowns at the angle at rest: X1, X2, approaches, offset of the ring."""
        loads = self.thrust / self.z / np.sin(self.free)
        still = (loads / np.array([self.ki, self.ko])) ** (2 / 3) / self.d
        lo = ((self.fo - 0.5) * self.d + still[1] * self.d) / self.a
        sine, cosine = np.sin(self.free), np.cos(self.free)
        return np.array([lo * sine, lo * cosine, *still, sine * 1.02])

    def ball(self, a1: float, a2: float, x: Array) -> tuple[Array, float, float, float, float]:
        """Harris's four equations of a ball: X1, X2 over A, approaches over D; and t, u."""
        x1, x2 = x[0] * self.a, x[1] * self.a
        di, do = x[2] * self.d, x[3] * self.d
        li = (self.fi - 0.5) * self.d + di
        lo = (self.fo - 0.5) * self.d + do
        so, co = x1 / lo, x2 / lo
        si, ci = (a1 - x1) / li, (a2 - x2) / li
        qi = self.ki * max(di, 0.0) ** 1.5
        qo = self.ko * max(do, 0.0) ** 1.5
        g = self.d / self.dm
        beta = np.arctan2(so, co + g)
        cage = (1 - g * ci) / (1 + ci * co + si * so)
        spin = (
            1
            / ((co + np.tan(beta) * so) / (1 + g * co) + (ci + np.tan(beta) * si) / (1 - g * ci))
            / (g * np.cos(beta))
        )
        force = self.mass * self.dm / 2 * (cage * self.speed) ** 2
        inertia = self.mass * self.d**2 / 10
        moment = inertia * spin * cage * self.speed**2 * np.sin(beta)
        p = 2 * moment / self.d
        scale = self.thrust / self.z
        wrong = np.array(
            [
                (x1**2 + x2**2 - lo**2) / self.a**2,
                ((a1 - x1) ** 2 + (a2 - x2) ** 2 - li**2) / self.a**2,
                (qo * so - p * co - qi * si) / scale,
                (qo * co + p * so - qi * ci - force) / scale,
            ]
        )
        return wrong, qi, qo, qi * si, qi * ci


def solved(f: Callable[[Array], Array], start: Array) -> Array:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)
        x, info, flag, _ = fsolve(f, start, xtol=1e-14, full_output=True)
        again, info, flag, _ = fsolve(f, x, xtol=1e-15, full_output=True)
    assert np.max(np.abs(info["fvec"])) < 1e-9, flag
    return np.asarray(again)


@pytest.mark.parametrize("seed", range(200))
def test_thrust_equilibrium_solves_the_books_equations(seed: int) -> None:
    b = Bearing(seed)
    out = fw.bearings.thrust_equilibrium(**b.arguments())
    radial = b.a - b.clearance / 2

    def wrong(x: Array) -> Array:
        ball, _, _, axial, _ = b.ball(x[4] * b.a, radial, x[:4])
        return np.append(ball, (axial - b.thrust / b.z) / (b.thrust / b.z))

    x = solved(wrong, b.start())
    _, qi, qo, _, _ = b.ball(x[4] * b.a, radial, x[:4])
    x1, x2 = x[0] * b.a, x[1] * b.a
    assert out.inner_load == pytest.approx(qi, rel=1e-8)
    assert out.outer_load == pytest.approx(qo, rel=1e-8)
    assert out.outer_angle == pytest.approx(np.arctan2(x1, x2), rel=1e-8)
    assert out.inner_angle == pytest.approx(np.arctan2(x[4] * b.a - x1, radial - x2), rel=1e-8)


@pytest.mark.parametrize("seed", range(20))
def test_combined_equilibrium_solves_the_books_equations(seed: int) -> None:
    b = Bearing(seed)
    radial_load, moment = 0.4 * b.thrust, 0.02 * b.thrust * b.dm
    result = fw.bearings.equilibrium(**b.arguments(), radial_load=radial_load, moment_across=moment)
    balls = ball_by_ball(result)
    psi = 2 * np.pi * np.arange(b.z) / b.z
    arm = b.dm / 2 + (b.fi - 0.5) * b.d * np.cos(b.free)
    radial = b.a - b.clearance / 2

    def places(move: Array) -> tuple[Array, Array]:
        return move[0] - arm * move[2] * np.cos(psi), radial + move[1] * np.cos(psi)

    # Our displacement must balance the ring when each ball solves the book's equations.
    move = np.array([result.axial_displacement, result.radial_displacement, result.tilt_across])
    a1, a2 = places(move)
    sums = np.zeros(3)
    for k in range(b.z):
        di = (balls.inner_load[k] / b.ki) ** (2 / 3) / b.d
        do = (balls.outer_load[k] / b.ko) ** (2 / 3) / b.d
        lo = ((b.fo - 0.5) + do) * b.d / b.a
        ao = balls.outer_angle[k]
        start = np.array([lo * np.sin(ao), lo * np.cos(ao), di, do]) * 1.001
        x = solved(lambda x, k=k: b.ball(a1[k], a2[k], x)[0], start)  # type: ignore[misc]
        _, qi, qo, t, u = b.ball(a1[k], a2[k], x)
        assert balls.inner_load[k] == pytest.approx(qi, rel=1e-7)
        assert balls.outer_load[k] == pytest.approx(qo, rel=1e-7)
        sums += np.array([t, u * np.cos(psi[k]), -t * arm * np.cos(psi[k])])
    assert sums[0] == pytest.approx(b.thrust, rel=1e-7)
    assert sums[1] == pytest.approx(radial_load, rel=1e-6)
    assert sums[2] == pytest.approx(moment, rel=1e-6)


@pytest.mark.parametrize("ratio", [1.0, 0.5, 0.1])
def test_shear_below_a_contact_is_boussinesqs(ratio: float) -> None:
    """Point loads over the ellipse, integrated, at the depth told (Timoshenko & Goodier)."""
    # curvatures that give about this ratio of the half axes; the result says which exactly
    second = fw.Body(curvature_y=0.0, material=STEEL)
    first = fw.Body(curvature_x=100.0 * ratio**1.5, curvature_y=100.0, material=STEEL)
    out = fw.bearings.hertz(first=first, second=second, load="1 kN")
    nu, k = 0.3, out.semi_minor / out.semi_major
    z = out.shear_depth / out.semi_major
    t, weight = np.polynomial.legendre.leggauss(200)
    u = (t + 1) / 2
    r, wr = u**3, weight / 2 * 3 * u**2
    phi = (np.arange(400) + 0.5) / 400 * np.pi / 2
    theta = np.arctan2(np.sin(phi), k * np.cos(phi))
    turn = k / ((k * np.cos(phi)) ** 2 + np.sin(phi) ** 2) * (np.pi / 800)
    radius, angle = np.meshgrid(r, theta, indexing="ij")
    load = np.outer(wr * r * np.sqrt(1 - r**2), turn) * 4 * k
    x, y = radius * np.cos(angle), k * radius * np.sin(angle)
    flat = x**2 + y**2
    away = np.sqrt(flat + z**2)
    down = -3 * z**3 / away**5
    side = (1 - 2 * nu) / flat * ((1 - z / away) * (y**2 - x**2) / flat + z * x**2 / away**3)
    side -= 3 * z * y**2 / away**5
    shear = float(np.sum(load * (side - down))) / (4 * np.pi)
    assert out.greatest_shear / out.contact_stress == pytest.approx(shear, rel=1e-6)


def test_arrays_of_loads_give_what_single_loads_give() -> None:
    b = Bearing(3)
    loads = np.array([0.0, 0.1, 0.3, 0.5]) * b.thrust
    many = fw.bearings.equilibrium(**b.arguments(), radial_load=loads)
    for load, value in zip(loads, many.greatest_outer_load, strict=True):
        one = fw.bearings.equilibrium(**b.arguments(), radial_load=load)
        assert one.greatest_outer_load == value


def test_errors_name_field_and_rule() -> None:
    b = Bearing(1)
    arguments = b.arguments()
    bearing = fw.Bearing(**{**arguments["bearing"]._given, "back_shoulder": 0.0})
    with pytest.raises(fw.InputError, match="pushes against the side of the grooves"):
        fw.bearings.thrust_equilibrium(**{**arguments, "bearing": bearing, "thrust": -1e3})
    with pytest.raises(fw.InputError, match="flings the balls"):
        fw.bearings.thrust_equilibrium(**{**arguments, "speed": 2e5, "thrust": 1.0})
    with pytest.raises(fw.InputError, match=r"equilibrium"):
        ball_by_ball(fw.bearings.thrust_equilibrium(**arguments))


def test_pictures(tmp_path: Any) -> None:
    b = Bearing(3)
    result = fw.bearings.equilibrium(**b.arguments(), radial_load=0.4 * b.thrust)
    from fitwright.charts.picture import save

    axes = ball_by_ball(result).draw()
    save(axes, tmp_path / "balls.png")
    thrust = fw.bearings.thrust_equilibrium(**{**b.arguments(), "thrust": 0.1 * b.thrust})
    angles = draw_angles(thrust, np.linspace(0.0, 2.5 * b.speed, 60))
    save(angles, tmp_path / "angles.png")
    inner, outer = (np.asarray(line.get_ydata()) for line in angles.lines[:2])
    assert inner[0] == pytest.approx(outer[0])
    assert inner[-1] > outer[-1]
    steps = {"on the bench": 90e-6, "fit": -38e-6, "speed": -6e-6, "heat": -12e-6}
    save(draw_clearance(steps), tmp_path / "waterfall.png")
