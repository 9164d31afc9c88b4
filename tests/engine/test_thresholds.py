"""Limits of one number against a brute-force scan of an independent solve, and awkward cases by name."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from random import Random

import numpy
import pytest
import reference
from scipy.optimize import linprog
from steelyard import cli, shelf
from steelyard.document.paths import number_at, numbers, with_number
from steelyard.errors import SteelyardError
from steelyard.limits.changes import Limits
from steelyard.limits.roots import roots
from steelyard.limits.thresholds import limits, where
from steelyard.model import Body, Couple, Force, Sketch, Support, Thing

GANGWAY = shelf.load("gangway")
BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0, weight_n=100.0)
STOP = Support("stop", "roller", "bar1", (0.0, 0.0), "H", normal_deg=0.0, two_way=True)
HOLD = Support("hold", "contact", "bar1", (0.0, 0.0), "A")
TRESTLE = Support("trestle", "roller", "bar1", (3.0, 0.0), "N")
CRATE = Thing("crate", "bar1", (2.0, 0.0), "P", "crate", 20.0)


def kinds(found: Limits) -> list[tuple[str, str, float]]:
    return [
        (change.kind, change.force + ("." + change.part if change.part else ""), change.value)
        for change in found.changes
    ]


# Functions with roots known beforehand


@pytest.mark.parametrize(
    ("function", "known"),
    [
        (lambda x: x - 0.3, [0.3]),
        (lambda x: (x - 0.3) ** 2, [0.3]),
        (lambda x: (x - 0.3) * (x - 0.3 - 1e-5), [0.3, 0.30001]),
        (lambda x: (x - 0.1) * (x - 0.52) ** 2 * (x - 0.9), [0.1, 0.52, 0.9]),
        (lambda x: math.sin(40.0 * x), [math.pi * count / 40.0 for count in range(13)]),
        (lambda x: math.cos(7.0 * x) - 1.0, [0.0, math.tau / 7.0]),
        (lambda x: 1.0 / (x - 0.37), []),
        (lambda x: math.copysign(1.0, x - 0.37), []),
        (lambda x: 1e-9 + x * x * 1e-9, []),
        (lambda x: 0.0, []),
        (lambda x: 5.0 + 1e-15 * math.sin(1e9 * x), []),
        (lambda x: x, [0.0]),
        (lambda x: x - 1.0, [1.0]),
    ],
)
@pytest.mark.parametrize(("low", "span"), [(0.0, 1.0), (-2e3, 1e4), (5.0, 1e-3)])
def test_all_roots_are_found_to_1e_9_of_the_interval(function, known, low, span):
    def moved(at: float) -> float:
        return function((at - low) / span)

    places = [low + span * count / 256 for count in range(257)]
    found = roots(moved, places, [moved(place) for place in places])
    assert len(found) == len(known)
    for root, wanted in zip(found, known, strict=True):
        assert root == pytest.approx(low + span * wanted, abs=1e-9 * span)


# Against a brute-force scan


def random_sketch(seed: int) -> Sketch:
    chance = Random(seed)
    body = replace(BAR, angle_deg=chance.uniform(-60, 60), origin_m=(chance.uniform(-5, 5), chance.uniform(-5, 5)))
    pin = Support("pin1", "pin", "bar1", (chance.uniform(0, 1), 0.0), "R")
    rope = Support(
        "rope", "rope", "bar1", (chance.uniform(2, 4), 0.0), "T", anchor_m=(chance.uniform(-4, 8), chance.uniform(2, 6))
    )
    roller = Support("roll", "roller", "bar1", (chance.uniform(2, 4), 0.0), "N", normal_deg=chance.uniform(0, 180))
    strut = Support("strut", "strut", "bar1", (chance.uniform(0, 2), 0.0), "S", anchor_m=(chance.uniform(-4, 4), -4.0))
    held = [(pin, rope), (pin, roller), (rope, roller, strut), (Support("wall", "fixed", "bar1", (0.0, 0.0), "R"),)][
        seed % 4
    ]
    loads = (
        Thing("crate", "bar1", (chance.uniform(0, 4), 0.0), "P", "crate", chance.uniform(1, 40)),
        Force(
            "push",
            "bar1",
            (chance.uniform(0, 4), 0.0),
            "F",
            size_n=chance.uniform(10, 300),
            direction_deg=chance.uniform(0, 360),
        ),
        Couple("turn", "bar1", (1.0, 0.0), "C", couple_n_m=chance.uniform(10, 200), counterclockwise=seed % 2 == 0),
    )
    return Sketch(bodies=(body,), supports=held, loads=loads)


CASES = [
    ("crate.place_m[0]", 0.0, 4.0),
    ("push.direction_deg", 0.0, 360.0),
    ("push.size_n", 0.0, 800.0),
    ("bar1.angle_deg", -90.0, 90.0),
    ("rope.anchor_m[0]", -5.0, 9.0),
    ("roll.normal_deg", 0.0, 180.0),
    ("strut.anchor_m[1]", -6.0, 6.0),
]
STEPS = 200


@pytest.mark.parametrize("seed", range(16))
def test_every_change_a_brute_force_scan_sees_is_found_and_no_other(seed):
    sketch = random_sketch(seed)
    path, low, high = next(
        case
        for case in [CASES[(seed * 5 + step) % len(CASES)] for step in range(7)]
        if case[0].partition(".")[0] in {number.of for number in numbers(sketch)}
    )
    number = number_at(sketch, path)
    found = limits(sketch, path, low, high)
    places = numpy.linspace(low, high, STEPS + 1)
    rows = []
    for place in places:
        system = reference.assemble(with_number(sketch, number, float(place)))
        # Cramer: the determinant, and each value times it, have no poles.
        matrix, known = system.columns.copy(), system.known.copy()
        turn = numpy.linalg.det(matrix)
        tops = []
        for index in range(3):
            replaced = matrix.copy()
            replaced[:, index] = -known
            tops.append(numpy.linalg.det(replaced))
        rows.append([turn, *tops])
    table = numpy.array(rows)
    names = ["", *(f"{name}.{part}" if part in "xy" else name for name, part in system.names)]
    for column, name in enumerate(names):
        values = table[:, column]
        if numpy.abs(values).max() < 1e-9 * (1.0 if not name else 100.0):
            continue
        seen = [
            (places[index], places[index + 1])
            for index in range(STEPS)
            if values[index] * values[index + 1] < 0.0
            and min(abs(values[index : index + 2])) > 1e-9 * numpy.abs(values).max()
            # A rope drawn through its own end turns over: a jump, not a root.
            and numpy.abs(values[index] - values[index + 1]) < 0.5 * numpy.abs(values).max()
        ]
        mine = [
            change.value
            for change in found.changes
            if (change.force + ("." + change.part if change.part else "")) == name and (name or change.kind == "free")
        ]
        for start, end in seen:
            assert sum(start <= value <= end for value in mine) == 1, (name, path, start, end, mine)
        inside = [value for value in mine if not any(start <= value <= end for start, end in seen)]
        for value in inside:  # touching, at an end of the interval, or on a sample
            about = numpy.abs(values[numpy.abs(places - value).argsort()[:2]])
            assert about.min() < 0.02 * numpy.abs(values).max(), (name, path, value)
    # To 1e-9 of the interval: a sign change lies within that of every value named.
    for change in found.changes:
        if change.kind in ("slack", "lifts", "zero") and low + 1e-8 * (high - low) < change.value < high - 1e-8 * (
            high - low
        ):
            key = (change.force, change.part or ("couple" if change.force.endswith("couple") else "size"))
            beside = [
                reference.solve(reference.assemble(with_number(sketch, number, change.value + shift * (high - low))))[
                    key
                ]
                for shift in (-1e-9, 1e-9)
            ]
            assert beside[0] * beside[1] < 0.0


def test_rope_through_the_hinge_loses_its_hold_where_trigonometry_says():
    found = limits(GANGWAY, "gangway.angle_deg", -90.0, 90.0)
    free = [change.value for change in found.changes if change.kind == "free"]
    # The rope's anchor stands 3.2 m over 1.2 m: the gangway then points at it.
    assert free == [pytest.approx(math.degrees(math.atan2(3.2, 1.2)), abs=1e-9 * 180.0)]
    assert found.safe == ((-90.0, free[0]),)


def test_a_plank_past_its_trestle_lifts_where_the_lever_law_says():
    sketch = Sketch(bodies=(BAR,), supports=(HOLD, TRESTLE, STOP), loads=(CRATE,))
    found = limits(sketch, "loads[0].place_m[0]", 0.0, 4.0)
    # About the trestle: 100 N × 1 m = 20 kg × 9.81 × (x − 3).
    lifts = 3.0 + 100.0 / (20.0 * 9.81)
    assert kinds(found) == [("lifts", "hold", pytest.approx(lifts, abs=4e-9))]
    assert found.safe == ((0.0, pytest.approx(lifts, abs=4e-9)),)
    assert "above this it would have to act the wrong way, and a contact cannot pull" in found.changes[-1].sentence


def test_a_board_on_one_pin_balances_at_one_place_only():
    sketch = Sketch(
        bodies=(replace(BAR, weight_n=None),),
        supports=(Support("pin1", "pin", "bar1", (1.5, 0.0), "R"),),
        loads=(CRATE, Force("hand", "bar1", (1.0, 0.0), "F", size_n=300.0)),
    )
    found = limits(sketch, "crate.place_m[0]", 0.0, 4.0)
    balance = 1.5 + 300.0 * 0.5 / (20.0 * 9.81)
    assert kinds(found) == [("balance", "", pytest.approx(balance, abs=4e-9))]
    assert found.safe == ()
    moved = limits(sketch, "pin1.place_m[0]", 0.25, 3.9)
    centre = (300.0 * 1.0 + 20.0 * 9.81 * 2.0) / (300.0 + 20.0 * 9.81)
    assert kinds(moved) == [("balance", "", pytest.approx(centre, abs=4e-9))]


def test_balance_just_on_a_sample_is_said_once():
    sketch = Sketch(bodies=(BAR,), supports=(Support("pin1", "pin", "bar1", (1.0, 0.0), "R"),))
    assert kinds(limits(sketch, "pin1.place_m[0]", 0.0, 4.0)) == [("balance", "", pytest.approx(2.0, abs=4e-9))]


def test_too_many_one_way_supports_are_judged_by_the_verdict_itself():
    third = Support("third", "contact", "bar1", (1.0, 0.0), "B")
    sketch = Sketch(bodies=(BAR,), supports=(HOLD, third, TRESTLE, STOP), loads=(CRATE,))
    found = limits(sketch, "crate.place_m[0]", 0.0, 4.0)
    # Both contacts left of the trestle come to zero together, as the lever law about the trestle says.
    (change,) = found.changes
    assert change.value == pytest.approx(3.0 + 100.0 / (20.0 * 9.81), abs=4e-9)
    assert change.kind == "lifts"
    assert "a contact cannot pull" in change.sentence


def test_three_parallel_rollers_never_hold_and_say_so_once():
    rollers = tuple(Support(f"roll{place}", "roller", "bar1", (float(place), 0.0), "N") for place in range(3))
    sketch = Sketch(
        bodies=(BAR,),
        supports=rollers,
        loads=(Force("push", "bar1", (1.0, 0.0), "F", size_n=50.0, direction_deg=200.0),),
    )
    found = limits(sketch, "push.direction_deg", 180.0, 360.0)
    assert [change.value for change in found.changes if change.kind == "balance"] == [pytest.approx(270.0, abs=2e-7)]
    turned = limits(sketch, "roll2.normal_deg", 30.0, 150.0)
    assert [change.value for change in turned.changes if change.kind == "free"] == [pytest.approx(90.0, abs=2e-7)]


def test_where_a_reaction_has_a_value_all_places_are_found():
    assert where(GANGWAY, "walker.place_m[0]", 0.0, 6.0, "hoist", 2000.0) == (
        pytest.approx(apart_for("hoist", 2000.0), abs=1e-8),
    )
    found = where(GANGWAY, "gangway.angle_deg", -90.0, 60.0, "hinge", 1500.0)
    assert len(found) == 2
    number = number_at(GANGWAY, "gangway.angle_deg")
    for place in found:
        values = reference.solve(reference.assemble(with_number(GANGWAY, number, place)))
        assert math.hypot(values["hinge", "x"], values["hinge", "y"]) == pytest.approx(1500.0, rel=1e-9)
    zero = where(GANGWAY, "gangway.angle_deg", -80.0, 60.0, "hinge", 0.0, "y")
    assert list(zero) == [
        change.value for change in limits(GANGWAY, "gangway.angle_deg", -80.0, 60.0).changes if change.part == "y"
    ]
    assert where(GANGWAY, "walker.place_m[0]", 0.0, 6.0, "hoist", 9000.0) == ()


def apart_for(force: str, value: float) -> float:
    """The walker's place from two solves: the reaction is linear in it."""
    number = number_at(GANGWAY, "walker.place_m[0]")
    first, second = (
        reference.solve(reference.assemble(with_number(GANGWAY, number, place)))[force, "size"] for place in (0.0, 6.0)
    )
    return 6.0 * (value - first) / (second - first)


def test_force_that_never_acts_and_zero_loads_change_nothing():
    sketch = Sketch(bodies=(replace(BAR, weight_n=None),), supports=(HOLD, TRESTLE, STOP))
    assert limits(sketch, "trestle.place_m[0]", 1.0, 4.0).changes == ()
    loaded = replace(sketch, loads=(CRATE,))
    assert all(change.force != "stop" for change in limits(loaded, "crate.mass_kg", 1.0, 50.0).changes)


def test_letters_leave_only_the_hold_to_be_judged():
    sketch = replace(GANGWAY, loads=(replace(GANGWAY.loads[0], mass_kg=None),))
    found = limits(sketch, "gangway.angle_deg", -80.0, 80.0)
    assert [change.kind for change in found.changes] == ["free"]


@pytest.mark.parametrize(
    ("path", "low", "high", "code"),
    [
        ("walker.place_m[0]", 3.0, 1.0, "limits.interval"),
        ("walker.place_m[0]", 0.0, math.inf, "limits.interval"),
        ("walker.mass_kg", -1.0, 5.0, "limits.interval"),
        ("walker.place_m[0]", 0.0, 9.0, "document.off-body"),
        ("walker.size_n", 0.0, 9.0, "path.unknown"),
    ],
)
def test_interval_that_is_none_or_leaves_the_body_is_refused(path, low, high, code):
    with pytest.raises(SteelyardError) as caught:
        limits(GANGWAY, path, low, high)
    assert caught.value.code == code


def test_command_says_what_changes_where_and_where_it_is_safe(capsys):
    assert cli.main(["limits", "gangway", "gangway.angle_deg", "-30", "80 deg"]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "69.4440° The supports lose their hold here." in printed
    assert "Held in balance from −30.0000° to 69.4440°." in printed
    assert "From 69.4440° to 80.0000°: No balance like this: the rope (T) would have to push." in printed
    assert cli.main(["limits", "gangway", "gangway.angle_deg", "-30", "80", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["safe"] == [[-30.0, data["changes"][0]["value"]]]
    assert cli.main(["limits", "gangway", "walker.place_m[0]", "0", "600 cm", "--where", "hoist=2 kN"]) == 0
    assert capsys.readouterr().out == "T has this value at 3.42133\u00a0m.\n"
    assert cli.main(["limits", "gangway", "walker.place_m[0]", "0", "6", "--where", "hoist"]) == 2
    assert "Write for instance hoist=2000 N" in capsys.readouterr().err
    assert cli.main(["limits", "gangway", "walker.place_m[0]", "0", "6", "--where", "walker=3"]) == 2
    assert "They are hinge, hoist." in capsys.readouterr().err
    assert cli.main(["solve", "gangway", "--json", "--limits", "walker.place_m[0]", "0", "6"]) == 0
    (found,) = json.loads(capsys.readouterr().out)["limits"]
    assert found["path"] == "walker.place_m[0]" and found["to"] == 6.0


def feasible(sketch: Sketch) -> bool:
    """Whether some reactions balance with every one-way support pushing or pulling its own way, by HiGHS."""
    system = reference.assemble(sketch)
    one_way = {
        support.id
        for support in sketch.supports
        if support.kind in ("rope", "contact") or (support.kind == "roller" and not support.two_way)
    }
    bounds = [(0, None) if name in one_way else (None, None) for name, _ in system.names]
    found = linprog(numpy.zeros(len(bounds)), A_eq=system.columns, b_eq=-system.known, bounds=bounds, method="highs")
    return bool(found.status == 0)


@pytest.mark.parametrize("seed", range(10))
def test_held_stretches_are_those_in_which_a_linear_program_finds_a_balance(seed):
    chance = Random(seed)
    sketch = random_sketch(seed)
    more = (
        Support("sill", "contact", "bar1", (chance.uniform(0, 4), 0.0), "C", normal_deg=chance.uniform(45, 135)),
        Support(
            "stay",
            "rope",
            "bar1",
            (chance.uniform(0, 4), 0.0),
            "U",
            anchor_m=(chance.uniform(-6, 6), chance.uniform(-6, 6)),
        ),
    )
    sketch = (
        replace(sketch, supports=(*sketch.supports[:1], *more))
        if seed % 2
        else replace(sketch, supports=(*sketch.supports, *more))
    )
    path, low, high = chance.choice(
        [("crate.place_m[0]", 0.0, 4.0), ("push.direction_deg", 0.0, 360.0), ("push.size_n", 0.0, 900.0)]
    )
    found = limits(sketch, path, low, high)
    number = number_at(sketch, path)
    held = 0
    for _ in range(30):
        place = chance.uniform(low, high)
        stretch = next(each for each in found.stretches if each.start <= place <= each.end)
        if min(place - stretch.start, stretch.end - place) > 1e-6 * (high - low):
            assert feasible(with_number(sketch, number, place)) == stretch.holds, (place, stretch)
            held += stretch.holds
    assert held == 0 or found.safe
