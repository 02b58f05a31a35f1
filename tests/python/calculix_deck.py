"""Decks for CalculiX (a general finite-element program, `apt-get install calculix-ccx`) from meshes
of fw.bodies, in N, mm, MPa. Contact there is face to face by penalty: another element code and
another contact than the library's."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

CCX = shutil.which("ccx")
#: Penalty in MPa/mm: 40 MPa overlap by 0.008 um.
PENALTY = 5.0e6
#: Axisymmetric elements are solved, and contact forces told, for a wedge of 2 degrees.
WEDGES = 180
#: Sides of an element and their corner, corner, middle.
SIDES = {1: (0, 1, 4), 2: (1, 2, 5), 3: (2, 3, 6), 4: (3, 0, 7)}


class Deck:
    """Parts of one metal, contacts without friction between them, and steps of heat and speed."""

    def __init__(self, modulus, poisson, expansion, density):
        self.metal = (modulus, poisson, expansion, density)
        self.nodes, self.elements = [], []  # (r, z); (part, nodes)
        self.parts, self.surfaces, self.pairs, self.fixed, self.steps = {}, {}, [], [], []

    def add(self, name, r, z, elements):
        """A part; r and z in mm."""
        first = len(self.nodes)
        self.nodes += list(zip(map(float, r), map(float, z), strict=True))
        self.elements += [(name, [first + int(n) for n in row]) for row in elements]
        self.parts[name] = (first, len(self.nodes))

    def where(self, part, test):
        first, last = self.parts[part]
        return [n for n in range(first, last) if test(*self.nodes[n])]

    def fix(self, nodes):
        """Along z."""
        self.fixed += nodes

    def surface(self, name, part, test):
        """The element sides of a part all of whose nodes pass."""
        self.surfaces[name] = [
            (number, side)
            for number, (owner, nodes) in enumerate(self.elements)
            if owner == part
            for side, places in SIDES.items()
            if all(test(*self.nodes[nodes[k]]) for k in places)
        ]
        assert self.surfaces[name], f"no side of {part} for {name}"

    def contact(self, slave, master):
        self.pairs.append((slave, master))

    def step(self, heat, spin=0.0):
        """Heat in K by part; speed squared in (rad/s)^2."""
        self.steps.append((dict(heat), spin))

    def text(self):
        modulus, poisson, expansion, density = self.metal
        out = ["*NODE, NSET=NALL"]
        out += [f"{i + 1}, {r:.12g}, {z:.12g}" for i, (r, z) in enumerate(self.nodes)]
        out += ["*MATERIAL, NAME=METAL", "*ELASTIC", f"{modulus:g}, {poisson:g}"]
        out += ["*EXPANSION, ZERO=0.", f"{expansion:g}", "*DENSITY", f"{density:g}"]
        for part, (first, last) in self.parts.items():
            out.append(f"*ELEMENT, TYPE=CAX8, ELSET={part}")
            out += [
                f"{i + 1}, " + ", ".join(str(n + 1) for n in nodes)
                for i, (owner, nodes) in enumerate(self.elements)
                if owner == part
            ]
            out += [f"*NSET, NSET=N{part}", *(f"{n + 1}," for n in range(first, last))]
            out += [f"*SOLID SECTION, ELSET={part}, MATERIAL=METAL"]
        for name, rows in self.surfaces.items():
            out.append(f"*SURFACE, NAME={name}, TYPE=ELEMENT")
            out += [f"{element + 1}, S{side}" for element, side in rows]
        out += ["*SURFACE INTERACTION, NAME=PUSH"]
        out += ["*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR", f"{PENALTY:g},"]
        for slave, master in self.pairs:
            out += ["*CONTACT PAIR, INTERACTION=PUSH, TYPE=SURFACE TO SURFACE"]
            out += [f"{slave}, {master}"]
        out += ["*INITIAL CONDITIONS, TYPE=TEMPERATURE", "NALL, 0."]
        out += ["*BOUNDARY", *(f"{n + 1}, 2, 2" for n in self.fixed)]
        for heat, spin in self.steps:
            out += ["*STEP, NLGEOM=NO, INC=100", "*STATIC", "1., 1."]
            out += ["*TEMPERATURE", *(f"N{part}, {kelvin:.12g}" for part, kelvin in heat.items())]
            out += ["*DLOAD, OP=NEW"]
            out += [f"{part}, CENTRIF, {spin:g}, 0., 0., 0., 0., 1., 0." for part in self.parts]
            for slave, master in self.pairs:
                out += [f"*CONTACT PRINT, SLAVE={slave}, MASTER={master}", "CF"]
            out += ["*NODE PRINT, NSET=NALL", "U", "*END STEP"]
        return "\n".join(out) + "\n"

    def run(self, folder, timeout=300):
        """After each step: {node: (u_r, u_z)} in mm and {slave surface: normal force in N}."""
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
                pressed.setdefault(step, {})[slave] = -WEDGES * float(rows[3][1])
        return [(moved[k], pressed.get(k, {})) for k in sorted(moved)]
