"""What the supports can do, and whether the forces balance: by hand, and against numpy's rank."""

import math
from dataclasses import fields, is_dataclass, replace

import numpy as np
import pytest
import reference
import strategies
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from steelyard.errors import SteelyardError
from steelyard.model import Body, Couple, Force, Guess, NamedPoint, Settings, Sketch, Support, Thing
from steelyard.statics import analyse, kept_back

BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0)


def pin(x, name="pin1"):
    return Support(name, "pin", "bar1", (x, 0.0), "A")


def roller(x, normal_deg=90.0, name="roller1", symbol="B", two_way=True):
    return Support(name, "roller", "bar1", (x, 0.0), symbol, normal_deg=normal_deg, two_way=two_way)


def rope(x, anchor, name="rope1", symbol="T"):
    return Support(name, "rope", "bar1", (x, 0.0), symbol, anchor_m=anchor)


def push(x, size_n, direction_deg=270.0, name="load1"):
    return Force(name, "bar1", (x, 0.0), "F", size_n=size_n, direction_deg=direction_deg)


def bar(*entities, **changes):
    supports = tuple(entity for entity in entities if isinstance(entity, Support))
    loads = tuple(entity for entity in entities if not isinstance(entity, Support))
    return Sketch(bodies=(BAR,), supports=supports, loads=loads, **changes)


def test_pin_and_roller_have_one_answer_because_of_their_lines():
    verdict = analyse(bar(pin(0.0), roller(4.0))).supports
    assert (verdict.kind, verdict.degree) == ("determinate", 0)
    assert verdict.sentence == (
        "Three unknowns, three equations: each has one answer (statically determinate): "
        "the reaction lines are neither all parallel nor all through one point."
    )
    assert verdict.near == ""


def test_three_parallel_rollers_are_free_to_slide_though_three_in_number():
    analysis = analyse(bar(roller(0.0, name="a"), roller(2.0, name="b"), roller(4.0, name="c"), push(1.0, 50.0)))
    verdict = analysis.supports
    assert (verdict.kind, verdict.degree) == ("mechanism", 1)
    assert "parallel" in verdict.reason
    assert "indeterminate" in verdict.sentence
    assert verdict.balanced_as_it_stands
    ((vx, vy, omega),) = verdict.free_motion
    assert (abs(vx), vy, omega) == (pytest.approx(1.0), pytest.approx(0.0, abs=1e-12), pytest.approx(0.0, abs=1e-12))


def test_three_lines_through_one_point_leave_the_body_free_to_turn_about_it():
    # Rollers at 0 and 4 with normals at 45° and 135° meet at (2, 2), straight above a third one at 2.
    sketch = bar(roller(0.0, 45.0, "a"), roller(4.0, 135.0, "b"), roller(2.0, 90.0, "c"), push(1.0, 50.0))
    named = replace(sketch, points=(NamedPoint("point-q", "Q", (2.0, 2.0)),))
    verdict = analyse(named).supports
    assert (verdict.kind, verdict.degree) == ("mechanism", 1)
    assert verdict.reason == "all reaction lines pass through one point, Q, so it can turn about it"
    assert not verdict.balanced_as_it_stands
    ((vx, vy, omega),) = verdict.free_motion
    # The velocity of the body's point at (2, 2) is v + ω × (2, 2) = 0.
    assert (vx - omega * 2.0, vy + omega * 2.0) == (pytest.approx(0.0, abs=1e-12), pytest.approx(0.0, abs=1e-12))


def test_free_body_on_one_pin_stands_only_while_the_load_passes_through_it():
    through, beside = analyse(bar(pin(1.0), push(1.0, 50.0))), analyse(bar(pin(1.0), push(3.0, 50.0)))
    assert through.supports.kind == beside.supports.kind == "mechanism"
    assert through.supports.balanced_as_it_stands
    assert through.balance.kind == "balanced"
    assert through.reading("pin1").vector == pytest.approx((0.0, 50.0), abs=1e-12)
    assert not beside.supports.balanced_as_it_stands
    assert beside.balance.kind == "unbalanced"
    assert beside.reading("pin1").vector is None
    assert beside.residual is None


def test_one_roller_leaves_two_ways_to_move():
    verdict = analyse(bar(roller(1.0))).supports
    assert (verdict.kind, verdict.degree, len(verdict.free_motion)) == ("mechanism", 2, 2)


def test_two_pins_are_indeterminate_of_degree_one_with_the_upright_parts_still_fixed():
    analysis = analyse(bar(pin(0.0, "pin1"), pin(4.0, "pin2"), push(1.0, 80.0)))
    verdict = analysis.supports
    assert (verdict.kind, verdict.degree) == ("indeterminate", 1)
    assert "degree 1" in verdict.sentence
    assert "the y part of A" in verdict.sentence
    assert analysis.balance.kind == "balanced"
    first, second = analysis.reading("pin1"), analysis.reading("pin2")
    assert first.component_fixed == second.component_fixed == (False, True)
    # By hand: lever rule, 80 N at a quarter of the span.
    assert first.components_n == (None, pytest.approx(60.0))
    assert second.components_n == (None, pytest.approx(20.0))
    assert first.vector is None
    assert not first.fixed


def test_fixed_unknown_of_an_indeterminate_sketch_keeps_its_value():
    # Two pins on the axis and a level roller: what is across the bar is fixed, what is along is not.
    sketch = bar(pin(0.0), roller(4.0, 90.0, "up"), roller(2.0, 0.0, "along"), push(1.0, 80.0))
    analysis = analyse(sketch)
    assert analysis.supports.kind == "indeterminate"
    assert analysis.supports.still_fixed == ("up",)
    assert analysis.reading("up").size_n == pytest.approx(20.0)
    assert analysis.reading("along").size_n is None


def test_beam_fixed_at_both_ends_is_indeterminate_of_degree_three():
    walls = [Support(name, "fixed", "bar1", (x, 0.0), "R") for name, x in (("wall1", 0.0), ("wall2", 4.0))]
    verdict = analyse(bar(*walls, push(2.0, 10.0))).supports
    assert (verdict.kind, verdict.degree, verdict.still_fixed) == ("indeterminate", 3, ())


def test_rope_that_would_have_to_push_makes_the_sketch_impossible_and_is_named():
    # Pin at A, rope at the end going straight down, load down: only a push could hold it.
    analysis = analyse(bar(pin(0.0), rope(4.0, (4.0, -2.0)), push(2.0, 100.0)))
    verdict = analysis.supports
    assert verdict.kind == "impossible"
    assert verdict.failing == ("rope1",)
    assert verdict.sentence == "No balance like this: the rope (T) would have to push."
    assert analysis.reading("rope1").cannot == "a rope cannot push"
    assert analysis.balance.kind == "unbalanced"
    assert analysis.residual is None


@pytest.mark.parametrize("kind", ["contact", "roller"])
def test_contact_or_one_way_roller_that_would_have_to_pull_is_impossible(kind):
    support = Support("rest", kind, "bar1", (1.0, 0.0), "N")
    analysis = analyse(bar(pin(2.0), support, push(4.0, 100.0, 90.0)))
    assert analysis.supports.kind == "determinate"
    lifted = analyse(bar(pin(2.0), support, push(4.0, 100.0)))
    assert lifted.supports.kind == "impossible"
    assert lifted.supports.failing == ("rest",)
    assert "pull" in lifted.reading("rest").cannot


def test_two_way_roller_pulls_where_a_one_way_roller_cannot():
    assert analyse(bar(pin(2.0), roller(1.0), push(4.0, 100.0))).supports.kind == "determinate"


def test_slack_rope_is_no_contradiction():
    analysis = analyse(bar(pin(2.0), rope(4.0, (4.0, 2.0)), push(2.0, 100.0)))
    assert analysis.supports.kind == "determinate"
    assert analysis.reading("rope1").size_n == 0.0


def test_one_way_arrow_that_would_have_to_turn_round_is_impossible():
    unknown = Force("prop", "bar1", (4.0, 0.0), "Q", role="unknown", direction_deg=270.0, one_way=True)
    analysis = analyse(bar(pin(0.0), unknown, push(2.0, 100.0)))
    assert analysis.supports.kind == "impossible"
    assert "Q" in analysis.supports.sentence


def test_too_many_ropes_are_impossible_when_none_of_their_pulls_can_balance():
    # Four ropes, all pulling upwards, cannot hold a lift.
    leanings = ((0.0, -1.0), (0.0, 1.0), (4.0, 1.0), (4.0, -1.0))
    ropes = [rope(x, (x + dx, 3.0), f"rope{index}") for index, (x, dx) in enumerate(leanings)]
    lifted = analyse(bar(*ropes, push(2.0, 100.0, 90.0)))
    assert (lifted.supports.kind, lifted.supports.degree) == ("impossible", 1)
    assert lifted.supports.failing
    hung = analyse(bar(*ropes, push(2.0, 100.0)))
    assert (hung.supports.kind, hung.supports.degree) == ("indeterminate", 1)
    assert hung.balance.kind == "balanced"


def test_body_hung_on_ropes_that_only_slides_is_a_mechanism_that_says_what_would_push():
    analysis = analyse(bar(rope(0.0, (0.0, 2.0), "left"), rope(4.0, (4.0, 2.0), "right"), push(2.0, 60.0, 90.0)))
    assert analysis.supports.kind == "mechanism"
    assert not analysis.supports.balanced_as_it_stands
    assert set(analysis.supports.failing) == {"left", "right"}
    assert "would have to push" in analysis.supports.sentence


def test_drawn_arrows_without_unknowns_are_asked_the_first_question_only():
    pair = analyse(bar(push(1.0, 50.0), push(1.0, 50.0, 90.0, "load2")))
    assert (pair.supports.kind, pair.balance.kind, pair.balance.sentence) == ("none", "balanced", "Balanced.")
    apart = analyse(bar(push(1.0, 50.0), push(2.0, 50.0, 90.0, "load2")))
    assert apart.balance.kind == "unbalanced"
    assert apart.balance.sentence == "Not balanced: too much counterclockwise torque."


def test_unbalanced_sentence_names_the_ways_in_the_users_words():
    words = Settings(turning_word="moment", counterclockwise_word="anticlockwise")
    sketch = bar(push(4.0, 50.0, 120.0), settings=words)
    assert analyse(sketch).balance.sentence == (
        "Not balanced: too much to the left and upwards and too much anticlockwise moment about O."
    )


def test_letters_leave_the_balance_open_but_not_the_supports():
    lettered = analyse(bar(pin(0.0), roller(4.0), Force("load1", "bar1", (2.0, 0.0), "F")))
    assert lettered.supports.kind == "determinate"
    assert lettered.balance.kind == "open"
    assert lettered.reading("roller1").vector is None
    assert lettered.reading("roller1").fixed
    alone = analyse(bar(Force("load1", "bar1", (2.0, 0.0), "F")))
    assert alone.balance.kind == "open"
    assert alone.applied is None


def test_letter_that_could_set_a_mechanism_moving_leaves_its_reactions_open():
    sketch = bar(roller(0.0), roller(4.0, name="roller2"), Force("load1", "bar1", (2.0, 0.0), "F", direction_deg=0.0))
    analysis = analyse(sketch)
    assert analysis.supports.kind == "mechanism"
    assert analysis.balance.kind == "open"
    assert analysis.reading("roller1").vector is None


def test_guess_leaves_an_indeterminate_sketch_open_until_every_unknown_has_one():
    held = [replace(pin(x, name), guess=guess) for name, x, guess in (
        ("pin1", 0.0, Guess(size_n=40.0, direction_deg=90.0)),
        ("pin2", 4.0, None),
    )]  # fmt: skip
    assert analyse(bar(*held, push(2.0, 80.0))).balance.kind == "open"
    held[1] = replace(held[1], guess=Guess(size_n=40.0, direction_deg=90.0))
    assert analyse(bar(*held, push(2.0, 80.0))).balance.kind == "balanced"


@pytest.mark.parametrize(
    ("size_n", "kind"),
    [(100.0, "balanced"), (100.4, "to-the-figures"), (99.5, "to-the-figures"), (102.0, "unbalanced")],
)
def test_left_over_within_the_digits_given_is_rounding(size_n, kind):
    # 100 N is 100 ± 0.5 to three figures, 100.4 N is ± 0.05: together up to 0.55 N is rounding.
    sketch = bar(push(2.0, 100.0), push(2.0, size_n, 90.0, "load2"))
    assert analyse(sketch).balance.kind == kind


def test_angle_of_a_set_square_is_exact_and_any_other_is_as_typed():
    # 1000 N at 30.2° has a part of 503.0 N upwards; ± 0.05° of it is worth 0.75 N, ± 5 N of size 2.5 N.
    up, down = push(2.0, 1000.0, 30.2), push(2.0, 504.0, 270.0, "load2")
    left = push(2.0, 864.3, 180.0, "load3")
    assert analyse(bar(up, down, left)).balance.kind == "to-the-figures"
    assert analyse(bar(replace(up, direction_deg=30.9), down, left)).balance.kind == "unbalanced"


@pytest.mark.parametrize(
    ("x", "normal_deg", "near"),
    [
        (4.0, 90.0, ""),
        (4.0, 10.0, ""),
        (4.0, 0.1, "the reaction lines nearly meet at one point"),
        (0.01, 90.0, "the reaction lines nearly meet at one point"),
    ],
)
def test_roller_line_close_to_the_pin_is_called_out(x, normal_deg, near):
    analysis = analyse(bar(pin(0.0), roller(x, normal_deg), push(2.0, 10.0)))
    assert analysis.supports.kind == "determinate"
    assert analysis.supports.near == near
    assert (f"Take care: {near}" in analysis.supports.sentence) is bool(near)


def test_three_lines_almost_parallel_are_called_out():
    sketch = bar(roller(0.0, 90.0, "a"), roller(2.0, 90.3, "b"), roller(4.0, 89.9, "c"), push(1.0, 50.0))
    analysis = analyse(sketch)
    assert analysis.supports.kind == "determinate"
    assert analysis.supports.near == "the reaction lines are nearly parallel"


@pytest.mark.parametrize("length", [1e-3, 1.0, 1e3])
@pytest.mark.parametrize("shift", [0.0, 1000.0])
@pytest.mark.parametrize("turn_deg", [0.0, 33.0])
def test_lines_exactly_through_one_point_stay_a_mechanism_wherever_and_however_large(length, shift, turn_deg):
    sketch = bar(roller(0.0, 45.0, "a"), roller(4.0, 135.0, "b"), roller(2.0, 90.0, "c"), push(1.0, 50.0))
    changed = reference.moved(reference.resized(sketch, length, 1.0), turn_deg, shift, -shift)
    assert analyse(changed).supports.kind == "mechanism"


@pytest.mark.parametrize("length", [1e-3, 1.0, 1e3])
def test_call_out_does_not_depend_on_size(length):
    sketch = bar(pin(0.0), roller(4.0, 0.1), push(2.0, 10.0))
    assert analyse(reference.resized(sketch, length, 1e6)).supports.near == analyse(sketch).supports.near


def test_empty_sheet_is_a_clear_error():
    with pytest.raises(SteelyardError) as caught:
        analyse(Sketch())
    assert caught.value.code == "statics.no-body"
    assert str(caught.value) == "`bodies` must hold at least one body: got none. Draw a bar first."
    with pytest.raises(SteelyardError, match="got no body 'mast'"):
        analyse(bar(), body_id="mast")


@settings(max_examples=800, deadline=None)
@given(strategies.sketches(letters=False, guesses=False, most_supports=4))
def test_verdict_agrees_with_numpys_rank_and_with_a_linear_program(sketch):
    equations = reference.assemble(sketch)
    matrix, count = equations.columns, equations.columns.shape[1]
    sizes = np.linalg.svd(matrix, compute_uv=False) if count else np.zeros(0)
    # Leave out what lies between clearly dependent and clearly independent: neither answer is wrong there.
    assume(not any(1e-11 < size < 1e-7 for size in sizes))
    rank = int(np.linalg.matrix_rank(matrix, tol=1e-9)) if count else 0
    analysis = analyse(sketch)
    verdict = analysis.supports
    if not count:
        assert verdict.kind == "none"
        return
    if rank < 3:
        assert (verdict.kind, verdict.degree) == ("mechanism", 3 - rank)
        assert len(verdict.free_motion) == 3 - rank
        for vx, vy, omega in verdict.free_motion:
            motion = np.array(
                [vx - omega * equations.about[1], vy + omega * equations.about[0], omega * equations.lever]
            )
            assert np.allclose(motion @ matrix, 0.0, atol=1e-7 * max(1.0, np.linalg.norm(motion)))
    else:
        assert verdict.degree == count - 3
    scale = max(np.abs(equations.known).max(), 1e-12)
    assume(rank == 3 or not 1e-11 < _left_over(matrix, equations.known) / scale < 1e-7)
    admissible = _admissible(sketch, equations)
    if admissible is None:
        return
    if rank == 3:
        expected = ("indeterminate" if count > 3 else "determinate") if admissible else "impossible"
        assert verdict.kind == expected
    assert verdict.balanced_as_it_stands is admissible
    assert analysis.balance.kind == ("balanced" if admissible else "unbalanced")


def _left_over(matrix, known) -> float:
    values = np.linalg.lstsq(matrix, -known, rcond=1e-9)[0]
    return float(np.linalg.norm(matrix @ values + known))


def _admissible(sketch, equations) -> bool | None:
    """Whether HiGHS finds a balance in which nothing one-way acts backwards; None where it is a close call.

    The total of backward parts is made as small as possible: clearly none, or clearly some.
    """
    backwards = {support.id for support in sketch.supports if support.kind in ("rope", "contact")}
    backwards |= {support.id for support in sketch.supports if support.kind == "roller" and not support.two_way}
    backwards |= {load.id for load in sketch.loads if isinstance(load, Force) and load.one_way}
    matrix, scale = equations.columns, max(np.abs(equations.known).max(), 1e-12)
    if _left_over(matrix, equations.known) > 1e-9 * scale:
        return False
    cost = [float(name in backwards and part == "size") for name, part in equations.names]
    best = linprog(
        [0.0] * len(cost) + cost,
        A_eq=np.hstack([matrix, -matrix]),
        b_eq=-equations.known / scale,
        bounds=(0, None),
    )
    if best.status != 0 or 1e-9 < best.fun < 1e-5:
        return None
    return bool(best.fun <= 1e-9)


@settings(max_examples=400, deadline=None)
@given(strategies.sketches(most_supports=5, most_loads=5))
def test_every_sketch_has_a_finite_answer(sketch):
    analysis = analyse(sketch)
    assert analysis.force_scale_n > 0.0 and analysis.torque_scale_n_m > 0.0 and analysis.lever_m > 0.0
    for reading in analysis.readings:
        numbers = [
            *(reading.vector or ()),
            *(part for part in reading.components_n if part is not None),
            *(
                value
                for value in (
                    reading.couple_n_m,
                    reading.size_n,
                    reading.direction_deg,
                    reading.turning.arm_m,
                    reading.turning.torque_n_m,
                    reading.turning.from_x_n_m,
                    reading.turning.from_y_n_m,
                )
                if value is not None
            ),
        ]
        assert all(math.isfinite(number) for number in numbers)
        if reading.size_n is not None:
            assert reading.size_n >= 0.0


@pytest.mark.parametrize("size", [1e-6, 1.0, 1e6])
@pytest.mark.parametrize("force", [1e-9, 1e12])
@pytest.mark.parametrize("away", [0.0, 1e12])
def test_extreme_sizes_are_answered_without_an_exception(size, force, away):
    body = replace(BAR, origin_m=(away, -away), length_m=size)
    sketch = Sketch(
        bodies=(body,),
        supports=(
            Support("pin1", "pin", "bar1", (0.0, 0.0), "A"),
            Support("rope1", "rope", "bar1", (size, 0.0), "T", anchor_m=(away + size, size - away)),
        ),
        loads=(
            Force("load1", "bar1", (size / 2, 0.0), "F", size_n=force),
            Couple("couple1", "bar1", (0.0, 0.0), "C", couple_n_m=force),
            Thing("thing1", "bar1", (0.0, 0.0), "P", "crate", force),
        ),
    )
    analysis = analyse(sketch)
    assert analysis.supports.kind in ("determinate", "impossible", "mechanism")
    assert all(
        math.isfinite(part) for reading in analysis.readings for part in reading.components_n if part is not None
    )


WILD = st.one_of(st.just(0.0), st.floats(-1e12, 1e12))
WILD_SIZE = st.one_of(st.none(), st.floats(0.0, 1e12))


@settings(max_examples=300, deadline=None)
@given(
    st.tuples(WILD, WILD),
    WILD,
    st.floats(1e-6, 1e12),
    st.lists(
        st.tuples(st.sampled_from(["pin", "roller", "rope", "strut", "fixed", "contact"]), WILD, WILD), max_size=4
    ),
    st.lists(st.tuples(WILD_SIZE, WILD), max_size=3),
    st.tuples(WILD, WILD),
)
def test_numbers_of_any_size_a_document_may_hold_are_answered_with_finite_ones(
    origin, angle_deg, length, held, loaded, about
):
    body = replace(BAR, origin_m=origin, angle_deg=angle_deg, length_m=length)
    supports = tuple(
        Support(
            f"support{index}",
            kind,
            "bar1",
            (length * index / 4, 0.0),
            "S",
            normal_deg=first,
            anchor_m=(first, second) if kind in ("rope", "strut") else None,
            guess=Guess(abs(first), second, first) if index == 2 else None,
        )
        for index, (kind, first, second) in enumerate(held)
    )
    loads = tuple(
        Force(f"load{index}", "bar1", (length * index / 3, 0.0), "F", size_n=size, direction_deg=direction_deg)
        for index, (size, direction_deg) in enumerate(loaded)
    )
    analysis = analyse(Sketch(bodies=(body,), supports=supports, loads=loads), pivot=about)
    for found in (analysis, kept_back(analysis)):
        assert all(math.isfinite(number) for number in _numbers(found))


def _numbers(value):
    """Every number in nested dataclasses and tuples."""
    if isinstance(value, float):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from _numbers(part)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _numbers(getattr(value, field.name))
