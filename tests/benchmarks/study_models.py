"""The job of study_job.hpp written for arrays (NumPy, JAX) and for loops (Numba).

One text of the formulas serves all three: `pieces` takes the functions of the library at hand.
What does not scatter is a plain number here, so that it costs these programs nothing; the modulus
and expansion factors, all 1 in this job, are left out for the same reason.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

RINGS, STATES, BINS, OUTPUTS = 6, 4, 1024, 12
RING_FIELDS = 9
SHARED = RINGS * RING_FIELDS  # shaft bore, two factors, torque, thread friction, face friction
STATE_INPUTS = SHARED + 6
Array = Any


class Job:
    """What fitwright_study_bench tells of the job, laid out for the programs here."""

    def __init__(self, told: dict[str, Any]) -> None:
        nominal = told["nominal"]
        self.nominal = nominal
        self.outside = [nominal[i * RING_FIELDS + 2] for i in range(RINGS)]
        self.length = [nominal[i * RING_FIELDS + 3] for i in range(RINGS)]
        self.shaft_bore = nominal[SHARED]
        self.states = [nominal[STATE_INPUTS + 4 * s : STATE_INPUTS + 4 * s + 4] for s in range(4)]
        self.shaft, self.ring = told["shaft"], told["ring"]
        self.limits = told["limits"]
        self.spreads = told["spreads"]
        diameter, pitch, inside, outside = told["nut"]
        pitch_diameter = diameter - 0.64951905283832899 * pitch
        self.lead = pitch / (math.pi * pitch_diameter)
        self.arm = pitch_diameter * 0.5
        self.flank = math.sqrt(1.0 / 3.0 / (self.lead**2 + 1.0) + 1.0)
        self.face = (outside**2 + outside * inside + inside**2) / (outside + inside) / 3.0
        #: places in the input list, in the order of the rows the programs work on: six seats,
        #: bores, roughnesses of both and frictions, torque, two frictions, three temperatures
        self.rows = [i * RING_FIELDS + field for field in (0, 1, 4, 5, 6) for i in range(RINGS)]
        self.rows += [SHARED + 3, SHARED + 4, SHARED + 5]
        self.rows += [STATE_INPUTS + 4 * s + 1 for s in range(1, STATES)]
        by_leaf = {int(s[0]): s for s in self.spreads}
        #: shape, middle, deviation, low, high of each row; shape 0 normal, 2 uniform, 3 triangular
        self.shapes = [(int(by_leaf[leaf][1]), *by_leaf[leaf][2:]) for leaf in self.rows]
        assert len(self.rows) == len(self.spreads)


def pieces(job: Job, lib: Any, jit: Callable[..., Any]) -> Any:
    """The formulas; `lib` brings larger, smaller, exp, expm1 and sqrt."""
    larger, smaller, exp, expm1, sqrt = lib.larger, lib.smaller, lib.exp, lib.expm1, lib.sqrt
    pi = math.pi
    (nu_s, rho_s), (nu_r, rho_r) = job.shaft[3], job.ring[3]
    a = job.shaft_bore * 0.5

    def table(points: list[Any]) -> Any:
        # Unrolled, as the compiler of a loop would want it.
        first, knots, slopes = points
        text = repr(first) + "".join(
            f" + (larger({k!r}, t) - {k!r}) * {s!r}" for k, s in zip(knots, slopes, strict=True)
        )
        return jit(eval(f"lambda t: {text}", {"larger": larger}))

    shaft_modulus, shaft_expansion = table(job.shaft[0]), table(job.shaft[1])
    ring_modulus, ring_expansion, ring_yield = (table(t) for t in job.ring[:3])
    lead, arm, flank, face = job.lead, job.arm, job.flank, job.face

    @jit
    def shaft_at(t):
        return 1.0 / shaft_modulus(t), shaft_expansion(t) * (t - 20.0)

    @jit
    def ring_at(t):
        return 1.0 / ring_modulus(t), ring_expansion(t) * (t - 20.0), 1.0 / ring_yield(t)

    @jit
    def preload(torque, thread, nut_face):
        normal = thread * flank
        return torque / (arm * (lead + normal) / (1.0 - normal * lead) + nut_face * face)

    @jit
    def geometry(d, outside):
        b2 = 0.25 * d * d
        c2 = 0.25 * outside * outside
        return 1.0 / (b2 - a * a), 1.0 / (c2 - b2)

    @jit
    def cold_interference(d, bore, seat_roughness, bore_roughness):
        fit = d - bore
        return fit - smaller(0.8 * (seat_roughness + bore_roughness), larger(fit, 0.0))

    @jit
    def joint(d, outside, cold, span_s, span_r, soft_s, soft_r, warm, w2):
        """Interference left, interference per pressure, per force in the ring and the shaft."""
        b2 = 0.25 * d * d
        c2 = 0.25 * outside * outside
        by_speed = (
            0.25
            * d
            * (
                w2 * soft_r * rho_r * (b2 * (1.0 - nu_r) + c2 * (3.0 + nu_r))
                - w2 * soft_s * rho_s * (b2 * (1.0 - nu_s) + a * a * (3.0 + nu_s))
            )
        )
        shaft_part = (2.0 * b2 * span_s - (1.0 + nu_s)) * soft_s
        return (
            cold + d * warm - by_speed,
            d * (shaft_part + (2.0 * b2 * span_r + (1.0 + nu_r)) * soft_r),
            d * span_r * soft_r * (nu_r / pi),
            d * span_s * soft_s * (nu_s / pi),
            shaft_part,
        )

    @jit
    def grip_area(d, length, shaft_part, flexibility):
        """Seat, with what the shaft beyond the ring adds to the pressure."""
        q = 2.0 * a / d
        kappa = q * 0.094 - q * q * 0.0761 + 0.1114
        share = shaft_part * d / flexibility
        slender = larger(length / d, 0.125) + 0.0947 - smaller(share, 0.55) * 0.1464
        return d * length * pi * (kappa * share / slender + 1.0)

    @jit
    def springs(length, span_s, span_r, soft_s, soft_r):
        return length * (span_r * soft_r + span_s * soft_s) * (1.0 / pi)

    @jit
    def force_passed(left, flexibility, by_ring, by_shaft, mu_area, force):
        x = mu_area * (by_ring + by_shaft) / flexibility
        capacity = mu_area * larger(left, 0.0) / flexibility
        grown = expm1(x)
        return larger(smaller(force, force * (grown + 1.0) - capacity * grown / x), 0.0)

    @jit
    def pressure(left, flexibility, by_ring, by_shaft, in_ring, in_shaft):
        return larger(left - by_ring * in_ring - by_shaft * in_shaft, 0.0) / flexibility

    @jit
    def von_mises(d, outside, span_r, p, w2, in_ring):
        b2 = 0.25 * d * d
        c2 = 0.25 * outside * outside
        load = w2 * (rho_r * (3.0 + nu_r) / 8.0)
        hoop = p * (b2 + c2) * span_r + load * (
            2.0 * c2 + b2 * (1.0 - (1.0 + 3.0 * nu_r) / (3.0 + nu_r))
        )
        axial = -in_ring * span_r * (1.0 / pi)
        x = p + hoop
        y = hoop - axial
        z = axial + p
        return sqrt(0.5 * (x * x + y * y + z * z))

    del exp
    names = [
        "shaft_at",
        "ring_at",
        "preload",
        "geometry",
        "cold_interference",
        "joint",
        "grip_area",
        "springs",
        "force_passed",
        "pressure",
        "von_mises",
    ]
    here = locals()
    return SimpleNamespace(**{name: here[name] for name in names})


def array_model(job: Job, xp: Any) -> Callable[[Array], list[Array]]:
    """Rows of inputs (36 x samples) to twelve rows of outputs; rings are a dimension of arrays."""
    lib = SimpleNamespace(
        larger=xp.maximum, smaller=xp.minimum, exp=xp.exp, expm1=xp.expm1, sqrt=xp.sqrt
    )
    f = pieces(job, lib, lambda function: function)
    outside = xp.array(job.outside)[:, None]
    length = xp.array(job.length)[:, None]

    def model(x: Array) -> list[Array]:
        seat, bore, seat_roughness, bore_roughness, friction = (
            x[k * RINGS : (k + 1) * RINGS] for k in range(5)
        )
        torque, thread, face = x[30], x[31], x[32]
        preload = f.preload(torque, thread, face)
        span_s, span_r = f.geometry(seat, outside)
        cold = f.cold_interference(seat, bore, seat_roughness, bore_roughness)
        out = []
        gained_cold = 0.0
        for s, (shaft_t, ring_t, speed, thrust) in enumerate(job.states):
            soft_s, warm_s = f.shaft_at(shaft_t)
            soft_r, warm_r, per_yield = f.ring_at(x[32 + s] if s > 0 else ring_t)
            w2 = speed * speed
            left, flexibility, by_ring, by_shaft, shaft_part = f.joint(
                seat, outside, cold, span_s, span_r, soft_s, soft_r, warm_s - warm_r, w2
            )
            mu_area = friction * f.grip_area(seat, length, shaft_part, flexibility)
            gained = (warm_r - warm_s) * sum(job.length)
            if s == 0:
                gained_cold = gained
                reached = preload
                forces = [preload] * RINGS
                for i in range(RINGS - 1, -1, -1):
                    behind = reached
                    reached = f.force_passed(
                        left[i], flexibility[i], by_ring[i], by_shaft[i], mu_area[i], behind
                    )
                    forces[i] = (behind + reached) * 0.5
                in_ring = in_shaft = xp.stack(forces)
            else:
                soft = f.springs(length, span_s, span_r, soft_s, soft_r).sum(axis=0)
                in_shaft = xp.maximum(preload + (gained - gained_cold) / soft, 0.0)
                in_ring = in_shaft + thrust
            p = f.pressure(left, flexibility, by_ring, by_shaft, in_ring, in_shaft)
            if s > 0:
                reached = xp.maximum(in_ring - (mu_area * p).sum(axis=0), 0.0)
            use = f.von_mises(seat, outside, span_r, p, w2, in_ring).max(axis=0) * per_yield
            out += [reached, p.min(axis=0), use]
        return out

    return model


def loop_model(job: Job, numba: Any) -> Any:
    """The same for Numba: loops over the samples of a block inside loops over rings and states."""
    import numpy as np

    jit = numba.njit(error_model="numpy", inline="always")
    larger = jit(lambda x, y: x if x > y else y)
    smaller = jit(lambda x, y: x if x < y else y)
    lib = SimpleNamespace(
        larger=larger, smaller=smaller, exp=math.exp, expm1=math.expm1, sqrt=math.sqrt
    )
    f = pieces(job, lib, numba.njit(error_model="numpy"))
    shaft_at, ring_at, preload, geometry = f.shaft_at, f.ring_at, f.preload, f.geometry
    cold_interference, joint, grip_area = f.cold_interference, f.joint, f.grip_area
    springs, force_passed, pressure, von_mises = f.springs, f.force_passed, f.pressure, f.von_mises
    outsides, lengths = np.array(job.outside), np.array(job.length)
    total_length = sum(job.length)
    states = np.array(job.states)

    @numba.njit(error_model="numpy")
    def joints(seat, cold, span_s, span_r, outside, length, s_soft, soft_r, warm, w2, mu, to):
        for k in range(seat.size):
            left, flexibility, by_ring, by_shaft, part = joint(
                seat[k], outside, cold[k], span_s[k], span_r[k], s_soft, soft_r[k], warm[k], w2
            )
            to[0, k] = left
            to[1, k] = flexibility
            to[2, k] = by_ring
            to[3, k] = by_shaft
            to[4, k] = mu[k] * grip_area(seat[k], length, part, flexibility)

    @numba.njit(error_model="numpy")
    def answers(seat, span_r, outside, j, in_ring, in_shaft, w2, held, least, use):
        for k in range(seat.size):
            p = pressure(j[0, k], j[1, k], j[2, k], j[3, k], in_ring[k], in_shaft[k])
            held[k] += j[4, k] * p
            least[k] = smaller(least[k], p)
            use[k] = larger(use[k], von_mises(seat[k], outside, span_r[k], p, w2, in_ring[k]))

    @numba.njit(error_model="numpy")
    def model(x, w, out):
        """`w` is room for 80 rows."""
        n = x.shape[1]
        span_s, span_r, cold = w[0:6], w[6:12], w[12:18]
        in_ring, in_shaft = w[18:24], w[24:30]
        first, soft_r, warm, per_yield, soft, held = w[30], w[31], w[32], w[33], w[34], w[35]
        js = w[36:66]
        for k in range(n):
            first[k] = preload(x[30, k], x[31, k], x[32, k])
        for i in range(RINGS):
            for k in range(n):
                span_s[i, k], span_r[i, k] = geometry(x[i, k], outsides[i])
                cold[i, k] = cold_interference(x[i, k], x[6 + i, k], x[12 + i, k], x[18 + i, k])
        for s in range(STATES):
            shaft_t, ring_t, speed, thrust = states[s]
            soft_s, warm_s = shaft_at(shaft_t)
            if s == 0:
                cold_r, cold_warm, cold_yield = ring_at(ring_t)
                gained_cold = (cold_warm - warm_s) * total_length
                soft_r[:] = cold_r
                warm[:] = warm_s - cold_warm
                per_yield[:] = cold_yield
            else:
                for k in range(n):
                    compliance, warm_r, inverse = ring_at(x[32 + s, k])
                    soft_r[k] = compliance
                    warm[k] = warm_s - warm_r
                    per_yield[k] = inverse
            w2 = speed * speed
            for i in range(RINGS):
                j = js[5 * i : 5 * i + 5]
                joints(
                    x[i], cold[i], span_s[i], span_r[i], outsides[i], lengths[i],
                    soft_s, soft_r, warm, w2, x[24 + i], j,
                )  # fmt: skip
            reached, least, use = out[3 * s], out[3 * s + 1], out[3 * s + 2]
            if s == 0:
                reached[:] = first
                for i in range(RINGS - 1, -1, -1):
                    j = js[5 * i : 5 * i + 5]
                    for k in range(n):
                        behind = reached[k]
                        reached[k] = force_passed(
                            j[0, k], j[1, k], j[2, k], j[3, k], j[4, k], behind
                        )
                        in_ring[i, k] = in_shaft[i, k] = (behind + reached[k]) * 0.5
            else:
                soft[:] = 0.0
                for i in range(RINGS):
                    for k in range(n):
                        soft[k] += springs(
                            lengths[i], span_s[i, k], span_r[i, k], soft_s, soft_r[k]
                        )
                for k in range(n):
                    force = first[k] + (-warm[k] * total_length - gained_cold) / soft[k]
                    in_shaft[0, k] = larger(force, 0.0)
                    in_ring[0, k] = in_shaft[0, k] + thrust
            held[:] = 0.0
            least[:] = 1e300
            use[:] = 0.0
            for i in range(RINGS):
                own = i if s == 0 else 0
                answers(
                    x[i], span_r[i], outsides[i], js[5 * i : 5 * i + 5], in_ring[own],
                    in_shaft[own], w2, held, least, use,
                )  # fmt: skip
            for k in range(n):
                use[k] *= per_yield[k]
            if s > 0:
                for k in range(n):
                    reached[k] = larger(in_ring[0, k] - held[k], 0.0)

    return model
