"""Plates and clamped parts by ways of their own: finite elements, and Fourier series round a plate.

The elements of a plate have shear and rotation apart (Mindlin), so that they know thick plates too;
contacts are found by trying all of them.
"""

from __future__ import annotations

import itertools
import math

import mpmath
import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, lil_matrix
from scipy.sparse.linalg import spsolve

Array = NDArray[np.float64]


class AxisymmetricPlate:
    """Inner and outer radius, thickness, modulus, Poisson ratio; free edges unless held."""

    def __init__(self, inside, outside, thickness, modulus, poisson, through, elements=1200):
        self.r = np.unique(np.concatenate([np.linspace(inside, outside, elements + 1), through]))
        size = 2 * len(self.r)
        bending = modulus * thickness**3 / 12 / (1 - poisson**2)
        shear = 5 / 6 * modulus / 2 / (1 + poisson) * thickness
        stiffness = lil_matrix((size, size))
        for k, (r1, r2) in enumerate(itertools.pairwise(self.r)):
            length, middle = r2 - r1, (r1 + r2) / 2
            # deflection, rotation at both ends; one point of integration
            radial = np.array([0, -1 / length, 0, 1 / length])
            hoop = np.array([0, 0.5, 0, 0.5]) / middle
            slide = np.array([-1 / length, -0.5, 1 / length, -0.5])
            element = bending * (
                np.outer(radial, radial)
                + np.outer(hoop, hoop)
                + poisson * (np.outer(radial, hoop) + np.outer(hoop, radial))
            ) + shear * np.outer(slide, slide)
            at = slice(2 * k, 2 * k + 4)
            stiffness[at, at] += element * 2 * math.pi * middle * length
        self.stiffness = stiffness.tocsc()

    def node(self, r):
        return int(np.argmin(abs(self.r - r)))

    def pressed(self, low, high, pressure):
        """Forces of an even pressure between two radii, whose circles are nodes."""
        forces = np.zeros(self.stiffness.shape[0])
        for k, (r1, r2) in enumerate(itertools.pairwise(self.r)):
            if low - 1e-12 <= r1 and r2 <= high + 1e-12:
                # linear shapes on a circle that grows
                length = r2 - r1
                forces[2 * k] += 2 * math.pi * pressure * length * (2 * r1 + r2) / 6
                forces[2 * k + 2] += 2 * math.pi * pressure * length * (r1 + 2 * r2) / 6
        return forces

    def solve(self, forces, held):
        """Deflections by node; `held`: degrees of freedom at 0."""
        kept = [k for k in range(self.stiffness.shape[0]) if k not in held]
        moved = np.zeros_like(forces)
        moved[kept] = spsolve(self.stiffness[kept][:, kept], forces[kept])
        return moved[0::2]

    def flexibility(self, places, held):
        """Deflection at each place under a unit force on each of the circles, held on another."""
        nodes = [self.node(r) for r in places]
        forces = np.zeros((self.stiffness.shape[0], len(nodes)))
        for column, node in enumerate(nodes):
            forces[2 * node, column] = 1.0
        moved = self.solve(forces, {2 * self.node(held)})
        return moved[nodes]


def contacts(flexibility: Array, gap: Array) -> tuple[Array, Array]:
    """Forces and gaps where contacts only push: gap = flexibility force + gap at no force."""
    best = None
    for closed in itertools.product([False, True], repeat=len(gap)):
        at = np.flatnonzero(closed)
        force = np.zeros(len(gap))
        if len(at):
            force[at] = np.linalg.solve(flexibility[np.ix_(at, at)], -gap[at])
        left = flexibility @ force + gap
        wrong = max(0.0, *(-force * np.diag(flexibility)), *(-left[~np.array(closed)]), 0.0)
        if best is None or wrong < best[0]:
            best = wrong, force, left
    return best[1], best[2]


def clamp_round(inside, outside, on_ring, bolts_at, thickness, modulus, poisson, soft, bolts):
    """Clamp at and between bolts over the mean: an annular plate on a springy circle.

    `soft` is the stiffness of the ring per length of its circle. Each harmonic of the force of the
    bolts bends the plate by r^k, r^-k, r^(k+2), r^(2-k) in its three zones.
    """
    with mpmath.workdps(60):
        stiff = mpmath.mpf(modulus) * thickness**3 / 12 / (1 - poisson**2)

        def functions(k, radius):
            r = mpmath.mpf(radius) / bolts_at
            rows = []
            for p in (k, -k, k + 2, 2 - k):
                w, w1, w2 = r**p, p * r ** (p - 1), p * (p - 1) * r ** (p - 2)
                w3 = p * (p - 1) * (p - 2) * r ** (p - 3)
                moment = -stiff * (w2 + poisson * (w1 / r - k * k * w / r**2))
                curve = w3 + w2 / r - w1 / r**2 - k * k * w1 / r**2 + 2 * k * k * w / r**3
                twist = stiff * (1 - poisson) * k * k * (w1 / r - w / r**2) / r
                force = -stiff * curve + twist
                rows.append([w, w1 / bolts_at, moment / bolts_at**2, force / bolts_at**3])
            return rows

        mean = 1 / (2 * mpmath.pi * on_ring)
        at = between = mpmath.mpf(1)
        for harmonic in range(1, 7):
            k = harmonic * bolts
            zones = [functions(k, r) for r in (inside, on_ring, bolts_at, outside)]
            matrix, right = mpmath.zeros(12, 12), mpmath.zeros(12, 1)
            for c in range(4):
                matrix[0, c], matrix[1, c] = zones[0][c][2], zones[0][c][3]
                matrix[10, 8 + c], matrix[11, 8 + c] = zones[3][c][2], zones[3][c][3]
                for j, first in ((0, 0), (1, 4)):
                    for q in range(4):
                        sign = -1 if q == 3 else 1
                        matrix[2 + 4 * j + q, first + c] = sign * zones[1 + j][c][q]
                        matrix[2 + 4 * j + q, first + 4 + c] = -sign * zones[1 + j][c][q]
                matrix[5, c] -= soft * zones[1][c][0]
            right[9] = -2 / (2 * mpmath.pi * bolts_at)
            shape = mpmath.lu_solve(matrix, right)
            press = soft * sum(shape[c] * zones[1][c][0] for c in range(4)) / mean
            at += press
            between += press * (-1) ** harmonic
        return float(at), float(between)


def clamped_by_elements(hole, head, outside, grip, modulus, poisson, fine=12):
    """Stiffness of clamped parts between two rigid heads: half of a body of revolution.

    Elements of nine nodes, closer near the head; the mid plane stays in its place.
    """
    bore, face, rim = hole / 2, head / 2, outside / 2
    under = bore + (face - bore) * np.linspace(0, 1, fine // 2 + 1)
    beyond = face + (rim - face) * np.expm1(3 * np.linspace(0, 1, fine + 1)) / np.expm1(3)
    r = np.concatenate([under, beyond[1:]])
    z = grip / 2 * (1 - np.expm1(2 * np.linspace(1, 0, fine + 1)) / np.expm1(2))
    across = np.sort(np.concatenate([r, (r[1:] + r[:-1]) / 2]))
    along = np.sort(np.concatenate([z, (z[1:] + z[:-1]) / 2]))
    count = 2 * len(across) * len(along)
    law = np.diag([1 - poisson] * 3 + [0.5 - poisson])
    law[:3, :3] += poisson * (1 - np.eye(3))
    law *= modulus / (1 + poisson) / (1 - 2 * poisson)
    points, weights = np.polynomial.legendre.leggauss(3)

    def shapes(x):
        return np.array([x * (x - 1) / 2, 1 - x * x, x * (x + 1) / 2]), np.array(
            [x - 0.5, -2 * x, x + 0.5]
        )

    rows, columns, values = [], [], []
    for i, j in itertools.product(range(len(r) - 1), range(len(z) - 1)):
        wide, high = (r[i + 1] - r[i]) / 2, (z[j + 1] - z[j]) / 2
        element = np.zeros((18, 18))
        for (x, wx), (y, wy) in itertools.product(zip(points, weights, strict=True), repeat=2):
            (fx, dx), (fy, dy) = shapes(x), shapes(y)
            at = (r[i] + r[i + 1]) / 2 + wide * x
            strain = np.zeros((4, 18))  # radial, axial, hoop, shear
            strain[0, 0::2] = strain[3, 1::2] = np.outer(dx, fy).ravel() / wide
            strain[1, 1::2] = strain[3, 0::2] = np.outer(fx, dy).ravel() / high
            strain[2, 0::2] = np.outer(fx, fy).ravel() / at
            element += strain.T @ law @ strain * 2 * math.pi * at * wide * high * wx * wy
        nodes = [(2 * i + a) * len(along) + 2 * j + b for a in range(3) for b in range(3)]
        freedoms = np.array([[2 * n, 2 * n + 1] for n in nodes]).ravel()
        rows.append(np.repeat(freedoms, 18))
        columns.append(np.tile(freedoms, 18))
        values.append(element.ravel())
    stiffness = coo_matrix(
        (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
        shape=(count, count),
    ).tocsr()
    middle = [2 * k * len(along) + 1 for k in range(len(across))]
    pressed = [
        2 * (k * len(along) + len(along) - 1) + 1
        for k in range(len(across))
        if across[k] <= face * (1 + 1e-12)
    ]
    moved = np.zeros(count)
    moved[pressed] = -1.0
    held = set(middle) | set(pressed)
    free = [k for k in range(count) if k not in held]
    moved[free] = spsolve(stiffness[free][:, free], -stiffness[free] @ moved)
    return float(-(stiffness @ moved)[pressed].sum() / 2)
