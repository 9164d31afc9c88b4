"""Tilted axes: what is shown follows them, what is true does not change.

Axes are derived again here from the settings alone, with numpy; strips, table, components, working and argument must
agree with that derivation, and every force as a vector must come out the same whatever the axes.
"""

import json
import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sketch_bank import BANK
from steelyard import document, shelf, statics
from steelyard.edit import commands
from steelyard.errors import SteelyardError
from steelyard.model import Body, Force, Settings, Sketch, Support
from steelyard.panels.table import table
from steelyard.picture import board, frame, strips
from steelyard.report.answer import answer_data
from steelyard.statics.kept import kept_back
from steelyard.working.argue import argue
from steelyard.working.steps import work
from strategies import ANGLES, sketches

RANDOM = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))


def axes_by_numpy(sketch):
    """The two unit axes from the settings alone."""
    angle = sketch.settings.axes_deg
    if sketch.settings.axes_along is not None:
        body = next(each for each in sketch.bodies if each.id == sketch.settings.axes_along)
        ends = np.array(
            {"bar": ((0.0, 0.0), (1.0, 0.0)), "disc": ((0.0, 0.0), (1.0, 0.0))}.get(body.kind, body.points_m[:2])
        )
        edge = math.degrees(math.atan2(*(ends[1] - ends[0])[::-1])) + body.angle_deg
        # Read towards the right; straight up where it stands.
        edge = math.remainder(edge, 180.0)
        angle += 90.0 if edge == -90.0 else edge
    turned = math.radians(angle)
    return np.array([math.cos(turned), math.sin(turned)]), np.array([-math.sin(turned), math.cos(turned)])


def with_axes(sketch, **axes):
    return replace(sketch, settings=replace(sketch.settings, **axes))


@RANDOM
@given(sketches(), ANGLES)
def test_forces_as_vectors_do_not_hang_on_the_axes(sketch, angle):
    one = statics.analyse(with_axes(sketch, axes_deg=0.0, axes_along=None))
    other = statics.analyse(with_axes(sketch, axes_deg=angle, axes_along=None))
    assert one.supports.kind == other.supports.kind and one.balance.kind == other.balance.kind
    size = max(one.force_scale_n, other.force_scale_n)
    for first, second in zip(one.readings, other.readings, strict=True):
        assert first.fixed == second.fixed
        if first.vector is not None and second.vector is not None:
            assert np.allclose(first.vector, second.vector, rtol=0.0, atol=1e-7 * size)
        if first.couple_n_m is not None and second.couple_n_m is not None:
            assert second.couple_n_m == pytest.approx(first.couple_n_m, abs=1e-7 * size * one.lever_m)


@RANDOM
@given(sketches())
def test_strips_table_and_components_are_the_projections_numpy_makes(sketch):
    x_axis, y_axis = axes_by_numpy(sketch)
    analysis = statics.analyse(sketch)
    assert np.allclose(analysis.x_axis, x_axis, atol=1e-12) and np.allclose(analysis.y_axis, y_axis, atol=1e-12)
    # Along a body, x never points to the left, so y never points down.
    if sketch.settings.axes_deg == 0.0:
        assert analysis.x_axis[0] >= 0.0
    for reading in analysis.readings:
        standing = reading.force.guess or reading.vector
        if reading.vector is not None:
            parts = np.array([x_axis, y_axis]) @ reading.vector
            assert np.allclose(reading.components_n, parts, atol=1e-9 * analysis.force_scale_n)
        if standing is not None and analysis.supports.kind != "impossible":
            for row, axis in (("x", x_axis), ("y", y_axis)):
                found = strips.term(reading, row, analysis)
                assert found == pytest.approx(axis @ standing, abs=1e-9 * analysis.force_scale_n)
    residual = analysis.residual
    if residual is not None:
        wanted = np.array([x_axis, y_axis]) @ (residual.fx_n, residual.fy_n)
        plain = with_axes(sketch, units="si", decimal_comma=False)
        totals = table(statics.analyse(plain), plain.settings, "A")["totals"][:2]
        for total, value in zip(totals, wanted, strict=True):
            shown = total["runs"][0]["text"].replace("−", "-").replace("\u2009", "").replace("\u202f", "")
            number, unit = re.fullmatch(r"([-\d.]+)\u00a0(N|kN|MN)", shown).groups()
            newtons = float(number) * {"N": 1.0, "kN": 1e3, "MN": 1e6}[unit]
            assert newtons == pytest.approx(value, rel=6e-3, abs=1e-8 * analysis.force_scale_n)


SLOPE = re.compile(r"along ([+−])([xy])(?: \(|, )([a-z ]+?)(?:\)|\.|;|,| \()")


def check_ways(sketch, words):
    """Each "along +x (up the slope)" is true of the axes."""
    axes = dict(zip("xy", axes_by_numpy(sketch), strict=True))
    met = 0
    for sign, name, way in SLOPE.findall(words):
        vector = axes[name] * (1.0 if sign == "+" else -1.0)
        for word, share in (("up", vector[1]), ("down", -vector[1]), ("right", vector[0]), ("left", -vector[0])):
            if re.search(rf"\b{word}\b", way):
                assert share > 0.0, (words, way)
        met += 1
    return met


@pytest.mark.parametrize("angle", [-37.0, 20.0, 64.0, 118.0, 200.0, 305.0])
def test_ways_along_tilted_axes_are_said_by_the_axis_and_truly(angle):
    met = 0
    for name in ("pin and rope, sloping bar", "pin and rope", "fixed end"):
        if name not in BANK:
            continue
        sketch = with_axes(BANK[name], axes_deg=angle)
        analysis = statics.analyse(sketch)
        steps = work(sketch, analysis).steps
        said = [each.text for step in steps for each in (*step.why, *step.remarks)]
        said += [contact.sentence.text for contact in steps[0].contacts]
        for reading in analysis.readings:
            if reading.force.role == "unknown":
                stages = argue(sketch, analysis, reading.force.id).stages
                said += [each.text for stage in stages for each in stage.sentences]
        met += sum(check_ways(sketch, text) for text in said)
        assert any(text.startswith("Axes: x at ") for text in said)
        # A component acts along an axis, so it is never said to act "to the right" where no axis points there.
        for text in said:
            assert not re.search(r"R[xy] (must )?acts? (the way it was drawn, )?(up|down|to the)", text), text
    assert met >= 8


def test_a_bar_on_a_slope_reads_as_on_a_slope():
    sketch = with_axes(shelf.load("gangway"), axes_along="gangway")
    analysis = statics.analyse(sketch)
    isolate = work(sketch, analysis).steps[0]
    said = [each.text for each in isolate.why]
    assert "Axes: x along the gangway at 12° clockwise from the level, y square to it." in said
    assert "Positive: x down the slope, y up and to the right, turning counterclockwise." in said
    # By hand: W sin 12° along x and W cos 12° across, for 120 kg.
    weight = analysis.reading("gangway-weight")
    turned = math.radians(12.0)
    size = 120.0 * 9.80665
    assert weight.components_n == pytest.approx((size * math.sin(turned), -size * math.cos(turned)))


def test_a_single_angle_of_axes_simplifies_a_roller_square_to_them():
    """A bar along a slope on two wheels and a cable along it: each wheel has no part along x, by hand."""
    bar = Body("bar1", "bar", "cradle", (0.0, 0.0), 20.0, length_m=4.0, mass_kg=100.0)
    far = 8.0 * np.array([math.cos(math.radians(20.0)), math.sin(math.radians(20.0))])
    held = (
        Support("wheel1", "contact", "bar1", (1.0, 0.0), "N", normal_deg=110.0),
        Support("wheel2", "contact", "bar1", (3.0, 0.0), "Q", normal_deg=110.0),
        Support("cable", "rope", "bar1", (4.0, 0.0), "T", anchor_m=(float(far[0]), float(far[1]))),
    )
    sketch = Sketch(bodies=(bar,), supports=held, settings=Settings(axes_along="bar1"))
    steps = [step for step in work(sketch, statics.analyse(sketch)).steps if step.kind == "sum"]
    assert steps[0].title.text == "Forces along x"
    assert steps[0].why[0].text == "N and Q have no part along x, so they drop out."
    value = next(line.equation.right.value for line in steps[0].lines if line.underlined)
    assert value == pytest.approx(100.0 * 9.81 * math.sin(math.radians(20.0)))
    assert steps[0].remarks[0].text == "Positive: T acts the way it was drawn, along +x (up the slope)."


def test_quarter_turns_are_exact():
    for angle, x_axis, y_axis in ((90.0, (0.0, 1.0), (-1.0, 0.0)), (180.0, (-1.0, 0.0), (0.0, -1.0))):
        analysis = statics.analyse(with_axes(BANK["pin and rope"], axes_deg=angle))
        assert (analysis.x_axis, analysis.y_axis) == (x_axis, y_axis)


def drawn(sketch, analysis):
    sheet = frame.fit(sketch, analysis, 900.0, 500.0)
    return {record.id: record for record in board.draw(sketch, analysis, sheet, "extended").records}


def heading(record):
    """Direction of a path's first stroke, y up."""
    numbers = [float(each) for each in re.findall(r"-?\d+\.?\d*", dict(record.attrs)["d"])]
    return np.array([numbers[2] - numbers[0], numbers[1] - numbers[3]])


@pytest.mark.parametrize("angle", [-12.0, 30.0, 155.0])
def test_axes_are_drawn_in_the_corner_and_kept_components_along_them(angle):
    sketch = with_axes(shelf.load("gangway"), axes_deg=angle)
    x_axis, y_axis = axes_by_numpy(sketch)
    records = drawn(sketch, kept_back(statics.analyse(sketch)))
    strokes = dict(records["key.axes"].attrs)["d"].split("M")[1:]
    for stroke, axis in ((strokes[0], x_axis), (strokes[2], y_axis)):
        numbers = [float(each) for each in re.findall(r"-?\d+\.?\d*", stroke)]
        way = np.array([numbers[2] - numbers[0], numbers[1] - numbers[3]])
        assert np.allclose(way / np.linalg.norm(way), axis, atol=0.01)
    # The rulers stay level and upright, so they no longer call themselves x and y.
    assert [run.text for run in records["edge.x-name"].runs] == ["m"]


def test_components_of_the_lit_force_meet_square_along_the_axes():
    sketch = with_axes(shelf.load("gangway"), axes_deg=25.0)
    x_axis, y_axis = axes_by_numpy(sketch)
    parts = drawn(replace(sketch, answers="shown"), statics.analyse(sketch))["hoist.parts"]
    x = [float(each) for each in re.findall(r"-?\d+\.?\d*", dict(parts.attrs)["d"])]
    tail, corner, head = (np.array([x[i], -x[i + 1]]) for i in (0, 2, 4))
    assert abs((corner - tail) @ y_axis) <= 0.02 * np.linalg.norm(corner - tail) + 0.02
    assert abs((head - corner) @ x_axis) <= 0.02 * np.linalg.norm(head - corner) + 0.02


def test_deleting_the_body_the_axes_follow_makes_them_level_again():
    plank = Body("bar2", "bar", "plank", (0.0, 2.0), 10.0, length_m=2.0)
    sketch = replace(BANK["pin and rope"], bodies=(*BANK["pin and rope"].bodies, plank))
    along = commands.apply(sketch, "settings", {"key": "axes_along", "text": "bar2"}).sketch
    assert along.settings.axes_along == "bar2"
    assert commands.apply(along, "delete", {"id": "bar2"}).sketch.settings.axes_along is None
    with pytest.raises(SteelyardError, match="must be the id of a body"):
        document.from_data(document.to_data(along) | {"bodies": document.to_data(along)["bodies"][:1]})
    with pytest.raises(SteelyardError, match="must be one of"):
        commands.apply(sketch, "settings", {"key": "axes_along", "text": "bar9"})


def test_parts_typed_along_tilted_axes_are_the_parts_along_them():
    push = Force("push", "bar1", (1.0, 0.0), "P", size_n=10.0, direction_deg=0.0)
    sketch = Sketch(bodies=(Body("bar1", "bar", "bar", (0.0, 0.0), 0.0, length_m=2.0),), loads=(push,),
                    settings=Settings(axes_deg=30.0))  # fmt: skip
    changed = commands.apply(sketch, "set", {"id": "push", "key": "fy", "text": "0"}).sketch
    # Only the part along x, 10 cos 30°, is left, and it points along x.
    load = changed.loads[0]
    assert load.size_n == pytest.approx(10.0 * math.cos(math.radians(30.0)))
    assert load.direction_deg == pytest.approx(30.0)


def test_drawing_an_unknown_as_answered_leaves_no_component_against_its_drawn_sense():
    for angle in (0.0, 20.0, 110.0, 250.0):
        sketch = with_axes(replace(BANK["pin and rope, sloping bar"], answers="shown"), axes_deg=angle)
        turned = commands.apply(sketch, "set", {"id": "hinge", "key": "as_answered", "text": "true"}).sketch
        assert statics.analyse(turned).reading("hinge").against_components == (False, False)


@given(st.sampled_from(sorted(BANK)), ANGLES)
@settings(max_examples=25, deadline=None)
def test_command_line_says_parts_along_the_axes_it_names(name, angle):
    sketch = with_axes(BANK[name], axes_deg=angle)
    data = json.loads(json.dumps(answer_data(sketch, statics.analyse(sketch))))
    x_axis, _ = axes_by_numpy(sketch)
    assert np.allclose(x_axis, (math.cos(math.radians(data["x_axis_deg"])), math.sin(math.radians(data["x_axis_deg"]))))
    for force in data["forces"]:
        if force["size_n"] and force["direction_deg"] is not None and force["fx_n"] is not None:
            along = force["size_n"] * math.cos(math.radians(force["direction_deg"] - data["x_axis_deg"]))
            assert force["fx_n"] == pytest.approx(along, abs=1e-9 * force["size_n"])
