"""Awkward cases of statics by name: what is said of each, worked by hand beside it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from steelyard.model import Body, Couple, Force, Sketch, Support
from steelyard.statics import analyse
from steelyard.statics.reach import reaches
from steelyard.statics.use import uses
from test_friction import crate, ladder

BAR = Body("beam", "bar", "beam", (0.0, 0.0), 0.0, length_m=4.0)


def roller(name: str, place: tuple[float, float], angle_deg: float) -> Support:
    return Support(name, "roller", "beam", place, name[0].upper(), normal_deg=angle_deg)


def push(size_n: float, place: tuple[float, float], angle_deg: float = 270.0) -> Force:
    return Force("push", "beam", place, "P", size_n=size_n, direction_deg=angle_deg)


def test_three_concurrent_reactions_leave_a_turning_about_their_point():
    # All three lines run through (2, 0).
    held = (roller("a", (2.0, 0.0), 90.0), roller("b", (2.0, 0.0), 30.0), roller("c", (2.0, 0.0), 150.0))
    beside = analyse(Sketch(bodies=(BAR,), supports=held, loads=(push(100.0, (3.0, 0.0)),))).supports
    assert beside.kind == "mechanism" and not beside.balanced_as_it_stands
    assert "pass through one point" in beside.sentence
    through = Sketch(bodies=(BAR,), supports=held, loads=(push(100.0, (2.0, 0.0)),))
    assert analyse(through).supports.balanced_as_it_stands
    # a + b/2 + c/2 = 100 and b = c, each a push: a from 0 to 100, b and c from 0 to 100.
    found = {each.force: (each.least.value, each.greatest.value) for each in reaches(through)}
    assert found == {name: (pytest.approx(0.0, abs=1e-7), pytest.approx(100.0)) for name in "abc"}


def test_three_parallel_reactions_share_a_load_as_levers_allow_and_nothing_stops_a_slide():
    held = tuple(roller(name, (place, 0.0), 90.0) for name, place in (("a", 0.0), ("b", 2.0), ("c", 4.0)))
    down = Sketch(bodies=(BAR,), supports=held, loads=(push(100.0, (1.0, 0.0)),))
    supports = analyse(down).supports
    assert supports.kind == "mechanism" and supports.balanced_as_it_stands
    assert "parallel" in supports.sentence and "one unknown too many" in supports.sentence
    # About a: 2b + 4c = 100; about c: 4a + 2b = 300.
    found = {each.force: (each.least.value, each.greatest.value) for each in reaches(down)}
    assert found["a"] == pytest.approx((50.0, 75.0)) and found["c"] == (pytest.approx(0.0, abs=1e-7), 25.0)
    assert found["b"] == (pytest.approx(0.0, abs=1e-7), pytest.approx(50.0))
    aslant = replace(down, loads=(push(100.0, (1.0, 0.0), 269.0),))
    assert not analyse(aslant).supports.balanced_as_it_stands and reaches(aslant) == ()


def test_rope_at_full_slack_carries_nothing_and_holds_to_the_last():
    hinge = Support("hinge", "pin", "beam", (2.0, 0.0), "R")
    stay = Support("stay", "rope", "beam", (4.0, 0.0), "T", anchor_m=(4.0, 3.0))
    sketch = Sketch(bodies=(BAR,), supports=(hinge, stay), loads=(push(80.0, (2.0, 0.0)),))
    analysis = analyse(sketch)
    assert analysis.supports.kind == "determinate" and analysis.balance.kind == "balanced"
    assert analysis.reading("stay").size_n == 0.0 and analysis.reading("hinge").size_n == pytest.approx(80.0)
    beyond = analyse(replace(sketch, loads=(push(80.0, (2.0 - 1e-6, 0.0)),)))
    assert beyond.supports.failing == ("stay",) and "would have to push" in beyond.supports.sentence


def test_ladder_with_friction_at_both_ends_is_open_and_bounded():
    supports = analyse(ladder(0.4, 0.3)).supports
    assert supports.kind == "indeterminate" and supports.degree == 1 and supports.balanced_as_it_stands
    assert all(math.isfinite(end.value) for each in reaches(ladder(0.4, 0.3)) for end in (each.least, each.greatest))


@pytest.mark.parametrize("mu", [0.1, 0.3, 1.0 / 3.0, 0.7, math.tan(1.0)])
def test_contact_exactly_at_its_limit_holds_and_a_millionth_beyond_does_not(mu):
    flat = ((-3.0, 0.0), (3.0, 0.0), (3.0, 0.1), (-3.0, 0.1))
    slope = math.degrees(math.atan(mu))
    block = Body("block", "plate", "block", (0.0, 0.0), slope, points_m=flat, weight_n=50.0)
    base = Support("base", "contact", "block", (-3.0, 0.0), "N", "slope", face_m=(3.0, 0.0), mu=mu)
    at = analyse(Sketch(bodies=(block,), supports=(base,)))
    assert at.supports.kind == "determinate" and at.supports.at_limit == ("base-friction",)
    assert "It just holds" in at.supports.sentence
    steeper = replace(block, angle_deg=slope * (1.0 + 1e-6))
    assert analyse(Sketch(bodies=(steeper,), supports=(base,))).supports.failing == ("base-friction",)


def test_zero_loads_are_held_by_nothing_at_all_or_by_what_braces_itself():
    empty = replace(crate(0.3, 0.0, 1.0), bodies=(replace(crate(0.3, 0.0, 1.0).bodies[0], weight_n=None),))
    analysis = analyse(empty)
    assert analysis.balance.kind == "balanced"
    assert analysis.reading("base").size_n == 0.0 and analysis.reading("base-friction").size_n == 0.0
    assert analysis.supports.at_limit == ()
    assert all(each.least is None and each.most_used is None for each in uses(empty))
    # Between two rough jaws facing each other any squeeze balances itself.
    near = Support("near", "contact", "beam", (0.0, 0.0), "A", normal_deg=0.0, mu=0.2)
    far = Support("far", "contact", "beam", (4.0, 0.0), "B", normal_deg=180.0, mu=0.2)
    squeezed = {each.force: each for each in reaches(Sketch(bodies=(BAR,), supports=(near, far)))}
    assert (squeezed["near"].least.value, squeezed["near"].greatest.value) == (0.0, math.inf)
    grows = {each.force: each.vector for each in squeezed["near"].greatest.grows or ()}
    assert grows["near"][0] == pytest.approx(-grows["far"][0]) and grows["near"][0] > 0.0


def test_forces_through_the_pivot_leave_friction_and_normal_as_they_are():
    sketch = crate(0.3, 20.0, 1.0)
    for pivot in ((0.0, 0.0), (0.5, 1.0), (0.7, 0.0)):
        analysis = analyse(sketch, pivot=pivot)
        assert analysis.reading("base").size_n == pytest.approx(100.0)
        assert analysis.reading("base").force.point == pytest.approx((0.7, 0.0))
        assert analysis.residual is not None and analysis.residual.torque_n_m == pytest.approx(0.0, abs=1e-9)
    assert analyse(sketch, pivot=(0.7, 0.0)).reading("base").turning.drops_out


def test_couple_alone_is_held_by_rough_jaws_but_not_by_one_contact():
    turn = Couple("turn", "beam", (2.0, 0.0), "C", couple_n_m=40.0)
    near = Support("near", "contact", "beam", (0.0, 0.0), "A", normal_deg=0.0, mu=0.2)
    far = Support("far", "contact", "beam", (4.0, 0.0), "B", normal_deg=180.0, mu=0.2)
    both = Sketch(bodies=(BAR,), supports=(near, far), loads=(turn,))
    found = {each.force: each for each in reaches(both)}
    # f·4 = 40 at either end, so 10 N of friction and at least 50 N of squeeze.
    assert found["near-friction"].one_value == "equations"
    assert abs(found["near-friction"].least.value) == pytest.approx(10.0)
    assert found["near"].least.value == pytest.approx(50.0) and math.isinf(found["near"].greatest.value)
    alone = analyse(replace(both, supports=(near,))).supports
    assert not alone.balanced_as_it_stands


@pytest.mark.parametrize("scale", [1e-6, 1.0, 1e3])
def test_friction_reads_the_same_on_a_micrometre_as_on_a_kilometre(scale):
    sketch = ladder(0.4, 0.3)
    small = replace(
        sketch,
        bodies=(replace(sketch.bodies[0], length_m=4.0 * scale),),
        supports=(sketch.supports[0], replace(sketch.supports[1], place_m=(4.0 * scale, 0.0))),
    )
    wanted = [end.value for each in reaches(sketch) for end in (each.least, each.greatest)]
    found = [end.value for each in reaches(small) for end in (each.least, each.greatest)]
    assert found == pytest.approx(wanted, rel=1e-9)


def test_face_of_a_micrometre_under_a_beam_of_a_kilometre_tips_where_it_must():
    beam = Body("beam", "bar", "beam", (0.0, 0.0), 0.0, length_m=1e3, weight_n=100.0)
    middle = Support("base", "contact", "beam", (500.0 - 5e-7, 0.0), "N", face_m=(500.0 + 5e-7, 0.0), mu=0.5)
    sketch = Sketch(bodies=(beam,), supports=(middle,))
    assert analyse(sketch).supports.balanced_as_it_stands
    # A newton at the end moves the place by 500/101 m: far off a face of a micrometre.
    loaded = replace(sketch, loads=(push(1.0, (1e3, 0.0)),))
    supports = analyse(loaded).supports
    assert supports.failing == ("base",) and supports.lacks[0].needed == pytest.approx(500.0 / 101.0)
    assert "tipping over the right end" in supports.sentence


def test_coefficient_zero_is_a_smooth_contact_that_reads_no_friction():
    analysis = analyse(crate(0.0, 0.0, 1.0))
    assert analysis.reading("base-friction").size_n == 0.0 and analysis.supports.kind == "mechanism"
    assert "slide" in analysis.supports.sentence and analysis.balance.kind == "balanced"
    assert not analyse(crate(0.0, 1e-3, 1.0)).supports.balanced_as_it_stands
    smooth, zero = ladder(0.4, None), ladder(0.4, 0.0)
    for name in ("foot", "foot-friction", "top"):
        assert analyse(zero).reading(name).vector == pytest.approx(analyse(smooth).reading(name).vector)


def test_coefficient_very_large_holds_all_that_presses_and_nothing_that_does_not():
    assert analyse(crate(1e9, 50.0, 0.5)).supports.balanced_as_it_stands
    assert analyse(crate(1e9, 1e9, 1e-9)).supports.balanced_as_it_stands
    lifted = replace(crate(1e9, 10.0, 1.0), loads=(
        Force("lift", "crate", (0.5, 2.0), "L", size_n=150.0, direction_deg=90.0),
    ))  # fmt: skip
    supports = analyse(lifted).supports
    assert supports.failing == ("base",) and supports.lacks[0].kind == "sense"
    assert "lifting off at the deck" in supports.sentence
    # With nothing to slip, a ladder's foot and top share the load in every way that both can press.
    found = {each.force: each for each in reaches(ladder(1e9, 1e9))}
    assert found["top"].least.value == pytest.approx(0.0, abs=1e-5)


def test_plank_loaded_beyond_its_trestle_lifts_off_and_tips_over_that():
    near = Support("near", "contact", "beam", (0.0, 0.0), "A", "sill", mu=0.4)
    far = Support("far", "contact", "beam", (3.0, 0.0), "B", "trestle", mu=0.4)
    plank = replace(BAR, weight_n=100.0)
    supports = analyse(Sketch(bodies=(plank,), supports=(near, far), loads=(push(150.0, (4.0, 0.0)),))).supports
    assert "near" in supports.failing
    (way,) = supports.ways
    assert [(mode.force, mode.kind) for mode in way.modes] == [("near", "lifts off"), ("far", "holds")]
    assert supports.sentence.endswith(
        "Nothing keeps the beam from lifting off at the sill and tipping over the point on the trestle."
    )
