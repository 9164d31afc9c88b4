"""Spread loads: held to numpy's integral over the load, to the same sketch moved, and to their own resultant."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import reference
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard import document
from steelyard.edit.commands import apply
from steelyard.errors import SteelyardError
from steelyard.geometry import Point
from steelyard.kinetics.release import release
from steelyard.model import Body, Force, Pivot, Settings, Sketch, SpreadLoad, Support
from steelyard.panels.fields import fields
from steelyard.panels.outline import outline
from steelyard.panels.problem import problem
from steelyard.picture import board
from steelyard.picture.frame import Frame
from steelyard.statics import analyse, shape
from steelyard.working.desk import Options
from steelyard.working.expression import evaluate, sides
from steelyard.working.figures import digits
from steelyard.working.reading import read
from steelyard.working.steps import work

BAR = Body("bar1", "bar", "walkway", (0.0, 0.0), 0.0, length_m=6.0)
HELD = (
    Support("pin1", "pin", "bar1", (0.0, 0.0), "R", "hinge"),
    Support("roller1", "roller", "bar1", (6.0, 0.0), "B", "quay"),
)
SNOW = SpreadLoad("snow", "bar1", (1.0, 0.0), (5.0, 0.0), "Q", "w", "contact", "snow", 200.0, 500.0)


def sketch(load: SpreadLoad = SNOW, body: Body = BAR, **more: Any) -> Sketch:
    return Sketch(bodies=(body,), supports=HELD, loads=(load,), pivot=Pivot((0.0, 0.0), "pin1"), **more)


def straight(body: Body) -> bool:
    """Whether it has a straight piece for a load to lie along."""
    return body.kind != "disc"


@st.composite
def spread_sketches(draw: st.DrawFn) -> Sketch:
    """A sketch without other loads, held by nothing, one spread load on any kind of body."""
    body = replace(draw(strategies.bodies().filter(straight)), weight_symbol_only=False)
    return Sketch(bodies=(body,), loads=(draw(strategies.spread_loads(body, "load")),))


@st.composite
def loaded(draw: st.DrawFn, sketches: st.SearchStrategy[Sketch]) -> Sketch:
    """One of these sketches with a spread load more."""
    found = draw(sketches.filter(lambda each: straight(each.bodies[0])))
    return replace(found, loads=(*found.loads, draw(strategies.spread_loads(found.bodies[0], "spread"))))


@settings(max_examples=200, deadline=None)
@given(spread_sketches(), st.integers(200, 400))
def test_resultant_is_what_numpy_integrates_along_the_load(found: Sketch, parts: int) -> None:
    """Sum and first moment of small pieces of load, each at its middle: about the resultant's point it is nothing."""
    body, load = found.bodies[0], found.loads[0]
    assert isinstance(load, SpreadLoad)
    force = analyse(found).reading("load").force
    start, end = (reference.world(body, each) for each in (load.start_m, load.end_m))
    way = end - start
    share = (np.arange(parts) + 0.5) / parts
    first, last = load.shares
    heights = first + share * (last - first)
    length = float(np.linalg.norm(way))
    acts = {
        "across": np.array([way[1], -way[0]]) / length,
        "angle": reference.unit(load.direction_deg),
    }.get(load.acts, np.array([0.0, -1.0]))
    total = float(heights.sum()) * length / parts
    assert force.size_n is not None and force.along is not None
    np.testing.assert_allclose(
        force.size_n * np.array(force.along), total * acts, rtol=0, atol=1e-9 * max(1.0, abs(total))
    )
    points = start + share[:, None] * way
    from_point = points - np.array(force.point)
    moment = (from_point[:, 0] * acts[1] - from_point[:, 1] * acts[0]) @ heights * length / parts
    # The rule of the middle is off by (last − first) L² / 12 parts², its exact error for a straight diagram.
    slack = abs(last - first) * length**2 / (12.0 * parts**2) + 1e-9 * max(1.0, abs(total)) * (1.0 + length)
    assert abs(moment) <= slack * 1.0001


@settings(max_examples=60, deadline=None)
@given(loaded(strategies.holding_sketches()), st.floats(-180.0, 180.0), strategies.PLACES)
def test_readings_move_and_turn_with_the_sketch(found: Sketch, turn_deg: float, shift: Point) -> None:
    across = tuple(replace(each, acts="across") for each in found.loads if isinstance(each, SpreadLoad))
    bare = replace(found, bodies=(replace(found.bodies[0], mass_kg=None, weight_n=None),), loads=across)
    moved = reference.moved(bare, turn_deg, *shift)
    for one, other in zip(analyse(bare).readings, analyse(moved).readings, strict=True):
        if one.force.role == "known":
            assert one.vector is not None and other.vector is not None
            turned = (
                one.vector[0] * math.cos(math.radians(turn_deg)) - one.vector[1] * math.sin(math.radians(turn_deg)),
                one.vector[0] * math.sin(math.radians(turn_deg)) + one.vector[1] * math.cos(math.radians(turn_deg)),
            )
            assert other.vector == pytest.approx(turned, abs=1e-9 * max(1.0, math.hypot(*turned)))


@settings(max_examples=150, deadline=None)
@given(loaded(strategies.sketches()))
def test_replacing_by_the_resultant_changes_no_reading(found: Sketch) -> None:
    loads = [each for each in found.loads if isinstance(each, SpreadLoad)]
    before = analyse(found)
    after_sketch = found
    for load in loads:
        change = apply(after_sketch, "resultant", {"id": load.id})
        assert change.label == f"Replace {load.symbol} by its resultant"
        after_sketch = change.sketch
    assert not any(isinstance(each, SpreadLoad) for each in after_sketch.loads)
    after = analyse(after_sketch)
    assert after.supports.kind == before.supports.kind and after.supports.degree == before.supports.degree
    near = 1e-9 * max(before.force_scale_n, 1e-9)
    for one, other in zip(before.readings, after.readings, strict=True):
        assert (one.force.id, one.force.symbol, one.force.type, one.force.by) == (
            other.force.id, other.force.symbol, other.force.type, other.force.by,
        )  # fmt: skip
        assert one.fixed == other.fixed and (one.vector is None) == (other.vector is None)
        if one.vector is not None and before.supports.near == "" and before.supports.kind == "determinate":
            size = max(math.hypot(*one.vector), before.force_scale_n)
            assert other.vector == pytest.approx(one.vector, abs=1e-7 * size)
        elif one.vector is not None and one.force.role == "known":
            assert other.vector == pytest.approx(one.vector, abs=near)


ENDS = [(400.0, 400.0), (0.0, 300.0), (300.0, 0.0), (200.0, 500.0), (-200.0, -500.0)]


@pytest.mark.parametrize("ends", ENDS)
@pytest.mark.parametrize("units", ["si", "us"])
def test_step_replaces_it_by_area_at_the_centroid_and_every_line_is_true(ends: tuple[float, float], units: str) -> None:
    found = sketch(replace(SNOW, start_n_per_m=ends[0], end_n_per_m=ends[1]), settings=Settings(units=units))  # type: ignore[arg-type]
    analysis = analyse(found)
    step = work(found, analysis).steps[1]
    assert step.kind == "replace" and step.title.text == "Replace the spread load by its resultant Q"
    known = {symbol: each.value for symbol, each in step.known.items()}
    assert [line.kind for line in step.lines] == ["given", "numbers", "value"] * 2
    foot, pound = (0.3048, 4.4482216152605) if units == "us" else (1.0, 1.0)
    area = abs(ends[0] + ends[1]) * 4.0 / 2.0 / pound
    weights = np.polynomial.legendre.leggauss(2)[0] / 2.0 + 0.5
    heights = ends[0] + weights * (ends[1] - ends[0])
    centroid = float((heights * weights).sum() / heights.sum()) * 4.0 / foot
    for line, value in zip(step.lines, [area] * 3 + [centroid] * 3, strict=True):
        for side in sides(line.equation):
            assert evaluate(side, known) == pytest.approx(value, rel=1e-12)
        if line.kind == "numbers":
            printed = evaluate(line.equation.right, printed=True)
            assert digits(printed, 3) == digits(value, 3)


def test_a_letter_stays_a_letter_and_its_triangle_keeps_its_centroid() -> None:
    found = sketch(replace(SNOW, start_n_per_m=0.0, end_n_per_m=None))
    reading = analyse(found).reading("snow")
    assert reading.vector is None and reading.force.point == pytest.approx((1.0 + 8.0 / 3.0, 0.0))
    kinds = [line.kind for line in work(found, analyse(found)).steps[1].lines]
    assert kinds == ["given", "given", "numbers", "value"]
    symbols = work(found, analyse(found), options=Options(symbols_only=True)).steps[1]
    assert [line.kind for line in symbols.lines] == ["given", "given"]


@pytest.mark.parametrize(
    ("changed", "where", "said"),
    [
        ({"end_m": [1.0, 0.0]}, "loads[0].end_m", "must differ"),
        ({"end_m": [6.5, 0.0]}, "loads[0].end_m", "must be on the bar"),
        ({"start_n_per_m": -10}, "loads[0].end_n_per_m", "must act the same way"),
        ({"end_n_per_m": None}, "loads[0].start_n_per_m", "must be left out, or zero, beside a letter"),
        ({"acts": "sideways"}, "loads[0].acts", "must be one of"),
        ({"body": "quay"}, "loads[0].body", "must be the id of a body"),
        ({"size_n": 3}, "loads[0].size_n", "not a field Steelyard knows"),
    ],
)
def test_complaint_about_a_document_names_the_place(changed: dict[str, Any], where: str, said: str) -> None:
    data = document.to_data(sketch())
    data["loads"][0].update(changed)
    with pytest.raises(SteelyardError) as caught:
        document.read(json.dumps(data))
    assert caught.value.where == where
    assert said in caught.value.message


def test_a_load_round_a_bend_is_refused() -> None:
    bent = Body("bar1", "bent-bar", "arm", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (3.0, 0.0), (3.0, 2.0)))
    with pytest.raises(SteelyardError, match="same straight piece"):
        document.check(Sketch(bodies=(bent,), loads=(replace(SNOW, end_m=(3.0, 1.0)),)))


def test_own_weight_acts_from_the_side_only_and_by_the_earth() -> None:
    own = replace(SNOW, acts="weight")
    force = analyse(sketch(own)).reading("snow").force
    assert (force.type, force.by, force.along) == ("gravity", "Earth", (0.0, -1.0))
    above = sketch(own, settings=Settings(seen_from="above"))
    assert all(each.force.id != "snow" for each in analyse(above).readings)
    with pytest.raises(SteelyardError, match="does not act in the page"):
        apply(above, "resultant", {"id": "snow"})


def test_tool_lays_it_down_as_the_hand_goes_and_it_presses_on_the_body() -> None:
    bare = replace(sketch(), loads=())
    for start, end in (((1.0, 0.0), (4.0, 0.0)), ((4.0, 0.0), (1.0, 0.0))):
        made = apply(bare, "add", {"tool": "spread", "at": start, "to": end})
        load = made.sketch.loads[0]
        assert isinstance(load, SpreadLoad) and made.created == load.id
        assert (load.start_m, load.end_m) == ((1.0, 0.0), (4.0, 0.0))
        along = analyse(made.sketch).reading(load.id).force.along
        assert along == pytest.approx((0.0, -1.0), abs=1e-12)
    plate = Body("bar1", "plate", "hatch", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)))
    for start, end, wanted in (
        ((0.2, 0.0), (1.5, 0.0), (0.0, 1.0)),
        ((2.0, 0.2), (2.0, 0.8), (-1.0, 0.0)),
        ((1.5, 1.0), (0.2, 1.0), (0.0, -1.0)),
    ):
        made = apply(Sketch(bodies=(plate,)), "add", {"tool": "spread", "at": start, "to": end})
        force = analyse(made.sketch).reading("spread").force
        assert force.along == pytest.approx(wanted, abs=1e-12)


def test_fields_change_what_they_say() -> None:
    found = sketch()

    def typed(key: str, text: str) -> SpreadLoad:
        load = apply(found, "set", {"id": "snow", "key": key, "text": text}).sketch.loads[0]
        assert isinstance(load, SpreadLoad)
        return load

    assert typed("from", "0.5").start_m == (0.5, 0.0)
    assert typed("to", "6 m").end_m == (6.0, 0.0)
    assert typed("start_intensity", "0.3 kN/m").start_n_per_m == 300.0
    assert typed("end_intensity", "10 lbf/ft").end_n_per_m == pytest.approx(145.939, abs=5e-4)
    assert (typed("shape", "uniform").start_n_per_m, typed("shape", "uniform").end_n_per_m) == (500.0, 500.0)
    assert (typed("shape", "falling").start_n_per_m, typed("shape", "falling").end_n_per_m) == (500.0, 0.0)
    assert typed("acts", "angle").direction_deg == 270.0
    assert typed("turned_round", "true").start_n_per_m == -200.0
    assert typed("agent", "slush").agent == "slush" and typed("symbol", "G").symbol == "G"
    for key, text in (("to", "7"), ("from", "5"), ("start_intensity", "-3"), ("start_intensity", ""), ("mass", "3")):
        with pytest.raises(SteelyardError):
            typed(key, text)
    shown = fields(found, analyse(found), "snow")
    assert shown is not None
    keys = [item["key"] for each in shown["groups"] for item in each["items"]]  # type: ignore[attr-defined]
    assert {"from", "to", "start_intensity", "end_intensity", "shape", "acts", "agent", "resultant"} <= set(keys)
    assert any(each["id"] == "snow" and "spread load by snow" in str(each["spoken"]) for each in outline(found, "O"))
    said = problem(found, "bar1")
    assert said is not None and "changing evenly from 200\u00a0N/m to 500\u00a0N/m" in str(said["text"])


def test_it_goes_with_its_body_and_keeps_to_what_is_left_of_it() -> None:
    found = sketch()
    shorter = apply(found, "set", {"id": "bar1", "key": "length", "text": "3"}).sketch.loads[0]
    assert isinstance(shorter, SpreadLoad) and (shorter.start_m, shorter.end_m) == ((1.0, 0.0), (3.0, 0.0))
    shifted = apply(found, "move", {"id": "snow", "grip": "place", "by": [5.0, 0.0]}).sketch.loads[0]
    assert isinstance(shifted, SpreadLoad) and (shifted.start_m, shifted.end_m) == ((2.0, 0.0), (6.0, 0.0))
    copied = apply(found, "duplicate", {"id": "bar1"}).sketch
    twin = next(each for each in copied.loads if each.id != "snow")
    assert isinstance(twin, SpreadLoad) and (twin.start_m, twin.end_m) == (SNOW.start_m, SNOW.end_m)
    assert twin.symbol != "Q" and twin.spread_symbol != "w"


@pytest.mark.parametrize("view", ["set-up", "extended"])
def test_diagram_is_drawn_and_the_resultant_only_shows_when_lit_or_asked_for(view: Any) -> None:
    found = sketch()
    frame = Frame(1000.0, 700.0, 100.0, (3.0, 0.0), n_per_px=10.0)
    drawn = board.draw(found, analyse(found), frame, view)
    by_id = {record.id: record for record in drawn.records}
    assert by_id["snow"].role == "spread-line" and by_id["snow"].shown == "always"
    assert by_id["snow.resultant"].role == "resultant" and by_id["snow.resultant"].shown == "lit"
    assert not any(record.role == "arrow-known" for record in drawn.records)
    grips = {target.grip for target in drawn.targets if target.of == "snow"}
    assert grips == {"place", "start", "end", "start-height", "end-height"}
    x = float(dict(by_id["snow.at"].attrs)["cx"])
    point = shape.world(BAR, SNOW.place_m)
    assert x == pytest.approx(frame.to_sheet(point)[0], abs=0.01)
    asked = board.draw(replace(found, pinned=("snow",)), analyse(found), frame, view)
    assert next(record for record in asked.records if record.id == "snow.resultant").shown == "always"


def test_replaced_load_is_a_force_with_the_same_id() -> None:
    made = apply(replace(sketch(), pinned=("snow",)), "resultant", {"id": "snow"})
    force = made.sketch.loads[0]
    assert isinstance(force, Force) and force.id == "snow" and made.sketch.pinned == ("snow",)
    assert (force.size_n, force.direction_deg, force.agent, force.type) == (1400.0, 270.0, "snow", "contact")
    assert force.place_m == pytest.approx((1.0 + 16.0 / 7.0, 0.0))
    with pytest.raises(SteelyardError, match="Only a spread load"):
        apply(made.sketch, "resultant", {"id": "snow"})


@pytest.mark.parametrize("way", ["sums", "geometry"])
def test_replacing_comes_right_after_isolating_whichever_way_it_is_read(way: Any) -> None:
    stay = Support("stay", "rope", "bar1", (6.0, 0.0), "T", "stay", anchor_m=(0.0, 4.0))
    found = replace(sketch(), supports=(HELD[0], stay))
    steps = read(found, analyse(found), Options(), way, 99).working.steps
    assert [step.kind for step in steps[:2]] == ["isolate", "replace"]
    assert sum(step.kind == "replace" for step in steps) == 1
    level = read(sketch(), analyse(sketch()), Options(), way, 99).working.steps
    assert [step.kind for step in level[:3]] == ["isolate", "replace", "theorem"]


def test_let_go_counts_a_load_and_asks_for_own_weight_as_mass() -> None:
    """By hand: a uniform bar on a pin at its end turns at Σ torque / (m L² / 3)."""
    bar = replace(BAR, mass_kg=30.0)
    snow = release(replace(sketch(body=bar), supports=HELD[:1]))
    first, last = 1.0, 5.0
    share = (np.arange(4000) + 0.5) / 4000
    pushed = ((200.0 + 300.0 * share) * (first + share * (last - first))).mean() * (last - first)
    wanted = -(pushed + 30.0 * 9.81 * 3.0) / (30.0 * 36.0 / 3.0)
    assert snow.trouble == "" and snow.alpha_rad_s2 == pytest.approx(wanted, rel=1e-6)
    own = release(replace(sketch(replace(SNOW, acts="weight"), bar), supports=HELD[:1]))
    assert "needs it as mass of the walkway" in own.trouble
