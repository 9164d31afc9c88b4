"""Pieces fixed to a body: weight, centre of mass and inertia against numpy, scipy and lumps of matter; and by hand."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import numpy as np
import pytest
import reference
import strategies
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from steelyard import document
from steelyard.edit import commands
from steelyard.edit.context import Context
from steelyard.edit.gestures import Gesture
from steelyard.errors import SteelyardError
from steelyard.kinetics.inertia import inertia
from steelyard.kinetics.release import release
from steelyard.model import AddedPiece, Body, Sketch, Support
from steelyard.panels.body_fields import body_fields
from steelyard.panels.problem import problem
from steelyard.statics import analyse, shape

G = 9.81
BAR = Body("bar", "bar", "pendulum", (0.0, 0.0), 0.0, length_m=1.2, mass_kg=3.0)
BOB = AddedPiece((1.2, 0.0), 5.0, radius_m=0.15)
BOARD = Context(newtons_per_m=500.0, catch_m=0.0)


def of(body: Body, **more: object) -> Sketch:
    return Sketch(bodies=(body,), **more)  # type: ignore[arg-type]


def lumps(piece: AddedPiece, across: int = 400) -> tuple[np.ndarray, np.ndarray]:
    """Masses and places (frame of the body) of many small lumps of a piece; of one for a point."""
    if not piece.radius_m and not piece.width_m:
        return np.array([piece.mass_kg]), np.array([piece.centre_m])
    if piece.radius_m > 0.0:
        rings = (np.arange(across) + 0.5) / across * piece.radius_m
        turns = (np.arange(64) + 0.5) / 64 * math.tau
        r, turn = np.meshgrid(rings, turns)
        places = np.stack([r * np.cos(turn), r * np.sin(turn)], axis=-1).reshape(-1, 2)
        weights = r.ravel()
    else:
        steps = (np.arange(across) + 0.5) / across - 0.5
        x, y = np.meshgrid(steps * piece.width_m, steps * piece.height_m)
        places = np.stack([x.ravel(), y.ravel()], axis=-1)
        weights = np.ones(len(places))
    turn = math.radians(piece.angle_deg)
    matrix = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return piece.mass_kg * weights / weights.sum(), places @ matrix.T + np.array(piece.centre_m)


@pytest.mark.parametrize(
    "piece",
    [
        BOB,
        AddedPiece((0.5, 0.4), 2.0, width_m=0.8, angle_deg=50.0),
        AddedPiece((-0.2, 0.1), 7.0, width_m=0.5, height_m=0.3, angle_deg=-20.0),
        AddedPiece((2.0, 2.0), 1.5),
    ],
)
def test_mass_centre_and_inertia_are_those_of_many_small_lumps(piece):
    """The rod's own lumps and the piece's: to the squared size of a lump, 1/400 of the piece, at worst."""
    body = replace(BAR, origin_m=(1.0, -2.0), angle_deg=35.0, pieces=(piece,))
    found = inertia(body, G)
    assert found is not None
    rod = lumps(AddedPiece((0.6, 0.0), 3.0, width_m=1.2), across=600)
    masses, places = (np.concatenate(parts) for parts in zip(rod, lumps(piece), strict=True))
    centre = np.average(places, axis=0, weights=masses)
    assert found.mass_kg == pytest.approx(masses.sum())
    assert found.centre_m == pytest.approx(shape.world(body, tuple(centre)), abs=1e-12)
    moment = (masses * ((places - centre) ** 2).sum(axis=1)).sum()
    assert found.moment_kg_m2 == pytest.approx(moment, rel=2e-5)


@settings(max_examples=80, deadline=None)
@given(strategies.sketches(letters=False, guesses=False), st.floats(-3.0, 3.0), st.floats(0.1, 80.0))
def test_reactions_are_those_numpy_finds_with_the_pieces_counted(sketch, x, mass):
    body = sketch.bodies[0]
    assume(body.weight_n is None)
    pieces = (AddedPiece((x, 0.5), mass, radius_m=0.2), AddedPiece((0.3, -x), 2.0, width_m=0.4))
    sketch = replace(sketch, bodies=(replace(body, pieces=pieces),))
    document.check(sketch)
    total = (body.mass_kg or 0.0) + mass + 2.0
    force = analyse(sketch).reading(f"{body.id}-weight").force
    assert force.size_n == pytest.approx(total * sketch.settings.g_m_s2)
    assert force.point == pytest.approx(tuple(reference.centre_of_mass(sketch.bodies[0])), abs=1e-9)
    assert document.read(document.write(sketch)) == sketch


def test_a_physical_pendulum_starts_as_its_moment_about_the_pin_says():
    """α = Σ m g x / Σ (I + m d²): rod m L²/3, disc m r²/2 + m L²."""
    body = replace(BAR, pieces=(BOB,))
    found = release(of(body, supports=(Support("pin", "pin", "bar", (0.0, 0.0), "R"),)))
    about_pin = 3.0 * 1.2**2 / 3.0 + 5.0 * 0.15**2 / 2.0 + 5.0 * 1.2**2
    assert found.alpha_rad_s2 == pytest.approx(-(3.0 * 0.6 + 5.0 * 1.2) * G / about_pin, rel=1e-12)


def test_a_light_body_has_the_mass_of_its_pieces_alone():
    found = inertia(replace(BAR, mass_kg=None, pieces=(BOB,)), G)
    assert found is not None
    assert (found.mass_kg, found.centre_m) == (5.0, (1.2, 0.0))
    assert found.moment_kg_m2 == pytest.approx(5.0 * 0.15**2 / 2.0, rel=1e-12)


@pytest.mark.parametrize(
    ("change", "where", "said"),
    [
        ({"weight_n": 10.0, "mass_kg": None}, "weight_n", "beside pieces"),
        ({"weight_symbol_only": True, "mass_kg": None}, "weight_symbol_only", "beside pieces"),
        ({"centre_m": (0.5, 0.0)}, "centre_m", "beside pieces"),
        ({"pieces": (replace(BOB, width_m=0.2),)}, "pieces[0].radius_m", "beside sides"),
        ({"pieces": (BOB, AddedPiece((0.0, 0.0), 1.0, height_m=0.2))}, "pieces[1].height_m", "needs a width"),
    ],
)
def test_what_cannot_stand_together_is_refused_with_its_path(change, where, said):
    with pytest.raises(SteelyardError, match=said) as caught:
        document.check(of(replace(BAR, **{"pieces": (BOB,), **change})))
    assert caught.value.where == f"bodies[0].{where}" and caught.value.hint


def test_a_piece_without_mass_is_not_read():
    data = json.loads(document.write(of(replace(BAR, pieces=(BOB,)))))
    data["bodies"][0]["pieces"][0]["mass_kg"] = 0
    with pytest.raises(SteelyardError) as caught:
        document.from_data(data)
    assert caught.value.where == "bodies[0].pieces[0].mass_kg"


def test_numbers_of_a_piece_can_be_varied():
    sketch = of(replace(BAR, pieces=(BOB,)))
    mass = document.number_at(sketch, "bar.pieces[0].mass_kg")
    assert (mass.value, mass.kind, mass.never_negative) == (5.0, "mass", True)
    assert document.words_for(sketch, mass) == "the pendulum's piece 1, mass"
    assert document.with_number(sketch, mass, 6.0).bodies[0].pieces == (replace(BOB, mass_kg=6.0),)
    along = document.number_at(sketch, "bar.pieces[0].centre_m[0]")
    assert document.with_number(sketch, along, 0.4).bodies[0].pieces[0].centre_m == (0.4, 0.0)


def test_a_piece_is_fixed_moved_sized_and_taken_off_by_hand():
    sketch = commands.apply(of(BAR), "piece", {"id": "bar"}).sketch
    (piece,) = sketch.bodies[0].pieces
    assert (piece.centre_m, piece.mass_kg) == ((0.6, 0.0), 10.0) and piece.radius_m > 0.0
    hold = Gesture(sketch, "bar", "piece-0", (0.6, 0.0), BOARD)
    moved = hold.at((1.0, 0.3), BOARD)
    assert moved.bodies[0].pieces[0].centre_m == pytest.approx((1.0, 0.3))
    sized = moved
    for key, text in (
        ("shape", "rectangle"),
        ("mass", "4"),
        ("width", "50 cm"),
        ("height", "0.2"),
        ("angle", "30"),
        ("x", "0.2"),
        ("y", "-0.1"),
    ):
        sized = commands.apply(sized, "set", {"id": "bar", "key": f"piece0_{key}", "text": text}).sketch
    assert sized.bodies[0].pieces == (AddedPiece((0.2, -0.1), 4.0, 0.0, 0.5, 0.2, 30.0),)
    round_again = commands.apply(sized, "set", {"id": "bar", "key": "piece0_radius", "text": "0.1"}).sketch
    assert round_again.bodies[0].pieces[0].width_m == 0.0
    items = [item for group in body_fields(sized, sized.bodies[0], None)["groups"] for item in group["items"]]
    shown = {item["key"]: item for item in items}
    parts = ("mass", "x", "y", "shape", "width", "height", "angle", "off")
    assert [key for key in shown if key.startswith("piece0")] == [f"piece0_{part}" for part in parts]
    turned = sized
    for wanted in ("bar", "disc", "point", "bar", "rectangle", "point", "disc"):
        turned = commands.apply(turned, "set", {"id": "bar", "key": "piece0_shape", "text": wanted}).sketch
        assert shape.piece_shape(turned.bodies[0].pieces[0]) == wanted
    assert shown["piece0_mass"]["text"] == "4" and "weight" not in shown
    off = commands.apply(sized, shown["piece0_off"]["command"], shown["piece0_off"]["args"])
    assert off.sketch == of(BAR) and off.label == "Take a piece off pendulum"
    with pytest.raises(SteelyardError, match="follows from its pieces"):
        Gesture(sized, "bar", "centre", (0.6, 0.0), BOARD)


def test_the_problem_says_what_is_fixed_to_the_body():
    body = replace(BAR, pieces=(BOB, AddedPiece((0.4, 0.0), 1.0)))
    said = problem(of(body), "bar")
    assert said is not None
    assert (
        "Fixed to it are a uniform disc of radius 0.15\u00a0m, of mass 5\u00a0kg with its centre at (1.2, 0)\u00a0m "
        "and a small piece of mass 1\u00a0kg with its centre at (0.4, 0)\u00a0m."
    ) in str(said["text"])
