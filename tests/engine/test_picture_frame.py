"""The window on the paper: there and back, fitting, zooming, and the scale of force."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from picture_cases import SHEETS, gangway, seen, states
from steelyard.picture import frame
from steelyard.picture.frame import Frame

PLACES = st.floats(-1e3, 1e3)


@given(PLACES, PLACES, st.floats(1.0, 1e4), PLACES, PLACES)
def test_to_the_sheet_and_back_is_the_same_point(x: float, y: float, zoom: float, cx: float, cy: float) -> None:
    window = Frame(863.0, 522.0, zoom, (cx, cy), (10.0, 0.0, 40.0, 0.0))
    back = window.to_world(window.to_sheet((x, y)))
    assert back == pytest.approx((x, y), abs=1e-6)


@given(st.floats(0.2, 5.0), st.floats(0.0, 863.0), st.floats(0.0, 522.0))
def test_zooming_keeps_the_point_under_the_hand(factor: float, x: float, y: float) -> None:
    window = Frame(863.0, 522.0, 100.0, (2.0, 1.0))
    assert frame.zoomed(window, factor, (x, y)).to_world((x, y)) == pytest.approx(window.to_world((x, y)), abs=1e-6)


def test_panning_moves_the_paper_with_the_hand() -> None:
    window = Frame(863.0, 522.0, 100.0, (2.0, 1.0))
    before, after = window.to_sheet((0.0, 0.0)), frame.panned(window, 30.0, -12.0).to_sheet((0.0, 0.0))
    assert (after[0] - before[0], after[1] - before[1]) == pytest.approx((30.0, -12.0))


def test_y_points_up_and_x_to_the_right() -> None:
    window = Frame(863.0, 522.0, 100.0, (0.0, 0.0))
    x, y = window.to_sheet((0.0, 0.0))
    assert window.to_sheet((1.0, 1.0)) == pytest.approx((x + 100.0, y - 100.0))


@pytest.mark.parametrize("value, step", [(0.9, 1.0), (1.0, 1.0), (1.1, 2.0), (2.1, 5.0), (5.1, 10.0), (0.0123, 0.02)])
def test_steps_are_one_two_five(value: float, step: float) -> None:
    assert frame.step_at_least(value) == pytest.approx(step)


def test_the_nudging_step_is_the_round_length_of_eight_px_or_more() -> None:
    for zoom in (1.0, 33.0, 81.0, 900.0):
        step = frame.round_step_m(Frame(863.0, 522.0, zoom, (0.0, 0.0)))
        assert 8.0 <= step * zoom < 20.0 + 1e-9


def test_the_reference_length_stands_for_a_round_number_of_newtons() -> None:
    for name, sketch in states().items():
        for width, height, touch in SHEETS.values():
            window = frame.fit(sketch, seen(sketch), width, height, touch=touch)
            newtons = window.n_per_px * frame.REFERENCE_PX
            assert newtons == pytest.approx(frame.step_at_least(newtons * 0.999)), name


def test_the_force_scale_holds_during_a_gesture_and_while_the_largest_arrow_fills_15_to_60_percent() -> None:
    sketch = gangway()
    analysis = seen(sketch)
    window = frame.fit(sketch, analysis, 863.0, 522.0)
    assert frame.with_force_scale(window, analysis, settle=True) == window
    heavy = replace(sketch, bodies=(replace(sketch.bodies[0], mass_kg=12000.0),))
    assert frame.with_force_scale(window, seen(heavy), settle=False) == window
    changed = frame.with_force_scale(window, seen(heavy), settle=True)
    assert changed.n_per_px > window.n_per_px
    left, top, right, bottom = changed.room
    part = frame.largest_force_n(seen(heavy)) / changed.n_per_px / min(right - left, bottom - top)
    assert 0.15 <= part <= 0.60


def test_covered_edges_keep_the_figure_out_from_under_panels() -> None:
    sketch = gangway()
    window = frame.fit(sketch, seen(sketch), 863.0, 522.0, (0.0, 200.0, 60.0, 0.0))
    for x in (0.0, 6.0):
        px, py = window.to_sheet((x * math.cos(math.radians(12)), -x * math.sin(math.radians(12))))
        assert 0.0 < px < 663.0 and 0.0 < py < 462.0
