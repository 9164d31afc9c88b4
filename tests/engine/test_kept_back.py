"""With answers kept back no reply carries a value, a direction or a verdict that gives one away.

Two searches. The first replaces the solved values inside the engine by others: every reply must stay the
same to the last byte, so nothing in it can have come from an answer. The second reads every text for people
and looks for each true answer in any rounding of three figures or more.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from random import Random
from typing import Any

import pytest
from other_answers import give_other_answers
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.model import Sketch
from steelyard.statics import analyse
from steelyard.statics.kept import kept_back

SLUGS = [each.slug for each in shelf.listing()]
VIEWS = ("set-up", "extended")


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    return reply


def kept_door(slug: str, view: str, **study: Any) -> Door:
    door = Door()
    ask(door, "show", width_px=863, height_px=522, strips_px=863, view=view)
    sketch = replace(shelf.load(slug), answers="kept")
    assert ask(door, "open", document=document.write(sketch))["ok"]
    if study:
        assert ask(door, "show", **study)["ok"]
    return door


def drags(door: Door, seed: str) -> Iterator[str]:
    """Select and drag everything there is to random places; the text of every reply on the way."""
    chance = Random(seed)
    first = ask(door, "show", selected=None)
    things = dict.fromkeys(target["of"] for target in first["picture"]["targets"])
    for thing in things:
        selected = door.handle(json.dumps({"seq": 1, "do": "show", "selected": thing}))
        yield selected
        reply = json.loads(selected)
        if not reply["ok"]:
            continue
        for target in reply["picture"]["targets"]:
            if target["of"] != thing or target.get("locked"):
                continue
            begun = ask(door, "begin", of=thing, grip=target["grip"], point_px=target["points_px"][0])
            if not begun["ok"]:
                continue
            for _ in range(3):
                point = [chance.uniform(40, 860), chance.uniform(10, 480)]
                snap = chance.random() < 0.5
                message = {"seq": 1, "do": "preview", "point_px": point, "snap": snap, "catch_px": 8}
                yield door.handle(json.dumps(message))
            end = "commit" if chance.random() < 0.4 else "cancel"
            yield door.handle(json.dumps({"seq": 1, "do": end}))


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("slug", SLUGS)
def test_replies_do_not_depend_on_the_answers_at_all(slug: str, view: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert_same_replies_to_other_answers(slug, view, {}, monkeypatch)


@pytest.mark.parametrize("slug", ["gangway", "channel-post"])
def test_the_whole_working_in_symbols_does_not_depend_on_the_answers(
    slug: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    study = {"side": "working", "numbers": False, "revealed": 100}
    assert_same_replies_to_other_answers(slug, "extended", study, monkeypatch)


def assert_same_replies_to_other_answers(
    slug: str, view: str, study: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    true_replies = list(drags(kept_door(slug, view, **study), slug))
    give_other_answers(monkeypatch)
    other_replies = list(drags(kept_door(slug, view, **study), slug))
    assert len(true_replies) > 10
    for true_reply, other_reply in zip(true_replies, other_replies, strict=True):
        # Whether a body that is free to move stays as it stands, its loads alone decide.
        assert true_reply == other_reply or (study and '"kind":"mechanism"' in true_reply)


def words(value: object, key: str = "") -> Iterator[str]:
    """Every text of a reply that reaches a reader; path data and pixel lists are not text."""
    if isinstance(value, str):
        if key not in ("d", "points", "transform"):
            yield value
    elif isinstance(value, dict):
        if str(value.get("id", "")).startswith(("scale.", "key.")):
            return  # a scale steps 1-2-5 and says nothing about sizes beyond that
        for name, inner in value.items():
            if name not in ("attrs", "points_px", "entry", "document", "settings"):
                yield from words(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from words(inner, key)


CAUGHT = frozenset(f"{15 * turn}°" for turn in range(24))
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def figures(token: str) -> int:
    return len(token.replace(".", "").lstrip("0"))


def rounds_to(value: float, token: str) -> bool:
    """Whether the value, without its sign, is the token in some rounding of three figures or more."""
    if not math.isfinite(value) or value == 0.0 or abs(abs(value) - float(token)) > 0.01 * abs(value):
        return False
    # A tie may fall either way by the last bit of a sum.
    for bent in (value * (1.0 - 1e-12), value * (1.0 + 1e-12)):
        exact = Decimal(repr(abs(bent)))
        for count in range(3, 9):
            if exact.quantize(Decimal(1).scaleb(exact.adjusted() - count + 1), ROUND_HALF_UP) == Decimal(token):
                return True
    return False


def in_any_unit(values: list[float]) -> list[float]:
    """The values as they may be written: in newtons or in kilonewtons."""
    return [value / factor for value in values for factor in (1.0, 1e3)]


def answers_of(sketch: Sketch) -> list[float]:
    """Sizes, parts, angles, couples and torques of every unknown, as found."""
    found: list[float] = []
    for reading in (each for body in sketch.bodies for each in analyse(sketch, bodies=(body.id,)).readings):
        if reading.force.role != "unknown":
            continue
        found += [value for value in (reading.size_n, reading.couple_n_m, reading.turning.torque_n_m) if value]
        found += [value for value in reading.vector or () if value]
        if reading.force.sought == "size and direction" and reading.direction_deg is not None:
            found.append(reading.direction_deg)
    return found


def open_values(sketch: Sketch, parts_found: set[str] | None = None) -> list[float]:
    """What a reader may see: everything known, found, typed or measured on the drawing, and sums of it."""
    found = [float(token) for token in NUMBER.findall(document.write(sketch))]
    for body in sketch.bodies:
        found += _open_on(sketch, body.id, parts_found or set())
    return found


def _open_on(sketch: Sketch, body_id: str, parts_found: set[str]) -> list[float]:
    """What may be seen on one body and in its sums."""
    found: list[float] = []
    analysis = kept_back(analyse(sketch, bodies=(body_id,)), parts_found)
    # What lies on each side of a strip: right, left, up, down, counterclockwise, clockwise.
    sides = [0.0] * 6
    for reading in analysis.readings:
        turning, force = reading.turning, reading.force
        found += [value for value in (reading.size_n, reading.direction_deg, reading.couple_n_m) if value]
        found += [
            value for value in (turning.arm_m, turning.torque_n_m, turning.from_x_n_m, turning.from_y_n_m) if value
        ]
        found += list(reading.vector or ()) + list(turning.foot or ()) + list(force.point)
        if force.along is not None:
            angle = math.degrees(math.atan2(force.along[1], force.along[0]))
            found += [angle % 360.0, (angle + 180.0) % 360.0]
            # A slope triangle shows the legs of a line that is drawn.
            x, y = (abs(part) for part in force.along)
            found += [y / x, x / y] if x and y else []
        if force.guess is not None:
            found += [math.hypot(*force.guess), math.degrees(math.atan2(force.guess[1], force.guess[0])) % 360.0]
            found += list(force.guess)
        known = (reading.vector or reading.couple_n_m) is not None and force.guess is None
        parts = reading.vector or force.guess or tuple(value or 0.0 for value in reading.components_n)
        torque = turning.torque_n_m if known else (reading.guess_turning.torque_n_m if reading.guess_turning else None)
        for row, value in enumerate((*(parts or (0.0, 0.0))[:2], torque or 0.0)):
            sides[2 * row + (value < 0.0)] += value
        found += [torque] if torque else []
    residual = analysis.residual
    if residual is not None:
        found += [residual.fx_n, residual.fy_n, residual.torque_n_m]
    nets = [sides[0] + sides[1], sides[2] + sides[3], sides[4] + sides[5]]
    return [*found, *sides, *nets, *analysis.pivot]


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("slug", SLUGS)
def test_no_text_of_any_reply_is_an_answer_in_any_rounding(slug: str, view: str) -> None:
    door = kept_door(slug, view)
    looked_at = 0
    for text in drags(door, slug + view):
        reply = json.loads(text)
        if not reply["ok"]:
            continue
        sketch = door.session.shown_sketch
        answers, known = in_any_unit(answers_of(sketch)), in_any_unit(open_values(sketch))
        for said in set(words(reply)):
            plain = said.replace("\u2009", "").replace("\u00a0", " ").replace(",", ".")
            plain, _, caught = plain.partition(" · ")
            plain = plain if caught in CAUGHT else f"{plain} {caught}".strip()
            # No answer is a length; a hand is caught every 15°.
            for token in () if plain.endswith(" m") or plain in CAUGHT else NUMBER.findall(plain):
                looked_at += 1
                if figures(token) >= 3 and not any(rounds_to(value, token) for value in known):
                    assert not any(rounds_to(value, token) for value in answers), (said, token)
    assert looked_at > 100


def answers_beyond(sketch: Sketch, found: set[str]) -> list[float]:
    """What a reader has not found who found these parts: each is a force's id, with ".x" or ".y" for a component."""
    values: list[float] = []
    for reading in analyse(sketch).readings:
        force = reading.force
        parts = [f"{force.id}.x", f"{force.id}.y"] if force.sought == "size and direction" else [force.id]
        if force.role != "unknown" or found.issuperset(parts):
            continue
        values += [value for value in (reading.size_n, reading.couple_n_m, reading.turning.torque_n_m) if value]
        values += [
            value for part, value in zip(parts, reading.vector or (), strict=False) if part not in found and value
        ]
        if len(parts) == 2 and reading.direction_deg is not None:
            values.append(reading.direction_deg)
    return values


@pytest.mark.parametrize("slug", SLUGS)
def test_a_revealed_step_gives_away_what_it_found_and_nothing_else(slug: str) -> None:
    door = kept_door(slug, "extended", side="working")
    sketch = door.session.shown_sketch
    everything = in_any_unit(answers_of(sketch))
    revealed, found = 0, set[str]()
    while True:
        reply = ask(door, "show", revealed=revealed)
        working = reply["panels"]["reasoning"]["working"]
        assert len(working["steps"]) == revealed
        for step in working["steps"]:
            if any(line["kind"] == "value" for line in step["lines"]):
                found.update(step["finds"])
        found.update([_of_the_pair(part) for part in found])
        if revealed == working["total"]:
            break
        hidden = in_any_unit(answers_beyond(sketch, found))
        known = in_any_unit(open_values(sketch, found))
        known += [value for value in everything if value not in hidden]
        for said in words({name: reply["panels"][name] for name in ("table", "fields", "spoken", "verdict")}):
            assert_nothing_of(hidden, known, said)
        for said in (*words(reply["picture"]), *words(reply["strips"])):
            assert_nothing_of(hidden, known, said)
        values = [line["text"] for step in working["steps"] for line in step["lines"] if line["kind"] == "value"]
        for said in values:
            assert_nothing_of(hidden, known, said)
        revealed += 1
    analysis = analyse(sketch)
    if analysis.supports.kind == "determinate":
        assert not answers_beyond(sketch, found)  # by the end everything has been found


def _of_the_pair(part: str) -> str:
    """The same part of the third-law partner: who has found the one has found the other."""
    force, dot, component = part.partition(".")
    other = force.removesuffix("-back") if force.endswith("-back") else f"{force}-back"
    return f"{other}{dot}{component}"


def assert_nothing_of(hidden: list[float], known: list[float], said: str) -> None:
    plain = said.replace("\u2009", "").replace("\u00a0", " ").replace(",", ".")
    for token in () if plain.endswith(" m") or plain in CAUGHT else NUMBER.findall(plain):
        if figures(token) >= 3 and not any(rounds_to(value, token) for value in known):
            assert not any(rounds_to(value, token) for value in hidden), (said, token)


@pytest.mark.parametrize("slug", ["gangway", "channel-post", "propped-flap"])
def test_while_something_is_dragged_no_step_beyond_the_revealed_ones_is_sent(slug: str) -> None:
    door = kept_door(slug, "extended", side="working", revealed=2)
    seen = 0
    for text in drags(door, slug):
        reply = json.loads(text)
        if reply["ok"] and reply["panels"]["reasoning"]:
            assert len(reply["panels"]["reasoning"]["working"]["steps"]) <= 2
            seen += 1
    assert seen > 10
