"""Limits and half-widths of joined bodies: against formulas by hand, a fine scan, and numpy's own differences."""

from __future__ import annotations

import math
from dataclasses import replace

import frames
import numpy as np
import pytest
from steelyard import document
from steelyard.limits.thresholds import limits, where
from steelyard.model import Body, Force, HalfWidth, Sketch, Support, Thing
from steelyard.statics import analyse
from steelyard.statics.uncertainty import uncertainty

G = 9.81
# A beam that runs past its inner support and carries the end of another: hinge at 6 m.
LONG = Body("long", "bar", "long beam", (0.0, 0.0), 0.0, length_m=6.0)
SHORT = Body("short", "bar", "short beam", (6.0, 0.0), 0.0, length_m=4.0)
COMPOUND = Sketch(
    bodies=(LONG, SHORT),
    supports=(
        Support("edge", "contact", "long", (0.0, 0.0), "A"),
        Support("post", "pin", "long", (4.0, 0.0), "B"),
        Support("joint", "pin", "long", (6.0, 0.0), "C", other="short"),
        Support("end", "roller", "short", (4.0, 0.0), "D"),
    ),
    loads=(Thing("man", "short", (1.0, 0.0), "N", "man", 80.0), Force("load", "long", (1.0, 0.0), "P", size_n=500.0)),
)


@pytest.mark.parametrize("system", [("long",), ("short",), ("long", "short")])
def test_every_value_at_which_the_whole_verdict_changes_is_found_whichever_body_is_looked_at(system):
    # About the post: A·4 = P·3 − C·2 with C = W(4 − x)/4, so the edge lets go at x = 4 − 6P/W.
    found = limits(COMPOUND, "man.place_m[0]", 0.0, 4.0, bodies=system)
    lifting = [change.value for change in found.changes if change.force == "edge"]
    assert lifting == [pytest.approx(4.0 - 6.0 * 500.0 / (80.0 * G), abs=4e-9)]
    assert found.safe == ((pytest.approx(lifting[0]), 4.0),)


def test_place_where_a_reaction_on_another_body_has_a_value_is_found():
    # A = 375 − W·3/8 for the man 1 m along the short beam.
    found = where(COMPOUND, "man.mass_kg", 0.0, 200.0, "edge", 100.0, bodies=("short",))
    assert found == (pytest.approx(275.0 * 8.0 / 3.0 / G, rel=1e-12),)


def arch(rise_m: float) -> Sketch:
    """Two bars from feet 4 m apart to a common hinge, `rise_m` above (or below) the line of the feet."""
    angle, length = math.degrees(math.atan2(rise_m, 2.0)), math.hypot(2.0, rise_m)
    left = Body("left", "bar", "left", (0.0, 0.0), angle, length_m=length)
    right = Body("right", "bar", "right", (2.0, rise_m), -angle, length_m=length)
    return Sketch(
        bodies=(left, right),
        supports=(
            Support("foot", "pin", "left", (0.0, 0.0), "A"),
            Support("top", "pin", "left", (length, 0.0), "C", other="right"),
            Support("heel", "roller", "right", (length, 0.0), "B", normal_deg=90.0, two_way=True),
            Support("stop", "roller", "right", (length, 0.0), "D", normal_deg=180.0, two_way=True),
        ),
        loads=(Force("load", "left", (length, 0.0), "P", size_n=400.0),),
    )


def test_supports_of_a_whole_lose_their_hold_where_a_guide_turns_along_the_link():
    """One bar on a foot, one link to a guide: free where the guide pushes square to the link's line."""
    sketch = arch(1.5)
    turning = replace(sketch, supports=(*sketch.supports[:2], replace(sketch.supports[2], normal_deg=100.0),
                                        Support("hold", "roller", "left", (1.0, 0.0), "H", two_way=True)))  # fmt: skip
    found = limits(turning, "heel.normal_deg", 10.0, 170.0, bodies=("left",))
    free = [change.value for change in found.changes if change.kind == "free"]
    assert free == [pytest.approx(expected, abs=1e-6) for expected in _square_to_the_link(turning)]
    assert free


def _square_to_the_link(sketch: Sketch) -> list[float]:
    """Where numpy's determinant changes sign, bisected from a scan of a hundredth of a degree."""

    def turn(angle: float) -> float:
        return float(np.linalg.det(frames.dense(document.with_number(sketch, number, angle)).matrix))

    number = document.number_at(sketch, "heel.normal_deg")
    places = np.linspace(10.0, 170.0, 16001)
    values = [turn(place) for place in places]
    found = []
    for left, right, one, two in zip(places, places[1:], values, values[1:], strict=False):
        if one * two < 0.0:
            low, high = left, right
            for _ in range(60):
                middle = 0.5 * (low + high)
                low, high = (middle, high) if turn(middle) * one > 0.0 else (low, middle)
            found.append(0.5 * (low + high))
    return found


def test_limits_of_a_whole_are_those_of_a_scan_of_its_verdict():
    crane = replace(
        COMPOUND,
        supports=(*COMPOUND.supports[:3], Support("rope", "rope", "short", (4.0, 0.0), "T", anchor_m=(10.0, 5.0))),
        loads=(*COMPOUND.loads, Force("wind", "short", (2.0, 0.0), "V", size_n=900.0, direction_deg=90.0)),
    )
    found = limits(crane, "man.place_m[0]", 0.0, 4.0, bodies=("long",))
    ends = [change.value for change in found.changes if change.kind in ("slack", "lifts")]
    number = document.number_at(crane, "man.place_m[0]")
    places = np.linspace(0.0, 4.0, 801)
    kinds = []
    for place in places:
        verdict = analyse(document.with_number(crane, number, float(place)), bodies=("long",)).supports
        kinds.append((verdict.kind, verdict.failing))
    changes = [0.5 * (places[i] + places[i + 1]) for i in range(800) if kinds[i] != kinds[i + 1]]
    assert ends == [pytest.approx(change, abs=2.6e-3) for change in changes]
    assert ends


def test_half_widths_of_numbers_on_another_body_reach_the_reactions_of_this_one():
    unsure = replace(COMPOUND, half_widths=(HalfWidth("man.mass_kg", 2.0), HalfWidth("joint.place_m[0]", 0.05)))
    found = uncertainty(unsure, bodies=("long",))
    edge = next(each for each in found.spreads if (each.force, each.quantity) == ("edge", "y"))

    def reaction(mass: float, joint: float) -> float:
        moved = replace(
            unsure,
            supports=tuple(
                replace(each, place_m=(joint, 0.0)) if each.id == "joint" else each for each in unsure.supports
            ),
            loads=(replace(unsure.loads[0], mass_kg=mass), unsure.loads[1]),
        )
        made = frames.dense(moved)
        return float(np.linalg.solve(made.matrix, -made.applied)[made.keys.index(("edge", "size"))])

    step = 1e-4
    slopes = [
        (reaction(80.0 + step, 6.0) - reaction(80.0 - step, 6.0)) / (2.0 * step),
        (reaction(80.0, 6.0 + step) - reaction(80.0, 6.0 - step)) / (2.0 * step),
    ]
    assert edge.value == pytest.approx(reaction(80.0, 6.0), rel=1e-12)
    assert [share.change for share in edge.shares] == [
        pytest.approx(slope * width, rel=1e-6) for slope, width in zip(slopes, (2.0, 0.05), strict=True)
    ]
    corners = [reaction(80.0 + a, 6.0 + b) for a in (-2.0, 2.0) for b in (-0.05, 0.05)]
    assert (edge.extent.least, edge.extent.greatest) == (pytest.approx(min(corners)), pytest.approx(max(corners)))
    # A joint of two unknowns in two torque rows: that its corners bound it is reached, not proved.
    assert not edge.extent.least_sure
