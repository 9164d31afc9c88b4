"""Rough contacts, faces and one-way supports: feasible or not, how far each part reaches, and what fails how.

The outside measure is `rough_reference`: the same sketches written by extreme forces, for scipy's HiGHS.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import reference
import rough_reference
from rough_reference import extreme, extreme_ratio, random_sketch, violation
from steelyard.model import Body, Force, Settings, Sketch, Support
from steelyard.statics import analyse
from steelyard.statics.kept import kept_back
from steelyard.statics.reach import reaches
from steelyard.statics.use import uses

BATCHES, EACH = 4, 60
# Beside the loads: nearer to the edge of what is admissible than this, the two programs may round apart.
EDGE = 1e-7


def ladder(mu_foot: float | None, mu_top: float | None, angle_deg: float = 60.0) -> Sketch:
    """Four metres long, 200 N, its foot on a quay and its top against a hull."""
    bar = Body("ladder", "bar", "ladder", (0.0, 0.0), angle_deg, length_m=4.0, weight_n=200.0)
    foot = Support("foot", "contact", "ladder", (0.0, 0.0), "N", "quay", 90.0, mu=mu_foot)
    top = Support("top", "contact", "ladder", (4.0, 0.0), "S", "hull", 180.0, mu=mu_top, friction_symbol="g")
    return Sketch(bodies=(bar,), supports=(foot, top))


def crate(mu: float, push_n: float, height_m: float) -> Sketch:
    """One metre wide, two high, 100 N, on a deck, pushed to the right."""
    corners = ((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0))
    plate = Body("crate", "plate", "crate", (0.0, 0.0), 0.0, points_m=corners, weight_n=100.0)
    base = Support("base", "contact", "crate", (0.0, 0.0), "N", "deck", 90.0, face_m=(1.0, 0.0), mu=mu)
    push = Force("push", "crate", (0.0, height_m), "P", size_n=push_n, direction_deg=0.0)
    return Sketch(bodies=(plate,), supports=(base,), loads=(push,))


@pytest.mark.parametrize("batch", range(BATCHES))
def test_random_rough_sketches_hold_or_not_and_reach_as_far_as_for_highs(batch):
    held = failed = 0
    for seed in range(batch * EACH, (batch + 1) * EACH):
        sketch = random_sketch(seed)
        rough = rough_reference.assemble(sketch)
        short = violation(rough)
        supports = analyse(sketch).supports
        if 0.0 < short < EDGE:
            continue
        stands = supports.balanced_as_it_stands and not supports.failing
        assert stands == (short == 0.0), (seed, short, supports.sentence)
        failed += not stands
        if not stands:
            assert reaches(sketch) == ()
            continue
        held += 1
        scale = np.abs(rough.known).max()
        for each in reaches(sketch):
            if each.part == "place":
                continue
            form = rough.sizes[each.force + (f".{each.part}" if each.part in "xy" else "")]
            for end, sense in ((each.least, -1.0), (each.greatest, 1.0)):
                wanted = extreme(rough, _drawn(sketch, each.force, form), sense)
                assert end.value == pytest.approx(wanted, rel=1e-6, abs=2e-7 * scale), (seed, each.force, each.part)
    assert held > 10 and failed > 10


def _drawn(sketch: Sketch, force_id: str, form: np.ndarray) -> np.ndarray:
    """Friction along the way it is drawn: to the right of the normal unless drawn at 180."""
    support = next((each for each in sketch.supports if f"{each.id}-friction" == force_id), None)
    return -form if support is not None and support.drawn_deg == 180.0 else form


@pytest.mark.parametrize("batch", range(BATCHES))
def test_every_end_of_a_reach_comes_with_reactions_that_balance_within_what_supports_can_do(batch):
    checked = 0
    for seed in range(batch * EACH, batch * EACH + EACH // 2):
        sketch = random_sketch(seed)
        body = sketch.bodies[0]
        known = rough_reference.assemble(sketch).known
        supports = {each.id: each for each in sketch.supports}
        for reach in reaches(sketch):
            for end in (reach.least, reach.greatest):
                total = known.copy()
                forces = {each.force: each for each in end.witness}
                for each in end.witness:
                    x, y = each.vector
                    total += [x, y, each.point[0] * y - each.point[1] * x + each.couple_n_m]
                largest = max([np.abs(known).max(), *(math.hypot(*each.vector) for each in end.witness)])
                assert np.abs(total).max() <= 1e-7 * largest, (seed, reach.force, total)
                for each in end.witness:
                    support = supports.get(each.force)
                    if support is None or support.kind != "contact":
                        continue
                    normal = _normal(support, body)
                    pressed = float(np.dot(each.vector, normal))
                    assert pressed >= -1e-8 * largest
                    if support.mu is not None:
                        friction = math.hypot(*forces[f"{support.id}-friction"].vector)
                        assert friction <= support.mu * pressed + 1e-8 * largest
                    if support.face_m is not None and pressed > 1e-6 * largest:
                        ends = [reference.world(body, place) for place in (support.place_m, support.face_m)]
                        length = np.linalg.norm(ends[1] - ends[0])
                        along = np.dot(np.array(each.point) - ends[0], ends[1] - ends[0]) / length
                        assert -1e-6 <= along <= length + 1e-6
                checked += 1
    assert checked > 40


def _normal(support: Support, body: Body) -> np.ndarray:
    given = reference.unit(support.normal_deg)
    if support.face_m is None:
        return given
    x, y = reference.world(body, support.face_m) - reference.world(body, support.place_m)
    square = np.array([-y, x]) / math.hypot(x, y)
    return square if square @ given > 0.0 else -square


def test_use_of_friction_and_of_faces_is_that_of_highs():
    checked = 0
    for seed in range(1000, 1240):
        sketch = random_sketch(seed)
        rough = rough_reference.assemble(sketch)
        supports = analyse(sketch).supports
        if not supports.balanced_as_it_stands or supports.failing or 0.0 < violation(rough) < EDGE:
            continue
        scale = np.abs(rough.known).max()
        for use in uses(sketch):
            held = use.force.removesuffix("-friction")
            top = rough.sizes[use.force] if use.kind == "friction" else rough.places[use.force]
            if extreme(rough, rough.sizes[held], 1.0) < 1e-6 * scale:
                continue
            ends = [extreme_ratio(rough, top, rough.sizes[held], sense) for sense in (-1.0, 1.0)]
            assert (use.least, use.greatest) == pytest.approx(ends, rel=1e-5, abs=1e-6), (seed, use)
            checked += 1
    assert checked > 60


def test_ways_of_failing_are_motions_that_no_support_resists_and_the_loads_drive():
    found = 0
    for seed in range(2000, 2200):
        sketch = random_sketch(seed)
        supports = analyse(sketch).supports
        if not supports.failing:
            continue
        rough = rough_reference.assemble(sketch)
        if violation(rough) < EDGE:
            continue
        assert supports.ways, (seed, supports.sentence)
        for way in supports.ways:
            motion = np.array(way.motion)
            work = rough.columns.T @ motion
            size = np.abs(motion).max()
            for share, only in zip(work, rough.one_way, strict=True):
                assert share >= -1e-8 * size if only else abs(share) <= 1e-8 * size
            assert rough.known @ motion > 0.0
            found += 1
    assert found > 60


# What is said


def test_ladder_that_slips_says_what_it_needs_what_there_is_and_which_way_it_goes():
    supports = analyse(ladder(0.2, None)).supports
    # About the foot: S·4 sin 60° = 200·2 cos 60°, and f = S.
    needed = 200.0 * 0.5 / math.tan(math.radians(60.0))
    (lack,) = supports.lacks
    assert (lack.force, lack.kind) == ("foot-friction", "friction")
    assert (lack.needed, lack.there) == pytest.approx((needed, 0.2 * 200.0))
    assert supports.kind == "impossible" and supports.failing == ("foot-friction",)
    assert supports.sentence.replace("\u00a0", " ") == (
        "No balance like this: f would have to be 57.7 N where 0.2 times the normal force is 40.0 N. "
        "Nothing keeps the ladder from slipping to the left at the quay."
    )


def test_ladder_rough_at_both_ends_slips_at_both():
    (way,) = analyse(ladder(0.2, 0.2)).supports.ways
    assert [(mode.force, mode.kind) for mode in way.modes] == [("foot", "slips"), ("top", "slips")]
    assert way.modes[0].way == pytest.approx((-1.0, 0.0)) and way.modes[1].way == pytest.approx((0.0, -1.0))


@pytest.mark.parametrize(
    ("mu", "push_n", "height_m", "kinds"),
    [(0.3, 40.0, 0.5, ["slips"]), (0.5, 40.0, 2.0, ["tips"]), (0.3, 60.0, 2.0, ["tips", "slips"])],
)
def test_crate_says_whether_it_slips_or_tips_and_over_which_end(mu, push_n, height_m, kinds):
    supports = analyse(crate(mu, push_n, height_m)).supports
    modes = [mode for way in supports.ways for mode in way.modes]
    assert [mode.kind for mode in modes] == kinds
    for mode in modes:
        assert mode.way == ((1.0, 0.0) if mode.kind == "slips" else (0.0, 0.0))
        assert mode.end == (None if mode.kind == "slips" else (1.0, 0.0))
    assert ("only letting go can tell" in supports.sentence) == (len(kinds) > 1)
    assert ("tipping over the right end of its face at the deck" in supports.sentence) == ("tips" in kinds)


def test_place_beyond_its_face_is_told_in_metres_beside_the_half_of_the_face():
    (lack,) = analyse(crate(0.5, 40.0, 2.0)).supports.lacks
    assert (lack.force, lack.kind) == ("base", "place")
    assert (lack.needed, lack.there) == pytest.approx((40.0 * 2.0 / 100.0, 0.5))


def test_friction_at_its_very_limit_just_holds_and_says_so():
    mu = 0.5 / math.tan(math.radians(60.0))
    analysis = analyse(ladder(mu, None))
    assert analysis.balance.kind == "balanced" and analysis.supports.at_limit == ("foot-friction",)
    assert analysis.supports.sentence.endswith("It just holds: f is all the friction there is.")
    assert analyse(ladder(mu * (1.0 - 1e-6), None)).supports.kind == "impossible"


def test_indeterminate_ladder_at_the_angle_where_both_ends_must_slip_has_one_answer():
    # tan θ = (1 − μ²)/(2μ): the two friction cones meet over the centre of mass in one point.
    mu = 0.3
    sketch = ladder(mu, mu, math.degrees(math.atan((1.0 - mu * mu) / (2.0 * mu))))
    analysis = analyse(sketch)
    normal = 200.0 / (1.0 + mu * mu)
    foot, top = analysis.reading("foot"), analysis.reading("top-friction")
    assert foot.size_n == pytest.approx(normal, rel=1e-7) and any(foot.squeezed)
    assert top.vector == pytest.approx((0.0, mu * mu * normal), abs=1e-5)
    assert all(each.one_value == "conditions" for each in reaches(sketch))
    assert "only one answer" in analysis.supports.sentence
    kept = kept_back(analysis)
    assert not any(reading.fixed for reading in kept.readings if reading.force.role == "unknown")
    assert "only one answer" not in kept.supports.sentence and kept.supports.at_limit == ()
    # A little steeper there is room again, and statics tells no more.
    assert not analyse(replace(sketch, bodies=(replace(sketch.bodies[0], angle_deg=60.0),))).reading("foot").fixed


def test_ladder_rough_at_both_ends_reaches_as_far_as_worked_by_hand():
    # About the foot: S·h + g·b = W·b/2, with h = 4 sin 60°, b = 2; g = ±0.3·S; f = S, N = W − g.
    height, base = 4.0 * math.sin(math.radians(60.0)), 2.0
    ends = sorted(200.0 * base / 2.0 / (height + sense * 0.3 * base) for sense in (1.0, -1.0))
    by_force = {each.force: each for each in reaches(ladder(0.4, 0.3))}
    for force in ("top", "foot-friction"):
        found = by_force[force]
        assert (found.least.value, found.greatest.value) == pytest.approx(tuple(ends), rel=1e-9)
    assert by_force["top-friction"].least.value == pytest.approx(-0.3 * ends[1], rel=1e-9)
    assert by_force["foot"].greatest.value == pytest.approx(200.0 + 0.3 * ends[1], rel=1e-9)
    (foot, top) = uses(ladder(0.4, 0.3))
    assert foot.most_used == pytest.approx(ends[1] / (200.0 + 0.3 * ends[1]) / 0.4, rel=1e-9)
    assert top.most_used == pytest.approx(1.0) and top.least_used == 0.0


def test_kept_back_tells_neither_what_fails_nor_how():
    for sketch in (ladder(0.2, None), ladder(0.2, 0.2), crate(0.3, 60.0, 2.0)):
        analysis = analyse(sketch)
        kept = kept_back(analysis).supports
        assert analysis.supports.lacks and analysis.supports.ways
        assert kept.lacks == kept.ways == kept.at_limit == kept.failing == ()
        assert kept.kind in ("determinate", "indeterminate")
        assert "slipping" not in kept.sentence and "would have to" not in kept.sentence


def test_seen_from_above_a_block_slips_up_or_down_the_page():
    corners = ((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0))
    plate = Body("crate", "plate", "crate", (0.0, 0.0), 0.0, points_m=corners)
    wall = Support("side", "contact", "crate", (0.0, 0.0), "N", "wall", 0.0, face_m=(0.0, 2.0), mu=0.2)
    loads = (
        Force("press", "crate", (1.0, 1.0), "P", size_n=100.0, direction_deg=180.0),
        Force("pull", "crate", (0.0, 2.0), "Q", size_n=30.0, direction_deg=270.0),
    )
    sketch = Sketch(bodies=(plate,), supports=(wall,), loads=loads, settings=Settings(seen_from="above"))
    assert analyse(sketch).supports.sentence.endswith(
        "Nothing keeps the crate from slipping down the page at the wall."
    )
