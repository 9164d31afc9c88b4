"""Half-widths of reactions against numpy: Monte Carlo, finite differences of an independent solve, dense sampling."""

import itertools
import math
from dataclasses import replace

import numpy
import pytest
import reference
from steelyard import shelf
from steelyard.document.paths import number_at, numbers, with_number
from steelyard.model import Body, Couple, Force, HalfWidth, Sketch, Support
from steelyard.statics import analyse
from steelyard.statics.solved import solved
from steelyard.statics.uncertainty import Spread, uncertainty

GANGWAY = shelf.load("gangway")
# The reference solves one body.
ONE_BODY = [each.slug for each in shelf.listing() if len(shelf.load(each.slug).bodies) == 1]
ALL_OF_IT = (
    ("walker.mass_kg", 2.0),
    ("walker.place_m[0]", 0.1),
    ("hoist.anchor_m[1]", 0.05),
    ("gangway.angle_deg", 1.0),
    ("settings.g_m_s2", 0.02),
)
BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=6.0, mass_kg=30.0)
BEAM = Sketch(
    bodies=(BAR,),
    supports=(
        Support("pin1", "pin", "bar1", (0.0, 0.0), "R"),
        Support("far", "roller", "bar1", (5.0, 0.0), "N", normal_deg=70.0, two_way=True),
    ),
    loads=(
        Force("push", "bar1", (2.0, 0.0), "F", size_n=400.0, direction_deg=250.0),
        Couple("turn", "bar1", (1.0, 0.0), "C", couple_n_m=90.0),
    ),
)


def unsure(sketch: Sketch, *half_widths: tuple[str, float]) -> Sketch:
    return replace(sketch, half_widths=tuple(HalfWidth(path, width) for path, width in half_widths))


def apart(sketch: Sketch) -> dict[tuple[str, str], float]:
    """Components, sizes, directions and couples of all unknowns by numpy alone."""
    system = reference.assemble(sketch)
    found: dict[tuple[str, str], float] = {}
    forces: dict[str, numpy.ndarray] = {}
    for (name, part), value in reference.solve(system).items():
        if part == "couple":
            found[name, "couple"] = value
            continue
        if part == "place":
            continue
        column = system.columns[:, system.names.index((name, part))]
        forces[name] = forces.get(name, numpy.zeros(2)) + value * column[:2]
    for name, vector in forces.items():
        found[name, "x"], found[name, "y"] = vector
        found[name, "size"] = math.hypot(*vector)
        found[name, "direction"] = math.degrees(math.atan2(vector[1], vector[0])) % 360.0
    return found


def varied(sketch: Sketch, shifts: dict[str, float]) -> Sketch:
    for path, shift in shifts.items():
        number = number_at(sketch, path)
        sketch = with_number(sketch, number, number.value + shift)
    return sketch


@pytest.mark.parametrize("slug", ONE_BODY)
def test_first_order_is_that_of_differences_of_an_independent_solve(slug):
    sketch = shelf.load(slug)
    if uncertainty(unsure(sketch, ("settings.g_m_s2", 0.1)), worst=False).trouble:
        assert solved(sketch).vectors == {}
        return
    # The middle of a bar and of a bent bar is where the reference looks for it too; a plate's corners are left alone.
    inputs = [number for number in numbers(sketch) if not number.key.startswith(("points", "holes"))]
    found = uncertainty(unsure(sketch, *((number.path, 0.5) for number in inputs)), worst=False)
    assert found.trouble == "" and found.spreads
    for index, number in enumerate(inputs):
        step = 1e-5
        there, back = (apart(varied(sketch, {number.path: sign * step})) for sign in (1, -1))
        for spread in found.spreads:
            share = spread.shares[index]
            slope = (there[spread.force, spread.quantity] - back[spread.force, spread.quantity]) / (2 * step)
            scale = max(1.0, max(map(abs, there.values())))
            assert share.change == pytest.approx(0.5 * slope, rel=1e-5, abs=1e-5 * scale), (number.path, spread)
            assert share.error < 1e-7 * scale
    for spread in found.spreads:
        assert spread.half_width == pytest.approx(math.sqrt(sum(share.change**2 for share in spread.shares)))
        if spread.most:
            assert max(spread.shares, key=lambda share: abs(share.change)).path == spread.most


def gangway(mass, place, height, angle, g) -> dict[tuple[str, str], numpy.ndarray]:
    """The gangway by hand, for arrays: torques about the hinge, then the two sums."""
    angle = numpy.radians(angle)
    weight, walker = 120.0 * g, mass * g
    at = 5.2 * numpy.cos(angle), 5.2 * numpy.sin(angle)
    along = 1.2 - at[0], height - at[1]
    size = numpy.hypot(*along)
    arm = (at[0] * along[1] - at[1] * along[0]) / size
    pull = (weight * 3.0 + walker * place) * numpy.cos(angle) / arm
    x, y = -pull * along[0] / size, weight + walker - pull * along[1] / size
    return {
        ("hoist", "size"): pull,
        ("hinge", "x"): x,
        ("hinge", "y"): y,
        ("hinge", "size"): numpy.hypot(x, y),
        ("hinge", "direction"): numpy.degrees(numpy.arctan2(y, x)),
    }


NOMINAL = (80.0, 4.0, 3.2, -12.0, 9.80665)
MEASURED = unsure(GANGWAY, *ALL_OF_IT)


def spreads_of(sketch: Sketch) -> dict[tuple[str, str], Spread]:
    return {(spread.force, spread.quantity): spread for spread in uncertainty(sketch).spreads}


def test_monte_carlo_of_small_errors_spreads_like_the_first_order():
    chance = numpy.random.default_rng(3)
    widths = numpy.array([width for _, width in ALL_OF_IT])
    drawn = numpy.array(NOMINAL)[:, None] + chance.normal(size=(5, 200_000)) * widths[:, None] / 100.0
    sampled = gangway(*drawn)
    found = spreads_of(MEASURED)
    for key, values in sampled.items():
        assert found[key].value == pytest.approx(gangway(*NOMINAL)[key], rel=1e-12)
        assert 100.0 * values.std() == pytest.approx(found[key].half_width, rel=0.01)


def test_worst_case_holds_every_point_of_a_dense_grid_and_is_reached_by_it():
    axes = [
        numpy.linspace(middle - width, middle + width, 11)
        for middle, (_, width) in zip(NOMINAL, ALL_OF_IT, strict=True)
    ]
    sampled = gangway(*numpy.meshgrid(*axes))
    found = spreads_of(MEASURED)
    for key, values in sampled.items():
        extent = found[key].extent
        reach = extent.greatest - extent.least
        assert extent.least <= values.min() + 1e-9 * reach
        assert extent.greatest >= values.max() - 1e-9 * reach
        assert extent.least == pytest.approx(values.min(), abs=2e-3 * reach)
        assert extent.greatest == pytest.approx(values.max(), abs=2e-3 * reach)
        assert not extent.least_sure  # the gangway itself turns: no corner argument


def test_extreme_inside_the_box_is_found():
    # The least pull of a rope is where it stands square to the arm: between the ends of this range, not at one.
    arm = Sketch(
        bodies=(Body("bar1", "bar", "arm", (0.0, 0.0), 0.0, length_m=2.0, weight_n=100.0),),
        supports=(
            Support("pin1", "pin", "bar1", (0.0, 0.0), "R"),
            Support("rope1", "rope", "bar1", (2.0, 0.0), "T", anchor_m=(2.3, 3.0)),
        ),
    )
    found = spreads_of(unsure(arm, ("rope1.anchor_m[0]", 1.0)))["rope1", "size"]
    assert found.extent.least == pytest.approx(50.0, abs=1e-6)
    assert not found.extent.least_sure


EXACT = (
    ("push.size_n", 25.0),
    ("turn.couple_n_m", 30.0),
    ("far.place_m[0]", 0.4),
    ("far.normal_deg", 6.0),
    ("bar1.mass_kg", 3.0),
    ("push.place_m[0]", 0.5),
)


def test_ends_that_are_sure_are_the_corners_and_nothing_inside_passes_them():
    sketch = unsure(BEAM, *EXACT)
    found = spreads_of(sketch)
    corners = [
        apart(varied(BEAM, dict(zip((path for path, _ in EXACT), shift, strict=True))))
        for shift in itertools.product(*((-width, width) for _, width in EXACT))
    ]
    chance = numpy.random.default_rng(8)
    inside = [
        apart(varied(BEAM, {path: float(chance.uniform(-width, width)) for path, width in EXACT})) for _ in range(400)
    ]
    for key, spread in found.items():
        extent = spread.extent
        assert extent.greatest_sure, key
        assert extent.greatest == pytest.approx(max(corner[key] for corner in corners), rel=1e-12)
        assert extent.least_sure == (extent.least == pytest.approx(min(corner[key] for corner in corners), rel=1e-12))
        slack = 1e-9 * abs(extent.greatest)
        assert all(extent.least - slack <= values[key] <= extent.greatest + slack for values in inside)
    assert all(found[key].extent.least_sure for key in found if key[1] in ("x", "y"))


def test_share_of_a_load_is_exact():
    found = spreads_of(unsure(GANGWAY, ("walker.mass_kg", 2.0)))["hoist", "size"]
    arms = 4.0 * math.cos(math.radians(12.0)) / analyse(GANGWAY).reading("hoist").turning.arm_m
    assert found.half_width == pytest.approx(2.0 * 9.80665 * arms, rel=1e-10)
    assert found.extent.greatest - found.value == pytest.approx(found.half_width, rel=1e-9)
    assert found.extent.greatest_sure


def test_stated_error_covers_a_derivative_near_a_degenerate_layout():
    # A level arm on a rope that is nearly level: T = W/(2 sin θ), dT/dθ = −W cos θ/(2 sin² θ).
    for rise in (0.5, 0.05, 0.005):
        arm = Sketch(
            bodies=(Body("bar1", "bar", "arm", (0.0, 0.0), 0.0, length_m=2.0, weight_n=100.0),),
            supports=(
                Support("pin1", "pin", "bar1", (0.0, 0.0), "R"),
                Support("rope1", "rope", "bar1", (2.0, 0.0), "T", anchor_m=(1.0, rise)),
            ),
        )
        share = uncertainty(unsure(arm, ("rope1.anchor_m[1]", 1.0)), worst=False).spreads
        size = next(spread for spread in share if (spread.force, spread.quantity) == ("rope1", "size"))
        # T = 50 √(1 + h²)/h, so dT/dh = −50/(h² √(1 + h²)).
        exact = -50.0 / (rise**2 * math.sqrt(1.0 + rise**2))
        assert abs(size.shares[0].change - exact) <= max(size.shares[0].error, 1e-12 * abs(exact))
        assert size.shares[0].error < 1e-6 * abs(exact)


def test_no_worst_case_where_the_supports_may_stop_holding():
    found = uncertainty(unsure(BEAM, ("far.normal_deg", 75.0)))
    assert "may stop holding" in found.trouble
    assert all(spread.extent is None and spread.half_width > 0.0 for spread in found.spreads)


def test_one_way_support_that_may_let_go_within_the_box_is_named():
    plank = Sketch(
        bodies=(Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0, weight_n=100.0),),
        supports=(
            Support("hold", "contact", "bar1", (0.0, 0.0), "A"),
            Support("trestle", "roller", "bar1", (2.1, 0.0), "N"),
            Support("stop", "roller", "bar1", (0.0, 0.0), "H", normal_deg=0.0, two_way=True),
        ),
    )
    assert uncertainty(unsure(plank, ("trestle.place_m[0]", 0.05))).may_fail == ()
    assert uncertainty(unsure(plank, ("trestle.place_m[0]", 0.2))).may_fail == ("hold",)


@pytest.mark.parametrize(
    ("supports", "said"),
    [
        ((), "No reaction has a value"),
        (
            (
                Support("rope1", "rope", "bar1", (4.0, 0.0), "T", anchor_m=(4.0, -2.0)),
                Support("pin1", "pin", "bar1", (0.0, 0.0), "R"),
            ),
            "no balance like this",
        ),
        ((Support("pin1", "pin", "bar1", (3.0, 0.0), "R"),), "changes what statics can tell"),
    ],
)
def test_what_has_no_value_or_no_balance_is_said(supports, said):
    sketch = replace(BEAM, bodies=(replace(BAR),), supports=supports, loads=())
    found = uncertainty(unsure(sketch, ("bar1.length_m", 0.1)))
    assert said in found.trouble
    assert found.spreads == ()


def test_without_half_widths_there_is_nothing_to_say_and_for_too_many_no_worst_case():
    assert uncertainty(GANGWAY) is None
    found = uncertainty(unsure(GANGWAY, *((number.path, 0.01) for number in numbers(GANGWAY)[:13])))
    assert "more than 12" in found.trouble
    assert found.spreads and all(spread.extent is None for spread in found.spreads)


@pytest.mark.parametrize("slug", ONE_BODY)
def test_no_sample_of_the_box_passes_an_end_that_is_sure(slug):
    sketch = shelf.load(slug)
    inputs = [
        (number.path, 0.04 * abs(number.value) + 0.01)
        for number in numbers(sketch)
        if number.key in ("place_m", "anchor_m", "normal_deg", "mass_kg", "size_n", "centre_m") and number.place != (1,)
    ][:5]
    found = uncertainty(unsure(sketch, *inputs))
    chance = numpy.random.default_rng(11)
    sure = 0
    for _ in range(40):
        sample = varied(sketch, {path: float(chance.uniform(-width, width)) for path, width in inputs})
        values = apart(sample)
        for spread in found.spreads:
            if spread.extent is None:
                continue
            value, extent = values[spread.force, spread.quantity], spread.extent
            if spread.quantity == "direction":
                value = spread.value + (value - spread.value + 180.0) % 360.0 - 180.0
            slack = 1e-9 * max(1.0, abs(extent.least), abs(extent.greatest))
            sure += extent.least_sure + extent.greatest_sure
            # What is only searched for is passed by no sample either, as far as forty can tell.
            assert extent.least - slack <= value <= extent.greatest + slack, (spread.force, spread.quantity)
    # Beside friction no end is sure: its bound may be passed inside the box.
    assert sure or found.trouble or any(support.mu is not None for support in sketch.supports)
