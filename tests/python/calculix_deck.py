"""Decks for CalculiX (a general finite-element program, `apt-get install calculix-ccx`) from meshes
of fw.bodies, in N, mm, MPa. Contact there is face to face by penalty: another element code, another
contact, another friction than the library's."""

from __future__ import annotations

import math
import os
import re
import shutil
import subprocess
from pathlib import Path

CCX = shutil.which("ccx")
#: Penalty in MPa/mm: 40 MPa overlap by 0.008 um.
PENALTY = 5.0e6
#: MPa/mm before it slips.
STICK = 2.0e6
#: Axisymmetric elements are solved, and contact forces told, for a wedge of 2 degrees.
WEDGES = 180
#: Sides of an element and their corner, corner, middle.
SIDES = {1: (0, 1, 4), 2: (1, 2, 5), 3: (2, 3, 6), 4: (3, 0, 7)}


class Deck:
    """Parts, contacts between them, and steps of heat, speed and forces."""

    def __init__(self, friction=0.0):
        self.friction = friction
        self.nodes, self.elements = [], []  # (r, z); (part, nodes)
        self.parts, self.sets, self.surfaces, self.pairs, self.steps = {}, {}, {}, [], []
        self.fixed = []

    def add(
        self,
        name,
        r,
        z,
        elements,
        *,
        modulus=206e3,
        poisson=0.3,
        expansion=11.5e-6,
        density=7.85e-9,
    ):
        """A part; r and z in mm."""
        first = len(self.nodes)
        self.nodes += list(zip(map(float, r), map(float, z), strict=True))
        self.elements += [(name, [first + int(n) for n in row]) for row in elements]
        self.parts[name] = (first, len(self.nodes), modulus, poisson, expansion, density)

    def add_plane(self, name, r0, r1, n=12):
        """A rigid plane just below z = 0: a row of elements, every node of it held."""
        rs = [r0 + (r1 - r0) * i / (2 * n) for i in range(2 * n + 1)]
        grid = {}
        r, z = [], []
        for i, radius in enumerate(rs):
            for j, height in enumerate((-2.0, -1.0, 0.0)):
                if i % 2 == 0 or j != 1:
                    grid[i, j] = len(r)
                    r.append(radius)
                    z.append(height)
        rows = [
            [grid[2 * i, 0], grid[2 * i + 2, 0], grid[2 * i + 2, 2], grid[2 * i, 2],
             grid[2 * i + 1, 0], grid[2 * i + 2, 1], grid[2 * i + 1, 2], grid[2 * i, 1]]
            for i in range(n)
        ]  # fmt: skip
        self.add(name, r, z, rows)
        first, last = self.parts[name][:2]
        self.fix(range(first, last), (1, 2))

    def where(self, part, test):
        first, last = self.parts[part][:2]
        return [n for n in range(first, last) if test(*self.nodes[n])]

    def fix(self, nodes, directions):
        self.fixed += [(n, d) for n in nodes for d in directions]

    def surface(self, name, part, test):
        """The element sides of a part all of whose nodes pass."""
        rows = []
        for number, (owner, nodes) in enumerate(self.elements):
            if owner != part:
                continue
            for side, places in SIDES.items():
                if all(test(*self.nodes[nodes[k]]) for k in places):
                    rows.append((number, side))
        assert rows, f"no side of {part} for {name}"
        self.surfaces[name] = rows

    def contact(self, slave, master, friction):
        self.pairs.append((slave, master, friction))

    def shares(self, name):
        """Node to share of an even stress over a surface: Simpson along three nodes, times r."""
        force = {}
        for element, side in self.surfaces[name]:
            a, b, m = (self.elements[element][1][k] for k in SIDES[side])
            length = math.dist(self.nodes[a], self.nodes[b])
            for node, weight in ((a, 1.0), (b, 1.0), (m, 4.0)):
                radius = self.nodes[node][0]
                force[node] = force.get(node, 0.0) + weight * radius * length
        whole = sum(force.values())
        return {node: f / whole for node, f in force.items()}

    def step(self, heat, *, spin=0.0, forces=(), increments=1):
        """Heat in K by part, speed squared in (rad/s)^2, (surface, force along z in N) pairs."""
        self.steps.append((dict(heat), spin, list(forces), increments))

    def text(self):
        out = ["*NODE, NSET=NALL"]
        out += [f"{i + 1}, {r:.12g}, {z:.12g}" for i, (r, z) in enumerate(self.nodes)]
        for part in self.parts:
            out.append(f"*ELEMENT, TYPE=CAX8, ELSET={part}")
            out += [
                f"{i + 1}, " + ", ".join(str(n + 1) for n in nodes)
                for i, (owner, nodes) in enumerate(self.elements)
                if owner == part
            ]
        for part, (first, last, modulus, poisson, expansion, density) in self.parts.items():
            out += [f"*NSET, NSET=N{part}", *(f"{n + 1}," for n in range(first, last))]
            out += [f"*MATERIAL, NAME=M{part}", "*ELASTIC", f"{modulus:g}, {poisson:g}"]
            out += ["*EXPANSION, ZERO=0.", f"{expansion:g}", "*DENSITY", f"{density:g}"]
            out += [f"*SOLID SECTION, ELSET={part}, MATERIAL=M{part}"]
        for name, rows in self.surfaces.items():
            out.append(f"*SURFACE, NAME={name}, TYPE=ELEMENT")
            out += [f"{element + 1}, S{side}" for element, side in rows]
        for i, (slave, master, friction) in enumerate(self.pairs):
            out += [f"*SURFACE INTERACTION, NAME=I{i}"]
            out += ["*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR", f"{PENALTY:g},"]
            if friction > 0.0:
                out += ["*FRICTION", f"{friction:g}, {STICK:g}"]
            out += [
                f"*CONTACT PAIR, INTERACTION=I{i}, TYPE=SURFACE TO SURFACE",
                f"{slave}, {master}",
            ]
        out += ["*INITIAL CONDITIONS, TYPE=TEMPERATURE", "NALL, 0."]
        out += ["*BOUNDARY", *(f"{n + 1}, {d}, {d}" for n, d in self.fixed)]
        for heat, spin, forces, increments in self.steps:
            out += ["*STEP, NLGEOM=NO, INC=1000", "*STATIC"]
            out += [f"{1.0 / increments:g}, 1., 1e-6, {1.0 / increments:g}"]
            out += ["*TEMPERATURE", *(f"N{part}, {kelvin:.12g}" for part, kelvin in heat.items())]
            nodal = {}
            for surface, force in forces:
                for node, share in self.shares(surface).items():
                    nodal[node] = nodal.get(node, 0.0) + share * force
            out += ["*CLOAD, OP=NEW", "1, 2, 0."]  # what acted before acts no more
            out += [f"{n + 1}, 2, {f:.12g}" for n, f in nodal.items()]
            out += ["*DLOAD, OP=NEW"]
            out += [f"{part}, CENTRIF, {spin:g}, 0., 0., 0., 0., 1., 0." for part in self.parts]
            for slave, master, _ in self.pairs:
                out += [f"*CONTACT PRINT, SLAVE={slave}, MASTER={master}", "CF"]
            out += ["*NODE PRINT, NSET=NALL", "U", "*END STEP"]
        return "\n".join(out) + "\n"

    def run(self, folder, timeout=300):
        """After each step: {node: (u_r, u_z)} in mm and {slave surface: (normal, along z)} in N."""
        folder = Path(folder)
        (folder / "deck.inp").write_text(self.text(), encoding="ascii")
        environment = {**os.environ, "OMP_NUM_THREADS": "1", "CCX_NPROC_EQUATION_SOLVER": "1"}
        told = subprocess.run(
            [CCX, "-i", "deck"], cwd=folder, capture_output=True, text=True, timeout=timeout,
            env=environment, check=False,
        )  # fmt: skip
        assert "Job finished" in told.stdout, told.stdout[-2000:]
        return self.read((folder / "deck.dat").read_text(encoding="ascii"))

    def read(self, data):
        """The last increment of every step (times 1, 2, ...)."""
        moved, pressed = {}, {}
        for block in re.split(r"\n(?= (?:displacements|statistics) )", data):
            head, _, rest = block.strip().partition("\n")
            if not head.startswith(("displacements", "statistics")):
                continue
            step = round(float(head.split()[-1]))
            if abs(float(head.split()[-1]) - step) > 1e-6:
                continue
            rows = [line.split() for line in rest.split("\n") if re.match(r"\s*[-\d]", line)]
            if head.startswith("displacements"):
                moved[step] = {int(r[0]) - 1: (float(r[1]), float(r[2])) for r in rows}
            else:
                # Total force and moment, centre, moment, then area, normal and shear force.
                slave = re.search(r"slave set (\w+)", head)[1]
                told = (-WEDGES * float(rows[3][1]), WEDGES * float(rows[0][1]))
                pressed.setdefault(step, {})[slave] = told
        return [(moved[k], pressed.get(k, {})) for k in sorted(moved)]

    def mean(self, surface, moved, direction):
        """Of a movement over a surface."""
        return sum(share * moved[n][direction] for n, share in self.shares(surface).items())
