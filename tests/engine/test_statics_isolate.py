"""Isolating a body: which forces act, from whom, in which order, and in which role."""

from dataclasses import replace

import pytest
import strategies
from hypothesis import given, settings
from steelyard.geometry import length
from steelyard.model import Body, Couple, Force, Guess, Settings, Sketch, Support, Thing
from steelyard.statics.isolate import acting_forces

BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0, mass_kg=10.0)


def acting(*entities, body=BAR, **changes):
    supports = tuple(entity for entity in entities if isinstance(entity, Support))
    loads = tuple(entity for entity in entities if not isinstance(entity, Support))
    sketch = Sketch(bodies=(body,), supports=supports, loads=loads, **changes)
    return acting_forces(sketch, body.id)


def test_order_is_weight_then_loads_then_supports():
    found = acting(
        Support("pin1", "pin", "bar1", (0.0, 0.0), "A", agent="quay"),
        Support("wall", "fixed", "bar1", (4.0, 0.0), "R"),
        Thing("crate", "bar1", (1.0, 0.0), "P", "crate", 5.0),
        Couple("twist", "bar1", (1.0, 0.0), "C", couple_n_m=3.0),
    )
    assert [force.id for force in found] == ["bar1-weight", "crate", "twist", "pin1", "wall", "wall-couple"]
    assert [force.by for force in found] == ["Earth", "crate", "", "quay", "", ""]
    assert {force.on for force in found} == {"plank"}
    assert [force.type for force in found] == ["gravity", "contact", "other", "pin", "fixing force", "fixing couple"]


def test_weight_comes_from_the_bodys_own_mass_only():
    weight, crate = acting(Thing("crate", "bar1", (1.0, 0.0), "P", "crate", 5.0), settings=Settings(g_m_s2=10.0))
    assert (weight.size_n, weight.along, weight.point) == (100.0, (0.0, -1.0), (2.0, 0.0))
    assert (crate.size_n, crate.along) == (50.0, (0.0, -1.0))


def test_weight_neglected_is_no_force_and_a_letter_is_a_force_without_a_size():
    assert acting(body=replace(BAR, mass_kg=None)) == ()
    assert acting(body=replace(BAR, mass_kg=0.0)) == ()
    (letter,) = acting(body=replace(BAR, mass_kg=None, weight_symbol_only=True, weight_symbol="G"))
    assert (letter.symbol, letter.size_n, letter.role) == ("G", None, "known")
    (given_in_newtons,) = acting(body=replace(BAR, mass_kg=None, weight_n=42.0))
    assert given_in_newtons.size_n == 42.0


def test_seen_from_above_nothing_weighs():
    above = Settings(seen_from="above")
    found = acting(
        Thing("crate", "bar1", (1.0, 0.0), "P", "crate", 5.0),
        Force("load1", "bar1", (1.0, 0.0), "F", size_n=1.0),
        settings=above,
    )
    assert [force.id for force in found] == ["load1"]


def test_forces_on_another_body_are_not_ours():
    other = replace(BAR, id="bar2", name="boom")
    sketch = Sketch(bodies=(BAR, other), loads=(Force("load1", "bar2", (0.0, 0.0), "F", size_n=1.0),))
    assert [force.id for force in acting_forces(sketch, "bar1")] == ["bar1-weight"]
    assert [force.id for force in acting_forces(sketch, "bar2")] == ["bar2-weight", "load1"]


@pytest.mark.parametrize(
    ("support", "sought", "along", "one_way"),
    [
        (Support("s", "pin", "bar1", (0.0, 0.0), "A"), "size and direction", (1.0, 1.0), False),
        (Support("s", "pin", "bar1", (0.0, 0.0), "A", drawn_deg=135.0), "size and direction", (-1.0, 1.0), False),
        (Support("s", "fixed", "bar1", (0.0, 0.0), "A", drawn_deg=270.0), "size and direction", (1.0, -1.0), False),
        (Support("s", "roller", "bar1", (0.0, 0.0), "A"), "size", (0.0, 1.0), True),
        (Support("s", "roller", "bar1", (0.0, 0.0), "A", two_way=True), "size", (0.0, 1.0), False),
        (Support("s", "roller", "bar1", (0.0, 0.0), "A", two_way=True, drawn_deg=180.0), "size", (0.0, -1.0), False),
        (Support("s", "contact", "bar1", (0.0, 0.0), "A", normal_deg=180.0), "size", (-1.0, 0.0), True),
        (Support("s", "rope", "bar1", (1.0, 0.0), "A", anchor_m=(4.0, 4.0)), "size", (0.6, 0.8), True),
        (Support("s", "strut", "bar1", (1.0, 0.0), "A", anchor_m=(4.0, 4.0)), "size", (0.6, 0.8), False),
        (
            Support("s", "strut", "bar1", (1.0, 0.0), "A", anchor_m=(4.0, 4.0), drawn_deg=180.0),
            "size",
            (-0.6, -0.8),
            False,
        ),
    ],
)
def test_support_stands_for_its_unknown(support, sought, along, one_way):
    force = acting(support, body=replace(BAR, mass_kg=None))[0]
    assert (force.role, force.sought, force.one_way) == ("unknown", sought, one_way)
    assert force.along == pytest.approx(along)


def test_rope_of_no_length_keeps_a_direction_of_its_own():
    rope = Support("rope1", "rope", "bar1", (1.0, 0.0), "T", anchor_m=(1.0, 0.0), normal_deg=90.0)
    assert acting(rope)[-1].along == (0.0, 1.0)


def test_guess_becomes_a_vector_and_a_couple_keeps_its_sense():
    pin = Support("pin1", "pin", "bar1", (0.0, 0.0), "A", guess=Guess(size_n=10.0, direction_deg=90.0))
    wall = Support("wall", "fixed", "bar1", (0.0, 0.0), "R", couple_guess=Guess(couple_n_m=-7.0))
    twist = Couple("twist", "bar1", (0.0, 0.0), "C", couple_n_m=3.0, counterclockwise=False)
    _, known, pinned, _, couple = acting(pin, wall, twist)
    assert pinned.guess == pytest.approx((0.0, 10.0))
    assert couple.guess_couple_n_m == -7.0
    assert (known.couple_n_m, known.drawn_sense) == (-3.0, -1)


@settings(max_examples=300, deadline=None)
@given(strategies.sketches())
def test_ids_are_unique_and_lines_are_unit_vectors(sketch):
    found = acting_forces(sketch, sketch.bodies[0].id)
    assert len({force.id for force in found}) == len(found)
    for force in found:
        if force.sought == "size and direction":
            assert set(map(abs, force.along)) == {1.0}
        elif force.along is not None:
            assert length(force.along) == pytest.approx(1.0)
