"""The third-law partner: same type and size, agent and object swapped, the other way, and never on the first body."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from picture_cases import picture
from sketch_bank import BANK
from steelyard import document, shelf
from steelyard.bridge import Door
from steelyard.model import Sketch
from steelyard.panels.partner import partner
from steelyard.picture import partner as pictures
from steelyard.statics import analyse
from steelyard.statics.kept import kept_back
from steelyard.statics.reading import Analysis, ForceReading

SLUGS = [each.slug for each in shelf.listing()]


def ask(door: Door, do: str, **arguments: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(door.handle(json.dumps({"seq": 1, "do": do, **arguments})))
    return reply


def records(sketch: Sketch, analysis: Analysis, reading: ForceReading) -> list[dict[str, Any]]:
    found = partner(sketch, analysis, reading.force.id)
    assert found is not None
    return found["picture"]["records"]  # type: ignore[index,no-any-return]


def arrow_tips(drawn: list[dict[str, Any]]) -> list[np.ndarray]:
    """From tail to head of each straight arrow of a picture, on the paper (y up)."""
    found = []
    for record in drawn:
        if record["role"].startswith("arrow-") and "A" not in record["attrs"]["d"]:
            points = [
                np.array([float(part) for part in each.split()]) for each in record["attrs"]["d"].strip("MZ").split("L")
            ]
            tail, head = (points[0] + points[6]) / 2.0, points[3]
            found.append(np.array([1.0, -1.0]) * (head - tail))
    return found


def told(reading: ForceReading) -> np.ndarray | None:
    """Which way a force points as far as it may be told: its own vector, else its known line."""
    force = reading.force
    if reading.vector is not None:
        return np.array(reading.vector) if math.hypot(*reading.vector) > 0.0 else None
    if force.along is None or force.sought == "size and direction":
        return None
    return np.array(force.along)


CASES = {slug: shelf.load(slug) for slug in SLUGS} | {f"bank {name}": BANK[name] for name in list(BANK)[::3]}


@pytest.mark.parametrize("name", CASES)
def test_the_arrow_points_the_other_way_on_the_other_body(name: str) -> None:
    sketch = CASES[name]
    whole = analyse(sketch)
    for analysis in (whole, kept_back(whole)):
        for reading in analysis.readings:
            drawn = records(sketch, analysis, reading)
            force = reading.force
            tips = arrow_tips(drawn)
            way = told(reading)
            if force.along is None:
                assert len([each for each in drawn if each["role"].startswith("arrow-")]) == 1
                continue
            if way is not None:
                assert len(tips) == 1
                turn = float(tips[0][0] * way[1] - tips[0][1] * way[0]) / np.linalg.norm(tips[0]) / np.linalg.norm(way)
                assert abs(turn) < 2e-2 and tips[0] @ way < 0.0, force.id
            elif reading.vector is None:
                # Direction unknown: the two assumed components, each turned round.
                assert len(tips) == 2
                for tip, sense in zip(tips, np.diag(force.along), strict=True):
                    assert tip @ sense < 0.0
            # Nothing of the first body is in it, and every record is the partner's own.
            assert {each.get("of", "") for each in drawn} == {f"partner-{force.id}", *others(drawn)}


def others(drawn: list[dict[str, Any]]) -> set[str]:
    return {each["of"] for each in drawn if each.get("of", "").endswith("-body")}


@pytest.mark.parametrize("name", CASES)
def test_it_is_named_by_the_first_body_on_the_second_with_the_same_size(name: str) -> None:
    sketch = CASES[name]
    analysis = analyse(sketch)
    for reading in analysis.readings:
        found = partner(sketch, analysis, reading.force.id)
        assert found is not None
        force = reading.force
        said = str(found["name"])
        kind = "couple" if force.along is None else "force"
        assert said.startswith(f"{kind} by {force.on} on {force.by or '?'}")
        assert said.endswith("the other way")
        size = reading.couple_n_m if force.along is None else reading.size_n
        value = pictures.value_words(sketch, reading)
        assert (value in said) if value else size is None
        if size is not None:
            shown = float(
                "".join(
                    letter
                    for letter in value.replace("\u2009", "").replace(",", ".")
                    if letter.isdigit() or letter == "."
                )
            )
            factor = 1000.0 if "k" in value else 1e6 if "M" in value else 1.0
            assert shown * factor == pytest.approx(
                abs(size), rel=0.5 * 10.0 ** (1 - sketch.settings.significant_figures) + 1e-9, abs=1e-9
            )
        assert f"never belongs in the picture of the {force.on}" in str(found["sentence"])
        if force.type == "gravity":
            assert found["title"] == "Earth" and "gravity" in said
            assert any(
                each["tag"] == "circle" and each.get("name") == "Earth" for each in records(sketch, analysis, reading)
            )


@pytest.mark.parametrize("slug", SLUGS)
def test_kept_back_answers_are_not_in_it(slug: str) -> None:
    sketch = replace(shelf.load(slug), answers="kept")
    whole = analyse(sketch)
    kept = kept_back(whole)
    for reading in kept.readings:
        if reading.force.role != "unknown":
            continue
        found = partner(sketch, kept, reading.force.id)
        said = json.dumps(found["picture"]["records"], ensure_ascii=False) + str(found["name"])  # type: ignore[index]
        answer = pictures.value_words(sketch, whole.reading(reading.force.id))
        assert not answer or answer not in said


def test_the_door_shows_it_on_request_and_the_board_never_does() -> None:
    door = Door()
    ask(door, "show", width_px=863, height_px=522, strips_px=863)
    opened = ask(door, "open", document=document.write(shelf.load("gangway")))
    assert opened["panels"]["partner"] is None
    shown = ask(door, "show", selected="hoist", partner="hoist")
    card = shown["panels"]["partner"]
    assert card["of"] == "hoist" and card["title"] == "hoist"
    buttons = [
        item for group in shown["panels"]["fields"]["groups"] for item in group["items"] if item["kind"] == "show"
    ]
    assert [item["show"] for item in buttons] == [{"partner": "hoist"}]
    assert buttons[0]["label"] == "Its partner on the hoist"
    # It follows the hand, and does not know the answer that is kept back.
    x, y = next(t["points_px"][0] for t in shown["picture"]["targets"] if (t["of"], t["grip"]) == ("hoist", "anchor"))
    ask(door, "begin", of="hoist", grip="anchor", point_px=[x, y])
    moved = ask(door, "preview", point_px=[x + 150, y + 60], snap=False, catch_px=8)["panels"]["partner"]
    assert moved["picture"] != card["picture"]
    ask(door, "cancel")
    board = picture(shelf.load("gangway"))
    assert not [record for record in board.records if record.of.startswith("partner-")]
    # It goes with its force, and with the sketch.
    gone = ask(door, "command", name="delete", args={"id": "hoist"})
    assert gone["panels"]["partner"] is None
    assert ask(door, "scenario", slug="plank")["panels"]["partner"] is None
    assert ask(door, "show", partner=None)["panels"]["partner"] is None


@pytest.mark.parametrize("name", CASES)
def test_everything_is_on_its_sheet(name: str) -> None:
    sketch = CASES[name]
    analysis = analyse(sketch)
    for reading in analysis.readings:
        for tip in arrow_heads(records(sketch, analysis, reading)):
            assert 0.0 <= tip[0] <= pictures.WIDTH_PX and 0.0 <= tip[1] <= pictures.HEIGHT_PX, reading.force.id


def arrow_heads(drawn: list[dict[str, Any]]) -> list[tuple[float, float]]:
    found = []
    for record in drawn:
        if record["role"].startswith("arrow-") and "A" not in record["attrs"]["d"]:
            for each in record["attrs"]["d"].strip("MZ").split("L"):
                x, y = (float(part) for part in each.split())
                found.append((x, y))
    return found
