"""Answers kept back: nothing of an unknown's answer is left anywhere in the analysis."""

import math
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace

import pytest
import strategies
from hypothesis import assume, given, settings
from steelyard import shelf
from steelyard.model import Body, Couple, Force, Guess, Sketch, SpreadLoad, Support, Thing
from steelyard.statics import analyse, kept_back

BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0)


def _numbers(value: object) -> Iterator[float]:
    """Every number in nested dataclasses and tuples."""
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return
    if isinstance(value, int | float):
        yield float(value)
    elif isinstance(value, tuple):
        for part in value:
            yield from _numbers(part)
    else:
        assert is_dataclass(value), f"a {type(value).__name__} is not searched"
        for field in fields(value):
            yield from _numbers(getattr(value, field.name))


def _answers(analysis) -> list[float]:
    """Sizes, parts and torques that only solving gives, and that are no plain number."""
    found: list[float] = []
    for reading in analysis.readings:
        if reading.force.role == "unknown":
            for number in (
                reading.size_n,
                reading.couple_n_m,
                *reading.components_n,
                reading.turning.torque_n_m,
                reading.turning.from_x_n_m,
                reading.turning.from_y_n_m,
                reading.direction_deg if reading.force.sought == "size and direction" else None,
                reading.turning.arm_m if reading.force.sought == "size and direction" else None,
            ):
                if number is not None and abs(number) > 1e-6:
                    found.append(number)
    return found


def test_gangway_kept_back_holds_no_tension_and_no_hinge_force():
    # Not about A, where the rope's torque is that of the known weights, which everybody may add up.
    analysis = analyse(shelf.load("gangway"), pivot=(-1.3, 0.7))
    answers = _answers(analysis)
    assert len(answers) >= 8
    kept = list(_numbers(kept_back(analysis)))
    for answer in answers:
        assert not any(math.isclose(abs(number), abs(answer), rel_tol=1e-6) for number in kept)


def test_known_line_keeps_foot_and_arm_and_a_rope_its_sense():
    turning = kept_back(analyse(shelf.load("gangway"))).reading("hoist").turning
    assert turning.arm_m == pytest.approx(3.039, abs=0.0005)
    assert turning.sense == 1
    assert turning.torque_n_m is None


def test_unknown_pair_drops_out_at_the_pivot_only():
    # The pin's solved force also points through (2, 0), but that is an answer.
    sketch = Sketch(
        bodies=(BAR,),
        supports=(
            Support("pin1", "pin", "bar1", (0.0, 0.0), "A"),
            Support("roller1", "roller", "bar1", (4.0, 0.0), "B"),
        ),
        loads=(Force("load1", "bar1", (1.0, 0.0), "F", size_n=10.0, direction_deg=0.0),),
    )
    shown = analyse(sketch, pivot=(2.0, 0.0))
    assert shown.reading("pin1").turning.drops_out
    assert not kept_back(shown).reading("pin1").turning.drops_out
    assert kept_back(analyse(sketch, pivot=(0.0, 0.0))).reading("pin1").turning.drops_out


def _held_by_rope(load_deg: float) -> Sketch:
    return Sketch(
        bodies=(BAR,),
        supports=(
            Support("pin1", "pin", "bar1", (0.0, 0.0), "A"),
            Support("rope1", "rope", "bar1", (4.0, 0.0), "T", anchor_m=(4.0, 2.0)),
        ),
        loads=(Force("load1", "bar1", (2.0, 0.0), "F", size_n=10.0, direction_deg=load_deg),),
    )


def test_possible_and_impossible_read_the_same():
    possible, impossible = analyse(_held_by_rope(270.0)), analyse(_held_by_rope(90.0))
    assert (possible.supports.kind, impossible.supports.kind) == ("determinate", "impossible")
    assert kept_back(possible).supports == kept_back(impossible).supports
    assert kept_back(possible).balance == kept_back(impossible).balance
    assert kept_back(possible).supports.sentence.startswith("Three unknowns, three equations: each has one answer")


def test_mechanism_does_not_say_whether_it_stands():
    stands, moves = (
        Sketch(
            bodies=(BAR,),
            supports=(Support("pin1", "pin", "bar1", (1.0, 0.0), "A"),),
            loads=(Force("load1", "bar1", (x, 0.0), "F", size_n=10.0),),
        )
        for x in (1.0, 3.0)
    )
    assert kept_back(analyse(stands)).supports == kept_back(analyse(moves)).supports
    assert "Free to move in one way" in kept_back(analyse(moves)).supports.sentence


def test_residual_comes_back_once_every_unknown_has_a_guess():
    sketch = _held_by_rope(270.0)
    pin, rope = sketch.supports
    pin = replace(pin, guess=Guess(size_n=5.0, direction_deg=90.0))
    half = kept_back(analyse(replace(sketch, supports=(pin, rope))))
    assert (half.residual, half.balance.kind) == (None, "open")
    rope = replace(rope, guess=Guess(size_n=4.0, direction_deg=90.0))
    whole = kept_back(analyse(replace(sketch, supports=(pin, rope))))
    assert whole.residual.fy_n == pytest.approx(-1.0)
    assert whole.balance.kind == "unbalanced"


def test_sketch_of_known_arrows_has_nothing_to_keep_back():
    analysis = analyse(Sketch(bodies=(BAR,), loads=(Force("load1", "bar1", (2.0, 0.0), "F", size_n=10.0),)))
    assert kept_back(analysis) == analysis


def _scaled(sketch: Sketch, factor: float) -> Sketch:
    """The known loads multiplied: every answer changes, nothing that may be seen of an unknown does."""
    body = sketch.bodies[0]
    return replace(
        sketch,
        bodies=(
            replace(
                body,
                mass_kg=None if body.mass_kg is None else body.mass_kg * factor,
                weight_n=None if body.weight_n is None else body.weight_n * factor,
            ),
        ),
        loads=tuple(
            replace(load, mass_kg=None if load.mass_kg is None else load.mass_kg * factor)
            if isinstance(load, Thing)
            else replace(load, couple_n_m=None if load.couple_n_m is None else load.couple_n_m * factor)
            if isinstance(load, Couple)
            else replace(load, start_n_per_m=load.start_n_per_m * factor, end_n_per_m=load.end_n_per_m * factor)
            if isinstance(load, SpreadLoad)
            else replace(load, size_n=None if load.size_n is None else load.size_n * factor)
            for load in sketch.loads
        ),
    )


@settings(max_examples=300, deadline=None)
@given(strategies.sketches(letters=False, guesses=False))
def test_what_is_kept_does_not_change_when_every_answer_does(sketch):
    """If anything of an unknown's reading depended on the loads, a third of the loads would show it."""
    first, second = analyse(sketch), analyse(_scaled(sketch, 1.0 / 3.0))
    unknown = [reading.force.id for reading in first.readings if reading.force.role == "unknown"]
    assume(unknown)
    one, two = kept_back(first), kept_back(second)
    for force_id in unknown:
        assert one.reading(force_id) == two.reading(force_id)
    assert one.supports == two.supports
    assert one.balance == two.balance
    assert one.residual is None and two.residual is None


@settings(max_examples=300, deadline=None)
@given(strategies.sketches(letters=False, guesses=False))
def test_what_is_kept_does_not_change_when_the_loads_turn_round(sketch):
    """Reversing every load reverses every answer, and may make it impossible: nothing kept may tell."""
    turned = replace(
        sketch,
        bodies=(replace(sketch.bodies[0], mass_kg=None, weight_n=None),),
        loads=tuple(load for load in sketch.loads if isinstance(load, Force)),
    )
    opposite = replace(
        turned,
        loads=tuple(
            replace(load, direction_deg=load.direction_deg + 180.0) if load.role == "known" else load
            for load in turned.loads
        ),
    )
    one, two = kept_back(analyse(turned)), kept_back(analyse(opposite))
    assume(any(reading.force.role == "unknown" for reading in one.readings))
    for first, second in zip(one.readings, two.readings, strict=True):
        if first.force.role == "unknown":
            assert first == second
    assert one.supports == two.supports
    assert one.balance == two.balance
