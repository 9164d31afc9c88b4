"""Impending motion set by hand: what the condition adds, whether the others still hold, and when it cannot be."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from steelyard.model import Body, Force, Sketch, Support
from steelyard.statics import analyse
from steelyard.statics.kept import kept_back
from steelyard.statics.use import uses
from test_friction import crate, ladder


def about(sketch: Sketch, about_to: str, index: int = 0) -> Sketch:
    """The same with one support about to do something."""
    supports = list(sketch.supports)
    supports[index] = replace(supports[index], about_to=about_to)
    return replace(sketch, supports=tuple(supports))


def sought(mu: float = 0.3, height_m: float = 0.5) -> Sketch:
    """The crate with the size of its push to be found."""
    push = Force("push", "crate", (0.0, height_m), "P", role="unknown", sought="size", direction_deg=0.0)
    return replace(crate(mu, 0.0, height_m), loads=(push,))


@pytest.mark.parametrize(("about_to", "push_n", "said"), [("slip", 30.0, "right"), ("slip-back", -30.0, "left")])
def test_crate_about_to_slip_needs_a_push_of_mu_times_its_weight_that_way(about_to, push_n, said):
    sketch = about(sought(), about_to)
    analysis = analyse(sketch)
    assert analysis.reading("push").vector == pytest.approx((push_n, 0.0))
    # Against the sliding, at its limit.
    assert analysis.reading("base-friction").vector == pytest.approx((-push_n, 0.0))
    assert analysis.supports.kind == "determinate" and analysis.balance.kind == "balanced"
    start = f"With the crate about to slip to the {said} at the deck, three unknowns, three equations"
    assert analysis.supports.sentence.startswith(start)
    assert "It just holds" not in analysis.supports.sentence  # it was said to
    friction = next(each for each in uses(sketch) if each.kind == "friction")
    assert (friction.least, friction.most_used) == (0.3, 1.0)


def test_without_the_condition_the_push_is_open_between_slipping_either_way():
    assert analyse(sought()).reading("push").vector is None
    assert analyse(sought()).supports.kind == "indeterminate"


@pytest.mark.parametrize(("about_to", "push_n", "end"), [("tip", 50.0, (1.0, 0.0)), ("tip-back", -50.0, (0.0, 0.0))])
def test_crate_about_to_tip_stands_on_one_end_where_friction_can_do_it(about_to, push_n, end):
    analysis = analyse(about(sought(0.6, 1.0), about_to))
    assert analysis.reading("push").vector == pytest.approx((push_n, 0.0))  # W·b/2 = P·h
    assert analysis.reading("base").force.point == end
    assert analysis.supports.kind == "determinate"
    rest = "over the right end" if about_to == "tip" else "over the left end"
    assert f"about to tip {rest} of its face at the deck" in analysis.supports.sentence


def test_crate_about_to_tip_that_would_have_slipped_before_is_no_balance_and_says_why():
    supports = analyse(about(sought(0.3, 1.0), "tip")).supports
    assert supports.kind == "impossible" and supports.failing == ("base-friction",)
    said = supports.sentence.replace("\u00a0", " ")
    assert said.startswith("No balance with the crate about to tip over the right end of its face at the deck: f would")
    assert "have to be 50.0 N where 0.3 times the normal force is 30.0 N" in said


def test_crate_about_to_slip_that_would_have_tipped_before_is_no_balance():
    supports = analyse(about(sought(0.6, 1.5), "slip")).supports
    assert supports.kind == "impossible" and supports.failing == ("base",)
    (lack,) = supports.lacks
    assert (lack.kind, lack.needed, lack.there) == ("place", pytest.approx(0.6 * 1.5), pytest.approx(0.5))


def test_condition_that_leaves_fewer_unknowns_than_equations_fits_only_some_loads():
    mu = 0.5 / math.tan(math.radians(60.0))
    fits = analyse(about(ladder(mu, None), "slip-back")).supports
    assert fits.balanced_as_it_stands and "these loads fit it: balanced, and just so" in fits.sentence
    assert fits.sentence.startswith("With the ladder about to slip to the left at the quay, two unknowns are left")
    for mu_foot, about_to in ((0.4, "slip-back"), (mu, "slip")):
        other = analyse(about(ladder(mu_foot, None), about_to))
        assert not other.supports.balanced_as_it_stands
        assert "these loads do not fit it: it is not about to do that" in other.supports.sentence
        assert other.balance.kind == "unbalanced"


def test_ladder_about_to_slip_at_its_foot_may_ask_more_of_the_wall_than_that_can_do():
    # With f = 0.4·N at the foot: S = 0.4·(200 − g), and S·h + g·b = W·b/2 about the foot.
    height, base = 4.0 * math.sin(math.radians(60.0)), 2.0
    grip = (200.0 * base / 2.0 - 0.4 * 200.0 * height) / (base - 0.4 * height)
    analysis = analyse(about(ladder(0.4, 0.3), "slip-back"))
    assert analysis.supports.kind == "impossible" and analysis.supports.failing == ("top-friction",)
    assert analysis.supports.lacks[0].needed == pytest.approx(abs(grip))
    rough = analyse(about(ladder(0.4, 3.0), "slip-back"))
    assert rough.supports.kind == "determinate"
    assert rough.reading("top-friction").vector == pytest.approx((0.0, grip))


def test_negative_normal_found_with_a_condition_is_a_failure_that_is_named():
    # Pulled straight up with more than its weight, and said to be about to slip: only a contact that pulls could.
    sketch = about(sought(), "slip")
    lift = Force("lift", "crate", (0.5, 2.0), "L", size_n=150.0, direction_deg=90.0)
    supports = analyse(replace(sketch, loads=(*sketch.loads, lift))).supports
    assert supports.kind == "impossible" and supports.failing[0] == "base"
    assert supports.lacks[0].kind == "sense" and supports.lacks[0].needed == pytest.approx(-50.0)


def test_plank_about_to_lift_off_says_how_heavy_the_load_on_its_end_is():
    bar = Body("plank", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0, weight_n=100.0)
    near = Support("near", "contact", "plank", (0.0, 0.0), "A", "sill", about_to="lift")
    far = Support("far", "contact", "plank", (3.0, 0.0), "B", "trestle")
    load = Force("load", "plank", (4.0, 0.0), "Q", role="unknown", sought="size", direction_deg=270.0)
    analysis = analyse(Sketch(bodies=(bar,), supports=(near, far), loads=(load,)))
    assert analysis.reading("load").size_n == pytest.approx(100.0)  # one metre beyond as the weight is before
    assert analysis.reading("near").size_n == 0.0
    assert "With the plank about to lift off at the sill" in analysis.supports.sentence


def test_rope_about_to_go_slack_carries_nothing():
    bar = Body("flap", "bar", "flap", (0.0, 0.0), 0.0, length_m=2.0, weight_n=100.0)
    hinge = Support("hinge", "pin", "flap", (0.0, 0.0), "R", "hinge")
    stay = Support("stay", "rope", "flap", (2.0, 0.0), "T", "post", anchor_m=(0.0, 2.0), about_to="slack")
    push = Force("push", "flap", (2.0, 0.0), "P", role="unknown", sought="size", direction_deg=90.0)
    analysis = analyse(Sketch(bodies=(bar,), supports=(hinge, stay), loads=(push,)))
    assert analysis.reading("stay").size_n == 0.0 and analysis.reading("push").size_n == pytest.approx(50.0)
    assert analysis.supports.sentence.startswith("With T about to go slack, three unknowns, three equations")


def test_condition_is_still_said_while_answers_are_kept_back_and_nothing_else_is():
    kept = kept_back(analyse(about(sought(0.3, 1.0), "tip")))
    assert kept.supports.kind == "determinate" and kept.supports.failing == ()
    assert "about to tip over the right end" in kept.supports.sentence
    assert "would have to" not in kept.supports.sentence
