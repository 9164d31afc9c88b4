"""Commands: one undo step each; good text changes one thing, bad text changes nothing and says why."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steelyard import document, shelf
from steelyard.edit import commands, grips, naming
from steelyard.edit.context import Context
from steelyard.edit.gestures import Gesture
from steelyard.edit.given_hold import GivenHold
from steelyard.edit.given_placing import GIVEN_TOOLS, GivenPlacing
from steelyard.edit.history import History
from steelyard.edit.placing import TOOLS, Placing
from steelyard.errors import SteelyardError
from steelyard.model import Guess, Pivot, Sketch
from steelyard.panels.fields import fields
from steelyard.statics import analyse
from steelyard.units.table import UNITS
from strategies import sketches

GANGWAY = shelf.load("gangway")


def run(sketch, name, **args):
    return commands.apply(sketch, name, args).sketch


def put(sketch, entity, key, text):
    return run(sketch, "set", id=entity, key=key, text=text)


def complaint(sketch, name, **args):
    with pytest.raises(SteelyardError) as caught:
        commands.apply(sketch, name, args)
    return caught.value


def support(sketch, name):
    return next(one for one in sketch.supports if one.id == name)


def load(sketch, name):
    return next(one for one in sketch.loads if one.id == name)


# Fields


@pytest.mark.parametrize(
    ("entity", "key", "text", "read"),
    [
        ("gangway", "length", "7,5 m", lambda s: s.bodies[0].length_m == 7.5),
        ("gangway", "angle", "-10", lambda s: s.bodies[0].angle_deg == -10.0),
        ("gangway", "mass", "0.15 t", lambda s: s.bodies[0].mass_kg == 150.0),
        ("gangway", "mass", "", lambda s: s.bodies[0].mass_kg is None),
        ("gangway", "weight", "1 kN", lambda s: (s.bodies[0].weight_n, s.bodies[0].mass_kg) == (1000.0, None)),
        ("gangway", "weight_symbol_only", "true", lambda s: s.bodies[0].weight_symbol_only),
        ("gangway", "x", "1.5", lambda s: s.bodies[0].origin_m == (1.5, 0.0)),
        ("gangway", "name", " brow ", lambda s: s.bodies[0].name == "brow"),
        ("gangway", "centre_x", "2.5", lambda s: s.bodies[0].centre_m == (2.5, 0.0)),
        ("gangway-weight", "mass", "100", lambda s: s.bodies[0].mass_kg == 100.0),
        ("hoist", "at", "5", lambda s: support(s, "hoist").place_m == (5.0, 0.0)),
        ("hoist", "towards_x", "2", lambda s: support(s, "hoist").anchor_m == (2.0, 3.2)),
        ("hoist", "symbol", "U", lambda s: support(s, "hoist").symbol == "U"),
        ("hoist", "agent", "", lambda s: support(s, "hoist").agent == ""),
        ("hoist", "kind", "roller", lambda s: support(s, "hoist").anchor_m is None),
        ("hinge", "kind", "fixed", lambda s: support(s, "hinge").kind == "fixed"),
        ("hinge", "guess_size", "1490", lambda s: support(s, "hinge").guess == Guess(1490.0, 45.0)),
        ("walker", "mass", "90", lambda s: load(s, "walker").mass_kg == 90.0),
        ("walker", "at", "4 + 1", lambda s: load(s, "walker").place_m == (5.0, 0.0)),
        ("point-a", "name", "O", lambda s: s.points[0].name == "O"),
        ("pivot", "x", "1", lambda s: s.pivot == Pivot((1.0, 0.0), None)),
        ("pivot", "tied_to", "hoist", lambda s: s.pivot.tied_to == "hoist"),
        ("sketch", "title", "Brow", lambda s: s.title == "Brow"),
        ("settings", "significant_figures", "5", lambda s: s.settings.significant_figures == 5),
        ("settings", "g_m_s2", "32.2 ft/s²", lambda s: math.isclose(s.settings.g_m_s2, 9.81456)),
        ("settings", "units", "us", lambda s: s.settings.units == "us"),
        ("settings", "answers", "shown", lambda s: s.answers == "shown"),
    ],
)
def test_field_takes_what_is_typed(entity, key, text, read):
    assert read(put(GANGWAY, entity, key, text))


@pytest.mark.parametrize(
    ("entity", "key", "text", "words"),
    [
        ("gangway", "length", "0", "`gangway.length` must be more than zero"),
        ("gangway", "length", "long", "“long” is not a unit known here."),
        ("gangway", "mass", "-1", "must be zero or more"),
        ("gangway", "colour", "red", "is not a field of gangway."),
        ("gangway", "name", "", "must be filled in"),
        ("hoist", "at", "6.5", "must be on the bar, from 0 to 6\u00a0m"),
        ("hoist", "kind", "chain", "must be one of"),
        ("hoist", "symbol", "x" * 20, "at most 12 characters"),
        ("hoist", "two_way", "true", "is not a field of T."),
        ("hoist", "guess_angle", "20", "must lie on its line"),
        ("hoist", "as_answered", "true", "Answers are kept back."),
        ("settings", "significant_figures", "99", "must be one of 2, 3, 4"),
        ("settings", "g_m_s2", "0", "must be more than zero"),
        ("settings", "units", "feet", "must be one of si, us"),
        ("pivot", "tied_to", "moon", "must be one of"),
        ("nobody", "x", "1", 'There is nothing called "nobody"'),
    ],
)
def test_bad_text_changes_nothing_and_is_answered(entity, key, text, words):
    before = document.write(GANGWAY)
    assert words in complaint(GANGWAY, "set", id=entity, key=key, text=text).message
    assert document.write(GANGWAY) == before


def test_mass_typed_into_a_weight_is_said_to_have_become_a_force():
    change = commands.apply(GANGWAY, "set", {"id": "gangway", "key": "weight", "text": "120 kg"})
    assert change.sketch.bodies[0].weight_n == 1176.798
    assert "weighs" in change.note


def test_shortening_a_bar_brings_what_hung_beyond_its_end_to_the_end():
    shorter = put(GANGWAY, "gangway", "length", "5")
    assert support(shorter, "hoist").place_m == (5.0, 0.0)
    assert load(shorter, "walker").place_m == (4.0, 0.0)


def test_end_of_a_bar_typed_keeps_its_start():
    moved = put(put(GANGWAY, "gangway", "end_x", "3"), "gangway", "end_y", "4")
    assert (moved.bodies[0].origin_m, moved.bodies[0].length_m) == ((0.0, 0.0), 5.0)


def forced(**changes):
    sketch = run(GANGWAY, "add", tool="force")
    for key, text in changes.items():
        sketch = put(sketch, "force", key, text)
    return load(sketch, "force")


def test_parts_of_a_known_force_set_its_size_and_direction():
    force = forced(size="100", angle="0", fy="100")
    assert (force.size_n, force.direction_deg) == (pytest.approx(141.4213562), 45.0)


def test_negative_size_turns_the_arrow_round():
    force = forced(angle="30", size="-50")
    assert (force.size_n, force.direction_deg) == (50.0, 210.0)


def test_emptied_size_leaves_a_letter():
    assert forced(size="").size_n is None


def test_unknown_made_known_takes_its_guess_along():
    force = forced(role="size", guess_size="70", angle="120")
    assert force.size_n is None and force.guess == Guess(70.0, 120.0)
    sketch = put(replace(GANGWAY, loads=(force,)), "force", "role", "known")
    assert (load(sketch, "force").size_n, load(sketch, "force").guess) == (70.0, None)


def test_guess_on_a_known_line_follows_the_line():
    sketch = put(GANGWAY, "hoist", "guess_size", "2000")
    sketch = put(sketch, "hoist", "towards_x", "5")
    angle = support(sketch, "hoist").guess.direction_deg
    along = analyse(sketch).reading("hoist").force.along
    assert math.degrees(math.atan2(along[1], along[0])) == pytest.approx(angle, abs=1e-9)


def test_unknown_is_drawn_the_way_its_answer_points():
    hatch = replace(shelf.load("hatch"), answers="shown")
    turned = put(hatch, "prop", "as_answered", "true")
    assert support(turned, "prop").drawn_deg == 180.0
    assert not analyse(turned).reading("prop").against_drawn
    plank = put(replace(shelf.load("plank"), answers="shown"), "bolt", "as_answered", "true")
    assert analyse(plank).reading("bolt").against_components == (False, False)


def test_negative_couple_turns_its_sense():
    sketch = put(run(GANGWAY, "add", tool="couple"), "couple", "size", "-40")
    assert (load(sketch, "couple").couple_n_m, load(sketch, "couple").counterclockwise) == (40.0, False)
    assert analyse(sketch).reading("couple").couple_n_m == -40.0


# Whole things


def test_deleting_a_body_takes_along_what_is_on_it_and_leaves_the_pivot_where_it_was():
    empty = run(run(GANGWAY, "pin", id="hoist", on=True), "delete", id="gangway")
    assert (empty.bodies, empty.supports, empty.loads, empty.points, empty.pinned) == ((), (), (), (), ())
    assert empty.pivot == Pivot((0.0, 0.0), None)


def test_deleting_what_the_pivot_is_tied_to_frees_it_in_place():
    tied = put(GANGWAY, "pivot", "tied_to", "hoist")
    assert run(tied, "delete", id="hoist").pivot.tied_to is None
    assert run(tied, "delete", id="hoist").pivot.place_m == tied.pivot.place_m


def test_deleting_the_pivot_puts_it_back_on_the_first_support():
    assert run(put(GANGWAY, "pivot", "x", "3"), "delete", id="pivot").pivot.tied_to == "hinge"


def test_deleting_a_weight_neglects_it():
    assert run(GANGWAY, "delete", id="gangway-weight").bodies[0].mass_kg is None


def test_first_support_takes_the_pivot_along_in_one_step():
    bar = run(Sketch(), "add", tool="bar")
    held = run(bar, "add", tool="pin")
    assert held.pivot == Pivot((0.0, 0.0), "pin")
    assert run(held, "add", tool="roller").pivot.tied_to == "pin"


def test_duplicate_of_a_body_carries_copies_of_all_that_is_on_it():
    twice = run(GANGWAY, "duplicate", id="gangway")
    assert len(twice.bodies) == 2 and len(twice.supports) == 4 and len(twice.loads) == 2
    assert analyse(twice, body_id=twice.bodies[1].id).supports.kind == "determinate"


def test_duplicate_of_a_thing_stands_beside_it_under_another_letter():
    change = commands.apply(GANGWAY, "duplicate", {"id": "walker"})
    copy = load(change.sketch, change.created)
    assert copy.place_m != (4.0, 0.0) and copy.symbol != "P" and copy.mass_kg == 80.0


def test_guess_starts_on_the_known_line_and_is_dropped_again():
    guessed = run(GANGWAY, "guess", id="hoist", on=True)
    assert support(guessed, "hoist").guess.size_n > 0.0
    assert run(guessed, "guess", id="hoist", on=False) == GANGWAY


def test_pinning_twice_pins_once():
    twice = run(run(GANGWAY, "pin", id="hoist", on=True), "pin", id="hoist", on=True)
    assert twice.pinned == ("hoist",)


def test_unknown_command_is_answered_with_the_nearest():
    assert complaint(GANGWAY, "delte", id="x").hint == 'Did you mean "delete"?'


def test_no_letter_proposed_alone_is_a_unit():
    letters = {letter for tried in naming.LETTERS.values() for letter in tried}
    assert not letters & (set(UNITS) | {"N", "J", "Pa", "W m"})


def test_letters_and_ids_proposed_are_never_in_use():
    sketch = run(Sketch(), "add", tool="bar")
    for _ in range(8):
        for tool in ("pin", "rope", "roller", "contact", "fixed", "force", "couple", "thing"):
            sketch = run(sketch, "add", tool=tool)
    symbols = [one.symbol for one in (*sketch.supports, *sketch.loads)]
    symbols += [one.couple_symbol for one in sketch.supports if one.kind == "fixed"]
    assert len(set(symbols)) == len(symbols)


# A hole needs an area, a spread load and a face a straight piece.
CANNOT = {("bar", "hole"), ("bent-bar", "hole"), ("disc", "spread"), ("disc", "face")}


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("body", ["bar", "bent-bar", "plate", "disc"])
def test_every_tool_places_its_thing_without_a_pointer(tool, body):
    sketch = run(Sketch(), "add", tool=body)
    if (body, tool) in CANNOT:
        assert complaint(sketch, "add", tool=tool, selected=body).hint
        return
    change = commands.apply(sketch, "add", {"tool": tool, "selected": body})
    assert change.created is not None
    assert document.read(document.write(change.sketch)) == change.sketch


def test_tool_that_needs_a_body_says_so_on_a_blank_sheet():
    problem = complaint(Sketch(), "add", tool="pin")
    assert problem.hint == "Draw a bar first."


@pytest.mark.parametrize("slug", [entry.slug for entry in shelf.listing()])
def test_every_field_the_page_shows_can_be_set_to_what_it_shows(slug):
    sketch = replace(shelf.load(slug), answers="shown")
    analysis = analyse(sketch)
    named = [one.id for one in (*sketch.bodies, *sketch.supports, *sketch.loads, *sketch.points, *sketch.givens)]
    for of in [*named, "pivot", *(reading.force.id for reading in analysis.readings)]:
        shown = fields(sketch, analysis, of)
        assert shown is not None
        for item in (item for group in shown["groups"] for item in group["items"]):
            if item["kind"] == "action":
                commands.apply(sketch, item["command"], item["args"])
            elif item["kind"] not in ("answer", "show", "meter"):
                commands.apply(sketch, "set", {"id": shown["of"], "key": item["key"], "text": item["text"]})


# Any sequence of commands

TEXTS = st.one_of(
    st.sampled_from(["", "1", "-2.5", "80 kg", "3 m", "30°", "true", "false", "known", "size", "size and direction"]),
    st.sampled_from(
        ["couple", "roller", "rope", "fixed", "strut", "contact", "pin", "us", "above", "kept", "1e12", "A"]
    ),
    st.text(max_size=6),
)
KEYS = st.sampled_from(
    [
        "x",
        "y",
        "end_x",
        "length",
        "angle",
        "mass",
        "weight",
        "name",
        "weight_symbol",
        "weight_symbol_only",
        "centre_x",
        "centre_y",
        "thickness",
        "corner1_x",
        "at",
        "at_x",
        "at_y",
        "towards_x",
        "towards_y",
        "normal",
        "two_way",
        "symbol",
        "agent",
        "kind",
        "couple_symbol",
        "size",
        "fx",
        "fy",
        "role",
        "type",
        "one_way",
        "head_at_point",
        "counterclockwise",
        "guess",
        "guess_size",
        "guess_angle",
        "guess_couple",
        "as_answered",
        "tied_to",
        "title",
        "units",
        "g_m_s2",
        "seen_from",
        "acts",
        "end_intensity",
        "end_x",
        "end_y",
        "from",
        "intensity",
        "offset",
        "shape",
        "slope",
        "spread_symbol",
        "start_intensity",
        "start_x",
        "to",
        "turned_round",
        "value",
    ]
)
POINTS = st.tuples(st.floats(-12, 12), st.floats(-12, 12))
EVERY_TOOL = (*TOOLS, *GIVEN_TOOLS)
OTHERS = [name for name in commands.NAMES if name not in ("add", "set", "settings")]
GRIPS = (
    "body",
    "start",
    "end",
    "corner-0",
    "corner-2",
    "centre",
    "place",
    "tail",
    "head",
    "guess",
    "slide",
    "anchor",
    "normal",
    "start-height",
    "end-height",
    "offset",
)


def somebody(data, sketch):
    named = [one.id for one in (*sketch.bodies, *sketch.supports, *sketch.loads, *sketch.points, *sketch.givens)]
    extra = [f"{body.id}-weight" for body in sketch.bodies]
    extra += ["pivot", "second-pivot", "sketch", "settings", "nobody"]
    return data.draw(st.sampled_from(named + extra))


def grips_of(sketch, of):
    """The grips a hand finds on a thing."""
    if of in (given.id for given in sketch.givens):
        return ("offset",)
    return grips.names(sketch, of)


def any_step(data, sketch):
    """One random change, by command, gesture or tool; raises SteelyardError like the real thing."""
    way = data.draw(st.sampled_from(["set", "set", "add", "gesture", "gesture", "place", "other"]))
    board = data.draw(st.sampled_from([Context(), Context(1000.0, 0.08, 0.12, 0.1), Context(1e-3, 5.0, 8.0, 2.0)]))
    if way == "set":
        args = {"id": somebody(data, sketch), "key": data.draw(KEYS), "text": data.draw(TEXTS)}
        return commands.apply(sketch, "set", args).sketch
    if way == "add":
        return commands.apply(sketch, "add", {"tool": data.draw(st.sampled_from(EVERY_TOOL))}).sketch
    if way == "gesture":
        of = somebody(data, sketch)
        of_givens = [given.id for given in sketch.givens]
        grip = data.draw(st.sampled_from(grips_of(sketch, of) if data.draw(st.booleans()) else GRIPS))
        start = data.draw(POINTS)
        gesture = GivenHold(sketch, of, grip, start) if of in of_givens else Gesture(sketch, of, grip, start, board)
        for point in data.draw(st.lists(POINTS, min_size=1, max_size=3)):
            gesture.at(point, board)
        if data.draw(st.booleans()):
            gesture.nudge(data.draw(st.integers(-10, 10)), data.draw(st.integers(-10, 10)), board)
        assert isinstance(gesture.readout, str)
        return gesture.change().sketch
    if way == "place":
        tool = data.draw(st.sampled_from(EVERY_TOOL))
        placing = (GivenPlacing if tool in GIVEN_TOOLS else Placing)(sketch, tool, data.draw(POINTS), board)
        return placing.at(data.draw(POINTS), board).sketch
    name = data.draw(st.sampled_from(OTHERS))
    args = {"id": somebody(data, sketch), "answers": "kept", "title": "t", "by": data.draw(POINTS)}
    args |= {"at": data.draw(POINTS), "on": data.draw(st.booleans()), "closes": somebody(data, sketch)}
    args["ids"] = data.draw(st.permutations(sorted(document.acting_ids(sketch))))
    return commands.apply(sketch, name, args).sketch


@settings(max_examples=400, deadline=None)
@given(st.data())
def test_any_changes_leave_a_sound_sketch_that_can_be_written_read_and_undone(data):
    sketch = data.draw(st.sampled_from([Sketch(), GANGWAY]) | sketches())
    first = document.to_data(sketch)
    history = History()
    for _ in range(data.draw(st.integers(1, 8))):
        try:
            after = any_step(data, sketch)
        except SteelyardError as problem:
            assert problem.message
            continue
        text = document.write(after)
        assert document.read(text) == after
        history.push("step", document.to_data(sketch), document.to_data(after))
        sketch = after
    for body in sketch.bodies:
        analyse(sketch, body_id=body.id)
    undone = document.to_data(sketch)
    while history.undo_label:
        undone = history.undo(undone)
    assert undone == first


ARGS = st.dictionaries(
    st.sampled_from(
        ["id", "key", "text", "tool", "at", "to", "on", "by", "grip", "body", "answers", "width_m", "newtons_per_m"]
    ),
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(-5, 5),
        st.floats(),
        st.text(max_size=5),
        st.sampled_from(["gangway", "hinge", "bar", "pin", "head"]),
        st.lists(st.floats(), max_size=3),
    ),
)


@settings(max_examples=400, deadline=None)
@given(st.sampled_from([*commands.NAMES, "nonsense"]), ARGS)
def test_any_arguments_at_all_are_obeyed_or_refused_in_words(name, args):
    try:
        change = commands.apply(GANGWAY, name, args)
    except SteelyardError as problem:
        assert problem.message
    else:
        assert document.read(document.write(change.sketch)) == change.sketch
