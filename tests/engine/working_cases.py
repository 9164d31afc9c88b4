"""Sketches and ways of writing for the tests of the working, and their equations assembled again with numpy."""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path

import numpy as np
from rough_bank import ROUGH
from sketch_bank import BANK
from steelyard import document
from steelyard.working.desk import Options

ROOT = Path(__file__).resolve().parents[2]
WAYS = {
    "arms": Options(),
    "r across, two-sided": Options(torque_form="square", two_sided=True),
    "coordinates": Options(torque_form="components"),
    "own pivot": Options(first_pivot=(1.5, 2.5)),
    "own order": Options(order=("y", "x", (2.0, -1.0))),
}


def scenarios():
    """The sketches of the shelf that are about one body."""
    every = {
        file.stem: document.from_data(json.loads(file.read_text(encoding="utf-8"))["sketch"])
        for file in sorted((ROOT / "scenarios").glob("*.json"))
    }
    return {slug: sketch for slug, sketch in every.items() if len(sketch.bodies) == 1}


def published():
    """The sketches of the published cases of one body, where every force acts at a point that is known beforehand."""
    path = ROOT / "tests" / "published" / "cases.py"
    sys.path.insert(0, str(path.parent))  # it imports what lies beside it
    spec = importlib.util.spec_from_file_location("published_cases", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return {
        case["id"]: module.sketch_of(case)
        for case in module.CASES
        if "bodies" not in case and not any("face_m" in hold for hold in case["holds"])
    }


SKETCHES = {
    **{f"bank: {name}": sketch for name, sketch in BANK.items()},
    **{f"rough: {name}": sketch for name, sketch in ROUGH.items()},
    **{f"scenario: {name}": sketch for name, sketch in scenarios().items()},
    **{f"published: {name}": sketch for name, sketch in published().items()},
}


class Matrix:
    """Columns (Fx, Fy, torque about the origin over `lever`) of unknowns and knowns, from the forces as isolated.

    A normal on a face acts at its first end, and beside it there is a couple, its torque about that end; `spread` are
    such normals. `laws` are (friction, normal, μ) of contacts about to slide, used where the three sums do not do.
    """

    def __init__(self, analysis):
        self.lever = analysis.lever_m
        self.keys, self.columns, self.one_way = [], [], []
        self.known_keys, self.known_columns, self.known_sizes = [], [], []
        self.wrenches = {}
        self.spread = set()
        self.laws = [
            (reading.force.id, reading.force.normal, reading.force.mu)
            for reading in analysis.readings
            if reading.force.type == "friction" and reading.force.about_to in ("slip", "slip-back") and reading.force.mu
        ]
        for reading in analysis.readings:
            force = reading.force
            for key, wrench in self._of(force):
                self.wrenches[key] = wrench
                if force.role == "unknown":
                    self.keys.append(key)
                    self.columns.append(wrench)
                    self.one_way.append(force.one_way)
                else:
                    size = force.size_n if force.along is not None else force.couple_n_m
                    self.known_keys.append(key)
                    self.known_columns.append(wrench)
                    self.known_sizes.append(None if size is None else abs(size))

    def _of(self, force):
        if force.about_to in ("lift", "slack") or (force.type == "friction" and force.mu == 0.0):
            return []
        if force.face is not None and force.about_to not in ("tip", "tip-back"):
            return self._on_face(force)
        if force.along is None:
            turn = force.drawn_sense or 1
            return [(force.id, np.array([0.0, 0.0, turn / self.lever]))]
        if force.sought == "size and direction":
            right, up = force.x_axis
            senses = force.along
            return [
                (f"{force.id}.x", self._wrench(force.point, (right * senses[0], up * senses[0]))),
                (f"{force.id}.y", self._wrench(force.point, (-up * senses[1], right * senses[1]))),
            ]
        return [(force.id, self._wrench(force.point, force.along))]

    def _on_face(self, force):
        start, end = (np.array(each) for each in force.face)
        size = (force.id, self._wrench(force.face[0], force.along))
        if force.sought == "size":
            return [size]
        self.spread.add(force.id)
        turn = np.sign(np.cross([*(end - start), 0.0], [*force.along, 0.0])[2])
        return [size, (f"{force.id}.place", np.array([0.0, 0.0, turn / self.lever]))]

    def _wrench(self, point, along):
        return np.array([along[0], along[1], (point[0] * along[1] - point[1] * along[0]) / self.lever])

    def share(self, key, point=None, axis=None):
        """What one unit of a part adds to a sum."""
        fx, fy, torque = self.wrenches[key]
        if point is not None:
            return torque * self.lever - point[0] * fy + point[1] * fx
        return fx * axis[0] + fy * axis[1]

    def solve(self, sizes):
        """The unknowns for given known sizes (least squares), and the left-over."""
        known = np.array(self.known_columns).reshape(-1, 3).T @ np.asarray(sizes) if self.known_keys else np.zeros(3)
        matrix = np.array(self.columns).reshape(-1, 3).T
        if self.laws and np.linalg.matrix_rank(matrix, tol=1e-9) < len(self.keys):
            rows = np.zeros((len(self.laws), len(self.keys)))
            for row, (friction, normal, mu) in zip(rows, self.laws, strict=True):
                row[self.keys.index(friction)], row[self.keys.index(normal)] = 1.0, -mu
            matrix, known = np.vstack([matrix, rows]), np.concatenate([known, np.zeros(len(self.laws))])
        values = np.linalg.lstsq(matrix, -known, rcond=None)[0]
        return dict(zip(self.keys, values, strict=True)), float(np.linalg.norm(matrix @ values + known))
