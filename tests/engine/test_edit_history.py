"""Undo and redo: patches are exact, steps are undone in any number, damaged journals are refused."""

import itertools
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard import document
from steelyard.edit.history import History, diff, patch, replay
from steelyard.errors import SteelyardError
from strategies import sketches

JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 9) | st.floats(-9, 9) | st.text("ab", max_size=3),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from("abcd"), inner, max_size=4),
    max_leaves=20,
)


def exact(data):
    """Equality that tells 1 from 1.0 and true."""
    return json.dumps(data, sort_keys=True)


@given(JSON, JSON)
def test_patch_of_a_difference_gives_the_other_one(before, after):
    kept = exact(before)
    assert exact(patch(before, diff(before, after))) == exact(after)
    assert exact(before) == kept


@given(JSON)
def test_nothing_differs_from_itself(data):
    assert diff(data, json.loads(json.dumps(data))) == []


@settings(max_examples=100, deadline=None)
@given(st.lists(sketches(), min_size=2, max_size=5))
def test_undo_after_do_is_the_identity_for_any_steps(steps):
    states = [document.to_data(sketch) for sketch in steps]
    history = History()
    pushed = [history.push(f"step {index}", old, new) for index, (old, new) in enumerate(itertools.pairwise(states))]
    data = states[-1]
    for entry, old in zip(reversed(pushed), reversed(states[:-1]), strict=True):
        if entry is not None:
            data = history.undo(data)
        assert data == old
    assert history.undo_label == ""
    for entry, new in zip(pushed, states[1:], strict=True):
        if entry is not None:
            data = history.redo(data)
        assert data == new
    assert document.from_data(data) == steps[-1]
    journal = json.loads(json.dumps([entry.as_data() for entry in history.entries]))
    again, read = replay(states[0], journal, len(journal))
    assert again == states[-1]
    assert read.entries == history.entries


def test_step_that_changes_nothing_is_not_recorded():
    history = History()
    assert history.push("nothing", {"a": 1}, {"a": 1}) is None
    assert history.undo_label == ""


def test_new_step_forgets_what_was_undone():
    history = History()
    history.push("first", {"a": 1}, {"a": 2})
    history.push("second", {"a": 2}, {"a": 3})
    assert history.undo({"a": 3}) == {"a": 2}
    assert (history.undo_label, history.redo_label) == ("first", "second")
    history.push("third", {"a": 2}, {"a": 9})
    assert history.redo_label == ""


def test_entry_is_small_for_a_small_change():
    before = document.to_data(SKETCH)
    after = json.loads(json.dumps(before))
    after["loads"][0]["mass_kg"] = 90.0
    assert diff(before, after) == [["set", ["loads", 0, "mass_kg"], 90.0]]


def test_adding_one_thing_does_not_repeat_the_others():
    assert diff({"loads": [1, 2, 3]}, {"loads": [1, 2, 7, 3]}) == [["splice", ["loads"], 2, 0, [7]]]
    assert diff({"loads": [1, 2, 3]}, {"loads": [1, 3]}) == [["splice", ["loads"], 1, 1, []]]


def test_nothing_to_undo_or_redo_is_said():
    with pytest.raises(SteelyardError, match="nothing to undo"):
        History().undo({})
    with pytest.raises(SteelyardError, match="nothing to redo"):
        History().redo({})


@settings(max_examples=200, deadline=None)
@given(
    JSON,
    st.lists(JSON | st.lists(st.sampled_from(["set", "drop", "splice", "loads", 0, 5, [], ["loads"]]), max_size=5)),
)
def test_damaged_patch_is_refused_and_never_crashes(data, operations):
    try:
        patch(data, operations)
    except SteelyardError as problem:
        assert problem.code == "history.patch"


@pytest.mark.parametrize(
    ("entries", "done"),
    [
        (None, 0),
        ([{}], 0),
        ([{"label": 1, "forward": [], "backward": []}], 0),
        ([], 1),
        ([], -1),
        ([], True),
        ([], "0"),
    ],
)
def test_damaged_journal_is_refused(entries, done):
    with pytest.raises(SteelyardError, match="damaged"):
        replay({}, entries, done)


SKETCH = document.from_data(
    {
        "format": "steelyard-sketch",
        "version": 1,
        "title": "one",
        "bodies": [{"id": "bar", "kind": "bar", "name": "bar", "origin_m": [0, 0], "angle_deg": 0, "length_m": 4}],
        "loads": [
            {"id": "crate", "kind": "thing", "body": "bar", "place_m": [1, 0], "symbol": "P", "name": "", "mass_kg": 80}
        ],
    }
)
