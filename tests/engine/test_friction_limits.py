"""Limits with friction, faces and many answers, against HiGHS at many places and formulas worked by hand."""

from __future__ import annotations

import json
import math
from random import Random

import pytest
import rough_reference
from steelyard import cli, document
from steelyard.document.paths import number_at, numbers, with_number
from steelyard.errors import SteelyardError
from steelyard.limits.thresholds import limits, where
from steelyard.model import HalfWidth, Sketch, Thing
from steelyard.statics.uncertainty import uncertainty
from test_friction import crate, ladder

PATHS = [
    ("base.mu", 0.0, 1.0),
    ("foot0.mu", 0.0, 1.5),
    ("push.size_n", 0.0, 200.0),
    ("push.direction_deg", 0.0, 360.0),
    ("load.place_m[0]", 0.0, 0.5),
    ("thing.angle_deg", -80.0, 80.0),
    ("load.mass_kg", 0.0, 40.0),
]
PLACES = 24


@pytest.mark.parametrize("batch", range(4))
def test_safe_stretches_of_random_rough_sketches_are_where_highs_finds_a_balance(batch):
    chance = Random(batch)
    held = failed = 0
    for seed in range(5000 + 9 * batch, 5009 + 9 * batch):
        sketch = rough_reference.random_sketch(seed)
        paths = {number.path for number in numbers(sketch)}
        path, low, high = chance.choice([case for case in PATHS if case[0] in paths])
        found = limits(sketch, path, low, high)
        number = number_at(sketch, path)
        for _ in range(PLACES):
            place = chance.uniform(low, high)
            stretch = next(each for each in found.stretches if each.start <= place <= each.end)
            if min(place - stretch.start, stretch.end - place) < 1e-6 * (high - low):
                continue
            short = rough_reference.violation(rough_reference.assemble(with_number(sketch, number, place)))
            if 0.0 < short < 1e-7:
                continue
            assert (short == 0.0) == stretch.holds, (seed, path, place, short, stretch)
            held += stretch.holds
            failed += not stretch.holds
    assert held > 20 and failed > 20


def one_change(sketch: Sketch, path: str, low: float, high: float) -> tuple[str, str, float]:
    """The only change that ends the balance, as (kind, force, value)."""
    (change,) = (each for each in limits(sketch, path, low, high).changes if each.kind not in ("zero", "lifts"))
    return change.kind, change.force, change.value


def test_ladder_on_a_smooth_wall_slips_at_the_angle_of_the_formula():
    # Under its own weight alone: tan θ = 1/(2μ), whatever its length and weight.
    kind, force, value = one_change(ladder(0.4, None), "ladder.angle_deg", 20.0, 85.0)
    assert (kind, force) == ("slips", "foot-friction")
    assert value == pytest.approx(math.degrees(math.atan(1.0 / 0.8)), abs=65e-9)


def test_ladder_rough_at_both_ends_slips_at_the_angle_of_the_formula_though_statics_leaves_it_open():
    found = limits(ladder(0.3, 0.3), "ladder.angle_deg", 20.0, 85.0)
    (change,) = found.changes
    assert change.value == pytest.approx(math.degrees(math.atan((1.0 - 0.09) / 0.6)), abs=65e-9)
    assert found.safe == ((change.value, 85.0),) and change.kind == "slips"
    assert "from slipping to the left at the quay and down at the hull" in change.sentence


def test_coefficient_of_friction_is_a_number_with_a_limit_and_may_start_from_none():
    found = limits(ladder(0.4, None), "foot.mu", 0.0, 1.0)
    (change,) = found.changes
    assert change.value == pytest.approx(0.5 / math.tan(math.radians(60.0)), abs=1e-9)
    assert found.safe == ((change.value, 1.0),)
    assert "below this nothing keeps the ladder from slipping to the left at the quay" in change.sentence
    both = limits(ladder(0.3, 0.3), "foot.mu", 0.0, 1.0).changes[0].value
    # With g = +0.3·S at its best: S = W·b/2/(h + 0.3·b), μ = S/(W − 0.3·S).
    pressed = 200.0 / (4.0 * math.sin(math.radians(60.0)) + 0.6)
    assert both == pytest.approx(pressed / (200.0 - 0.3 * pressed), abs=1e-9)


def test_crate_slips_or_tips_where_the_formulas_of_both_cross():
    found = limits(crate(0.3, 20.0, 1.0), "push.size_n", 0.0, 100.0)
    assert [(each.kind, each.value) for each in found.changes if each.kind != "zero"] == [
        ("slips", pytest.approx(30.0, abs=1e-7)),
        ("tips", pytest.approx(50.0, abs=1e-7)),
    ]
    assert found.safe == ((0.0, pytest.approx(30.0, abs=1e-7)),)
    assert one_change(crate(0.5, 40.0, 1.0), "push.place_m[1]", 0.0, 2.0) == (
        "tips", "base", pytest.approx(100.0 * 0.5 / 40.0, abs=2e-9)
    )  # fmt: skip
    assert one_change(crate(0.5, 40.0, 1.0), "base.face_m[0]", 0.2, 1.0)[2] == pytest.approx(0.9, abs=1e-9)


def test_where_a_normal_acts_and_how_much_friction_is_used_can_be_asked_for():
    sketch = crate(0.3, 20.0, 1.0)
    ask = ("push.size_n", 0.0, 100.0)
    assert where(sketch, *ask, "base", 0.1, "place") == (pytest.approx(10.0, abs=1e-7),)
    assert where(sketch, *ask, "base", -0.1, "place") == ()
    assert where(sketch, *ask, "base", 0.5, "use") == (pytest.approx(25.0, abs=1e-7),)
    assert where(sketch, *ask, "base-friction", 1.0, "use") == (pytest.approx(30.0, abs=1e-7),)
    with pytest.raises(SteelyardError, match="must be that of a rough contact or a face"):
        where(sketch, *ask, "push", 1.0, "use")


def test_command_line_finds_where_friction_is_all_used(tmp_path, capsys):
    path = tmp_path / "crate.json"
    path.write_text(document.write(crate(0.3, 20.0, 1.0)), encoding="utf-8")
    said = ["limits", str(path), "push.size_n", "0", "100", "--where"]
    assert cli.main([*said, "base-friction.use=1"]) == 0
    assert "30.0000" in capsys.readouterr().out
    assert cli.main([*said, "base.place=0.2 m"]) == 0
    assert "20.0000" in capsys.readouterr().out


def test_crate_on_a_half_width_says_that_friction_may_not_do():
    sketch = crate(0.3, 25.0, 0.5)
    wide = Sketch(bodies=sketch.bodies, supports=sketch.supports, loads=sketch.loads,
                  half_widths=(HalfWidth("push.size_n", 6.0),))  # fmt: skip
    found = uncertainty(wide)
    assert found is not None and found.may_fail == ("base-friction",)
    by_part = {(each.force, each.quantity): each for each in found.spreads}
    assert by_part["base-friction", "x"].half_width == pytest.approx(6.0)
    extent = by_part["base-friction", "x"].extent
    assert extent is not None and (extent.least, extent.greatest) == pytest.approx((-31.0, -19.0))
    narrow = uncertainty(Sketch(bodies=sketch.bodies, supports=sketch.supports, loads=sketch.loads,
                                half_widths=(HalfWidth("push.size_n", 4.0),)))  # fmt: skip
    assert narrow is not None and narrow.may_fail == ()


def test_half_width_of_a_load_is_told_of_a_ladder_at_its_very_limit():
    mu = 0.5 / math.tan(math.radians(60.0))
    sketch = ladder(mu, None)
    chest = Thing("chest", "ladder", (2.0, 0.0), "Q", "chest", 10.0)
    sketch = Sketch(bodies=sketch.bodies, supports=sketch.supports, loads=(chest,),
                    half_widths=(HalfWidth("chest.mass_kg", 1.0),))  # fmt: skip
    found = uncertainty(sketch)
    assert found is not None and not found.trouble
    top = next(each for each in found.spreads if each.force == "top" and each.quantity == "size")
    assert top.half_width == pytest.approx(9.81 * mu)


def test_answer_tells_ranges_with_their_reactions_and_what_is_used(tmp_path, capsys):
    path = tmp_path / "ladder.json"
    path.write_text(document.write(ladder(0.4, 0.3)), encoding="utf-8")
    assert cli.main(["solve", str(path), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    by_part = {each["part"]: each for each in data["ranges"]}
    assert set(by_part) == {"foot", "foot-friction", "top", "top-friction"}
    most = by_part["foot"]["most"]
    reactions = {each["force"]: each for each in most["reactions"]}
    assert reactions["foot"]["fy_n"] == most["value"]
    assert sum(each["fy_n"] for each in reactions.values()) == pytest.approx(200.0)
    assert [each["kind"] for each in data["use"]] == ["friction", "friction"]
    assert cli.main(["solve", str(path)]) == 0
    printed = capsys.readouterr().out
    assert "f/N    0.266 to 0.316  of  0.4" in printed
    assert cli.main(["solve", str(path), "--explain"]) == 0
    assert "|f| ≤ 0.4·N" in capsys.readouterr().out
