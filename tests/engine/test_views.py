"""Forces drawn alone: from one dot, and head to tail.

Sums and tips are found again with numpy from the readings; what is drawn is read back from the display list.
"""

from __future__ import annotations

import json
import math
import random
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from picture_cases import SHEETS, arrow_shapes, picture, points_of, scenarios, seen, sheet, states, text_shape
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.edit import commands
from steelyard.edit.history import History
from steelyard.errors import SteelyardError
from steelyard.geometry import Point
from steelyard.model import Force, Sketch
from steelyard.picture import force_views, lanes, plane
from steelyard.picture.record import Picture
from steelyard.statics import analyse, chain
from steelyard.statics.reading import Analysis
from strategies import sketches
from test_kept_back import assert_same_replies_to_other_answers
from test_picture_overlaps import overlaps

VIEWS = force_views.FORCE_VIEWS
SLUGS = [each.slug for each in shelf.listing()]


def shown(slug: str) -> Sketch:
    return replace(shelf.load(slug), answers="shown")


def vectors(sketch: Sketch, analysis: Analysis) -> dict[str, np.ndarray]:
    """What each force puts into the sum: its guess, else its value; none where statics gives none."""
    found = {}
    for reading in analysis.readings:
        force = reading.force
        if force.along is None:
            continue
        value = force.guess
        if value is None and (force.role == "known" or (reading.fixed and not reading.cannot)):
            value = None if force.role == "unknown" and analysis.supports.kind == "impossible" else reading.vector
        if value is not None:
            found[force.id] = np.array(value)
    return found


def arrow_px(drawn: Picture, record_id: str) -> tuple[np.ndarray, np.ndarray]:
    """Tail and head of a drawn arrow, from its outline."""
    record = next(each for each in drawn.records if each.id == record_id)
    corners = np.array(points_of(dict(record.attrs)["d"]))
    return (corners[0] + corners[-1]) / 2.0, corners[3]


# The chain


@pytest.mark.parametrize("slug", SLUGS)
def test_tips_are_the_cumulative_sums_in_any_order_and_the_chain_closes_when_the_sum_is_nothing(slug: str) -> None:
    sketch = shown(slug)
    analysis = analyse(sketch)
    values = vectors(sketch, analysis)
    ids = [reading.force.id for reading in analysis.readings if reading.force.along is not None]
    chance = random.Random(slug)
    for _ in range(4):
        chance.shuffle(ids)
        ordered = commands.apply(sketch, "order", {"ids": list(ids)}).sketch
        links = chain.chain(ordered, analysis)
        assert [link.id for link in links] == ids
        steps = np.array([values.get(each, np.zeros(2)) for each in ids])
        tips = np.cumsum(steps, axis=0)
        assert np.allclose([link.head for link in links], tips, rtol=0.0, atol=1e-9 * analysis.force_scale_n)
        closes = np.linalg.norm(tips[-1]) <= 1e-9 * analysis.force_scale_n
        assert (chain.gap(links, analysis) == (0.0, 0.0)) == closes
        assert closes == (analysis.supports.kind == "determinate")
        drawn = force_views.draw(ordered, analysis, sheet(ordered, "1366x768"), "polygon")
        assert any(record.id == "chain.gap" for record in drawn.records) == (not closes)


@settings(max_examples=60, deadline=None)
@given(sketches())
def test_the_chain_closes_exactly_when_the_forces_add_up_to_nothing(sketch: Sketch) -> None:
    if not sketch.bodies:
        return
    analysis = analyse(sketch)
    links = chain.chain(sketch, analysis)
    total = sum(vectors(sketch, analysis).values(), np.zeros(2))
    largest = max([analysis.force_scale_n, *(math.hypot(*link.vector) for link in links if link.vector)])
    missing = chain.gap(links, analysis)
    if missing == (0.0, 0.0):
        assert np.linalg.norm(total) <= 1.001e-9 * largest
    else:
        assert np.allclose(missing, -total, rtol=1e-9, atol=1e-9 * largest)
        assert np.linalg.norm(total) >= 0.999e-9 * largest
    assert chain.is_whole(links) == (set(vectors(sketch, analysis)) == {link.id for link in links})
    for view in VIEWS:
        drawn = force_views.draw(sketch, analysis, sheet(sketch, "1366x768"), view)
        ids = [record.id for record in drawn.records]
        assert len(ids) == len(set(ids))
        assert "nan" not in "".join(value for record in drawn.records for _, value in record.attrs)


def test_a_chain_of_huge_or_tiny_forces_closes_too() -> None:
    for size in (1e-6, 1e9):
        sketch = shown("hatch")
        body = replace(sketch.bodies[0], mass_kg=None, weight_n=size)
        sketch = replace(sketch, bodies=(body,))
        analysis = analyse(sketch)
        assert chain.gap(chain.chain(sketch, analysis), analysis) == (0.0, 0.0)
        window = force_views.window(sketch, analysis, sheet(sketch, "1366x768"), "polygon")
        assert 0.05 < size / window.n_per_px / 522.0 < 1.0


# What is drawn


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("slug", SLUGS)
def test_every_arrow_is_as_long_as_its_force_and_its_parts_are_too(slug: str, view: str) -> None:
    sketch = shown(slug)
    analysis = analyse(sketch)
    frame = sheet(sketch, "1366x768")
    window = force_views.window(sketch, analysis, frame, view)
    drawn = force_views.draw(sketch, analysis, frame, view, window)
    for force_id, value in vectors(sketch, analysis).items():
        wanted = np.array((value[0], -value[1])) / window.n_per_px
        if np.linalg.norm(wanted) < 14.0 and view == "point":
            continue  # kept at a length that can be seen, with a break mark
        tail, head = arrow_px(drawn, force_id)
        assert np.allclose(head - tail, wanted, atol=0.03)
        for axis, letter in enumerate("xy"):
            if view == "polygon" and abs(wanted[axis]) >= 1.0:
                start, end = arrow_px(drawn, f"{force_id}.part-{letter}")
                assert np.allclose((end - start)[axis], wanted[axis], atol=0.03)
                assert abs((end - start)[1 - axis]) <= 0.03


def test_from_one_dot_every_arrow_starts_at_it_in_the_middle_of_the_board() -> None:
    for slug in SLUGS:
        drawn = picture(shown(slug), "1366x768", "point")
        dot = dict(next(each for each in drawn.records if each.id == "point.dot").attrs)
        middle = (float(dot["cx"]), float(dot["cy"]))
        frame = plane.newton_sheet(sheet(shown(slug), "1366x768"), 1.0, (0.0, 0.0))
        assert middle == pytest.approx(frame.middle_px, abs=0.01)
        assert drawn.tails
        assert all(math.dist(tail, middle) <= 1.5 * float(dot["r"]) for tail in drawn.tails.values())


def test_no_two_arrows_lie_on_one_another() -> None:
    for slug in SLUGS:
        for view in VIEWS:
            drawn = picture(shown(slug), "1366x768", view)
            ids = [key for key in drawn.tails if any(each.id == key and each.tag == "path" for each in drawn.records)]
            shafts = [arrow_px(drawn, key) for key in ids]
            stretches = [(tuple(map(float, tail)), tuple(map(float, head))) for tail, head in shafts]
            assert lanes.of_stretches(stretches) == [0] * len(stretches), (slug, view)


def test_arrows_side_by_side_get_lanes_and_those_that_only_touch_do_not() -> None:
    down, on, back = ((0.0, 0.0), (0.0, 50.0)), ((0.0, 50.0), (0.0, 90.0)), ((0.0, 90.0), (0.0, 10.0))
    assert lanes.of_stretches([down, on, back]) == [0, 0, 1]
    assert lanes.of_stretches([down, ((0.0, 50.0), (40.0, 50.0))]) == [0, 0]
    assert lanes.of_spans([(0.0, 40.0), (40.0, 10.0), (10.0, 0.0)]) == [0, 1, 1]
    assert lanes.fan([(0.0, 1.0), (1.0, 0.0), (0.0, 5.0), (0.0, -1.0)]) == [-1, 0, 1, 0]


def test_labels_overlap_nothing_and_nothing_is_cut_off() -> None:
    cases = dict(states())
    for slug, sketch in scenarios().items():
        cases |= {f"{slug} {answers}": replace(sketch, answers=answers) for answers in ("kept", "shown")}
    for name, sketch in cases.items():
        for size in SHEETS:
            for view in VIEWS:
                drawn = picture(sketch, size, view)
                assert overlaps(drawn) == [], (name, size, view)
                texts = [text_shape(record) for record in drawn.records if record.tag == "text"]
                for shape in [*texts, *arrow_shapes(drawn)]:
                    reach = shape.radius - 0.5
                    inside = all(
                        reach <= x <= drawn.width - reach and reach <= y <= drawn.height - reach
                        for x, y in shape.corners
                    )
                    assert inside, (name, size, view, shape.id)


def words_of(drawn: Picture) -> str:
    return " ".join("".join(run.text for run in record.runs) for record in drawn.records if record.tag == "text")


def test_three_lines_meet_where_numpy_says_and_the_words_say_which_way_only_once_it_is_known() -> None:
    sketch = shown("gangway")
    analysis = analyse(sketch)
    hoist = analysis.reading("hoist").force
    known = [reading for reading in analysis.readings if reading.force.role == "known"]
    sizes = np.array([reading.size_n for reading in known])
    x = float(sizes @ np.array([reading.force.point[0] for reading in known]) / sizes.sum())
    y = hoist.point[1] + (x - hoist.point[0]) * hoist.along[1] / hoist.along[0]
    frame = sheet(sketch, "1366x768")
    window = force_views.window(sketch, analysis, frame, "polygon")
    drawn = force_views.draw(sketch, analysis, frame, "polygon", window)
    ring = dict(next(each for each in drawn.records if each.id == "meeting").attrs)
    assert window.inset.to_world((float(ring["cx"]), float(ring["cy"]))) == pytest.approx((x, y), abs=0.02)
    hinge = analysis.reading("hinge").force.point
    angle = math.degrees(math.atan2(y - hinge[1], x - hinge[0]))
    assert f"{angle:.2f}°" in words_of(drawn)
    kept = replace(sketch, answers="kept")
    said = words_of(picture(kept, "1366x768", "polygon"))
    assert f"{angle:.2f}" not in said
    assert "that fixes its direction" in said


def test_the_gap_is_told_with_its_size_when_answers_are_shown_and_without_it_when_they_are_kept() -> None:
    sketch = shown("capstan-bar")
    free = replace(sketch, supports=(), pivot=None)
    total = sum(vectors(free, analyse(free)).values(), np.zeros(2))
    said = words_of(picture(free, "1366x768", "polygon"))
    assert f"gap{np.linalg.norm(total):.0f}" in said.replace("\u2009", "").replace(" ", "").replace("\u00a0", "")
    kept = words_of(picture(replace(sketch, answers="kept"), "1366x768", "polygon"))
    assert "still needed" in kept
    assert "gap" not in kept


# The order


def test_an_order_is_kept_in_the_document_undone_in_one_step_and_holds_only_forces() -> None:
    sketch = shown("gangway")
    ids = ["hoist", "walker", "hinge", "gangway-weight"]
    change = commands.apply(sketch, "order", {"ids": ids})
    assert change.sketch.order == tuple(ids)
    assert document.read(document.write(change.sketch)) == change.sketch
    history = History()
    history.push(change.label, document.to_data(sketch), document.to_data(change.sketch))
    assert document.from_data(history.undo(document.to_data(change.sketch))) == sketch
    some = commands.apply(change.sketch, "order", {"ids": ["hinge", "hoist"]}).sketch
    assert some.order == ("hinge", "hoist", "walker", "gangway-weight")
    assert "walker" not in commands.apply(change.sketch, "delete", {"id": "walker"}).sketch.order
    with pytest.raises(SteelyardError, match='There is no force called "tide"'):
        commands.apply(sketch, "order", {"ids": ["tide"]})
    with pytest.raises(SteelyardError, match="`ids` must hold each force once"):
        commands.apply(sketch, "order", {"ids": ["hoist", "hoist"]})
    with pytest.raises(SteelyardError, match="`ids` must be a list of ids: got a str"):
        commands.apply(sketch, "order", {"ids": "hoist"})


# Hands


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    return reply


def door_on(sketch: Sketch, view: str) -> Door:
    door = Door()
    assert ask(door, "show", width_px=863, height_px=522, strips_px=863, view=view)["ok"]
    assert ask(door, "open", document=document.write(sketch))["ok"]
    return door


def target(reply: dict[str, Any], of: str, grip: str) -> Point:
    found = next(each for each in reply["picture"]["targets"] if each["of"] == of and each["grip"] == grip)
    points = found["points_px"]
    if found["shape"] != "line":
        return (points[0][0], points[0][1])
    return ((points[0][0] + points[1][0]) / 2.0, (points[0][1] + points[1][1]) / 2.0)


def drag(door: Door, of: str, grip: str, by: Point) -> dict[str, Any]:
    start = target(ask(door, "show", selected=of), of, grip)
    assert ask(door, "begin", of=of, grip=grip, point_px=list(start))["ok"]
    end = [start[0] + by[0], start[1] + by[1]]
    assert ask(door, "preview", point_px=end, snap=False, catch_px=8)["ok"]
    return ask(door, "commit")


@pytest.mark.parametrize("view", VIEWS)
def test_dragging_a_head_changes_the_force_by_what_the_hand_moved(view: str) -> None:
    sketch = shown("capstan-bar")
    first = next(load for load in sketch.loads if isinstance(load, Force) and load.role == "known")
    door = door_on(sketch, view)
    n_per_px = force_views.window(sketch, analyse(sketch), door.session._presentation.frame, view).n_per_px
    before = vectors(sketch, analyse(sketch))[first.id]
    reply = drag(door, first.id, "head", (30.0, -20.0))
    after = document.read(reply["document"])
    moved = vectors(after, analyse(after))[first.id] - before
    assert moved == pytest.approx((30.0 * n_per_px, 20.0 * n_per_px), abs=0.2 * n_per_px)
    changed = next(load for load in after.loads if load.id == first.id)
    assert changed.place_m == first.place_m
    assert ask(door, "undo")["document"] == document.write(sketch)


@pytest.mark.parametrize("view", VIEWS)
def test_pulling_an_unknown_makes_a_guess_of_it_whose_head_is_under_the_hand(view: str) -> None:
    door = door_on(shelf.load("gangway"), view)
    start = target(ask(door, "show", selected="hinge"), "hinge", "guess")
    assert ask(door, "begin", of="hinge", grip="guess", point_px=list(start))["ok"]
    hand = (start[0] + 70.0, start[1] - 30.0)
    reply = ask(door, "preview", point_px=list(hand), snap=False, catch_px=8)
    assert reply["ok"]
    assert target(reply, "hinge", "guess") == pytest.approx(hand, abs=1.0)
    after = document.read(ask(door, "commit")["document"])
    assert next(each for each in after.supports if each.id == "hinge").guess is not None


def test_a_shaft_dragged_past_another_changes_the_order_and_so_does_a_key() -> None:
    door = door_on(shown("gangway"), "polygon")
    weight = target(ask(door, "show", selected="walker"), "gangway-weight", "shaft")
    start = target(ask(door, "show", selected="walker"), "walker", "shaft")
    reply = drag(door, "walker", "shaft", (0.0, weight[1] - start[1]))
    ids = [force["id"] for force in reply["panels"]["chain"]["forces"]]
    assert ids == ["walker", "gangway-weight", "hinge", "hoist"]
    assert ask(door, "undo")["panels"]["chain"]["forces"][0]["id"] == "gangway-weight"
    start = target(ask(door, "show", selected="walker"), "walker", "shaft")
    ask(door, "begin", of="walker", grip="shaft", point_px=list(start))
    assert ask(door, "nudge", dx=1, dy=0)["gesture"]["readout"] == "third in the chain"
    reply = ask(door, "commit")
    assert [force["id"] for force in reply["panels"]["chain"]["forces"]].index("walker") == 2
    assert reply["entry"]["label"] == "Change the order of the forces"
    assert ask(door, "begin", of="walker", grip="shaft", point_px=list(start))["ok"]
    assert ask(door, "commit")["entry"] is None


def test_places_and_the_pivot_are_moved_on_the_small_body() -> None:
    sketch = shown("gangway")
    door = door_on(sketch, "polygon")
    small = force_views.window(sketch, analyse(sketch), door.session._presentation.frame, "polygon").inset
    after = document.read(drag(door, "walker", "tail", (20.0, 0.0))["document"])
    walker = {load.id: load for load in sketch.loads}["walker"]
    moved = {load.id: load for load in after.loads}["walker"].place_m[0] - walker.place_m[0]
    along = math.cos(math.radians(sketch.bodies[0].angle_deg))
    assert moved == pytest.approx(20.0 * along / small.px_per_m, rel=0.02)
    after = document.read(drag(door, "pivot", "pivot", (40.0, 30.0))["document"])
    assert after.pivot is not None
    assert after.pivot.tied_to is None


def test_only_forces_and_the_pivot_can_be_drawn_there_and_a_new_force_starts_from_the_dot() -> None:
    sketch = shown("gangway")
    door = door_on(sketch, "point")
    refused = ask(door, "begin", tool="rope", point_px=[200, 200])
    assert refused["error"]["message"] == "Only forces and the pivot can be drawn in this view."
    refused = ask(door, "begin", tool="pivot", point_px=[200, 200])
    assert refused["error"]["hint"] == "Tap under Where they act."
    dot = dict(next(each for each in ask(door, "show")["picture"]["records"] if each["id"] == "point.dot")["attrs"])
    x, y = float(dot["cx"]), float(dot["cy"])
    assert ask(door, "begin", tool="force", point_px=[x, y])["ok"]
    reply = ask(door, "preview", point_px=[x + 80, y], snap=False, catch_px=8)
    assert target(reply, reply["gesture"]["of"] or "force", "head") == pytest.approx((x + 80, y), abs=1.0)
    reply = ask(door, "commit")
    after = document.read(reply["document"])
    force = next(load for load in after.loads if load.id == reply["created"])
    assert isinstance(force, Force)
    assert force.direction_deg == pytest.approx(0.0, abs=1e-9)
    assert force.place_m == (sketch.bodies[0].length_m / 2.0, 0.0)


def test_zooming_keeps_what_is_under_the_hand_and_fit_brings_everything_back() -> None:
    sketch = shown("gangway")
    door = door_on(sketch, "polygon")
    first = ask(door, "show")
    head = target(first, "hoist", "shaft")
    zoomed = ask(door, "look", zoom=2.0, at_px=list(head))
    assert target(zoomed, "hoist", "shaft") == pytest.approx(head, abs=0.3)
    assert target(ask(door, "look", pan_px=[10, 5]), "hoist", "shaft") == pytest.approx(
        (head[0] + 10, head[1] + 5), abs=0.3
    )
    assert target(ask(door, "look", fit=True), "hoist", "shaft") == pytest.approx(head, abs=0.3)
    assert ask(door, "look", zoom=1e9)["error"]["code"] == "request.zoom"


# Answers kept back


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("slug", ["gangway", "channel-post", "propped-flap"])
def test_replies_do_not_depend_on_the_answers_at_all(slug: str, view: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert_same_replies_to_other_answers(slug, view, {}, monkeypatch)


def test_what_is_still_needed_of_kept_forces_is_what_the_known_ones_lack() -> None:
    for slug in SLUGS:
        sketch = replace(shelf.load(slug), answers="kept")
        analysis = seen(sketch)
        assert analysis is not None
        total = sum(vectors(sketch, analysis).values(), np.zeros(2))
        missing = chain.gap(chain.chain(sketch, analysis), analysis)
        assert np.allclose(missing, -total, atol=1e-9 * analysis.force_scale_n)


def test_with_tilted_axes_the_level_edges_measure_no_components() -> None:
    level = shown("gangway")
    tilted = replace(level, settings=replace(level.settings, axes_deg=30.0))
    drawn = picture(tilted, "1366x768", "polygon")
    assert not [record.id for record in drawn.records if ".part-" in record.id]
    names = [record for record in drawn.records if record.id in ("edge.x-name", "edge.y-name")]
    assert ["".join(run.text for run in record.runs) for record in names] == ["FN", "FN"]
    assert [record.id for record in picture(level, "1366x768", "polygon").records if ".part-" in record.id]
