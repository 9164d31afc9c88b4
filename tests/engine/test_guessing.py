"""Guesses are turned where the argument says, stretched until a sum closes, and give no kept answer away.

Sums are added up again here with numpy, from the sketch itself.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from other_answers import give_other_answers
from sketch_bank import BANK
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.edit import commands
from steelyard.edit.context import Context
from steelyard.edit.gestures import Gesture
from steelyard.errors import SteelyardError
from steelyard.model import Couple, Guess, Settings, Sketch
from steelyard.panels.argument import argument
from steelyard.statics import analyse
from steelyard.statics.kept import kept_back, told_parts
from steelyard.working.steps import work
from working_cases import SKETCHES, Matrix

GANGWAY = shelf.load("gangway")
SCENARIOS = {name: sketch for name, sketch in SKETCHES.items() if name.startswith(("bank", "scenario"))}
UNKNOWNS = [
    (name, reading.force.id)
    for name, sketch in SCENARIOS.items()
    for reading in analyse(sketch).readings
    if reading.force.role == "unknown"
]
ANGLES = (148.1, 290.0)


def done(sketch: Sketch, name: str, **args: Any) -> Sketch:
    """The sketch after one command."""
    return commands.apply(sketch, name, args).sketch


def _held(sketch: Sketch, force_id: str) -> tuple[Any, str]:
    """What stands for a force in the document, and under which key its guess is."""
    for each in (*sketch.supports, *sketch.loads):
        for part, key in (("", "guess"), ("-couple", "couple_guess"), ("-friction", "friction_guess")):
            if force_id == f"{each.id}{part}":
                return each, key
    raise KeyError(force_id)


def guess_of(sketch: Sketch, force_id: str) -> Guess:
    entity, key = _held(sketch, force_id)
    guess = getattr(entity, key)
    assert guess is not None
    return guess


def guessed(sketch: Sketch, force_id: str, angle_deg: float, size: float = 700.0) -> Sketch:
    """The sketch with a guess drawn in a direction; on a known line it lies along the nearer way of it."""
    made = done(sketch, "guess", id=force_id, on=True)
    entity, key = _held(made, force_id)
    drawn = Guess(size, angle_deg, size if angle_deg < 180.0 else -size)
    entity = replace(entity, **{key: drawn})
    supports = tuple(entity if each.id == entity.id else each for each in made.supports)
    loads = tuple(entity if each.id == entity.id else each for each in made.loads)
    # A command settles guesses on their lines; this one changes nothing else.
    return done(replace(made, supports=supports, loads=loads), "title", title=sketch.title)


def stood(sketch: Sketch) -> dict[str, Any]:
    """Force and point, or couple, of everything as it stands: known, guessed, else solved with numpy."""
    analysis = analyse(sketch)
    matrix = Matrix(analysis)
    solution = matrix.solve(matrix.known_sizes)[0]
    found: dict[str, Any] = {}
    for reading in analysis.readings:
        force = reading.force
        if force.guess_couple_n_m is not None:
            found[force.id] = np.array([0.0, 0.0, force.guess_couple_n_m / matrix.lever])
        elif force.guess is not None:
            turn = force.point[0] * force.guess[1] - force.point[1] * force.guess[0]
            found[force.id] = np.array([*force.guess, turn / matrix.lever])
        else:
            sizes = {**dict(zip(matrix.known_keys, matrix.known_sizes, strict=True)), **solution}
            keys = [key for key in sizes if key.split(".")[0] == force.id]
            found[force.id] = sum(sizes[key] * matrix.wrenches[key] for key in keys)
    return {"wrenches": found, "lever": matrix.lever, "pivot": analysis.pivot}


def left_over(sketch: Sketch, closes: str) -> tuple[float, float]:
    """What a sum comes to, and the size of its terms."""
    stands = stood(sketch)
    level = np.array(
        [math.cos(math.radians(sketch.settings.axes_deg)), math.sin(math.radians(sketch.settings.axes_deg))]
    )
    terms = []
    for fx, fy, torque in stands["wrenches"].values():
        x, y = stands["pivot"]
        along = {"x": level @ (fx, fy), "y": -level[1] * fx + level[0] * fy}
        terms.append(along[closes] if closes in along else torque * stands["lever"] - x * fy + y * fx)
    return math.fsum(terms), math.fsum(abs(term) for term in terms)


@pytest.mark.parametrize(("name", "force_id"), UNKNOWNS)
def test_turning_ends_within_as_many_presses_as_there_are_parts_with_nothing_against_the_argument(
    name: str, force_id: str
) -> None:
    for angle in ANGLES:
        sketch = guessed(SCENARIOS[name], force_id, angle)
        size = guess_of(sketch, force_id).size_n
        parts = 2 if analyse(sketch).reading(force_id).force.sought == "size and direction" else 1
        presses = 0
        while True:
            try:
                sketch = done(sketch, "turn", id=force_id)
            except SteelyardError as refused:
                assert refused.code == "edit.turned"
                break
            presses += 1
            assert presses <= parts
        analysis = kept_back(analyse(sketch))
        said = argument(replace(sketch, answers="kept"), analysis, force_id)
        assert said is not None and said["of"] == force_id
        assert all(stage["agrees"] is not False for stage in said["stages"])
        assert guess_of(sketch, force_id).size_n in (size, 0.0) or parts == 1


@pytest.mark.parametrize(("name", "force_id"), UNKNOWNS)
def test_a_turned_guess_points_as_the_solution_does_in_every_part_that_is_certain(name: str, force_id: str) -> None:
    sketch = guessed(SCENARIOS[name], force_id, 148.1)
    analysis = analyse(sketch)
    if analysis.supports.kind != "determinate":
        return
    matrix = Matrix(analysis)
    if None in matrix.known_sizes:
        return
    solution = matrix.solve(matrix.known_sizes)[0]
    try:
        for _ in range(2):
            sketch = done(sketch, "turn", id=force_id)
    except SteelyardError as refused:
        assert refused.code == "edit.turned"
    said = argument(sketch, analyse(sketch), force_id)
    assert said is not None
    force = analyse(sketch).reading(force_id).force
    top = max([*map(abs, solution.values()), *matrix.known_sizes, 1e-9])
    for stage in said["stages"]:
        part = stage["part"]
        if stage["verdict"] not in ("certain", "numbers") or abs(solution[part]) <= 1e-7 * top:
            continue
        drawn = force.guess_couple_n_m if force.guess is None else np.array(force.guess) @ matrix.wrenches[part][:2]
        if force.guess is None:
            drawn = drawn * np.sign(matrix.wrenches[part][2])
        assert np.sign(drawn) == np.sign(solution[part])


@pytest.mark.parametrize(("name", "force_id"), UNKNOWNS)
def test_every_stretch_on_offer_closes_its_sum_and_keeps_the_direction(name: str, force_id: str) -> None:
    for angle in ANGLES:
        sketch = replace(guessed(SCENARIOS[name], force_id, angle), answers="shown")
        analysis = analyse(sketch)
        if analysis.supports.kind != "determinate" or None in Matrix(analysis).known_sizes:
            continue
        said = argument(sketch, analysis, force_id)
        assert said is not None
        before = guess_of(sketch, force_id)
        for action in said["actions"]:
            if action.get("command") != "stretch":
                continue
            after = done(sketch, "stretch", **action["args"])
            total, scale = left_over(after, action["args"]["closes"])
            assert abs(total) <= 1e-9 * scale
            stretched = guess_of(after, force_id)
            assert stretched.direction_deg == before.direction_deg
            assert stretched.couple_n_m * before.couple_n_m >= 0.0


def test_a_sum_that_no_size_closes_says_why() -> None:
    wrong = guessed(GANGWAY, "hinge", 148.1)
    for closes, words in (
        ("x", "Longer or shorter, R does not close it: along x it would have to act the other way."),
        ("turning", "R has no part about the pivot, so its size does not matter there."),
        ("z", '`closes` must be one of x, y, turning: got "z".'),
    ):
        with pytest.raises(SteelyardError) as refused:
            done(wrong, "stretch", id="hinge", closes=closes)
        assert refused.value.message == words
    with pytest.raises(SteelyardError) as refused:
        done(GANGWAY, "turn", id="hinge")
    assert refused.value.message == "There is no guess for R yet."


def test_part_of_the_way_a_guess_swings_the_shorter_way_and_slides_along_a_known_line() -> None:
    sketch = guessed(GANGWAY, "hinge", 148.0)
    assert guess_of(done(sketch, "turn", id="hinge", share=0.0), "hinge").direction_deg == 148.0
    half = guess_of(done(sketch, "turn", id="hinge", share=0.5), "hinge")
    assert (half.size_n, half.direction_deg) == (700.0, 90.0)
    assert guess_of(done(sketch, "turn", id="hinge", share=1), "hinge").direction_deg == pytest.approx(32.0, abs=1e-9)
    hatch = shelf.load("hatch")
    down = guessed(hatch, "prop", 306.0)
    line = guess_of(down, "prop").direction_deg
    sizes = []
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        guess = guess_of(done(down, "turn", id="prop", share=share), "prop")
        turned = round(guess.direction_deg - line) % 360
        assert turned in (0, 180) or guess.size_n == 0.0
        sizes.append(guess.size_n * (1 if turned == 0 else -1))
    assert sizes == pytest.approx([700.0, 350.0, 0.0, -350.0, -700.0], abs=1e-9)
    with pytest.raises(SteelyardError, match=r"`share` must be a number from 0 to 1"):
        done(sketch, "turn", id="hinge", share=1.5)


def test_turn_and_stretch_are_named_one_undo_entry_each() -> None:
    door = opened(GANGWAY)
    ask(door, "command", name="guess", args={"id": "hinge", "on": True})
    for share in (0.2, 0.6):
        ask(door, "try", name="turn", args={"id": "hinge", "share": share})
    assert ask(door, "command", name="turn", args={"id": "hinge"})["entry"]["label"] == "Turn R"
    done_ = ask(door, "command", name="stretch", args={"id": "hinge", "closes": "x"})
    assert done_["entry"]["label"] == "Stretch R"
    assert ask(door, "undo")["panels"]["history"]["undo"] == "Turn R"
    assert ask(door, "undo")["panels"]["history"]["undo"] == "Guess R"


def test_the_gangway_says_first_what_is_missing_and_offers_the_turn() -> None:
    sketch = replace(guessed(GANGWAY, "hinge", 148.1, 1154.0), answers="shown")
    said = argument(sketch, analyse(sketch), "hinge")
    assert said is not None
    assert text(said["headline"]) == "Along x: 2422\u00a0N missing to the right"
    assert [text(action["label"]) for action in said["actions"]] == ["Turn it", "Other way round", "Remove my guess"]
    turned = done(sketch, "turn", id="hinge")
    stretched = done(turned, "stretch", id="hinge", closes="x")
    said = argument(stretched, analyse(stretched), None)
    assert said is not None
    assert said["stages"][0]["sum"] == "closed"
    assert text(said["headline"]).endswith("too much upwards")


def test_an_answer_against_the_arrow_says_what_the_minus_means_and_draws_it_this_way() -> None:
    sketch = replace(shelf.load("plank"), answers="shown")
    said = argument(sketch, analyse(sketch), "bolt")
    assert said is not None and said["kind"] == "minus"
    reading = analyse(sketch).reading("bolt")
    assert text(said["headline"]).startswith("Ry = −")
    assert "Minus: it acts the other way from the arrow as drawn." in text(said["lead"][0])
    [action] = said["actions"]
    redrawn = done(sketch, action["command"], **action["args"])
    after = analyse(redrawn).reading("bolt")
    assert after.vector == reading.vector and after.against_components == (False, False)
    assert argument(redrawn, analyse(redrawn), "bolt") is None


def test_a_rope_that_would_have_to_push_has_no_balance_to_show() -> None:
    name = next(name for name, sketch in BANK.items() if analyse(sketch).supports.kind == "impossible")
    sketch = BANK[name]
    failing = analyse(sketch).supports.failing[0]
    said = argument(sketch, analyse(sketch), failing)
    assert said is not None and text(said["headline"]) == "No balance like this" and said["actions"] == []
    kept = kept_back(analyse(sketch))
    assert kept.supports.kind == "determinate"
    told = kept_back(analyse(sketch), told_parts(analyse(sketch), ("hinge",)))
    assert told.supports.kind == "impossible" and told.supports.failing == (failing,)


# Kept answers


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    assert reply["ok"], reply
    return reply


def opened(sketch: Sketch) -> Door:
    door = Door()
    ask(door, "show", width_px=863, height_px=522, strips_px=863, side="working")
    ask(door, "open", document=document.write(sketch))
    return door


def text(runs: list[dict[str, Any]]) -> str:
    return "".join(run["text"] for run in runs)


def asked(sketch: Sketch) -> Iterator[str]:
    """Guess every unknown, turn it part of the way and wholly, see both ways; the text of every reply."""
    door = opened(sketch)
    unknown = [reading.force for reading in analyse(sketch).readings if reading.force.role == "unknown"]
    for force in unknown:
        messages: list[dict[str, Any]] = [
            {"do": "show", "selected": force.entity},
            {"do": "command", "name": "guess", "args": {"id": force.id, "on": True}},
            {"do": "show", "both": force.id if force.sought != "size and direction" else f"{force.id}.x"},
            {"do": "show", "both": ""},
            {"do": "try", "name": "turn", "args": {"id": force.id, "share": 0.4}},
            {"do": "cancel"},
            {"do": "command", "name": "turn", "args": {"id": force.id}},
            {"do": "command", "name": "turn", "args": {"id": force.id}},
        ]
        for message in messages:
            yield door.handle(json.dumps({"seq": 1, **message}))


@pytest.mark.parametrize(("name", "force_id"), UNKNOWNS)
def test_what_a_sum_lacks_has_no_amount_while_the_answer_is_kept_back(name: str, force_id: str) -> None:
    # The amount and the guess would make the answer, where all the others are known.
    sketch = replace(guessed(SCENARIOS[name], force_id, 90.0), answers="kept")
    said = argument(sketch, kept_back(analyse(sketch)), force_id)
    assert said is not None
    for words in (text(said["headline"]).partition(":")[2], *(stage["sum"] for stage in said["stages"])):
        assert not re.search(r"\d", words), words


@pytest.mark.parametrize("slug", [each.slug for each in shelf.listing()])
def test_no_reply_about_a_guess_depends_on_the_answers_kept_back(slug: str, monkeypatch: pytest.MonkeyPatch) -> None:
    sketch = replace(shelf.load(slug), answers="kept")
    true_replies = list(asked(sketch))
    give_other_answers(monkeypatch)
    # Once every unknown has a guess, whether the guesses balance is no answer kept back but the user's own sum.
    assert true_replies == list(asked(sketch))


def test_a_stretch_tells_the_new_guess_and_nothing_else_and_an_answer_told_tells_only_itself() -> None:
    door = opened(GANGWAY)
    ask(door, "show", selected="hinge")
    ask(door, "command", name="guess", args={"id": "hinge", "on": True})
    ask(door, "command", name="turn", args={"id": "hinge"})
    offers = ask(door, "show", selected="hinge")["panels"]["reasoning"]["argument"]["actions"]
    assert [offer["args"] for offer in offers if offer.get("command") == "stretch"] == [
        {"id": "hinge", "closes": "x"},
        {"id": "hinge", "closes": "y"},
    ]
    reply = json.dumps(ask(door, "command", name="stretch", args={"id": "hinge", "closes": "x"}))
    # By numpy: R is 1490 N, T is 2146 N; a guess at 45° that closes ΣFx is 1442 N × √2.
    assert "2040" in reply and "1490" not in reply and "2146" not in reply
    told = ask(door, "command", name="tell", args={"id": "hinge", "on": True})
    seen = json.dumps({**told, "document": None, "entry": None})
    assert "1490" in seen and "2146" not in seen
    assert told["entry"]["label"] == "Show R"
    assert "1490" not in json.dumps({**ask(door, "undo"), "document": None, "entry": None})


# Couples have grips


def held(sketch: Sketch, of: str, by: tuple[float, float]) -> Gesture:
    context = Context(newtons_per_m=100.0)
    gesture = Gesture(sketch, of, "head", (0.3, 0.4), context)
    gesture.at((0.3 + by[0], 0.4 + by[1]), context)
    return gesture


def test_the_head_of_a_known_couple_changes_its_size_and_its_sense() -> None:
    sketch = next(sketch for sketch in BANK.values() if any(isinstance(load, Couple) for load in sketch.loads))
    couple = next(load for load in sketch.loads if isinstance(load, Couple) and load.role == "known")
    assert couple.couple_n_m == 300.0 and couple.counterclockwise
    gesture = held(sketch, couple.id, (-1.0, 0.0))
    after = next(load for load in gesture.sketch.loads if load.id == couple.id)
    assert (after.couple_n_m, after.counterclockwise) == (pytest.approx(400.0), True)
    assert gesture.readout == f"{couple.symbol} 400\u00a0N·m counterclockwise"
    assert gesture.change().label == f"Move {couple.symbol}"
    after = next(load for load in held(sketch, couple.id, (5.0, 0.0)).sketch.loads if load.id == couple.id)
    assert (after.couple_n_m, after.counterclockwise) == (pytest.approx(200.0), False)


def test_the_head_of_a_fixing_couple_pulls_a_guess_out_of_it() -> None:
    post = shelf.load("channel-post")
    gesture = held(post, "bed-couple", (-2.0, 0.0))
    assert guess_of(gesture.sketch, "bed-couple") == Guess(couple_n_m=pytest.approx(200.0))
    again = held(gesture.sketch, "bed-couple", (3.0, 0.0))
    assert guess_of(again.sketch, "bed-couple") == Guess(couple_n_m=pytest.approx(-100.0))


def test_the_head_of_a_rope_pulls_a_guess_along_its_line_while_answers_are_kept_back() -> None:
    gesture = held(GANGWAY, "hoist", (-2.0, 2.0))
    guess = guess_of(gesture.sketch, "hoist")
    assert guess.direction_deg == pytest.approx(132.23, abs=0.01) and guess.size_n > 0.0
    assert next(each for each in gesture.sketch.supports if each.id == "hoist").anchor_m == (1.2, 3.2)


def test_turning_keeps_to_tilted_axes() -> None:
    tilted = replace(GANGWAY, settings=replace(Settings(), axes_deg=-12.0))
    sketch = guessed(tilted, "hinge", 150.0)
    turned = done(sketch, "turn", id="hinge")
    before, after = guess_of(sketch, "hinge"), guess_of(turned, "hinge")
    axis = np.radians(-12.0)
    level, upright = np.array([np.cos(axis), np.sin(axis)]), np.array([-np.sin(axis), np.cos(axis)])
    old, new = (
        np.array([np.cos(np.radians(g.direction_deg)), np.sin(np.radians(g.direction_deg))]) for g in (before, after)
    )
    assert new @ level == pytest.approx(-(old @ level)) and new @ upright == pytest.approx(old @ upright)


def test_a_guess_is_the_sign_convention_of_the_working_and_its_minus_is_said() -> None:
    sketch = replace(guessed(SCENARIOS["scenario: gangway"], "hinge", 148.1), answers="shown")
    steps = work(sketch, analyse(sketch)).steps
    isolated = " ".join(contact.sentence.text for contact in steps[0].contacts)
    assert "Rx (drawn to the left) and Ry (drawn up)" in isolated
    level = next(step for step in steps if "hinge.x" in step.finds)
    assert level.lines[-1].equation.right.text == "-1442"
    assert "the same size the other way: Rx acts to the right, not to the left as drawn" in level.remarks[0].text
    turned = done(sketch, "turn", id="hinge")
    again = work(turned, analyse(turned)).steps
    level = next(step for step in again if "hinge.x" in step.finds)
    assert level.remarks[0].text == "Positive: Rx acts the way it was drawn, to the right."


@pytest.mark.parametrize(("name", "force_id"), [("scenario: gangway", "hinge"), ("scenario: hatch", "prop")])
def test_drawing_an_unknown_as_answered_turns_its_guess_too(name: str, force_id: str) -> None:
    sketch = replace(guessed(SCENARIOS[name], force_id, 300.0), answers="shown")
    answered = done(sketch, "set", id=force_id, key="as_answered", text="true")
    reading = analyse(answered).reading(force_id)
    assert reading.vector is not None and reading.force.guess is not None and reading.force.along is not None
    if reading.force.sought == "size":
        assert np.dot(reading.vector, reading.force.guess) > 0.0
    else:
        assert np.all(np.sign(reading.vector) == np.sign(reading.force.guess))
    assert np.all(np.sign(reading.vector) == np.sign(reading.force.along))
