"""Theorems are claimed only where the solved forces show them, and are found where a person would see them."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from sketch_bank import BANK
from steelyard import statics
from steelyard.statics.theorems import theorems
from steelyard.working.geometry_way import by_geometry
from strategies import holding_sketches
from working_cases import SKETCHES, Matrix


def check_theorems(sketch):
    """Each theorem against numpy's solution; returns the kinds."""
    analysis = statics.analyse(sketch)
    matrix = Matrix(analysis)
    found = theorems(analysis)
    if analysis.supports.kind != "determinate" or None in matrix.known_sizes:
        return {each.kind for each in found}
    solution = matrix.solve(matrix.known_sizes)[0]
    scale = max([1e-9, *matrix.known_sizes, *(abs(value) for value in solution.values())])
    points = {reading.force.id: np.array(reading.force.point) for reading in analysis.readings}

    def vector(force):
        values = {**solution, **dict(zip(matrix.known_keys, matrix.known_sizes, strict=True))}
        return sum((values[k] * matrix.wrenches[k][:2] for k in values if k.split(".")[0] == force), np.zeros(2))

    for theorem in found:
        along = np.array(theorem.direction) if theorem.direction else None
        if theorem.kind == "two-force":
            for force in theorem.forces:
                assert abs(np.cross([*along, 0], [*vector(force), 0])[2]) <= 1e-6 * scale
        if theorem.kind in ("three-forces", "parallel") and theorem.implies:
            assert abs(np.cross([*along, 0], [*vector(theorem.implies), 0])[2]) <= 1e-5 * scale
        if theorem.kind == "three-forces":
            arm = np.array(theorem.point) - points[theorem.implies]
            assert abs(np.cross([*arm, 0], [*vector(theorem.implies), 0])[2]) <= 1e-5 * scale * np.linalg.norm(arm)
        if theorem.kind == "symmetry":
            first, second = (abs(vector(force) @ along) for force in theorem.forces)
            assert first == pytest.approx(second, rel=1e-6, abs=1e-6 * scale)
        if theorem.kind == "couple":
            total = sum((vector(force) for force in theorem.forces), np.zeros(2))
            assert np.linalg.norm(total) <= 1e-6 * scale
    return {each.kind for each in found}


@pytest.mark.parametrize("name", SKETCHES)
def test_every_theorem_holds_for_the_solved_forces(name):
    check_theorems(SKETCHES[name])


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(holding_sketches())
def test_every_theorem_holds_for_random_held_sketches(sketch):
    check_theorems(sketch)


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("pin and rope", "three-forces"),
        ("pin and rope, sloping bar", "three-forces"),
        ("pin and roller", "parallel"),
        ("midway load, equal reactions", "symmetry"),
        ("couple between pin and roller", "couple"),
    ],
)
def test_theorems_a_person_sees_are_found(name, kind):
    assert kind in check_theorems(BANK[name])


@pytest.mark.parametrize(
    "name", ["pin and rope", "pin and rope, sloping bar", "pin and strut below", "free force and a rope"]
)
def test_working_by_geometry_gives_what_numpy_gives(name):
    analysis = statics.analyse(BANK[name])
    matrix = Matrix(analysis)
    solution = matrix.solve(matrix.known_sizes)[0]
    steps = by_geometry(BANK[name], analysis)
    assert [step.title.text for step in steps] == ["Head to tail", "Directions of the other two", "Close it"]
    values = [line.equation.right.value for line in steps[-1].lines if line.kind == "value"]
    sizes = {}
    for key, value in solution.items():
        sizes[key.split(".")[0]] = math.hypot(sizes.get(key.split(".")[0], 0.0), value)
    assert sorted(values) == pytest.approx(sorted(sizes.values()), rel=1e-9)
    for sentence in steps[-1].remarks:
        force, said = sentence.fact.data["force"], np.array(sentence.fact.data["vector"])
        true = sum((solution[k] * matrix.wrenches[k][:2] for k in matrix.keys if k.split(".")[0] == force), np.zeros(2))
        assert np.allclose(said, true / np.linalg.norm(true), atol=1e-6)


def test_no_geometry_where_lines_do_not_cross():
    assert by_geometry(BANK["pin and roller"], statics.analyse(BANK["pin and roller"])) == ()
