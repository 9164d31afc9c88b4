"""Givens: their numbers are measured on the sketch; typed ones change it; they go with what they measure."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from picture_cases import picture, sheet
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.edit import commands
from steelyard.edit.context import Context
from steelyard.edit.given_hold import GivenHold, position
from steelyard.errors import SteelyardError
from steelyard.model import Body, Force, Given, MeasuredPoint, Settings, Sketch, Support, Thing
from steelyard.panels.fields import fields
from steelyard.picture import given_words
from steelyard.statics import measuring
from strategies import sketches

GANGWAY = shelf.load("gangway")
BOARD = Context(newtons_per_m=1000.0, catch_m=0.08, release_m=0.12, step_m=0.08)


def run(sketch: Sketch, name: str, **args: Any) -> Sketch:
    return commands.apply(sketch, name, args).sketch


def put(sketch: Sketch, of: str, key: str, text: str) -> Sketch:
    return run(sketch, "set", id=of, key=key, text=text)


def with_given(sketch: Sketch, one: Given) -> Sketch:
    found = replace(sketch, givens=(one,))
    document.check(found)
    return found


# Measuring, again with numpy


def frame(body: Body) -> tuple[np.ndarray, np.ndarray]:
    turn = math.radians(body.angle_deg)
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return np.array(body.origin_m), rotation


def place(sketch: Sketch, body_id: str, at: tuple[float, float]) -> np.ndarray:
    origin, rotation = frame(sketch.body(body_id))
    return np.asarray(origin + rotation @ np.array(at))


def spots(sketch: Sketch) -> list[tuple[MeasuredPoint, np.ndarray]]:
    """Every measurable point with where it is."""
    found = []
    for body in sketch.bodies:
        for index, hole in enumerate(body.round_holes):
            found.append((MeasuredPoint(body.id, f"hole-{index}"), place(sketch, body.id, hole.centre_m)))
        if body.kind == "disc":
            found.append((MeasuredPoint(body.id, "middle"), place(sketch, body.id, (0.0, 0.0))))
            found.append((MeasuredPoint(body.id, "rim"), place(sketch, body.id, (body.radius_m, 0.0))))
            continue
        corners = [(0.0, 0.0), (body.length_m, 0.0)] if body.kind == "bar" else list(body.points_m)
        if body.kind != "plate":
            found.append((MeasuredPoint(body.id, "start"), place(sketch, body.id, corners[0])))
            found.append((MeasuredPoint(body.id, "end"), place(sketch, body.id, corners[-1])))
        else:
            found += [
                (MeasuredPoint(body.id, f"corner-{index}"), place(sketch, body.id, corner))
                for index, corner in enumerate(corners)
            ]
    for entity in (*sketch.supports, *sketch.loads, *sketch.points):
        found.append((MeasuredPoint(entity.id), place(sketch, entity.body or "", entity.place_m)))
        if isinstance(entity, Support) and entity.anchor_m is not None:
            found.append((MeasuredPoint(entity.id, "anchor"), np.array(entity.anchor_m)))
    return found


@settings(max_examples=100, deadline=None)
@given(sketches(), st.data())
def test_lengths_are_the_distances_between_what_they_name(sketch: Sketch, data: st.DataObject) -> None:
    every = spots(sketch)
    start, end = data.draw(st.sampled_from(every)), data.draw(st.sampled_from(every))
    assume(start[0] != end[0])
    gap = end[1] - start[1]
    wanted = {"straight": np.linalg.norm(gap), "across": abs(gap[0]), "upright": abs(gap[1])}
    for way, value in wanted.items():
        one = Given("given", "length", start[0], end[0], measured=way, offset_m=0.5)  # type: ignore[arg-type]
        held = with_given(sketch, one)
        measured = measuring.length(held, one)
        assert measured.value_m == pytest.approx(value, abs=1e-9)
        first, last = (np.array(each) for each in measuring.dimension_ends(measured, one))
        assert np.linalg.norm(last - first) == pytest.approx(value, abs=1e-9)
        assert document.read(document.write(held)) == held


def lines(sketch: Sketch) -> list[tuple[str, int, np.ndarray]]:
    """Every line that can be measured, with a unit vector along it."""
    found = []
    for body in sketch.bodies:
        if body.kind == "disc":
            continue
        _, rotation = frame(body)
        corners = [(0.0, 0.0), (body.length_m, 0.0)] if body.kind == "bar" else list(body.points_m)
        edges = list(zip(corners, corners[1:] + corners[:1], strict=True))
        for index, (one, other) in enumerate(edges if body.kind == "plate" else edges[:-1]):
            way = rotation @ (np.array(other) - np.array(one))
            found.append((body.id, index, way / np.linalg.norm(way)))
    for support in sketch.supports:
        if support.anchor_m is not None:
            way = np.array(support.anchor_m) - place(sketch, support.body, support.place_m)
            if np.linalg.norm(way) > 1e-6:
                found.append((support.id, 0, way / np.linalg.norm(way)))
        elif support.kind in ("roller", "contact"):
            turn = math.radians(support.normal_deg)
            found.append((support.id, 0, np.array([math.cos(turn), math.sin(turn)])))
    for load in sketch.loads:
        if isinstance(load, Force) and (load.role == "known" or load.sought == "size"):
            turn = math.radians(load.direction_deg)
            found.append((load.id, 0, np.array([math.cos(turn), math.sin(turn)])))
    assume(found)  # a disc alone has no line
    return found


def between(one: np.ndarray, other: np.ndarray) -> float:
    """The acute angle between two lines, degrees; by the half-angle form, exact also where they nearly agree."""
    other = other if one @ other >= 0.0 else -other
    return math.degrees(2.0 * math.atan2(float(np.linalg.norm(one - other)), float(np.linalg.norm(one + other))))


@settings(max_examples=100, deadline=None)
@given(sketches(), st.data())
def test_angles_are_those_between_the_lines_and_the_arc_spans_them(sketch: Sketch, data: st.DataObject) -> None:
    line, edge, along = data.draw(st.sampled_from(lines(sketch)))
    second = data.draw(st.sampled_from([("horizontal", 0, np.array([1.0, 0.0])), ("vertical", 0, np.array([0.0, 1.0])),
                                        *lines(sketch)]))  # fmt: skip
    assume((line, edge) != second[:2])
    other = data.draw(st.booleans())
    one = Given("given", "angle", line=line, edge=edge, other=other, offset_m=1.0)
    if second[0] in ("horizontal", "vertical"):
        one = replace(one, against=second[0])  # type: ignore[arg-type]
    else:
        one = replace(one, against="line", second_line=second[0], second_edge=second[1])
    held = with_given(sketch, one)
    measured = measuring.angle(held, one)
    acute = between(along, second[2])
    assert measured.value_deg == pytest.approx(180.0 - acute if other else acute, abs=1e-9)
    sweep = (measured.to_deg - measured.from_deg + 1e-7) % 360.0 - 1e-7
    assert sweep == pytest.approx(measured.value_deg, abs=1e-6)
    for angle in (measured.from_deg, measured.to_deg):
        side = np.array([math.cos(math.radians(angle)), math.sin(math.radians(angle))])
        assert min(between(side, along), between(side, second[2])) < 1e-6
    assert document.read(document.write(held)) == held


@settings(max_examples=100, deadline=None)
@given(sketches(), st.data())
def test_a_slope_shows_the_legs_of_its_line(sketch: Sketch, data: st.DataObject) -> None:
    line, edge, along = data.draw(st.sampled_from(lines(sketch)))
    one = Given("given", "slope", line=line, edge=edge, offset_m=1.0)
    shown = measuring.slope(with_given(sketch, one), one)
    rise, run_ = abs(along[1]), abs(along[0])
    if min(rise, run_) < 1e-8:
        assert 0.0 in (shown.rise, shown.run)
        return
    # Small whole numbers stand for a ratio they hold to four figures, others for the ratio itself.
    assert shown.rise * run_ == pytest.approx(shown.run * rise, rel=1e-4 if shown.whole else 1e-9)
    if shown.whole:
        assert {shown.rise % 1, shown.run % 1} == {0.0} and max(shown.rise, shown.run) <= 12
        assert math.gcd(int(shown.rise), int(shown.run)) == 1
    else:
        assert min(shown.rise, shown.run) == pytest.approx(1.0)
    if shown.long_side is not None:
        assert shown.long_side**2 == shown.rise**2 + shown.run**2


# Right triangles in whole numbers: Euclid's formula, m² − n² : 2mn : m² + n².
@pytest.mark.parametrize(("rise", "run_", "long_side"), [(3, 4, 5), (4, 3, 5), (5, 12, 13)])
def test_triangles_in_whole_numbers_show_their_long_side(rise: int, run_: int, long_side: int) -> None:
    turned = replace(GANGWAY.bodies[0], angle_deg=round(math.degrees(math.atan2(rise, run_)), 2))
    one = Given("steep", "slope", line="gangway")
    sketch = with_given(replace(GANGWAY, bodies=(turned,)), one)
    shown = measuring.slope(sketch, one)
    assert (shown.rise, shown.run, shown.long_side) == (rise, run_, long_side)
    assert given_words.value_words(sketch, one) == f"{rise} : {run_}"


def test_numbers_are_shown_as_typed_and_follow_the_settings() -> None:
    one = Given("span", "length", MeasuredPoint("gangway", "start"), MeasuredPoint("hoist"))
    sketch = with_given(GANGWAY, one)
    assert given_words.value_words(sketch, one) == "5.2\u00a0m"
    comma = replace(sketch, settings=replace(sketch.settings, decimal_comma=True))
    assert given_words.value_words(comma, one) == "5,2\u00a0m"
    feet = replace(sketch, settings=replace(sketch.settings, units="us"))
    # 5.2 m / 0.3048 m: the international foot (1959).
    assert given_words.value_words(feet, one) == "17.06\u00a0ft"
    rope = Given("rope", "angle", line="hoist")
    assert given_words.value_words(with_given(GANGWAY, rope), rope) == "47.77°"


# Reading


def data(**changes: Any) -> dict[str, Any]:
    plain = document.to_data(GANGWAY)
    plain["givens"] = [
        {
            "id": "span",
            "kind": "length",
            "start": {"of": "gangway", "part": "start"},
            "end": {"of": "hoist", "part": "anchor"},
            **changes,
        }
    ]
    return plain


BAD: list[tuple[dict[str, Any], str, str]] = [
    ({"end": {"of": "nobody"}}, "givens[0].end.of", "must be the id of a body, support, load or named point"),
    ({"end": {"of": "hinge", "part": "anchor"}}, "givens[0].end.part", 'must be a part that "hinge" has: got "anchor"'),
    ({"end": {"of": "gangway", "part": "corner-0"}}, "givens[0].end.part", "must be a part that"),
    ({"end": {"of": "gangway", "place_m": [7, 0]}}, "givens[0].end.place_m", "must be on the body: got [7, 0]"),
    ({"end": {"of": "gangway", "part": "end", "place_m": [1, 0]}}, "givens[0].end.part", "cannot stand beside a place"),
    ({"end": {"of": "walker", "place_m": [1, 0]}}, "givens[0].end.place_m", "is only for a body"),
    ({"end": {"of": "gangway", "part": "start"}}, "givens[0].end", "must be another point than the start"),
    ({"number": False}, "givens[0].number", "cannot be off without a letter"),
    ({"measured": "slanting"}, "givens[0].measured", "must be one of"),
    ({"radius": 3}, "givens[0].radius", "is not a field Steelyard knows"),
    ({"id": "hinge"}, "givens[0].id", "must be unique"),
    ({"kind": "length2"}, "givens[0].kind", 'must be one of "length", "angle", "slope", "label"'),
    ({"kind": "angle"}, "givens[0].end", "is not a field Steelyard knows"),
]
BAD_ANGLES: list[tuple[dict[str, Any], str, str]] = [
    ({"line": "hinge"}, "givens[0].line", "must be the id of a body, rope, strut"),
    ({"line": "gangway", "edge": 1}, "givens[0].edge", "must be 0 to 0 here: got 1"),
    ({"line": "hoist", "edge": 1}, "givens[0].edge", "is only for a body with several edges"),
    ({"line": "hoist", "against": "line"}, "givens[0].second_line", "is needed to measure against a line"),
    ({"line": "hoist", "second_line": "gangway"}, "givens[0].second_line", 'needs "against": "line"'),
    ({"line": "hoist", "against": "line", "second_line": "hoist"}, "givens[0].second_line", "must be another line"),
    ({}, "givens[0].line", "`givens[0].line` is missing"),
]


@pytest.mark.parametrize(("changes", "where", "words"), BAD)
def test_a_given_that_measures_nothing_is_refused_by_its_path(changes: dict[str, Any], where: str, words: str) -> None:
    with pytest.raises(SteelyardError) as caught:
        document.from_data(data(**changes))
    assert caught.value.where == where
    assert words in caught.value.message


@pytest.mark.parametrize(("fields", "where", "words"), BAD_ANGLES)
def test_an_angle_without_its_lines_is_refused_by_its_path(fields: dict[str, Any], where: str, words: str) -> None:
    plain = document.to_data(GANGWAY)
    plain["givens"] = [{"id": "turn", "kind": "angle", **fields}]
    with pytest.raises(SteelyardError) as caught:
        document.from_data(plain)
    assert caught.value.where == where
    assert words in caught.value.message


# Typing a number


def with_all(sketch: Sketch) -> Sketch:
    """A length to each thing, angles and slopes of bar and rope."""
    for tool, selected in (("length", None), ("length", "walker"), ("length", "hoist"), ("angle", "gangway"),
                           ("angle", "hoist"), ("slope", "hoist"), ("label", None)):  # fmt: skip
        sketch = run(sketch, "add", tool=tool, selected=selected)
    return sketch


def test_a_number_typed_changes_what_is_measured_and_measures_so_afterwards() -> None:
    sketch = with_all(replace(GANGWAY, givens=()))
    assert put(sketch, "length", "value", "7").bodies[0].length_m == 7.0
    walker = put(sketch, "length2", "value", "3,5").loads[0]
    assert isinstance(walker, Thing) and walker.place_m == (3.5, 0.0)
    assert put(sketch, "length3", "value", "500 cm").supports[1].place_m == (5.0, 0.0)
    assert put(sketch, "angle", "value", "20").bodies[0].angle_deg == -20.0
    for key, value, measured in (("angle", 35.0, "angle"), ("angle2", 61.5, "angle")):
        changed = put(sketch, key, "value", str(value))
        one = next(each for each in changed.givens if each.id == key)
        assert measuring.angle(changed, one).value_deg == pytest.approx(value, abs=1e-9), measured
    turned = put(sketch, "slope", "ratio", "3:4")
    x, y = np.array(turned.supports[1].anchor_m) - place(turned, "gangway", (5.2, 0.0))
    assert y / -x == pytest.approx(0.75)
    # The rope keeps its length and its side.
    before = np.array(sketch.supports[1].anchor_m) - place(sketch, "gangway", (5.2, 0.0))
    assert math.hypot(x, y) == pytest.approx(float(np.linalg.norm(before)))


@settings(max_examples=100, deadline=None)
@given(sketches(), st.data())
def test_whatever_is_typed_either_comes_out_or_is_refused_whole(sketch: Sketch, data: st.DataObject) -> None:
    every = spots(sketch)
    start, end = data.draw(st.sampled_from(every)), data.draw(st.sampled_from(every))
    assume(start[0] != end[0])
    way = data.draw(st.sampled_from(["straight", "across", "upright"]))
    value = data.draw(st.integers(1, 900)) / 100
    held = with_given(sketch, Given("given", "length", start[0], end[0], measured=way))  # type: ignore[arg-type]
    line, edge, _ = data.draw(st.sampled_from(lines(sketch)))
    angled = with_given(sketch, Given("given", "angle", line=line, edge=edge))
    for before, text, measure in ((held, f"{value}", "length"), (angled, f"{value * 10}", "angle")):
        try:
            after = put(before, "given", "value", text)
        except SteelyardError as problem:
            assert problem.message and problem.where
            continue
        one = after.givens[0]
        found = measuring.length(after, one).value_m if measure == "length" else measuring.angle(after, one).value_deg
        feet = measure == "length" and after.settings.units == "us"
        # The international foot is 0.3048 m (1959).
        assert found == pytest.approx(float(text) * (0.3048 if feet else 1.0), abs=1e-7)


def test_what_follows_from_other_things_is_an_answer_that_says_why() -> None:
    one = Given("gap", "length", MeasuredPoint("gangway", place_m=(1.0, 0.0)), MeasuredPoint("gangway", "start"))
    sketch = with_given(GANGWAY, one)
    shown = fields(sketch, None, "gap")
    assert shown is not None
    [value] = [item for group in shown["groups"] for item in group["items"] if item["key"] == "value"]  # type: ignore[attr-defined]
    assert value["kind"] == "answer" and value["text"] == "1\u00a0m"
    assert "follows" in str(value["locked"])
    with pytest.raises(SteelyardError):
        put(sketch, "gap", "value", "2")


def test_letters_stand_for_numbers_and_one_of_both_is_always_shown() -> None:
    sketch = with_all(replace(GANGWAY, givens=()))
    hidden = put(sketch, "length", "number", "false")
    assert (hidden.givens[0].letter, hidden.givens[0].number) == ("L", False)
    second = put(hidden, "length2", "number", "false")
    assert second.givens[1].letter == "a"
    assert put(hidden, "length", "letter", "").givens[0].number
    words = [piece[0] for piece in given_words.pieces(hidden, hidden.givens[0])]
    assert words == ["L"]
    both = put(hidden, "length", "number", "true")
    assert [piece[0] for piece in given_words.pieces(both, both.givens[0])] == ["L", "6\u00a0m"]


# What they measure comes and goes


def test_givens_go_with_what_they_measure() -> None:
    sketch = with_all(replace(GANGWAY, givens=()))
    gone = {
        "walker": {"length2"},
        "hoist": {"length3", "angle2", "slope"},
        "gangway": {one.id for one in sketch.givens},
        "hinge": set(),
    }
    for of, ids in gone.items():
        after = run(sketch, "delete", id=of)
        assert {one.id for one in sketch.givens} - {one.id for one in after.givens} == ids, of
    pinned = put(sketch, "hoist", "kind", "pin")
    assert {one.id for one in sketch.givens} - {one.id for one in pinned.givens} == {"angle2", "slope"}
    shorter = put(
        with_given(
            GANGWAY, Given("far", "length", MeasuredPoint("hinge"), MeasuredPoint("gangway", place_m=(5.5, 0.0)))
        ),
        "gangway",
        "length",
        "5",
    )
    assert shorter.givens[0].end == MeasuredPoint("gangway", place_m=(5.0, 0.0))


def test_a_body_is_copied_with_its_givens_and_a_given_alone_stands_farther_off() -> None:
    sketch = with_all(replace(GANGWAY, givens=()))
    copied = run(sketch, "duplicate", id="gangway")
    assert len(copied.givens) == 2 * len(sketch.givens)
    for old, new in zip(sketch.givens, copied.givens[len(sketch.givens) :], strict=True):
        if old.kind == "length":
            assert measuring.length(copied, new).value_m == pytest.approx(measuring.length(copied, old).value_m)
    again = run(sketch, "duplicate", id="length")
    assert abs(again.givens[-1].offset_m) > abs(sketch.givens[0].offset_m)


@pytest.mark.parametrize("tool", ["length", "angle", "slope", "label"])
def test_givens_are_placed_by_two_points_as_by_none(tool: str) -> None:
    bare = replace(GANGWAY, givens=())
    end = (6.0 * math.cos(math.radians(-12.0)), 6.0 * math.sin(math.radians(-12.0)))
    start = [0.3 * each for each in end] if tool in ("angle", "slope") else [0.0, 0.0]
    placed = run(
        bare, "add", tool=tool, at=start, to=[0.3 * end[0] + 1.0, 0.3 * end[1]] if tool == "angle" else list(end)
    )
    assert placed.givens[0].kind == tool
    alone = run(bare, "add", tool=tool)
    assert alone.givens[0].kind == tool
    with pytest.raises(SteelyardError):
        run(bare, "add", tool=tool, at=[2.0, 40.0])
    with pytest.raises(SteelyardError):
        run(Sketch(), "add", tool=tool)


def test_what_is_held_follows_the_hand_and_a_nudge_is_one_round_step() -> None:
    sketch = with_all(replace(GANGWAY, givens=()))
    for one in sketch.givens:
        before = position(sketch, one)
        hold = GivenHold(sketch, one.id, "offset", before)
        moved = hold.at((before[0] + 0.4, before[1] - 0.9), replace(BOARD, step_m=0.0))
        assert moved != sketch and hold.readout and hold.change().label == f"Move {one.kind}"
        keyed = GivenHold(sketch, one.id, "offset", before)
        after = next(each for each in keyed.nudge(0.0, -1.0, BOARD).givens if each.id == one.id)
        if one.kind == "label":
            assert after.shift_m == (0.0, -0.1)
        else:
            assert abs(after.offset_m - one.offset_m) == pytest.approx(0.1)


# The picture


@pytest.mark.parametrize("slug", [each.slug for each in shelf.listing() if shelf.load(each.slug).givens])
def test_the_figure_says_every_given_aloud_and_can_be_held_by_it(slug: str) -> None:
    sketch = shelf.load(slug)
    drawn = picture(sketch, view="set-up")
    held = {target.of for target in drawn.targets if target.grip == "offset"}
    assert held == {one.id for one in sketch.givens}
    for one in sketch.givens:
        [named] = [record for record in drawn.records if record.of == one.id and record.name]
        if one.kind in ("length", "angle") and one.number:
            assert given_words.value_words(sketch, one) in named.name
        assert named.layer != "overlay"
    extended = picture(sketch, view="extended")
    assert not [record for record in extended.records if record.of in held]
    shown = replace(sketch, givens=tuple(replace(one, in_extended=True) for one in sketch.givens))
    assert {record.of for record in picture(shown, view="extended").records} >= held


def test_the_drawn_dimension_line_is_as_long_as_it_says_at_the_scale_of_the_sheet() -> None:
    drawn = picture(GANGWAY, view="set-up")
    scale = sheet(GANGWAY, "1366x768").px_per_m
    for of, metres in (("walk", 4.0), ("span", 6.0)):
        path = dict(next(record for record in drawn.records if record.id == of).attrs)["d"]
        ends = [tuple(float(part) for part in each.split()) for each in path.removeprefix("M").split("L")]
        assert math.dist(*ends) == pytest.approx(metres * scale, abs=0.05)


@settings(max_examples=40, deadline=None)
@given(sketches(), st.data())
def test_any_given_can_be_drawn_and_said_in_any_units(sketch: Sketch, data: st.DataObject) -> None:
    every, every_line = spots(sketch), lines(sketch)
    start, end = (data.draw(st.sampled_from(every))[0] for _ in "ab")
    line, edge, _ = data.draw(st.sampled_from(every_line))
    ones = [Given("angle", "angle", line=line, edge=edge), Given("slope", "slope", line=line, edge=edge)]
    ones.append(Given("label", "label", start, text="quay", shift_m=data.draw(st.sampled_from([None, (0.3, 0.4)]))))
    if start != end:
        ones.append(Given("length", "length", start, end, letter="L", offset_m=0.3))
    chosen = Settings(units=data.draw(st.sampled_from(["si", "us"])), decimal_comma=data.draw(st.booleans()))
    held = replace(sketch, givens=tuple(replace(one, in_extended=True) for one in ones), settings=chosen)
    document.check(held)
    for view in ("set-up", "extended"):
        drawn = picture(held, "390x844", view)  # type: ignore[arg-type]
        assert {one.id for one in held.givens} <= {record.of for record in drawn.records}
        texts = "".join(run_.text for record in drawn.records for run_ in record.runs)
        assert "nan" not in texts and json.dumps([record.as_data() for record in drawn.records])


def test_a_given_placed_beside_the_forces_is_seen_beside_them() -> None:
    for view in ("set-up", "extended"):
        door = Door()

        def ask(do: str, door: Door = door, **arguments: Any) -> dict[str, Any]:
            reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
            assert reply["ok"], reply
            return reply

        ask("show", width_px=863, height_px=522, strips_px=863, view=view)
        ask("open", document=document.write(GANGWAY))
        ask("show", selected="hoist")
        made = ask("command", name="add", args={"tool": "angle"})
        assert made["created"] in {record.get("of") for record in made["picture"]["records"]}
        assert json.loads(made["document"])["givens"][-1].get("in_extended", False) == (view == "extended")


CHANGES = [
    "delete",
    "duplicate",
    "length",
    "angle",
    "kind",
    "role",
    "corner1_x",
    "at",
    "towards_x",
    "x",
    "value",
    "ratio",
]
TEXTS = ["1", "0.3", "-2", "45", "rope", "roller", "pin", "size and direction", "known", "3:4", "0"]


@settings(max_examples=60, deadline=None)
@given(sketches(), st.data())
def test_whatever_is_done_to_a_sketch_its_givens_stay_sound(sketch: Sketch, data: st.DataObject) -> None:
    every, every_line = spots(sketch), lines(sketch)
    ones = [
        Given("given1", "length", data.draw(st.sampled_from(every))[0], MeasuredPoint("bar1", "centre"), offset_m=0.4),
        Given("given2", "label", data.draw(st.sampled_from(every))[0], text="K"),
        *(
            Given(f"given{index}", kind, line=line, edge=edge, offset_m=0.5)  # type: ignore[arg-type]
            for index, kind in ((3, "angle"), (4, "slope"))
            for line, edge, _ in [data.draw(st.sampled_from(every_line))]
        ),
    ]
    held = replace(sketch, givens=tuple(ones))
    document.check(held)
    for _ in range(4):
        ids = [each.id for each in (*held.bodies, *held.supports, *held.loads, *held.points, *held.givens)]
        if not ids:
            break
        of, change = data.draw(st.sampled_from(ids)), data.draw(st.sampled_from(CHANGES))
        try:
            if change in ("delete", "duplicate"):
                held = run(held, change, id=of)
            else:
                held = put(held, of, change, data.draw(st.sampled_from(TEXTS)))
        except SteelyardError:
            continue
        assert document.read(document.write(held)) == held
        for one in held.givens:
            assert given_words.spoken(held, one)
            assert all(math.isfinite(part) for part in position(held, one))
