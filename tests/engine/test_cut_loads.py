"""A load across the joint of two bodies is cut there: the two parts do what it did, by numpy's integral."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard.edit.context import Context
from steelyard.edit.placing import Placing
from steelyard.errors import SteelyardError
from steelyard.geometry import Point
from steelyard.model import Body, Sketch, SpreadLoad, Support
from steelyard.statics import analyse, shape, spread


def bars(angle_deg: float, turned: bool) -> tuple[Body, Body, Point]:
    """Two bars in one line, 3 m and 2 m long, the second one drawn from either end, and their joint."""
    first = Body("first", "bar", "first", (1.0, -2.0), angle_deg, length_m=3.0)
    joint, end = shape.world(first, (3.0, 0.0)), shape.world(first, (5.0, 0.0))
    second = Body("second", "bar", "second", end if turned else joint, angle_deg + 180.0 * turned, length_m=2.0)
    return first, second, joint


def wrench(load: SpreadLoad, body: Body) -> np.ndarray:
    """ΣFx, ΣFy and Στ about the origin, integrated over the load (Simpson is exact for a cubic)."""
    start, end = (np.array(shape.world(body, place)) for place in (load.start_m, load.end_m))
    along = (end - start) / load.length_m
    acts = {
        "across": np.array([along[1], -along[0]]),
        "down": np.array([0.0, -1.0]),
        "weight": np.array([0.0, -1.0]),
        "angle": np.array([math.cos(math.radians(load.direction_deg)), math.sin(math.radians(load.direction_deg))]),
    }[load.acts]
    total = np.zeros(3)
    for part, weight in ((0.0, 1.0), (0.5, 4.0), (1.0, 1.0)):
        size = load.start_n_per_m + part * (load.end_n_per_m - load.start_n_per_m)
        x, y = start + part * (end - start)
        fx, fy = size * acts * weight * load.length_m / 6.0
        total += (fx, fy, x * fy - y * fx)
    return total


SIZES = st.integers(0, 900).map(float)


@settings(max_examples=60, deadline=None)
@given(
    angle=st.integers(0, 359).map(float), turned=st.booleans(), back=st.booleans(), sizes=st.tuples(SIZES, SIZES),
    ends=st.tuples(st.integers(0, 29), st.integers(31, 50)),
    acts=st.sampled_from(["across", "down", "angle", "weight"]),
)  # fmt: skip
def test_the_two_parts_do_what_the_load_did_and_each_lies_on_its_own_body(angle, turned, back, sizes, ends, acts):
    first, second, joint = bars(angle, turned)
    start, end = ((ends[0] / 10.0, 0.0), (ends[1] / 10.0, 0.0))
    if back:
        start, end = end, start
    load = SpreadLoad("snow", "first", start, end, "Q", start_n_per_m=sizes[0], end_n_per_m=sizes[1], acts=acts,
                      direction_deg=250.0)  # fmt: skip
    mine, theirs = spread.cut(load, first, second, joint, second_id="more", second_symbol="Q2")
    assert (mine.id, mine.body, mine.symbol) == ("snow", "first", "Q")
    assert (theirs.id, theirs.body, theirs.symbol) == ("more", "second", "Q2")
    both = wrench(mine, first) + wrench(theirs, second)
    assert both == pytest.approx(wrench(load, first), abs=1e-9 * (1.0 + sum(sizes)) * 10.0)
    assert mine.length_m + theirs.length_m == pytest.approx(load.length_m)
    for part, body in ((mine, first), (theirs, second)):
        for place in (part.start_m, part.end_m):
            assert place == pytest.approx(shape.nearest_place(body, shape.world(body, place)), abs=1e-9)


def test_letter_all_along_is_cut_and_one_that_changes_is_refused():
    first, second, joint = bars(0.0, False)
    load = SpreadLoad("snow", "first", (1.0, 0.0), (4.5, 0.0), "Q")
    mine, theirs = spread.cut(load, first, second, joint, second_id="more", second_symbol="Q2")
    assert mine.letter_only and theirs.letter_only
    with pytest.raises(SteelyardError) as caught:
        spread.cut(replace(load, end_n_per_m=0.0), first, second, joint, second_id="more", second_symbol="Q2")
    assert caught.value.code == "spread.cut"


@pytest.mark.parametrize(
    ("end", "joint", "angle"),
    [((2.5, 0.0), (4.0, -2.0), 0.0), ((4.5, 0.0), (4.0, -1.0), 0.0), ((4.5, 0.0), None, 30.0)],
)
def test_load_that_does_not_cross_the_joint_in_line_is_refused(end, joint, angle):
    first, second, where = bars(0.0, False)
    load = SpreadLoad("snow", "first", (1.0, 0.0), end, "Q", start_n_per_m=1.0, end_n_per_m=1.0)
    other = replace(second, angle_deg=angle)
    with pytest.raises(SteelyardError) as caught:
        spread.cut(load, first, other, where if joint is None else joint, second_id="more", second_symbol="Q2")
    assert (caught.value.code, caught.value.where) == ("spread.cut", "snow")


def test_cut_load_on_a_beam_with_a_hinge_gives_the_reactions_of_the_two_resultants_by_hand():
    # 200 N/m from 1 m to 5 m: 400 N at 2 m on the long beam (0 to 3 m, on a fixed end), 400 N at 4 m on the short
    # one (3 to 5 m, on a roller at its end): C = 200 N each, M = 400·2 + 200·3.
    first, second, joint = bars(0.0, False)
    load = SpreadLoad("snow", "first", (1.0, 0.0), (5.0, 0.0), "Q", start_n_per_m=200.0, end_n_per_m=200.0)
    loads = spread.cut(load, first, second, joint, second_id="more", second_symbol="Q2")
    sketch = Sketch(
        bodies=(first, second),
        supports=(
            Support("wall", "fixed", "first", (0.0, 0.0), "A"),
            Support("joint", "pin", "first", (3.0, 0.0), "C", other="second"),
            Support("end", "roller", "second", (2.0, 0.0), "D"),
        ),
        loads=loads,
    )
    both = analyse(sketch, bodies=("first", "second"))
    assert both.reading("end").size_n == pytest.approx(200.0)
    assert both.reading("wall").components_n == pytest.approx((0.0, 600.0), abs=1e-9)
    assert both.reading("wall-couple").couple_n_m == pytest.approx(400.0 * 2.0 + 200.0 * 3.0)


# Drawn by hand


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("angle_deg", [0.0, 20.0, 180.0])
def test_a_load_drawn_over_the_joint_is_two_loads_that_do_what_one_would(angle_deg: float, turned: bool) -> None:
    first, second, _ = bars(angle_deg, turned)
    pin = Support("pin", "pin", "first", (3.0, 0.0), "R", other="second")
    sketch = Sketch(bodies=(first, second), supports=(pin,))
    start, end = shape.world(first, (1.0, 0.0)), shape.world(first, (4.5, 0.0))
    made = Placing(sketch, "spread", start, Context()).at(end, Context()).sketch
    assert [load.body for load in made.loads] == ["first", "second"]
    assert len({load.symbol for load in made.loads}) == 2
    assert all(load.start_m[1] == load.end_m[1] == 0.0 for load in made.loads)
    long = replace(first, length_m=5.0)
    whole = Placing(Sketch(bodies=(long,)), "spread", start, Context()).at(end, Context()).sketch.loads[0]
    total = sum(wrench(load, body) for load, body in zip(made.loads, (first, second), strict=True))
    assert total == pytest.approx(wrench(whole, long), rel=1e-9, abs=1e-9)


def test_a_load_stays_on_its_bar_where_nothing_is_joined_to_it_there() -> None:
    first, second, _ = bars(0.0, False)
    apart = Sketch(bodies=(first, second))
    start, end = shape.world(first, (1.0, 0.0)), shape.world(first, (4.5, 0.0))
    (load,) = Placing(apart, "spread", start, Context()).at(end, Context()).sketch.loads
    assert (load.body, max(load.start_m[0], load.end_m[0])) == ("first", 3.0)
