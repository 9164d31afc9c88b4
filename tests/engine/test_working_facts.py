"""No sentence about a direction, a sign, or what drops out is ever wrong: each is derived again with numpy.

Sentences carry their facts as data. Where a fact holds "whatever the sizes", sizes are drawn at random,
the unknowns solved for, and the fact must hold every time the one-way supports act as they can.
"""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from rough_bank import ROUGH
from sketch_bank import BANK
from steelyard import statics
from steelyard.model import Guess
from steelyard.working.argue import argue
from steelyard.working.desk import Options
from steelyard.working.steps import work
from strategies import sketches
from working_cases import SKETCHES, WAYS, Matrix

RANDOM = np.random.default_rng(20)


def facts_of(working):
    for step in working.steps:
        sentences = (*step.why, *step.remarks, *(contact.sentence for contact in step.contacts))
        for sentence in sentences:
            assert sentence.text.strip(), step.title.text
            if sentence.fact is not None:
                yield sentence.fact, sentence.text


def small(matrix, key, point, axis) -> bool:
    """Whether a part has no term in a sum, by numpy; where on a face a normal acts is not known beforehand."""
    if point is not None and key in matrix.spread:
        return False
    share = matrix.share(key, point, axis)
    reach = matrix.lever + math.hypot(*point) if point is not None else 1.0
    return abs(share) <= 1e-7 * reach


def samples(matrix, sizes, count=60):
    """Solutions for random known sizes; each with the sizes used. Known zeros stay zero."""
    if not matrix.known_keys:
        return
    letters = None in sizes
    for _ in range(count):
        # With letters about, the sizes that are numbers stay; else every size is free.
        drawn = [
            size if size == 0.0 or (letters and size is not None) else float(RANDOM.lognormal(0.0, 1.5))
            for size in sizes
        ]
        yield matrix.solve(drawn)[0], dict(zip(matrix.known_keys, drawn, strict=True))


def possible(matrix, solution, scale) -> bool:
    """Whether one-way unknowns act as they can."""
    return all(
        value >= -1e-9 * scale
        for (key, value), one_way in zip(solution.items(), matrix.one_way, strict=True)
        if one_way
    )


def fewest_left(matrix, keys) -> int:
    """The fewest of some unknowns that any sum with one of them in it holds: every pair of the others is put out."""
    columns = np.array([matrix.wrenches[key] for key in keys])
    columns = columns / np.linalg.norm(columns, axis=1)[:, None]
    sums = [np.cross(one, two) for one, two in itertools.combinations(columns, 2)]
    sums += [np.cross(one, way) for one in columns for way in np.eye(3)] + list(np.eye(3))
    sums = [each / np.linalg.norm(each) for each in sums if np.linalg.norm(each) > 1e-9]
    left = [int((np.abs(columns @ each) > 1e-7).sum()) for each in sums]
    return min(count for count in left if count)


def check_sense(matrix, data, text):
    """A sense said to hold whatever the sizes, or to depend on a comparison."""
    key, point, axis = data["part"], data["point"], data["axis"]
    put = {normal: friction for friction, normal in data.get("put", ())}
    mu = {friction: factor for friction, _, factor in matrix.laws}

    def share(name):  # of a normal with friction put in as μ times it, what the two do together
        rest = mu[put[name]] * matrix.share(put[name], point, axis) if name in put else 0.0
        return matrix.share(name, point, axis) + rest

    own = share(key)
    assert abs(own) > 0.0
    for solution, sizes in samples(matrix, matrix.known_sizes):
        scale = max([1e-9, *sizes.values(), *(abs(value) for value in solution.values())])
        values = {**solution, **sizes}
        sign = int(solution[key] > 1e-9 * scale) - int(solution[key] < -1e-9 * scale)
        if data["verdict"] == "certain" and possible(matrix, solution, scale):
            allowed = {data["sign"]} if data["strict"] else {data["sign"], 0}
            assert sign in allowed or abs(solution[key]) < 1e-6 * scale, (text, solution, sizes)
        if data["verdict"] == "depends":
            terms = {other: -share(other) * values[other] / own for other in values}
            drawn = sum(abs(terms[other]) for other in data["for_drawn"])
            against = sum(abs(terms[other]) for other in data["against_drawn"])
            if possible(matrix, solution, scale) and abs(drawn - against) > 1e-6 * (drawn + against):
                settled = all(terms[o] >= -1e-9 * scale for o in data["for_drawn"]) and all(
                    terms[o] <= 1e-9 * scale for o in data["against_drawn"]
                )
                if settled:
                    assert sign == (1 if drawn > against else -1), (text, terms)


def check_facts(sketch, analysis, working):
    """Every fact of a working; returns the kinds met."""
    matrix = Matrix(analysis)
    numbers = None not in matrix.known_sizes
    single = analysis.supports.kind in ("determinate", "impossible") and analysis.supports.degree == 0
    # Beside letters, what is said to have a value must have it whatever the letters are.
    drawn = samples(matrix, matrix.known_sizes, 1)
    solution = matrix.solve(matrix.known_sizes)[0] if numbers else next(drawn, ({}, {}))[0]
    scale = max([1e-9, *(abs(v) for v in solution.values()), *(s or 0.0 for s in matrix.known_sizes)])
    met = set()
    for fact, text in facts_of(working):
        data = fact.data
        met.add(fact.kind)
        match fact.kind:
            case "drops":
                for key in matrix.wrenches:
                    if matrix.wrenches[key][:2].any():
                        assert small(matrix, key, data["point"], data["axis"]) == (key in data["keys"]), (text, key)
            case "left" | "better":
                keys = data["keys"] if fact.kind == "left" else data["left"]
                for key in keys:  # a normal stays as well where friction, μ times it, is put in its terms
                    own = [key, *(friction for friction, normal in data.get("put", ()) if normal == key)]
                    assert not all(small(matrix, each, data["point"], data["axis"]) for each in own), text
            case "no-unknown":
                assert all(small(matrix, key, data["point"], data["axis"]) for key in matrix.keys), text
            case "sign":
                if single or data["part"] in analysis.supports.still_fixed:
                    # A value found although some sizes are letters must not hang on them.
                    lettered = (
                        [each for each, _ in samples(matrix, matrix.known_sizes, 10)] if not numbers else [solution]
                    )
                    for each in lettered:
                        found, top = each[data["part"]], max(scale, *(abs(value) for value in each.values()))
                        assert abs(found) <= 1e-7 * top or np.sign(found) == data["sign"], (text, found)
                    if data["sign"] < 0 and data["one_way"]:
                        assert "no balance" in text
            case "sense":
                if single:
                    check_sense(matrix, data, text)
            case "answer-senses":
                for key, sign, settled in data["senses"]:
                    if settled and single:
                        for other, sizes in samples(matrix, matrix.known_sizes, 20):
                            top = max([*sizes.values(), *map(abs, other.values())])
                            if possible(matrix, other, top):
                                assert other[key] * sign > 0 or abs(other[key]) <= 1e-7 * top, (text, other)
            case "answer" | "direction":
                if single and "vector" in data:
                    force = data["force"]
                    # What is found although some sizes are letters holds whatever they are.
                    lettered = [found for found, _ in samples(matrix, matrix.known_sizes, 5)]
                    for each in [solution] if numbers else lettered:
                        vector = sum(
                            (each[key] * matrix.wrenches[key][:2] for key in matrix.keys if key.split(".")[0] == force),
                            np.zeros(2),
                        )
                        size = np.linalg.norm(vector)
                        if size > 1e-6 * max(scale, *(abs(value) for value in each.values())):
                            said = np.array(data["vector"]) / np.linalg.norm(data["vector"])
                            assert np.allclose(said, vector / size, atol=1e-6), text
                            for word, way in (("up", (0, 1)), ("down", (0, -1)), ("right", (1, 0)), ("left", (-1, 0))):
                                share = vector @ np.array(way) / size
                                if share > 1e-4:
                                    assert word in text, text
                                if share < -1e-4:
                                    assert f" {word}" not in text, text
                elif single and "couple" in data:
                    found = solution[data["force"]] * matrix.wrenches[data["force"]][2]
                    assert found * data["couple"] >= -1e-9 * scale * scale, text
            case "free":
                motion = data["motion"]
                power = sum(
                    (
                        size * (w[0] * motion[0] + w[1] * motion[1] + w[2] * matrix.lever * motion[2])
                        for w, size in zip(matrix.known_columns, matrix.known_sizes, strict=True)
                        if size
                    ),
                    0.0,
                )
                for key in matrix.keys:
                    w = matrix.wrenches[key]
                    work_done = w[0] * motion[0] + w[1] * motion[1] + w[2] * matrix.lever * motion[2]
                    assert abs(work_done) <= 1e-6 * (1.0 + matrix.lever), text
                if data["value"] is not None and "cannot stay" in text:
                    assert abs(power) > 0.0
                    # What is left over: a torque about the point, or a force along the axis, and which way.
                    left = sum(
                        matrix.share(key, data["point"], data["axis"]) * size
                        for key, size in zip(matrix.known_keys, matrix.known_sizes, strict=True)
                        if size is not None  # a letter has no part in a sum with a value
                    )
                    if data["point"] is not None:
                        assert ("counterclockwise" in text) == (left > 0.0), (text, left)
                    else:
                        pushed = np.array(data["axis"]) * left
                        for word, share in (("right", pushed[0]), ("left", -pushed[0])):
                            if f"to the {word}" in text:
                                assert share > 0.0, (text, pushed)
            case "balanced":
                if data["whole"]:
                    total = (
                        sum(w * size for w, size in zip(matrix.known_columns, matrix.known_sizes, strict=True))
                        if matrix.known_keys
                        else np.zeros(3)
                    )
                    assert data["closed"] == bool(np.linalg.norm(total) <= 1e-9 * scale), (text, total)
            case "impossible":
                assert data["failing"] == analysis.supports.failing
            case "not-fixed":
                matrix_rank = np.linalg.matrix_rank(np.array(matrix.columns), tol=1e-7)
                for key in data["keys"]:
                    rest = [w for k, w in zip(matrix.keys, matrix.columns, strict=True) if k != key]
                    assert np.linalg.matrix_rank(np.array(rest), tol=1e-7) == matrix_rank, text
            case "too-many":
                assert fewest_left(matrix, data["unfound"]) == len(data["left"]), text
            case "range":
                assert data["least"] <= data["most"]
            case "slipping":
                check_slipping(sketch, data, text)
            case "tipping":
                face = analysis.reading(data["force"]).force.face
                assert data["point"] == face[1 if analysis.reading(data["force"]).force.about_to == "tip" else 0]
            case "friction":
                if single and numbers:
                    check_friction(analysis, solution, data, text)
            case "place":
                if single and numbers:
                    size, torque = solution[data["part"].removesuffix(".place")], solution[data["part"]]
                    per_metre = 1.0 if sketch.settings.units == "si" else 1.0 / 0.3048
                    assert data["value"] == pytest.approx(torque / size * per_metre, rel=1e-9, abs=1e-9)
                    assert data["within"] == (-1e-9 <= data["value"] <= data["length"] + 1e-9)
                    assert ("beyond" in text) != data["within"]
    return met


def check_slipping(sketch, data, text):
    """Friction is against the sliding: square to the normal, to its left where the body slides to its right."""
    support = next(each for each in sketch.supports if f"{each.id}-friction" == data["force"])
    normal = math.radians(support.normal_deg)
    right = np.array([math.sin(normal), -math.cos(normal)])
    moves = right if support.about_to == "slip" else -right
    assert np.allclose(data["along"], -moves, atol=1e-12)
    said = text.partition(" is about to slide ")[2].partition(", so friction")
    against = said[2].partition(" acts ")[2].partition(", against that")[0]
    for words, way in ((said[0], moves), (against, -moves)):
        for word, share in (("right", way[0]), ("left", -way[0]), ("up", way[1]), ("down", -way[1])):
            assert (word in words) == (share > 1e-6), text


def check_friction(analysis, solution, data, text):
    """f over N against μ, and what that says."""
    force = analysis.reading(data["force"]).force
    pressing, size = solution[force.normal], abs(solution[data["force"]])
    scale = max(map(abs, solution.values()))
    if pressing <= 1e-9 * scale:
        assert data["holds"] == (size <= 1e-9 * scale)
        return
    assert data["needed"] == pytest.approx(size / pressing, rel=1e-9, abs=1e-12)
    assert data["holds"] == (size <= force.mu * pressing * (1.0 + 1e-9))
    if not force.about_to:
        assert ("slips" in text) != data["holds"]


def test_the_rough_bank_meets_every_kind_of_fact_about_friction_and_faces():
    met = set()
    for sketch in ROUGH.values():
        analysis = statics.analyse(sketch)
        for options in (Options(), Options(symbols_only=True)):
            met |= check_facts(sketch, analysis, work(sketch, analysis, options=options))
    expected = "slipping tipping about-to friction place law least presses-not vanished not-about-to impossible range"
    assert set(expected.split()) <= met


@pytest.mark.parametrize("way", [*WAYS, "symbols"])
@pytest.mark.parametrize("name", SKETCHES)
def test_every_sentence_is_true(name, way):
    sketch = SKETCHES[name]
    analysis = statics.analyse(sketch)
    options = Options(symbols_only=True) if way == "symbols" else WAYS[way]
    check_facts(sketch, analysis, work(sketch, analysis, options=options))


@settings(max_examples=200, deadline=None, suppress_health_check=list(HealthCheck))
@given(sketches())
def test_every_sentence_about_random_sketches_is_true(sketch):
    analysis = statics.analyse(sketch)
    for options in (Options(), Options(symbols_only=True)):
        check_facts(sketch, analysis, work(sketch, analysis, options=options))


def test_the_bank_meets_every_kind_of_fact():
    met = set()
    for sketch in BANK.values():
        analysis = statics.analyse(sketch)
        for options in (Options(), Options(symbols_only=True), WAYS["own pivot"]):
            met |= check_facts(sketch, analysis, work(sketch, analysis, options=options))
    expected = """assumptions positive contact drops left better sign sense together direction sum answer answer-senses
    free no-unknown too-many degree range not-fixed impossible"""
    assert set(expected.split()) <= met


def test_symbols_only_shows_no_number_but_zero():
    for sketch in BANK.values():
        for step in work(sketch, statics.analyse(sketch), options=Options(symbols_only=True)).steps:
            assert all(line.kind not in ("numbers", "value") for line in step.lines)


def guessed(sketch, force_id, angle, size=700.0):
    """The sketch with a guess for one support's force."""
    supports = tuple(replace(s, guess=Guess(size, angle)) if s.id == force_id else s for s in sketch.supports)
    return replace(sketch, supports=supports)


ARGUED = [(name, support.id) for name, sketch in BANK.items() for support in sketch.supports]
ROUGH_ARGUED = [
    (name, reading.force.id)
    for name, sketch in ROUGH.items()
    for reading in statics.analyse(sketch).readings
    if reading.force.role == "unknown" and reading.force.id in Matrix(statics.analyse(sketch)).keys
]


def check_argument(sketch, force_id):
    analysis = statics.analyse(sketch)
    matrix = Matrix(analysis)
    argument = argue(sketch, analysis, force_id)
    numbers = None not in matrix.known_sizes
    single = analysis.supports.kind == "determinate"
    force = analysis.reading(force_id).force
    solution = matrix.solve(matrix.known_sizes)[0] if numbers and single else None
    for stage in argument.stages:
        for sentence in stage.sentences:
            fact = sentence.fact
            if fact is None or not single:
                continue
            if fact.kind == "must" and fact.data["verdict"] in ("certain", "depends"):
                check_sense(matrix, fact.data, sentence.text)
            if fact.kind in ("must", "settled") and solution is not None and fact.data.get("verdict") != "depends":
                found = solution[fact.data["part"]]
                scale = max(abs(v) for v in [*solution.values(), *matrix.known_sizes, 1e-9])
                if abs(found) > 1e-7 * scale and fact.data.get("verdict") != "open":
                    assert np.sign(found) == fact.data["sign"], sentence.text
        if stage.agrees is not None and force.guess is not None:
            along = float(np.array(force.guess) @ matrix.wrenches[stage.part][:2])
            if abs(along) < 1e-6 * np.linalg.norm(force.guess):
                along = 0.0
            assert stage.agrees == (np.sign(along) == stage.sign)
    return argument, solution, matrix


@pytest.mark.parametrize("angle", [20.0, 90.0, 148.1, 250.0])
@pytest.mark.parametrize(("name", "force_id"), ARGUED)
def test_every_argument_is_true_and_turning_ends_in_the_right_quadrant(name, force_id, angle):
    sketch = guessed(BANK[name], force_id, angle)
    for _ in range(4):
        argument, *_ = check_argument(sketch, force_id)
        if argument.turn is None:
            break
        size, direction = math.hypot(*argument.turn), math.degrees(math.atan2(argument.turn[1], argument.turn[0]))
        sketch = guessed(sketch, force_id, direction, size)
        if size == 0.0:
            break
    else:
        pytest.fail("turning does not come to an end")
    if argument.turn is None:
        assert all(stage.agrees is not False for stage in argument.stages)


@pytest.mark.parametrize(("name", "force_id"), ROUGH_ARGUED)
def test_every_argument_about_friction_and_normals_is_true(name, force_id):
    argument, solution, _ = check_argument(ROUGH[name], force_id)
    assert all(not stage.part.endswith(".place") for stage in argument.stages)
    if solution is not None:
        for stage in argument.stages:
            if stage.verdict == "certain" and stage.strict and abs(solution[stage.part]) > 1e-6:
                assert np.sign(solution[stage.part]) == stage.sign


def test_the_gangway_is_argued_as_a_person_would():
    """By hand: only T and R have a part along x; about the crossing of T and R_x only weights are left."""
    sketch = guessed(BANK["pin and rope, sloping bar"], "hinge", 148.1, 1154.0)
    argument = argue(sketch, statics.analyse(sketch), "hinge")
    x, y = argument.stages
    # The guess is the arrow as drawn, up and to the left: along x it must act against it.
    assert (x.verdict, x.sign, x.agrees) == ("certain", -1, False)
    assert [sentence.text for sentence in x.sentences] == [
        "A rope can only pull, so T acts up and to the left, whatever its size.",
        "Besides Rx, only T has a part along x: to the left; so Rx must act to the right.",
        "Your Rx acts to the left. Turn it.",
    ]
    assert (y.verdict, y.sign, y.agrees) == ("certain", 1, True)
    assert y.sum.point == pytest.approx((4.105, 0.0), abs=5e-4)
    assert argument.turn == pytest.approx((979.71, 609.82), abs=0.01)
