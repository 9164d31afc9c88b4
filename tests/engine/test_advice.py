"""Pivot advice: what drops out, what is left, and the axis across parallel lines."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from sketch_bank import BANK
from steelyard import statics
from steelyard.statics.advice import advice, candidates
from strategies import sketches
from working_cases import SKETCHES, Matrix


def check_advice(sketch):
    analysis = statics.analyse(sketch)
    matrix = Matrix(analysis)
    for each in candidates(analysis):
        point, axis = each.point, each.along
        span = matrix.lever + np.linalg.norm(point) if point is not None else 1.0
        for key in matrix.keys:
            small = abs(matrix.share(key, point, axis)) <= 1e-7 * span
            assert small == (key in each.drops) and small != (key in each.left)
        for key in matrix.known_keys:
            assert (abs(matrix.share(key, point, axis)) <= 1e-7 * span) == (key in each.drops_known)


@pytest.mark.parametrize("name", SKETCHES)
def test_what_drops_out_is_what_numpy_says(name):
    check_advice(SKETCHES[name])


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(sketches())
def test_what_drops_out_of_random_sketches_is_what_numpy_says(sketch):
    check_advice(sketch)


def test_gangway_has_three_pivots_that_leave_one_unknown():
    """By hand: the pin leaves T; T's line meets the level through the pin at x = 4.105 and the upright at y = 4.522."""
    found = advice(statics.analyse(BANK["pin and rope, sloping bar"]))
    ones = [(each.point, each.left) for each in found if len(each.left) == 1 and each.point is not None]
    assert [left for _, left in ones] == [("rope",), ("hinge.y",), ("hinge.x",)]
    assert ones[0][0] == (0.0, 0.0)
    assert ones[1][0] == pytest.approx((4.105, 0.0), abs=5e-4)
    assert ones[2][0] == pytest.approx((0.0, 4.522), abs=5e-4)


def test_parallel_struts_are_separated_by_an_axis_across_them():
    """Two ropes at the same slant and a level strut: square to the ropes only the strut is left."""
    found = advice(statics.analyse(BANK["two parallel ropes and a strut"]))
    across = [each for each in found if each.along is not None and set(each.drops) == {"r1", "r2"}]
    assert len(across) == 1 and across[0].left == ("strut",)


def test_advice_does_not_hang_on_sizes():
    sketch = BANK["pin and rope, sloping bar"]
    letters = BANK["letters, pin and rope"]
    found, other = (advice(statics.analyse(each)) for each in (sketch, letters))
    assert [(each.point, each.left) for each in found] == [(each.point, each.left) for each in other]
