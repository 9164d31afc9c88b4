"""Pivots: points worth trying, what drops out, a second one, and one torque in three forms; against numpy."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from picture_cases import SHEETS, Shape, arrow_shapes, overlap, points_of, scenarios, seen, sheet, states, text_shape
from sketch_bank import BANK
from steelyard import document, statics
from steelyard.bridge import Door
from steelyard.edit.commands import apply
from steelyard.errors import SteelyardError
from steelyard.geometry import direction
from steelyard.model import Guess, Pivot, Sketch
from steelyard.panels.pivots import pivots
from steelyard.panels.table import table
from steelyard.picture import board, svg
from steelyard.picture.board import Tries
from steelyard.picture.record import Picture
from steelyard.statics.levers import lever
from steelyard.statics.pivot import name_of, pivot_point, second_name, second_point
from steelyard.statics.tries import MOST_TRIES, worth_trying
from working_cases import SKETCHES, Matrix

GANGWAY = states()["shown"]


def drawn(sketch: Sketch, size: str = "1366x768", selected: str | None = "pivot", listed: bool = False) -> Picture:
    """The picture as the session has it drawn with its points worth trying."""
    analysis = seen(sketch)
    assert analysis is not None
    tries = Tries(worth_trying(sketch, analysis), listed)
    return board.draw(sketch, analysis, sheet(sketch, size), "extended", selected=selected, tries=tries)


def words(picture: Picture, record_id: str) -> str:
    """The text of one record; "" when there is none."""
    return "".join(run.text for record in picture.records if record.id == record_id for run in record.runs)


def pieces(sentence: Any) -> str:
    return "".join(run["text"] for run in sentence)


# Points worth trying


def candidate_points(analysis: statics.reading.Analysis, matrix: Matrix) -> list[np.ndarray]:
    """Where unknown forces act, and every crossing of two of their lines."""
    lines = []
    for key in matrix.keys:
        force = analysis.reading(key.partition(".")[0]).force
        # Where on its face a normal acts is not known: it has no line yet.
        if force.along is not None and force.id not in matrix.spread:
            lines.append((np.array(force.point), matrix.wrenches[key][:2]))
    found = [point for point, _ in lines]
    for (p, u), (q, v) in combinations(lines, 2):
        across = u[0] * v[1] - u[1] * v[0]
        if abs(across) > 1e-6:
            gap = q - p
            found.append(p + u * (gap[0] * v[1] - gap[1] * v[0]) / across)
    return found


@pytest.mark.parametrize("name", SKETCHES)
def test_the_best_point_leaves_as_few_unknowns_as_any_support_or_crossing(name: str) -> None:
    sketch = SKETCHES[name]
    analysis = statics.analyse(sketch)
    matrix = Matrix(analysis)
    tries = worth_trying(sketch, analysis)
    assert len(tries) <= MOST_TRIES
    counts = [len(each.left) for each in tries]
    assert counts == sorted(counts)
    for each in tries:
        span = 1.0 if each.point is None else matrix.lever + float(np.linalg.norm(each.point))
        gone = {key for key in matrix.keys if abs(matrix.share(key, each.point, each.along)) <= 1e-7 * span}
        # Where a normal acts on its face is open about every point, and no matter for a sum along an axis.
        gone -= matrix.spread if each.point is not None else set()
        places = {f"{key}.place" for key in matrix.spread} if each.point is None else set()
        assert set(each.drops) == gone - places and set(each.left) == set(matrix.keys) - gone
        assert gone
    fewest = []
    for point in candidate_points(analysis, matrix):
        span = matrix.lever + float(np.linalg.norm(point))
        left = sum(abs(matrix.share(key, point)) > 1e-7 * span or key in matrix.spread for key in matrix.keys)
        if 0 < left < len(matrix.keys) and float(np.linalg.norm(point)) < 10.0 * matrix.lever:
            fewest.append(left)
    if fewest:
        assert counts and counts[0] <= min(fewest)


@pytest.mark.parametrize("name", scenarios())
@pytest.mark.parametrize("size", SHEETS)
def test_each_mark_stands_on_its_point_and_says_what_numpy_finds_there(name: str, size: str) -> None:
    sketch = scenarios()[name]
    picture = drawn(sketch, size)
    analysis = seen(sketch)
    assert analysis is not None
    frame, matrix = sheet(sketch, size), Matrix(analysis)
    pressed = [target for target in picture.targets if target.command]
    for target in pressed:
        assert target.at_m is not None and target.of == "pivot" and target.selected_only
        xs, ys = zip(*target.points_px, strict=True)
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        assert middle == pytest.approx(frame.to_sheet(target.at_m), abs=0.01)
        left = [key for key in matrix.keys if abs(matrix.share(key, target.at_m)) > 1e-7 * matrix.lever]
        count = ("no unknown", "one unknown", "two unknowns", "three unknowns", "four unknowns")[len(left)]
        assert f"{count} left" in target.name
        moved = apply(sketch, "pivot", {"at": list(target.at_m)}).sketch
        assert pivot_point(moved) == pytest.approx(target.at_m, abs=1e-9)
    # With a mouse's catch of 8 px and a finger's of 14 the targets are 26 and 38 px across; none shares another's.
    rings = [record for record in picture.records if record.role == "try" and record.shown == "always"]
    assert len(rings) == len(pressed)
    places = [dict(ring.attrs) for ring in rings]
    for one, other in combinations(places, 2):
        gap = math.dist((float(one["cx"]), float(one["cy"])), (float(other["cx"]), float(other["cy"])))
        assert gap >= 24.0


def test_marks_are_quiet_until_the_pivot_is_thought_about() -> None:
    resting = drawn(GANGWAY, selected=None)
    assert not [target for target in resting.targets if target.command]
    assert {record.of for record in resting.records if record.role == "try" and record.shown == "lit"} == {"pivot"}
    assert not [record for record in resting.records if record.role == "try" and record.shown == "always"]
    listed = drawn(GANGWAY, selected=None, listed=True)
    assert "try-1" in {record.of for record in listed.records}
    assert not [record for record in svg.painted(drawn(GANGWAY)) if record.role.startswith("try")]


def test_marks_give_nothing_away() -> None:
    kept = replace(GANGWAY, answers="kept")
    told = [(each.point, each.drops, each.left) for each in worth_trying(kept, statics.analyse(kept))]
    assert told == [(each.point, each.drops, each.left) for each in worth_trying(GANGWAY, statics.analyse(GANGWAY))]


def test_parallel_lines_are_listed_with_the_axis_across_them() -> None:
    """Two ropes at one slant and a level strut: square to the ropes only the strut is left, about any point two."""
    sketch = BANK["two parallel ropes and a strut"]
    said = [pieces(each["sentence"]) for each in pivots(sketch, statics.analyse(sketch))["tries"]]
    assert any(each.startswith("Along the axis square to") and each.endswith(" left.") for each in said)
    across = next(each for each in worth_trying(sketch, statics.analyse(sketch)) if each.source == "across")
    rope = np.subtract(sketch.supports[0].anchor_m, sketch.supports[0].place_m)
    assert abs(np.dot(across.along, rope)) < 1e-9
    command = next(
        each["command"]
        for each in pivots(sketch, statics.analyse(sketch))["tries"]
        if pieces(each["sentence"]).startswith("Along the axis square to")
    )
    turned = apply(sketch, command["name"], command["args"]).sketch
    assert statics.analyse(turned).x_axis == pytest.approx(across.along, abs=1e-12)


# What drops out


@pytest.mark.parametrize("name", scenarios())
def test_the_pivot_in_hand_names_what_drops_out(name: str) -> None:
    sketch = replace(scenarios()[name], answers="kept")
    matrix = Matrix(statics.analyse(sketch))
    for each in worth_trying(sketch, statics.analyse(sketch)):
        if each.point is None:
            continue
        there = replace(sketch, pivot=Pivot(each.point))
        picture = drawn(there)
        keys = [*matrix.keys, *matrix.known_keys]
        span = matrix.lever + float(np.linalg.norm(each.point))
        gone = {key for key in keys if abs(matrix.share(key, each.point)) <= 1e-8 * span} - matrix.spread
        gone -= {key for key in gone if not np.any(matrix.wrenches[key][:2])}  # a couple never drops out
        forces = {reading.force.id: reading.force.symbol for reading in statics.analyse(there).readings}
        wanted = set()
        for key in gone:
            force, _, axis = key.partition(".")
            whole = not axis or {f"{force}.x", f"{force}.y"} <= gone
            wanted.add(forces[force].replace("_", "") + ("" if whole else axis))
        said = words(picture, "pivot.label.more1")
        assert said.endswith(("drops out", "drop out")) == bool(wanted)
        assert set(filter(None, re.split(r", | and |\s+drops? out", said))) == wanted


def test_a_lit_force_through_the_pivot_says_so_where_its_arm_would_be() -> None:
    picture = drawn(GANGWAY, selected=None)
    assert words(picture, "hinge.drops-pivot") == "R drops out"
    assert not [record for record in picture.records if record.id == "hinge.arm"]


@pytest.mark.parametrize("name", scenarios())
@pytest.mark.parametrize("size", SHEETS)
def test_no_label_lies_on_a_mark_or_on_a_label_while_the_pivot_is_selected(name: str, size: str) -> None:
    for answers in ("kept", "shown"):
        picture = drawn(replace(scenarios()[name], answers=answers), size)
        texts = [
            text_shape(record)
            for record in picture.records
            if record.tag == "text" and record.shown == "always" and record.layer in ("label", "construct", "edge")
        ]
        rings = []
        for record in picture.records:
            if record.role == "try" and record.shown == "always":
                at = dict(record.attrs)
                rings.append(Shape(record.id, record.of, ((float(at["cx"]), float(at["cy"])),), float(at["r"])))
        assert [(a.id, b.id) for a, b in combinations(texts, 2) if overlap(a, b)] == []
        assert [(a.id, b.id) for a in texts for b in [*arrow_shapes(picture), *rings] if overlap(a, b)] == []


# A second pivot


def test_a_second_pivot_is_pinned_moved_tied_written_and_taken_away() -> None:
    pinned = apply(GANGWAY, "second-pivot", {})
    assert pinned.created == "second-pivot" and pinned.sketch.second_pivot is not None
    hoist = statics.analyse(GANGWAY).reading("hoist").force.point
    tied = apply(pinned.sketch, "second-pivot", {"at": list(hoist)}).sketch
    assert tied.second_pivot is not None and tied.second_pivot.tied_to == "hoist"
    assert document.read(document.write(tied)) == tied
    moved = apply(tied, "set", {"id": "hoist", "key": "at", "text": "4"}).sketch
    assert second_point(moved) == pytest.approx(statics.analyse(moved).reading("hoist").force.point)
    assert apply(moved, "set", {"id": "second-pivot", "key": "x", "text": "1.5"}).sketch.second_pivot.tied_to is None
    assert apply(moved, "delete", {"id": "hoist"}).sketch.second_pivot.tied_to is None
    assert apply(moved, "delete", {"id": "second-pivot"}).sketch.second_pivot is None
    assert apply(moved, "second-pivot", {"on": False}).sketch.second_pivot is None
    with pytest.raises(SteelyardError, match="no second pivot"):
        apply(GANGWAY, "set", {"id": "second-pivot", "key": "x", "text": "1"})


def test_the_two_pivots_never_share_a_letter() -> None:
    for place in ((0.0, 0.0), (2.0, 3.0)):
        sketch = replace(GANGWAY, pivot=Pivot(place), second_pivot=Pivot((3.0, 3.0)))
        assert name_of(sketch) and second_name(sketch) and name_of(sketch) != second_name(sketch)


def test_a_second_pivot_is_dragged_as_one_undo_entry() -> None:
    door = Door()

    def ask(do: str, **more: Any) -> dict[str, Any]:
        reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **more})))
        assert reply["ok"], reply
        return reply

    before = replace(GANGWAY, second_pivot=Pivot((2.0, 2.0)))
    ask("open", document=document.write(before))
    state = ask("show", selected="second-pivot")
    rim = next(each for each in state["picture"]["targets"] if each["of"] == "second-pivot")
    x, y = rim["points_px"][0]
    ask("begin", of="second-pivot", grip="pivot", point_px=[x, y])
    preview = ask("preview", point_px=[x + 40, y], snap=False, catch_px=8)
    assert "second-pivot" in {record["id"] for record in preview["picture"]["records"]}
    after = document.read(ask("commit")["document"])
    moved = second_point(after)
    assert moved is not None and moved[0] > 2.1 and moved[1] == pytest.approx(2.0, abs=1e-6)
    assert after.pivot == before.pivot
    assert document.read(ask("undo")["document"]) == before


def torque_about(analysis: statics.reading.Analysis, point: tuple[float, float]) -> float:
    """Στ of the forces as they stand, by numpy: guesses first, else answers."""
    total = 0.0
    for reading in analysis.readings:
        force = reading.force
        vector = force.guess or reading.vector
        if vector is not None:
            total += float(np.cross([*np.subtract(force.point, point), 0.0], [*vector, 0.0])[2])
        else:
            total += force.guess_couple_n_m or reading.couple_n_m or 0.0
    return total


def shown_sum(step: dict[str, Any]) -> float:
    """The value a sum comes to, read from its last line as it is spoken, in N m."""
    text = step["lines"][-1]["text"].replace("minus ", "-").replace("−", "-").replace("\u2009", "")
    number = re.findall(r"-?\d+(?:\.\d+)?", text)[-1]
    return float(number) * (1000.0 if "kilonewton" in text or "kN" in text else 1.0)


@pytest.mark.parametrize("form", ["arm", "square", "components"])
def test_the_sum_is_the_same_about_both_points_only_with_balance(form: Any) -> None:
    place, second = (0.7, 1.3), (4.0, -2.0)
    written = replace(GANGWAY.settings, torque_form=form)
    balanced = replace(GANGWAY, pivot=Pivot(place), second_pivot=Pivot(second), settings=written)
    both = pivots(balanced, statics.analyse(balanced))["compare"]
    assert both["change"] is None and shown_sum(both["first"]) == shown_sum(both["second"]) == 0.0
    assert both["first"]["lines"][0]["rows"] != both["second"]["lines"][0]["rows"]
    hinge = replace(GANGWAY.supports[0], guess=Guess(1000.0, 35.0))
    guessed = replace(balanced, supports=(hinge, GANGWAY.supports[1]))
    analysis = statics.analyse(guessed)
    left = pivots(guessed, analysis)["compare"]
    for step, point in (("first", place), ("second", second), ("change", second)):
        assert shown_sum(left[step]) == pytest.approx(torque_about(analysis, point), rel=5e-3)
    assert abs(torque_about(analysis, place) - torque_about(analysis, second)) > 100.0


def test_what_keeps_the_two_sums_back_is_said() -> None:
    second = Pivot((4.0, 1.0))
    kept = replace(GANGWAY, answers="kept", second_pivot=second)
    analysis = seen(kept)
    assert analysis is not None
    told = pivots(kept, analysis)
    assert told["compare"] is None
    assert pieces(told["missing"]) == "Both sums can be worked out once R and T have a guess, or the answers are shown."
    letters = replace(BANK["letters, pin and rope"], second_pivot=second)
    assert "only: with a size" in pieces(pivots(letters, statics.analyse(letters))["missing"])
    loose = replace(BANK["pin and two rollers"], second_pivot=second)
    assert "no single value" in pieces(pivots(loose, statics.analyse(loose))["missing"])


# One torque in three forms

coordinates = st.floats(-20.0, 20.0)


@settings(max_examples=200, deadline=None)
@given(*[coordinates] * 4, st.floats(-5000.0, 5000.0), st.floats(-5000.0, 5000.0), st.floats(0.0, 360.0))
def test_the_three_forms_of_a_torque_are_one_number(
    px: float, py: float, x: float, y: float, fx: float, fy: float, turn: float
) -> None:
    forms = lever((px, py), (x, y), (fx, fy), direction(turn))
    r, force = np.array([x - px, y - py]), np.array([fx, fy])
    torque = float(r[0] * force[1] - r[1] * force[0])
    scale = 1e-9 * (1.0 + float(np.linalg.norm(r) * np.linalg.norm(force)))
    assert abs(forms.from_y_n_m + forms.from_x_n_m - torque) <= scale
    assert abs(forms.distance_m * forms.across_n - torque) <= scale
    turned = np.array([[math.cos(math.radians(turn)), math.sin(math.radians(turn))],
                       [-math.sin(math.radians(turn)), math.cos(math.radians(turn))]])  # fmt: skip
    assert np.allclose(turned @ r, (forms.x_m, forms.y_m), atol=1e-9 * (1 + np.linalg.norm(r)))
    assert np.allclose(turned @ force, (forms.x_n, forms.y_n), atol=1e-9 * (1 + np.linalg.norm(force)))
    assert math.isclose(forms.x_m * forms.y_n, forms.from_y_n_m, abs_tol=scale)


@pytest.mark.parametrize("name", scenarios())
def test_the_figure_shows_the_tables_torque_in_every_form(name: str) -> None:
    sketch = replace(scenarios()[name], answers="shown")
    analysis = statics.analyse(sketch)
    cells = {
        row["id"]: {cell["key"]: "".join(run["text"] for run in cell["runs"]) for cell in row["cells"]}
        for row in table(analysis, sketch.settings, name_of(sketch))["rows"]
    }
    for form in ("square", "components"):
        picture = drawn(replace(sketch, settings=replace(sketch.settings, torque_form=form)), selected=None)
        for reading in analysis.readings:
            force = reading.force
            turning = reading.turning
            if turning.drops_out or turning.foot is None or reading.vector is None or not reading.size_n:
                continue
            shown = [
                record
                for record in picture.records
                if record.of == force.id and record.id.startswith(f"{force.id}.torque-label") and record.tag == "text"
            ]
            if not shown:  # off the sheet, or drawn as a letter
                continue
            assert shown[-1].runs[-1].text == cells[force.id]["torque"]


def path_of(picture: Picture, record_id: str) -> list[tuple[float, float]]:
    return points_of(next(dict(record.attrs)["d"] for record in picture.records if record.id == record_id))


def test_the_part_across_stands_square_on_r_at_the_point_of_application() -> None:
    sketch = replace(GANGWAY, settings=replace(GANGWAY.settings, torque_form="square"), pivot=Pivot((1.0, 1.5)))
    picture, frame = drawn(sketch, selected=None), sheet(sketch, "1366x768")
    analysis = statics.analyse(sketch)
    for force_id in ("hoist", "walker", "hinge"):
        reading = analysis.reading(force_id)
        at, corner, head = np.array(path_of(picture, f"{force_id}.parts"))
        r = at - np.array(frame.to_sheet((1.0, 1.5)))
        assert abs(np.dot(r, corner - at)) <= 0.02 * np.linalg.norm(r) * np.linalg.norm(corner - at)
        assert at == pytest.approx(frame.to_sheet(reading.force.point), abs=0.02)
        share = np.linalg.norm(corner - at) / np.linalg.norm(head - at)
        arm = reading.turning.arm_m / np.linalg.norm(np.subtract(reading.force.point, (1.0, 1.5)))
        assert share == pytest.approx(arm, abs=0.02)


def test_the_offsets_run_along_the_axes_to_the_point_of_application() -> None:
    for turn in (0.0, 30.0):
        settings_ = replace(GANGWAY.settings, torque_form="components", axes_deg=turn)
        sketch = replace(GANGWAY, settings=settings_, pivot=Pivot((1.0, 1.5)))
        picture, frame = drawn(sketch, selected=None), sheet(sketch, "1366x768")
        point = np.array(statics.analyse(sketch).reading("hoist").force.point)
        right, up = np.array(direction(turn)), np.array(direction(turn + 90.0))
        corner = np.array((1.0, 1.5)) + right * np.dot(right, point - (1.0, 1.5))
        start, bend = path_of(picture, "hoist.offset-x")[:2]
        again, end = path_of(picture, "hoist.offset-y")[:2]
        assert start == pytest.approx(frame.to_sheet((1.0, 1.5)), abs=0.02)
        assert bend == pytest.approx(frame.to_sheet(tuple(corner)), abs=0.02) == again
        assert end == pytest.approx(frame.to_sheet(tuple(point)), abs=0.02)
        assert abs(np.dot(point - corner, right)) < 1e-9 and abs(np.dot(up, point - corner)) > 0.1


@pytest.mark.parametrize("form", ["arm", "square", "components"])
def test_both_pivots_show_their_lever_of_the_lit_force(form: Any) -> None:
    sketch = replace(GANGWAY, settings=replace(GANGWAY.settings, torque_form=form), second_pivot=Pivot((2.0, 2.5)))
    records = {record.id: record for record in drawn(sketch, selected=None).records}
    key = "arm" if form != "components" else "offset-x"
    for record_id in (f"hoist.{key}", f"hoist.{key}-second"):
        assert records[record_id].shown == "lit" and records[record_id].of == "hoist"
    if form == "arm":
        start, foot = path_of(drawn(sketch, selected=None), "hoist.arm-second")[:2]
        about = statics.analyse(sketch, pivot=(2.0, 2.5)).reading("hoist").turning
        frame = sheet(sketch, "1366x768")
        assert start == pytest.approx(frame.to_sheet((2.0, 2.5)), abs=0.02)
        assert foot == pytest.approx(frame.to_sheet(about.foot), abs=0.02)
        assert words(drawn(sketch, selected=None), "hoist.arm-label-second").startswith("dT")


@pytest.mark.parametrize("form", ["square", "components"])
@pytest.mark.parametrize("name", scenarios())
def test_what_a_lit_force_says_overlaps_nothing(name: str, form: Any) -> None:
    sketch = replace(scenarios()[name], answers="shown")
    picture = drawn(replace(sketch, settings=replace(sketch.settings, torque_form=form)), selected=None)
    fixed = [
        text_shape(record)
        for record in picture.records
        if record.tag == "text" and record.shown == "always" and record.layer in ("label", "edge")
    ]
    lit: dict[str, list[Shape]] = {}
    for record in picture.records:
        if record.tag == "text" and record.shown == "lit":
            lit.setdefault(record.of, []).append(text_shape(record))
    clashes = [
        (one.id, other.id)
        for shapes in lit.values()
        for one, other in [*combinations(shapes, 2), *((a, b) for a in shapes for b in fixed)]
        if overlap(one, other)
    ]
    assert clashes == []
