"""What fails, which way, and what is about to, on supports whose answers are worked out by hand."""

import math

import pytest
from random_programs import wrench
from steelyard.program import Bound
from steelyard.statics.admissible import Breach, Conditions, failing, program, reached

# A crate on a face 0.8 m long: normal, friction to the left, couple counterclockwise; lever 1 m. Pushed to the right
# at a height, 100 N heavy.
CRATE = (wrench((0, 0), (0, 1)), wrench((0, 0), (-1, 0)), (0.0, 0.0, 1.0))


def crate(push_n: float, height_m: float, friction: float):
    conditions = Conditions((True, False, False), (Bound(1, 0, friction),), (Bound(2, 0, 0.4),))
    return program(CRATE, (push_n, -100.0, -push_n * height_m), conditions, 100.0), conditions


def test_crate_that_stands_breaks_no_condition_and_is_at_none():
    made, conditions = crate(20.0, 1.0, 0.5)
    assert failing(made.outcome, conditions) == ()
    assert reached(made.outcome.values, conditions, 1e-7) == ()


def test_crate_pushed_low_slips_and_pushed_high_tips_over_its_far_end():
    made, conditions = crate(60.0, 0.2, 0.5)
    (breach,) = failing(made.outcome, conditions)
    assert (breach.column, breach.kind, breach.sense) == (1, "slip", 1)
    assert breach.beyond_n == pytest.approx(10.0)
    made, conditions = crate(45.0, 1.0, 0.5)
    (breach,) = failing(made.outcome, conditions)
    # The pressure would have to lie 0.45 m to the right: its couple about the middle is counterclockwise.
    assert (breach.column, breach.kind, breach.sense) == (2, "tip", 1)
    assert breach.beyond_n == pytest.approx(5.0)


def test_crate_about_to_slip_and_about_to_tip_is_said_to_be():
    made, conditions = crate(50.0, 0.2, 0.5)
    assert reached(made.outcome.values, conditions, 1e-7) == (Breach(1, "slip", 0.0, 1),)
    made, conditions = crate(40.0, 1.0, 0.5)
    assert reached(made.outcome.values, conditions, 1e-7) == (Breach(2, "tip", 0.0, 1),)


def test_contact_that_would_have_to_pull_is_named_for_that_alone():
    conditions = Conditions((False, False, False), (Bound(1, 0, 0.5),), (Bound(2, 0, 0.4),))
    made = program(CRATE, (0.0, 30.0, 0.0), conditions)
    (breach,) = failing(made.outcome, conditions)
    assert breach == Breach(0, "backward", pytest.approx(30.0), -1)


def test_rope_just_slack_is_about_to_be_backward():
    # A bar on a contact under its load and a rope beside it.
    conditions = Conditions((True, True))
    made = program([wrench((0, 0), (0, 1)), wrench((1, 0), (0, 1))], (0.0, -10.0, 0.0), conditions)
    assert reached(made.outcome.values, conditions, 1e-8) == (Breach(1, "backward", 0.0, -1),)


def test_contact_that_never_slips_is_never_about_to():
    conditions = Conditions((True, False), (Bound(1, 0, math.inf),))
    made = program(CRATE[:2], (30.0, -100.0, 0.0), conditions)
    assert made.outcome.admissible
    assert reached(made.outcome.values, conditions, 1e-7) == ()
