"""Discs and round holes: areas, centres and moments of inertia against sympy and scipy, what a document may hold, and
what a hand, a field and a command make of them.
"""

from __future__ import annotations

import json
import math
from dataclasses import replace

import numpy as np
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad
from scipy.optimize import minimize_scalar
from steelyard import document
from steelyard.edit import commands
from steelyard.edit.context import Context
from steelyard.edit.gestures import Gesture
from steelyard.edit.placing import Placing
from steelyard.errors import SteelyardError
from steelyard.geometry import distance
from steelyard.kinetics.inertia import inertia, radius_of_gyration
from steelyard.limits.thresholds import limits
from steelyard.model import Body, Force, Given, MeasuredPoint, RoundHole, Sketch, Support, Thing
from steelyard.panels.body_fields import body_fields
from steelyard.picture.bodies import outline_px, whole_path
from steelyard.picture.frame import Frame
from steelyard.statics import analyse, measuring, shape
from steelyard.statics.uncertainty import uncertainty

DISC = Body("disc", "disc", "disc", (2.0, 1.0), 0.0, radius_m=0.5, mass_kg=60.0)
PLATE = Body(
    "plate", "plate", "plate", (0.0, 0.0), 0.0, points_m=((0.0, 0.0), (2.0, 0.0), (2.0, 1.5), (0.0, 1.5)), mass_kg=10.0
)
BOARD = Context(newtons_per_m=500.0, catch_m=0.04, release_m=0.06, step_m=0.04)


def of(body: Body, **more: object) -> Sketch:
    return Sketch(bodies=(body,), **more)  # type: ignore[arg-type]


def complaint(data: dict[str, object]) -> SteelyardError:
    with pytest.raises(SteelyardError) as caught:
        document.from_data({"format": "steelyard-sketch", "version": 1, "title": "", "bodies": [data]})
    return caught.value


def plain(body: Body) -> dict[str, object]:
    data = json.loads(document.write(of(body)))["bodies"][0]
    assert isinstance(data, dict)
    return data


# Areas


def sympy_circle(x: sympy.Expr, y: sympy.Expr, radius: sympy.Expr) -> list[sympy.Expr]:
    """∬1, ∬x, ∬y and ∬(x² + y²) over a circle, integrated in polar coordinates about its centre."""
    r, turn = sympy.symbols("r turn", nonnegative=True)
    at_x, at_y = x + r * sympy.cos(turn), y + r * sympy.sin(turn)
    return [
        sympy.integrate(sympy.integrate(sympy.expand(what * r), (r, 0, radius)), (turn, 0, 2 * sympy.pi))
        for what in (sympy.Integer(1), at_x, at_y, at_x**2 + at_y**2)
    ]


def test_disc_less_holes_has_the_centre_and_inertia_of_sympys_integrals():
    third, half = sympy.Rational(1, 3), sympy.Rational(1, 2)
    circles = [(sympy.Integer(0),) * 2 + (sympy.Integer(2),), (half, third, third), (-half, -1, half)]
    sums = [sympy_circle(*circle) for circle in circles]
    area, first_x, first_y, second = (whole - one - two for whole, one, two in zip(*sums, strict=True))
    holes = tuple(RoundHole((float(x), float(y)), float(r)) for x, y, r in circles[1:])
    body = replace(DISC, radius_m=2.0, round_holes=holes)
    assert shape.centre_place(body) == pytest.approx((float(first_x / area), float(first_y / area)), rel=1e-14)
    about_centre = second / area - (first_x / area) ** 2 - (first_y / area) ** 2
    assert radius_of_gyration(body) == pytest.approx(float(sympy.sqrt(about_centre)), rel=1e-14)


def test_plate_with_both_kinds_of_hole_is_what_scipy_integrates():
    """An L of two rectangles, less a rectangle and a circle; each integrated on its own."""
    corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))
    hole = ((0.2, 1.5), (0.6, 1.5), (0.6, 2.5), (0.2, 2.5))
    body = Body(
        "b", "plate", "b", (3.0, -1.0), 30.0, points_m=corners, holes_m=(hole,), mass_kg=7.0,
        round_holes=(RoundHole((2.5, 0.5), 0.4),),
    )  # fmt: skip
    sums = np.zeros(4)
    for sign, (left, right, low, high) in ((1, (0, 4, 0, 1)), (1, (0, 1, 1, 3)), (-1, (0.2, 0.6, 1.5, 2.5))):
        for index, what in enumerate((lambda y, x: 1.0, lambda y, x: x, lambda y, x: y, lambda y, x: x * x + y * y)):
            sums[index] += sign * dblquad(what, left, right, low, high, epsabs=1e-13)[0]
    polar = (
        lambda turn, r: r,
        lambda turn, r: r * (2.5 + r * math.cos(turn)),
        lambda turn, r: r * (0.5 + r * math.sin(turn)),
        lambda turn, r: r * ((2.5 + r * math.cos(turn)) ** 2 + (0.5 + r * math.sin(turn)) ** 2),
    )
    for index, what in enumerate(polar):
        sums[index] -= dblquad(what, 0.0, 0.4, 0.0, 2.0 * math.pi, epsabs=1e-13)[0]
    centre = sums[1:3] / sums[0]
    assert shape.centre_place(body) == pytest.approx(tuple(centre), rel=1e-12)
    found = inertia(body, 9.81)
    assert found is not None
    assert found.moment_kg_m2 == pytest.approx(7.0 * (sums[3] / sums[0] - centre @ centre), rel=1e-12)
    assert found.centre_m == pytest.approx(shape.world(body, tuple(centre)), rel=1e-12)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.01, 50.0), st.floats(0.0, 0.9), st.floats(0.05, 0.9), st.floats(0.0, 6.28))
def test_a_hole_and_the_piece_cut_out_of_it_make_the_whole_disc(radius, off, part, turn):
    """Centre and inertia of the rest and of the piece, put together again by parallel axes."""
    reach = off * radius
    small = part * (radius - reach)
    centre = np.array([reach * math.cos(turn), reach * math.sin(turn)])
    body = replace(DISC, origin_m=(0.0, 0.0), radius_m=radius, round_holes=(RoundHole(tuple(centre), small),))
    share = (small / radius) ** 2
    rest = np.array(shape.centre_place(body))
    assert (1 - share) * rest + share * centre == pytest.approx(np.zeros(2), abs=1e-12 * radius)
    whole = (1 - share) * (radius_of_gyration(body) ** 2 + rest @ rest) + share * (small**2 / 2 + centre @ centre)
    assert whole == pytest.approx(radius**2 / 2, rel=1e-10)


def test_a_plate_with_polygon_holes_near_round_tends_to_that_with_round_ones():
    """A regular polygon of n corners has the area r² n sin(2π/n)/2; at 200 corners it is off by 1.6e-4."""
    ring = tuple((1.2 + 0.3 * math.cos(turn), 0.7 + 0.3 * math.sin(turn)) for turn in np.arange(200) * math.tau / 200)
    by_corners = radius_of_gyration(replace(PLATE, holes_m=(ring,)))
    round_ = radius_of_gyration(replace(PLATE, round_holes=(RoundHole((1.2, 0.7), 0.3),)))
    solid = radius_of_gyration(PLATE)
    assert abs(by_corners - round_) < 3e-4 * abs(solid - round_)


# Places


def nearest_by_search(point: tuple[float, float], x: float, y: float, radius: float) -> float:
    """How near a circle comes to a point, looked for around the nearest of many of its points."""

    def far(turn: float) -> float:
        return math.hypot(x + radius * math.cos(turn) - point[0], y + radius * math.sin(turn) - point[1])

    best = min(np.linspace(0.0, math.tau, 721), key=far)
    return float(
        minimize_scalar(far, bounds=(best - 0.01, best + 0.01), method="bounded", options={"xatol": 1e-12}).fun
    )


@settings(max_examples=100, deadline=None)
@given(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0))
def test_nearest_place_is_nearer_than_any_other_on_the_disc(x, y):
    body = replace(DISC, angle_deg=37.0, round_holes=(RoundHole((0.2, 0.1), 0.2),))
    near = shape.nearest_place(body, (2.0 + x, 1.0 + y))
    assert document.on_body(body, near)
    wanted = shape.local(body, (2.0 + x, 1.0 + y))
    others = min(nearest_by_search(wanted, 0.0, 0.0, 0.5), nearest_by_search(wanted, 0.2, 0.1, 0.2))
    gap = distance(near, wanted)
    assert gap == 0.0 or gap == pytest.approx(others, abs=1e-7)
    # Where it is itself on the disc, it is the place asked for.
    assert (gap == 0.0) == document.on_body(body, wanted) or gap <= 1e-6


def test_extent_of_a_turned_disc_is_its_square():
    assert shape.extent(replace(DISC, angle_deg=33.0)) == ((1.5, 0.5), (2.5, 1.5))


# Documents


def test_disc_and_round_holes_are_read_as_written():
    for body in (DISC, replace(DISC, round_holes=(RoundHole((0.1, 0.0), 0.2),)),
                 replace(PLATE, round_holes=(RoundHole((0.5, 0.5), 0.2), RoundHole((1.5, 0.5), 0.2)))):  # fmt: skip
        assert document.read(document.write(of(body))).bodies == (body,)


def round_hole(x: float, y: float, radius_m: float) -> dict[str, object]:
    return {"centre_m": [x, y], "radius_m": radius_m}


TRIANGLE = [[0.4, 0.4], [0.6, 0.4], [0.5, 0.6]]


@pytest.mark.parametrize(
    ("body", "change", "where", "said"),
    [
        (DISC, {"radius_m": 0.0}, "radius_m", "longer than 1 µm"),
        (DISC, {"points_m": [[0, 0], [1, 0]]}, "points_m", "only for a bent bar or plate"),
        (DISC, {"holes_m": [TRIANGLE]}, "holes_m", "only for a plate"),
        (PLATE, {"radius_m": 1.0}, "radius_m", "only for a disc"),
        (DISC, {"round_holes": [round_hole(0.4, 0.0, 0.2)]}, "round_holes[0]", "inside the disc"),
        (PLATE, {"round_holes": [round_hole(0.1, 0.1, 0.2)]}, "round_holes[0]", "inside the plate"),
        (PLATE, {"round_holes": [round_hole(3.0, 1.0, 0.2)]}, "round_holes[0]", "inside the plate"),
        (
            PLATE,
            {"round_holes": [round_hole(0.5, 0.5, 0.3), round_hole(1.0, 0.5, 0.3)]},
            "round_holes[1]",
            "overlap round hole 1",
        ),
        (
            PLATE,
            {"holes_m": [TRIANGLE], "round_holes": [round_hole(0.5, 0.5, 0.4)]},
            "round_holes[0]",
            "overlap hole 1",
        ),
        (
            PLATE,
            {"holes_m": [TRIANGLE], "round_holes": [round_hole(0.5, 0.45, 0.02)]},
            "round_holes[0]",
            "overlap hole 1",
        ),
        (DISC, {"round_holes": [round_hole(0.0, 0.0, -0.1)]}, "round_holes[0].radius_m", "more than"),
        (DISC, {"round_holes": [{"centre_m": [0, 0]}]}, "round_holes[0].radius_m", "missing"),
    ],
)
def test_what_cannot_be_is_refused_with_its_path(body, change, where, said):
    problem = complaint({**plain(body), **change})
    assert problem.where == f"bodies[0].{where}"
    assert said in problem.message and problem.where in problem.message and problem.hint


def test_round_holes_of_a_bar_and_places_off_the_disc_are_refused():
    bar = {"id": "b", "kind": "bar", "name": "b", "origin_m": [0, 0], "angle_deg": 0, "length_m": 2}
    assert complaint({**bar, "round_holes": [{"centre_m": [1, 0], "radius_m": 0.1}]}).where == "bodies[0].round_holes"
    holed = replace(DISC, round_holes=(RoundHole((0.0, 0.0), 0.2),))
    for place in ((0.6, 0.0), (0.1, 0.0)):
        with pytest.raises(SteelyardError, match="must be on the disc"):
            document.check(of(holed, supports=(Support("p", "pin", "disc", place, "R"),)))


# Numbers that may be varied


def leaning() -> Sketch:
    """A plate with a porthole on a pin and a rope."""
    body = replace(PLATE, round_holes=(RoundHole((1.4, 0.75), 0.5),), mass_kg=150.0)
    return of(
        body,
        supports=(
            Support("lug", "pin", "plate", (0.0, 0.0), "R"),
            Support("hoist", "rope", "plate", (2.0, 1.5), "T", anchor_m=(0.5, 3.5)),
        ),
    )


def pull(radius: float, x: float = 1.4) -> float:
    """The rope's pull by hand: its arm about the pin is 2.5 m."""
    cut = math.pi * radius**2
    return 150.0 * 9.81 * (3.0 - cut * x) / (3.0 - cut) / 2.5


def test_numbers_of_a_hole_and_a_disc_have_paths_and_names():
    sketch = leaning()
    paths = {number.path for number in document.numbers(sketch)}
    assert {f"plate.round_holes[0].{part}" for part in ("centre_m[0]", "centre_m[1]", "radius_m")} <= paths
    radius = document.number_at(sketch, "plate.round_holes[0].radius_m")
    assert (radius.value, radius.kind, radius.never_negative) == (0.5, "length", True)
    assert document.words_for(sketch, radius) == "the plate's round hole 1, radius"
    wider = document.with_number(sketch, radius, 0.6)
    assert wider.bodies[0].round_holes == (RoundHole((1.4, 0.75), 0.6),)
    assert document.number_at(of(DISC), "disc.radius_m").value == 0.5


def test_half_width_of_a_holes_radius_follows_the_formulas_slope():
    sketch = replace(leaning(), half_widths=())
    path = "plate.round_holes[0].radius_m"
    unsure = document.from_data({**document.to_data(sketch), "half_widths": [{"path": path, "half_width": 0.01}]})
    found = uncertainty(unsure)
    assert found is not None
    spread = next(each for each in found.spreads if each.force == "hoist" and each.quantity == "size")
    radius = sympy.symbols("radius")
    cut = sympy.pi * radius**2
    slope = sympy.diff((3 - cut * sympy.Rational(7, 5)) / (3 - cut), radius).subs(radius, sympy.Rational(1, 2))
    assert spread.half_width == pytest.approx(abs(float(slope)) * 150.0 * 9.81 / 2.5 * 0.01, rel=1e-6)


def test_limit_of_a_holes_place_is_where_the_formula_has_its_root():
    """A contact right of the middle lifts off where the hole takes the centre of mass over the pin."""
    body = replace(PLATE, round_holes=(RoundHole((1.2, 0.75), 0.5),))
    sketch = of(
        body,
        supports=(
            Support("pin", "pin", "plate", (1.0, 0.0), "R"),
            Support("rest", "contact", "plate", (0.0, 0.0), "N", normal_deg=90.0),
        ),
    )
    found = limits(sketch, "plate.round_holes[0].centre_m[0]", 0.6, 1.4)
    assert [change.value for change in found.changes if change.kind == "lifts"] == pytest.approx([1.0], abs=1e-9)


def test_what_is_on_the_rim_stays_on_it_when_the_radius_varies():
    sketch = of(
        DISC,
        supports=(Support("axle", "pin", "disc", (0.0, 0.0), "R"),
                  Support("stop", "roller", "disc", (0.0, -0.5), "B", normal_deg=0.0, two_way=True)),
        loads=(Force("pull", "disc", (0.5, 0.0), "F", size_n=100.0, direction_deg=270.0),),
    )  # fmt: skip
    larger = document.with_number(sketch, document.number_at(sketch, "disc.radius_m"), 0.8)
    document.check(larger)
    assert (larger.supports[0].place_m, larger.supports[1].place_m) == ((0.0, 0.0), pytest.approx((0.0, -0.8)))
    # Both arms grow alike, so the stop's push does not.
    assert analyse(larger).reading("stop").size_n == pytest.approx(100.0, rel=1e-12)


# Hands


def test_a_disc_is_drawn_from_its_centre_and_a_hole_by_tap_or_drag():
    placing = Placing(Sketch(), "disc", (1.0, 1.0), BOARD)
    made = placing.at((1.0, 1.52), BOARD).sketch
    (body,) = made.bodies
    assert (body.kind, body.origin_m) == ("disc", (1.0, 1.0))
    assert body.radius_m == pytest.approx(0.52, abs=0.03) and round(body.radius_m / 0.05, 9).is_integer()
    tapped = Placing(made, "hole", (1.0, 1.2), BOARD)
    (hole,) = tapped.at((1.0, 1.2), BOARD).sketch.bodies[0].round_holes
    assert hole == RoundHole((0.0, pytest.approx(0.2)), 0.1)
    dragged = Placing(made, "hole", (1.0, 1.0), BOARD).at((1.3, 1.0), BOARD)
    assert dragged.sketch.bodies[0].round_holes == (RoundHole((0.0, 0.0), pytest.approx(0.3)),)
    assert dragged.created == "disc" and dragged.label == "Cut a hole in disc"


def test_a_hole_off_the_plate_is_not_cut():
    with pytest.raises(SteelyardError, match="inside the plate"):
        Placing(of(PLATE), "hole", (0.2, 0.2), BOARD).at((1.0, 0.2), BOARD)
    with pytest.raises(SteelyardError, match="plate or disc"):
        bar = Body("bar", "bar", "bar", (0.0, 0.0), 0.0, length_m=3.0)
        Placing(of(bar), "hole", (1.0, 0.0), BOARD).at((1.0, 0.0), BOARD)


def test_grips_change_the_radius_and_move_the_hole_and_a_bad_drag_keeps_the_last_sound_one():
    body = replace(DISC, round_holes=(RoundHole((0.1, 0.0), 0.2),))
    sketch = of(body, supports=(Support("stop", "contact", "disc", (0.0, -0.5), "N"),))
    up_right = math.sqrt(0.5)
    rim = Gesture(sketch, "disc", "rim", (2.0 + 0.5 * up_right, 1.0 + 0.5 * up_right), BOARD)
    wider = rim.at((2.0 + 0.8 * up_right, 1.0 + 0.8 * up_right), BOARD)
    assert wider.bodies[0].radius_m == pytest.approx(0.8)
    assert wider.supports[0].place_m == pytest.approx((0.0, -0.8))
    assert "radius" in rim.readout
    middle = Gesture(sketch, "disc", "hole-0", (2.1, 1.0), BOARD)
    assert middle.at((1.9, 1.1), BOARD).bodies[0].round_holes[0].centre_m == pytest.approx((-0.1, 0.1), abs=0.03)
    kept = middle.at((2.45, 1.0), BOARD)
    assert kept.bodies[0].round_holes[0].centre_m == pytest.approx((-0.1, 0.1), abs=0.03)
    assert "inside the disc" in middle.readout
    edge = Gesture(sketch, "disc", "hole-0-rim", (2.1 + 0.2 * up_right, 1.0 + 0.2 * up_right), BOARD)
    assert edge.at((2.1 + 0.1 * up_right, 1.0 + 0.1 * up_right), BOARD).bodies[0].round_holes[0].radius_m == 0.1


def test_what_stands_where_a_hole_is_cut_moves_to_its_rim_and_what_is_on_the_rim_goes_along():
    sketch = of(PLATE, loads=(Thing("crate", "plate", (1.0, 0.7), "P", "crate", 5.0),))
    cut = Placing(sketch, "hole", (1.0, 0.8), BOARD).at((1.3, 0.8), BOARD).sketch
    hole = cut.bodies[0].round_holes[0]
    assert distance(cut.loads[0].place_m, hole.centre_m) == pytest.approx(hole.radius_m)
    grown = commands.apply(cut, "set", {"id": "plate", "key": "hole0_radius", "text": "0.4 m"}).sketch
    assert distance(grown.loads[0].place_m, hole.centre_m) == pytest.approx(0.4)


def test_fields_read_and_set_radius_and_holes_and_fill_them():
    sketch = of(replace(PLATE, round_holes=(RoundHole((0.5, 0.5), 0.2), RoundHole((1.5, 0.5), 0.1))))
    shown = {
        item["key"]: item for group in body_fields(sketch, sketch.bodies[0], None)["groups"] for item in group["items"]
    }
    assert (shown["hole1_x"]["text"], shown["hole1_radius"]["text"]) == ("1.5", "0.1")
    moved = commands.apply(sketch, "set", {"id": "plate", "key": "hole1_y", "text": "80 cm"}).sketch
    assert moved.bodies[0].round_holes[1].centre_m == (1.5, 0.8)
    fill = shown["hole0_fill"]
    filled = commands.apply(sketch, fill["command"], fill["args"]).sketch
    assert filled.bodies[0].round_holes == (RoundHole((1.5, 0.5), 0.1),)
    with pytest.raises(SteelyardError, match="inside the plate"):
        commands.apply(sketch, "set", {"id": "plate", "key": "hole0_radius", "text": "0.6"})
    disc = commands.apply(of(DISC), "set", {"id": "disc", "key": "radius", "text": "75 cm"}).sketch
    assert disc.bodies[0].radius_m == 0.75


@pytest.mark.parametrize("angle_deg", range(0, 360, 15))
def test_a_contact_laid_on_the_rim_pushes_to_the_centre_and_goes_on_doing_so(angle_deg):
    way = (math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg)))
    near = (2.0 + 0.52 * way[0], 1.0 + 0.52 * way[1])
    for body in (DISC, replace(DISC, angle_deg=20.0)):
        made = Placing(of(body), "contact", near, BOARD).at(near, BOARD).sketch
        (held,) = made.supports
        assert shape.world(body, held.place_m) == pytest.approx((2.0 + 0.5 * way[0], 1.0 + 0.5 * way[1]), abs=1e-9)
        assert math.remainder(held.normal_deg - angle_deg - 180.0, 360.0) == pytest.approx(0.0, abs=1e-6)
        moved = Gesture(made, held.id, "place", near, BOARD).at((2.0, 1.6), BOARD).supports[0]
        assert moved.normal_deg == pytest.approx(270.0, abs=1e-6)


def test_a_force_slides_along_its_line_to_the_other_side_of_the_rim():
    sketch = of(DISC, loads=(Force("pull", "disc", (0.5, 0.0), "F", size_n=100.0, direction_deg=180.0),))
    slid = Gesture(sketch, "pull", "slide", (2.5, 1.0), replace(BOARD, catch_m=0.0)).at((1.0, 1.0), BOARD)
    assert slid.loads[0].place_m == pytest.approx((-0.5, 0.0))


def test_a_length_measures_a_disc_and_its_hole_and_drives_them():
    body = replace(DISC, round_holes=(RoundHole((0.2, 0.0), 0.1),))
    radius = Given("r", "length", MeasuredPoint("disc", "middle"), MeasuredPoint("disc", "rim"))
    across = Given("c", "length", MeasuredPoint("disc", "middle"), MeasuredPoint("disc", "hole-0"))
    sketch = of(body, givens=(radius, across))
    document.check(sketch)
    assert measuring.length(sketch, radius).value_m == 0.5 and measuring.length(
        sketch, across
    ).value_m == pytest.approx(0.2)
    driven = commands.apply(sketch, "set", {"id": "r", "key": "value", "text": "0.7"}).sketch
    assert driven.bodies[0].radius_m == 0.7
    farther = commands.apply(sketch, "set", {"id": "c", "key": "value", "text": "0.35"}).sketch
    assert farther.bodies[0].round_holes[0].centre_m == pytest.approx((0.35, 0.0))
    for part, said in (("corner-0", "middle, rim"), ("hole-1", "hole-0 to hole-0")):
        with pytest.raises(SteelyardError) as caught:
            document.check(of(body, givens=(replace(radius, end=MeasuredPoint("disc", part)),)))
        assert said in caught.value.hint
    with pytest.raises(SteelyardError, match="straight line"):
        document.check(of(body, givens=(Given("a", "angle", line="disc"),)))


# Pictures


def test_a_disc_is_drawn_as_a_true_circle_with_its_hole():
    frame = Frame(800.0, 500.0, px_per_m=100.0, centre_m=(2.0, 1.0), n_per_px=10.0)
    body = replace(DISC, round_holes=(RoundHole((0.2, 0.0), 0.1),))
    outline = outline_px(body, frame, of(body))
    middle = frame.to_sheet((2.0, 1.0))
    assert {round(math.dist(point, middle), 9) for point in outline} == {50.0}
    path = whole_path(body, outline, frame)
    assert path.count("a50 50 0 1 0") == 2 and path.count("a10 10 0 1 0") == 2
