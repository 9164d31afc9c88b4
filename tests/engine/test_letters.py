"""Sizes known as letters only: the senses that hold whatever the sizes, in the readings, strips and arrows.

Each sense is tried with sizes drawn at random and the unknowns solved for by numpy.
"""

import json
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from sketch_bank import BANK
from steelyard import shelf, statics
from steelyard.bridge import Door
from steelyard.model import Body, Force, Sketch, Support
from steelyard.picture import board, frame, strips
from steelyard.statics.kept import kept_back
from strategies import sketches
from working_cases import Matrix

RANDOM = np.random.default_rng(8)


def lettered(sketch):
    """The sketch with every size of a force a letter."""
    body = replace(sketch.bodies[0], mass_kg=None, weight_n=None, weight_symbol_only=True)
    loads = tuple(
        replace(load, size_n=None) if isinstance(load, Force) and load.role == "known" else load
        for load in sketch.loads
    )
    return replace(sketch, bodies=(body,), loads=loads)


def senses_of(reading):
    """The senses said, by part."""
    if reading.force.sought == "size and direction":
        return {f"{reading.force.id}.x": reading.senses[0], f"{reading.force.id}.y": reading.senses[1]}
    return {reading.force.id: reading.senses[0]}


def check_senses(sketch) -> int:
    analysis = statics.analyse(sketch)
    matrix = Matrix(analysis)
    said = {key: sign for each in analysis.readings if each.force.role == "unknown"
            for key, sign in senses_of(each).items() if sign}  # fmt: skip
    if analysis.supports.kind != "determinate":
        return 0
    for _ in range(25):
        sizes = [float(RANDOM.lognormal(0.0, 2.0)) if size is None else size for size in matrix.known_sizes]
        found, left_over = matrix.solve(sizes)
        top = max([1e-9, *map(abs, sizes), *map(abs, found.values())])
        acting = zip(found.values(), matrix.one_way, strict=True)
        if left_over > 1e-9 * top or any(value < -1e-9 * top for value, one_way in acting if one_way):
            continue
        for key, sign in said.items():
            assert found[key] * sign >= -1e-8 * top, (key, sign, found, sizes)
    return len(said)


@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
@given(sketches())
def test_senses_hold_whatever_the_sizes(sketch):
    check_senses(lettered(sketch))


def test_most_held_sketches_of_the_bank_have_a_certain_sense():
    assert sum(check_senses(lettered(sketch)) > 0 for sketch in BANK.values()) >= 20


def rows(sketch, width=900.0):
    picture = strips.draw(sketch, statics.analyse(sketch), width, strips.settle(None, width, None))
    return {record.id: record for record in picture.records}


def words(record):
    return "".join(run.text for run in record.runs)


def test_the_jib_shows_certain_senses_and_equal_blocks_not_to_scale():
    sketch = replace(shelf.load("jib"), answers="shown")
    analysis = statics.analyse(sketch)
    heel = analysis.reading("heel")
    assert heel.senses == (1, 1) and heel.vector is None
    records = rows(sketch)
    assert [words(records[f"total.{row}"]) for row in ("x", "y", "turn")] == ["certain", "certain", "depends on sizes"]
    assert words(records["scale"]) == "not to scale"
    # R lies to the right and up only; the rope's side is certain by itself.
    assert "heel.open-xp" in records and "heel.open-xn" not in records
    assert "heel.open-yp" in records and "heel.open-yn" not in records
    widths = set()
    for force in ("jib-weight", "fish-box"):
        path = dict(records[force].attrs)["d"]
        first = path.removeprefix("M").split("H")
        widths.add(round(float(first[1].split("V")[0]) - float(first[0].split(" ")[0]), 1))
    assert len(widths) == 1


def test_kept_back_a_certain_sense_is_kept_too_until_its_step_is_revealed():
    analysis = statics.analyse(shelf.load("jib"))
    assert kept_back(analysis).reading("heel").senses == (0, 0)
    assert kept_back(analysis, frozenset({"heel.x"})).reading("heel").senses == (1, 0)
    kept = rows(shelf.load("jib"))
    assert "total.x" not in kept


def test_a_sense_that_hangs_on_sizes_says_so_and_arrows_show_the_certain_ones():
    """A plank on a bolt and a trestle: weight inside, load outside. By hand: the bolt's upright part can be either."""
    plank = Body("plank", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0, weight_symbol_only=True)
    held = (
        Support("bolt", "pin", "plank", (0.0, 0.0), "R", drawn_deg=225.0),
        Support("trestle", "contact", "plank", (2.6, 0.0), "C"),
    )
    load = Force("load", "plank", (4.0, 0.0), "P")
    sketch = Sketch(bodies=(plank,), supports=held, loads=(load,))
    analysis = statics.analyse(sketch)
    assert analysis.reading("bolt").senses[1] == 0
    assert words(rows(sketch)["total.y"]) == "depends on sizes"
    # Without the load outside, the bolt must push up, though it was drawn down: the arrow shows the certain sense.
    light = replace(sketch, loads=())
    assert statics.analyse(light).reading("bolt").senses[1] == -1
    sheet = frame.fit(light, statics.analyse(light), 900.0, 500.0)
    records = {each.id: each for each in board.draw(light, statics.analyse(light), sheet, "extended").records}
    numbers = dict(records["bolt.y"].attrs)["d"]
    tail, head = (float(part.split(" ")[1].split("L")[0]) for part in numbers.removeprefix("M").split("L")[:2])
    assert head < tail


@pytest.mark.parametrize(
    "name",
    [
        name
        for name, sketch in BANK.items()
        if not any(isinstance(load, Force) and load.size_n is None for load in sketch.loads)
        and not sketch.bodies[0].weight_symbol_only
    ],
)
def test_with_numbers_nothing_is_said_about_sizes(name):
    assert all(reading.senses == (0, 0) for reading in statics.analyse(BANK[name]).readings)


def test_a_sketch_drawn_from_nothing_with_letters_only_is_answered_in_symbols_through_the_door():
    """A bar, a pin and a rope placed by commands; no mass, no size typed; the load a letter."""
    door, seq = Door(), 0

    def ask(do, **args):
        nonlocal seq
        seq += 1
        reply = json.loads(door.handle(json.dumps({"seq": seq, "do": do, **args})))
        assert reply["ok"], reply
        return reply

    ask("new")
    for tool, at, to in (
        ("bar", [0.0, 0.0], [4.0, 0.0]),
        ("pin", [0.0, 0.0], None),
        ("rope", [4.0, 0.0], [0.0, 3.0]),
        ("force", [2.0, 0.0], [2.0, -1.0]),
    ):
        made = ask("command", name="add", args={"tool": tool, "at": at, **({"to": to} if to else {})})["created"]
    ask("command", name="set", args={"id": made, "key": "size", "text": ""})
    size = {"width_px": 900, "height_px": 480, "strips_px": 900}
    reply = ask("show", view="extended", side="working", revealed=99, numbers=True, **size)
    steps = reply["panels"]["reasoning"]["working"]["steps"]
    remarks = ["".join(run["text"] for run in runs) for step in steps for runs in step["remarks"]]
    pin, rope = (entry["symbol"] for entry in reply["panels"]["outline"] if entry["kind"] in ("pin", "rope"))
    # By hand: the rope opposes the load about the pin; only the rope has a part along x; the pin takes the rest.
    assert any(text.startswith(f"Whatever the sizes, {rope} must act up and to the left") for text in remarks)
    assert any(text.startswith(f"Whatever the sizes, {pin}x must act to the right") for text in remarks)
    assert remarks[-2].endswith(f"{pin}x acts to the right; {pin}y acts up.")
    shown = [line["text"] for step in steps for line in step["lines"]]
    assert shown and not any(character.isdigit() and character != "0" for text in shown for character in text)
