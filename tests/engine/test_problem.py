"""The problem's sentences: every number in them is measured again on the sketch; no answer is ever in them."""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sketch_bank import BANK
from steelyard import shelf
from steelyard.model import (
    Body,
    Couple,
    Force,
    Given,
    MeasuredPoint,
    NamedPoint,
    Settings,
    Sketch,
    SpreadLoad,
    Support,
    Thing,
)
from steelyard.panels.problem import problem
from steelyard.statics import analyse
from strategies import sketches

GANGWAY = shelf.load("gangway")
NUMBER = re.compile(r"(?<![A-Za-z_])\u2212?\d+(?:\.\d+)?(?:×10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?")
RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")


def text_of(sketch: Sketch) -> str:
    found = problem(sketch, sketch.bodies[0].id)
    assert found is not None
    return str(found["text"])


def numbers(text: str) -> list[float]:
    """Every number of a text, without units; an exponent as it reads."""
    found = []
    for token in NUMBER.findall(text.replace("\u2009", "").replace("m/s²", "m/s2").replace("ft/s²", "ft/s2")):
        plain, _, power = token.replace("\u2212", "-").partition("×10")
        found.append(float(plain) * 10.0 ** int(power.translate(RAISED) or 0))
    return found


def world(body: Body, place: tuple[float, float]) -> np.ndarray:
    turn = math.radians(body.angle_deg)
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return np.asarray(np.array(body.origin_m) + rotation @ np.array(place))


def steep(way: np.ndarray) -> list[float]:
    return [math.degrees(math.atan2(abs(way[1]), abs(way[0])))]


def measured(sketch: Sketch) -> list[float]:
    """Everything a problem may say of a sketch, derived again: lengths, angles, masses, sizes, g."""
    bodies = {body.id: body for body in sketch.bodies}
    feet = 0.3048 if sketch.settings.units == "us" else 1.0
    # The pound is 0.45359237 kg; the pound-force that by 9.80665 m/s².
    pound = 0.45359237 if sketch.settings.units == "us" else 1.0
    pound_force = pound * 9.80665 if sketch.settings.units == "us" else 1.0
    points: list[np.ndarray] = []
    starts: list[np.ndarray] = []
    angles: list[float] = []
    found_mu: list[float] = []
    pieces = []
    for body in sketch.bodies:
        corners = [(0.0, 0.0), (body.length_m, 0.0)] if body.kind == "bar" else list(body.points_m)
        own = [world(body, corner) for corner in corners or [(0.0, 0.0)]]
        starts.append(own[0])
        points += own
        pieces += list(itertools.pairwise(own))
    for start, end in pieces:
        angles += steep(end - start)
    for entity in (*sketch.supports, *sketch.loads):
        body = bodies[entity.body]
        if isinstance(entity, SpreadLoad):
            points += [world(body, entity.start_m), world(body, entity.end_m)]
            way = points[-1] - points[-2]
            turn = math.radians(entity.direction_deg)
            angles += steep({"across": np.array([way[1], -way[0]]), "angle": np.array([math.cos(turn), math.sin(turn)])}
                            .get(entity.acts, np.array([0.0, -1.0])))  # fmt: skip
            continue
        points.append(world(body, entity.place_m))
        if isinstance(entity, Support):
            if entity.anchor_m is not None:
                far = (
                    np.array(entity.anchor_m) if entity.other is None else world(bodies[entity.other], entity.anchor_m)
                )
                points.append(far)
                angles += steep(points[-1] - points[-2])
            if entity.over_m is not None:
                points.append(np.array(entity.over_m))
            found_mu += [entity.mu] if entity.mu is not None else []
            turn = math.radians(entity.normal_deg)
            angles += steep(np.array([math.cos(turn), math.sin(turn)]))
        elif isinstance(entity, Force):
            turn = math.radians(entity.direction_deg)
            angles += steep(np.array([math.cos(turn), math.sin(turn)]))
    lengths = [np.linalg.norm(end - start) for start, end in pieces]
    for body in sketch.bodies:
        lengths += [body.radius_m, *(hole.radius_m for hole in body.round_holes)]
        points += [world(body, corner) for hole in body.holes_m for corner in hole]
        points += [world(body, hole.centre_m) for hole in body.round_holes]
    for point in points:
        for start in starts:
            lengths += [np.linalg.norm(point - start), *np.abs(point - start), *point]
    found = [float(length) / feet for length in lengths] + angles
    found += found_mu
    found += [body.mass_kg / pound for body in sketch.bodies if body.mass_kg is not None]
    found += [body.weight_n / pound_force for body in sketch.bodies if body.weight_n is not None]
    for load in sketch.loads:
        if isinstance(load, Thing) and load.mass_kg is not None:
            found.append(load.mass_kg / pound)
        elif isinstance(load, SpreadLoad):
            found += [abs(each) / pound_force * feet for each in (load.start_n_per_m, load.end_n_per_m) if each]
        elif isinstance(load, Force) and load.size_n is not None:
            found.append(load.size_n / pound_force)
        elif isinstance(load, Couple) and load.couple_n_m is not None:
            found.append(load.couple_n_m / pound_force / feet)
    found.append(sketch.settings.g_m_s2 / feet)
    # A large force or couple steps up to thousands and millions.
    return [*found, *(value / factor for value in found for factor in (1e3, 1e6))]


def unexplained(sketch: Sketch, text: str) -> list[float]:
    figures = sketch.settings.significant_figures
    wanted = np.array(measured(sketch))
    # Half a unit in the last figure shown, and dust below it.
    slack = np.maximum(0.5001 * 10.0 ** (1 - figures) * np.abs(wanted), 1e-9)
    return [value for value in numbers(text) if not np.any(np.abs(np.abs(wanted) - abs(value)) <= slack)]


def asked_nothing(sketch: Sketch) -> Sketch:
    """Without the author's own question, which may hold any words."""
    return replace(sketch, question="")


@settings(max_examples=150, deadline=None)
@given(sketches(), st.sampled_from(["side", "above"]))
def test_every_number_is_measured_on_the_sketch(sketch: Sketch, seen_from: str) -> None:
    chosen = replace(sketch.settings, seen_from=seen_from, decimal_comma=False)  # type: ignore[arg-type]
    sketch = asked_nothing(replace(sketch, settings=chosen))
    text = text_of(sketch)
    assert text.endswith((".", "?")) and "nan" not in text and "  " not in text
    assert unexplained(sketch, text) == []


@pytest.mark.parametrize("slug", [each.slug for each in shelf.listing()])
def test_each_scenario_is_stated_whole(slug: str) -> None:
    sketch = shelf.load(slug)
    text = text_of(sketch)
    assert text.endswith(sketch.question)
    # Slopes are ratios, held to numpy with the givens.
    assert unexplained(sketch, re.sub(r"a slope of \d+ : \d+", "", text)) == []
    for body in sketch.bodies:
        assert body.name in text
    for support in sketch.supports:
        assert support.agent in text
    for load in sketch.loads:
        named = load.name if isinstance(load, Thing) else load.agent
        assert named in text
        if isinstance(load, Thing) and load.mass_kg is not None and sketch.settings.seen_from == "side":
            assert f"{load.mass_kg:g}\u00a0kg" in text
    weighed = [body for body in sketch.bodies if body.mass_kg is not None and sketch.settings.seen_from == "side"]
    assert all(f"{body.mass_kg:g}\u00a0kg" in text for body in weighed)
    lettered = [body for body in sketch.bodies if body.weight_symbol_only and sketch.settings.seen_from == "side"]
    assert text.count("uniform ") == len(weighed) + len(lettered)
    assert (" g =" in text) == (f"{sketch.settings.g_m_s2:g}" in text)
    if sketch.settings.seen_from == "above":
        assert "no weight acts in the page" in text


@pytest.mark.parametrize("name", BANK)
def test_what_is_to_be_found_is_asked_and_nothing_solved_is_said(name: str) -> None:
    sketch = asked_nothing(BANK[name])
    analysis = analyse(sketch)
    unknown = [each.force for each in analysis.readings if each.force.role == "unknown"]
    text = text_of(sketch)
    asked = text.rpartition("Find ")[2] if unknown else ""
    assert ("Find " in text) == bool(unknown)
    for force in unknown:
        assert force.symbol.replace("_", "") in asked
    kept, shown = text_of(replace(sketch, answers="kept")), text_of(replace(sketch, answers="shown"))
    assert kept == shown == text
    answers = []
    for reading in analysis.readings:
        if reading.force.role == "unknown":
            answers += [value for value in (reading.size_n, reading.couple_n_m, *(reading.vector or ())) if value]
    known = np.array([abs(each) for each in measured(sketch)])
    for value in numbers(text):
        close = [answer for answer in answers if abs(abs(answer) - abs(value)) <= 5e-4 * abs(answer)]
        # A number that is an answer too may stand there only because it is given on the sketch as well.
        assert not close or np.any(np.abs(known - abs(value)) <= 5e-4 * known + 1e-9)


def test_it_follows_what_is_dragged_and_the_words_of_the_settings() -> None:
    walker = GANGWAY.loads[0]
    assert "stands on it 4\u00a0m from A" in text_of(GANGWAY)
    moved = replace(GANGWAY, loads=(replace(walker, place_m=(2.5, 0.0)),))
    assert "stands on it 2.5\u00a0m from A" in text_of(moved)
    comma = replace(moved, settings=replace(moved.settings, decimal_comma=True))
    assert "stands on it 2,5\u00a0m from A" in text_of(comma)
    up = replace(GANGWAY, bodies=(replace(GANGWAY.bodies[0], angle_deg=12.0),))
    assert "slopes down to the right at 12° to the horizontal" in text_of(GANGWAY)
    assert "slopes up to the right at 12° to the horizontal" in text_of(up)
    light = replace(GANGWAY, bodies=(replace(GANGWAY.bodies[0], mass_kg=None),))
    assert text_of(light).startswith("A light gangway, 6\u00a0m long,")
    heavy_end = replace(GANGWAY, bodies=(replace(GANGWAY.bodies[0], centre_m=(2.0, 0.0)),))
    assert "uniform" not in text_of(heavy_end) and "centre of mass 2\u00a0m from its left end A" in text_of(heavy_end)
    named = replace(GANGWAY, points=(*GANGWAY.points, NamedPoint("point-b", "B", (6.0, 0.0), "gangway")))
    assert "gangway AB" in text_of(named)


def test_a_given_with_a_letter_alone_puts_the_letter_for_the_number() -> None:
    start, end = MeasuredPoint("gangway", "start"), MeasuredPoint("gangway", "end")
    lettered = replace(
        GANGWAY,
        bodies=(replace(GANGWAY.bodies[0], mass_kg=None, weight_symbol_only=True),),
        loads=(replace(GANGWAY.loads[0], mass_kg=None),),
        givens=(
            Given("whole", "length", start, end, letter="L", number=False),
            Given("part", "length", start, MeasuredPoint("walker"), letter="a", number=False),
            Given("both", "length", start, MeasuredPoint("hoist"), letter="b"),
            Given("dip", "angle", line="gangway", letter="θ", number=False),
            Given("pull", "angle", line="hoist", against="vertical", letter="β", number=False),
        ),
    )
    text = text_of(asked_nothing(lettered))
    assert "L long and of weight W" in text
    assert "slopes down to the right at θ to the horizontal" in text
    assert "from a point b = 5.2\u00a0m from A up and to the left at β to the vertical" in text
    assert "of weight P, stands on it a from A" in text
    assert numbers(text) == [5.2]
    found = problem(lettered, "gangway")
    assert found is not None
    runs = [run for sentence in found["sentences"] for run in sentence]  # type: ignore[attr-defined]
    assert {run["of"] for run in runs if "of" in run} >= {"gangway-weight", "walker"}


def test_known_arrows_alone_are_asked_whether_they_balance() -> None:
    bar = Body("plank", "bar", "plank", (0.0, 0.0), 0.0, length_m=2.0)
    pulls = (Force("one", "plank", (0.0, 0.0), "F", size_n=50.0), Force("two", "plank", (2.0, 0.0), "G", size_n=50.0))
    assert text_of(Sketch(bodies=(bar,), loads=pulls, settings=Settings())).endswith("Do these forces balance?")
    assert problem(Sketch(), None) is None
