"""Documents: a round trip loses nothing; whatever is wrong is named with its path, what was got and what to do."""

import copy
import json
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard import document
from steelyard.errors import SteelyardError
from steelyard.model import Sketch
from strategies import sketches

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = json.loads((ROOT / "engine/steelyard/steelyard.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)

GANGWAY = {
    "format": "steelyard-sketch",
    "version": 1,
    "title": "Gangway",
    "settings": {"g_m_s2": 9.80665},
    "bodies": [
        {"id": "bar", "kind": "bar", "name": "bar", "origin_m": [0, 0], "angle_deg": -12, "length_m": 6, "mass_kg": 120}
    ],
    "points": [{"id": "point", "name": "A", "place_m": [0, 0], "body": "bar"}],
    "supports": [
        {"id": "hinge", "kind": "pin", "body": "bar", "place_m": [0, 0], "symbol": "R"},
        {"id": "hoist", "kind": "rope", "body": "bar", "place_m": [5.2, 0], "symbol": "T", "anchor_m": [1.2, 3.2]},
    ],
    "loads": [
        {"id": "walker", "kind": "thing", "body": "bar", "place_m": [4, 0], "symbol": "P", "name": "x", "mass_kg": 80},
        {"id": "force", "kind": "force", "body": "bar", "place_m": [3, 0], "symbol": "F", "size_n": 10},
        {"id": "couple", "kind": "couple", "body": "bar", "place_m": [3, 0], "symbol": "M", "role": "unknown"},
    ],
    "pivot": {"place_m": [0, 0], "tied_to": "hinge"},
    "pinned": ["bar-weight", "hoist"],
}
PLATE = {"id": "plate", "kind": "plate", "name": "p", "origin_m": [0, 0], "angle_deg": 0}


def changed(path: str, value: object) -> dict:
    """The gangway with one value put in, by a path such as "loads.2.size_n"; `...` takes the key out."""
    data = copy.deepcopy(GANGWAY)
    held = data
    *way, last = (int(part) if part.isdigit() else part for part in path.split("."))
    for part in way:
        held = held[part]
    if value is ...:
        del held[last]
    else:
        held[last] = value
    return data


def complaint(data: object) -> SteelyardError:
    with pytest.raises(SteelyardError) as caught:
        document.from_data(data)
    return caught.value


def text_complaint(text: str) -> SteelyardError:
    with pytest.raises(SteelyardError) as caught:
        document.read(text)
    return caught.value


@settings(max_examples=300, deadline=None)
@given(sketches())
def test_any_sound_sketch_survives_writing_and_reading(sketch):
    document.check(sketch)
    assert document.from_data(document.to_data(sketch)) == sketch
    assert document.read(document.write(sketch)) == sketch
    VALIDATOR.validate(document.to_data(sketch))


def test_blank_sketch_writes_its_g_and_nothing_else_that_is_usual():
    assert document.to_data(Sketch()) == {
        "format": "steelyard-sketch",
        "version": 1,
        "title": "Untitled sketch",
        "settings": {"g_m_s2": 9.81},
    }


def test_digits_typed_are_the_digits_stored():
    text = document.write(document.from_data(changed("supports.1.place_m", [5.2, 0])))
    assert "[5.2, 0.0]" in text
    assert "9.80665" in text


def test_points_stand_on_one_line():
    assert '"anchor_m": [1.2, 3.2]' in document.write(document.from_data(GANGWAY))


@pytest.mark.parametrize(
    ("path", "value", "where", "words"),
    [
        ("loads.1.size_n", "12O0", "loads[1].size_n", '`loads[1].size_n` must be a number: got "12O0".'),
        ("loads.1.size_n", True, "loads[1].size_n", "must be a number: got true."),
        ("loads.1.size_n", float("nan"), "loads[1].size_n", "must be finite: got nan."),
        ("loads.1.size_n", 1e300, "loads[1].size_n", "must be at most 1e12 in size: got 1e+300."),
        ("loads.1.size_n", 10**400, "loads[1].size_n", "must be at most 1e12 in size"),
        ("loads.1.size_n", -5, "loads[1].size_n", "must be at least 0: got -5."),
        (
            "loads.2",
            {**GANGWAY["loads"][2], "role": "known", "couple_n_m": -5},
            "loads[2].couple_n_m",
            "at least 0: got -5.",
        ),
        ("loads.1.type", "pul", "loads[1].type", "must be one of"),
        ("loads.1.sought", "couple", "loads[1].sought", "must be one of"),
        ("loads.1.kind", "push", "loads[1].kind", 'must be one of "force", "couple", "thing", "spread": got "push".'),
        ("loads.1.kind", ..., "loads[1].kind", "`loads[1].kind` is missing"),
        ("loads.2.couple_n_m", 5, "loads[2].couple_n_m", "must be left out of an unknown"),
        ("loads.1.guess", {"size_n": 1}, "loads[1].guess", "is only for an unknown"),
        ("loads.1.place_m", [7, 0], "loads[1].place_m", "must be on the bar, [0 to 6, 0]: got [7, 0]."),
        ("loads.1.place_m", [3, 0.5], "loads[1].place_m", "must be on the bar"),
        ("loads.1.place_m", [3], "loads[1].place_m", "must be a point [x, y]: got 1 entries."),
        ("loads.1.place_m", "middle", "loads[1].place_m", 'must be a point [x, y]: got "middle".'),
        ("loads.1.body", "boom", "loads[1].body", '`loads[1].body` must be the id of a body: got "boom".'),
        ("loads.1.id", "hoist", "loads[1].id", 'must be unique: got "hoist", which is also `supports[1].id`.'),
        ("loads.1.id", "Force", "loads[1].id", "must be an id of small letters"),
        ("loads.1.id", "f" * 33, "loads[1].id", "must be an id of small letters"),
        ("loads.1.id", "bar-weight", "loads[1].id", "must not be a reserved word"),
        ("loads.1.id", "pivot", "loads[1].id", "must not be a reserved word"),
        ("loads.1.symbol", "", "loads[1].symbol", "must be filled in"),
        ("loads.1.symbol", "F" * 13, "loads[1].symbol", "must be at most 12 characters: got 13."),
        ("loads.1.symbol", "F\n", "loads[1].symbol", "must be plain text on one line"),
        ("loads.1.symbol", "\ud800", "loads[1].symbol", "must be plain text on one line"),
        ("loads.1.direction", 90, "loads[1].direction", "`loads[1].direction` is not a field Steelyard knows."),
        ("supports.1.anchor_m", ..., "supports[1].anchor_m", "is missing: a rope needs its far end"),
        ("supports.0.anchor_m", [1, 1], "supports[0].anchor_m", "is only for a rope or strut: this is a pin."),
        ("supports.0.two_way", True, "supports[0].two_way", "is only for a roller"),
        ("supports.1.drawn_deg", 180, "supports[1].drawn_deg", "is only for a force whose sense can be either"),
        ("supports.0.couple_guess", {}, "supports[0].couple_guess", "is only for a fixed end"),
        ("bodies.0.length_m", 0, "bodies[0].length_m", "must be longer than 1 µm: got 0."),
        ("bodies.0.weight_n", 5, "bodies[0].weight_n", "cannot stand beside another weight or mass."),
        ("bodies.0.name", ..., "bodies[0].name", "`bodies[0].name` is missing: what it is called."),
        ("bodies.0.points_m", [[0, 0]], "bodies[0].points_m", "is only for a bent bar or plate."),
        ("bodies", {}, "bodies", "`bodies` must be a list: got an object."),
        ("settings.g_m_s2", 0, "settings.g_m_s2", "must be more than 0: got 0."),
        ("settings.significant_figures", 2.5, "settings.significant_figures", "must be a whole number: got 2.5."),
        ("settings.units", "feet", "settings.units", 'must be one of "si", "us": got "feet".'),
        ("pivot.tied_to", "boom", "pivot.tied_to", 'must be a support, named point or load: got "boom".'),
        ("pinned", ["bar"], "pinned[0]", '`pinned[0]` must be the id of a force: got "bar".'),
        ("pinned", ["hoist", "hoist"], "pinned[1]", "must be given once"),
        ("title", 5, "title", "`title` must be text: got 5."),
        ("version", 2, "version", "this sketch was made by a newer Steelyard than this one."),
        ("version", 0, "version", "`version` must be 1: got 0."),
        ("version", "1", "version", '`version` must be the whole number 1: got "1".'),
        ("format", "drawing", "format", '`format` must be "steelyard-sketch": got "drawing".'),
    ],
)
def test_complaint_names_the_place_and_what_was_got(path, value, where, words):
    problem = complaint(changed(path, value))
    assert problem.where == where
    assert words in problem.message


@pytest.mark.parametrize(
    ("path", "value"),
    [("loads.1.size_n", "1200"), ("loads.1.id", "Force"), ("bodies.0.length_m", 0), ("supports.1.anchor_m", ...)],
)
def test_complaint_says_what_to_do(path, value):
    assert complaint(changed(path, value)).hint


def test_mistyped_field_is_answered_with_the_nearest_known_one():
    assert complaint(changed("loads.1.sise_n", 5)).hint == "Did you mean `size_n`?"
    assert complaint(changed("suports", [])).hint == "Did you mean `supports`?"


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([[0, 0], [1, 0]], "must have three corners or more: got 2."),
        ([[0, 0], [1, 0], [2, 0]], "must"),
        ([[0, 0], [2, 2], [2, 0], [0, 2]], "must not cross itself: its edges 1 and 3 meet."),
        ([[0, 0], [1, 0], [1, 0], [0, 1]], "must differ from the corner before it."),
        ([[0, 0], [4, 0], [4, 2], [2, 0], [0, 2]], "must not cross itself"),
    ],
)
def test_plate_without_a_sound_outline_is_refused(points, words):
    data = {"format": "steelyard-sketch", "version": 1, "title": "", "bodies": [{**PLATE, "points_m": points}]}
    assert words in complaint(data).message


@pytest.mark.parametrize(
    ("hole", "words"),
    [
        ([[1, 1], [9, 1], [1, 2]], "must lie inside the plate."),
        ([[1, 1], [2, 2], [2, 1], [1, 2]], "must not cross itself"),
    ],
)
def test_hole_that_is_none_is_refused(hole, words):
    body = {**PLATE, "points_m": [[0, 0], [4, 0], [4, 4], [0, 4]], "holes_m": [hole]}
    problem = complaint({"format": "steelyard-sketch", "version": 1, "title": "", "bodies": [body]})
    assert problem.where == "bodies[0].holes_m[0]"
    assert words in problem.message


def test_nothing_is_held_in_a_hole():
    body = {**PLATE, "points_m": [[0, 0], [4, 0], [4, 4], [0, 4]], "holes_m": [[[1, 1], [3, 1], [3, 3], [1, 3]]]}
    data = {"format": "steelyard-sketch", "version": 1, "title": "", "bodies": [body]}
    support = {"id": "pin", "kind": "pin", "body": "plate", "symbol": "R"}
    document.from_data({**data, "supports": [{**support, "place_m": [1, 2]}]})
    assert "must be on the plate" in complaint({**data, "supports": [{**support, "place_m": [2, 2]}]}).message


def test_too_many_things_are_refused():
    point = {"name": "A", "place_m": [0, 0]}
    data = changed("points", [{**point, "id": f"p{number}"} for number in range(400)])
    assert "at most 400" in complaint(data).message


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "The document is not JSON: line 1, column 1"),
        ('{"format": "steelyard-sketch",\n  "version": 1,,', "The document is not JSON: line 2, column 16"),
        ("[" * 100_000, "nested too deeply"),
        ('{"format": NaN}', "must hold finite numbers only: got NaN."),
        ('{"format": -Infinity}', "must hold finite numbers only: got -Infinity."),
        ('{"title": "a", "title": "b"}', "`title` is given twice in one object."),
        ("[]", "The document must be an object: got a list of 0."),
        ("null", "The document must be an object: got null."),
        (" " * 1_000_001, "at most 1000000 characters"),
        ("9" * 5000, "The document must be an object"),
    ],
)
def test_text_that_is_no_document_is_refused_in_words(text, words):
    assert words in text_complaint(text).message


def test_document_may_begin_with_a_byte_order_mark():
    assert document.read("\ufeff" + json.dumps(GANGWAY)).title == "Gangway"


def test_packaged_schema_is_the_one_the_reader_is_made_from():
    assert document.schema() == SCHEMA
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


# What only the reader can see: whether things fit together.
BEYOND_THE_SCHEMA = {
    f"document.{code}"
    for code in [
        "duplicate-id",
        "dangling",
        "off-body",
        "reserved-id",
        "inconsistent",
        "self-crossing",
        "zero-length",
        "no-area",
        "too-few",
        "hole",
        "too-many",
    ]
}

JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**13), 10**13),
    st.floats(allow_nan=False, allow_infinity=False),
    # Python lets $ match before a last line break, which the regular expressions of JSON Schema do not.
    st.text(max_size=5).map(lambda text: text.rstrip("\n")),
    st.sampled_from(["bar", "hinge", "pin", "known", [], {}, [0, 0], [[0, 0], [1, 1]]]),
)


def places(value: object, path: tuple = ()) -> list[tuple]:
    """Every path into JSON data."""
    found = [path] if path else []
    if isinstance(value, dict):
        for key, entry in value.items():
            found += places(entry, (*path, key))
    elif isinstance(value, list):
        for index, entry in enumerate(value):
            found += places(entry, (*path, index))
    return found


@settings(max_examples=600, deadline=None)
@given(st.data())
def test_reader_and_schema_agree_on_damaged_documents(data):
    damaged = copy.deepcopy(GANGWAY)
    path = data.draw(st.sampled_from(places(damaged)))
    held = damaged
    for part in path[:-1]:
        held = held[part]
    way = data.draw(st.sampled_from(["replace", "delete", "add"]))
    if way == "delete":
        del held[path[-1]]
    elif way == "add" and isinstance(held, dict):
        held[data.draw(st.sampled_from(["mass_kg", "extra", "guess", "kind", "normal_deg"]))] = data.draw(JUNK)
    else:
        held[path[-1]] = data.draw(JUNK)
    try:
        sketch = document.from_data(damaged)
    except SteelyardError as problem:
        if problem.code not in BEYOND_THE_SCHEMA:
            assert not VALIDATOR.is_valid(damaged), problem.message
        assert problem.message.endswith(".")
    else:
        assert VALIDATOR.is_valid(damaged)
        assert document.from_data(document.to_data(sketch)) == sketch


@settings(max_examples=300, deadline=None)
@given(
    st.recursive(
        JUNK, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    )
)
def test_any_json_at_all_is_read_or_refused(data):
    for attempt in (data, {"format": "steelyard-sketch", "version": 1, "title": "", "bodies": data, "loads": data}):
        try:
            document.from_data(attempt)
        except SteelyardError:
            continue


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60))
def test_any_text_at_all_is_read_or_refused(text):
    try:
        document.read(text)
    except SteelyardError as problem:
        assert problem.code.startswith("document.")
