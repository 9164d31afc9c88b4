"""The strips: true to scale, on the right side, saying what is open, needed, closed or not to be tested."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import pytest
from picture_cases import gangway, overlap, scenarios, seen, states, text_shape
from steelyard.model import Guess, Sketch
from steelyard.picture import strips
from steelyard.picture.record import Picture

WIDTHS = {"1366x768": (863.0, False), "1920x1080": (1417.0, False), "390x844": (390.0, True)}


def drawn(sketch: Sketch, size: str = "1366x768") -> Picture:
    width, narrow = WIDTHS[size]
    analysis = seen(sketch)
    return strips.draw(sketch, analysis, width, strips.settle(analysis, width, None), narrow=narrow)


def words(picture: Picture, record_id: str) -> str:
    found = [record for record in picture.records if record.id == record_id]
    return "".join(run.text for run in found[0].runs) if found else ""


def boxes(picture: Picture, record_id: str) -> list[tuple[float, float]]:
    """Left and right of every box in a record's path, row by row."""
    path = dict(next(record for record in picture.records if record.id == record_id).attrs)["d"]
    return [(float(left), float(right)) for left, right in re.findall(r"M([\d.]+) [\d.]+H([\d.]+)", path)]


def every_strip() -> dict[str, Picture]:
    sketches = dict(states())
    for slug, sketch in scenarios().items():
        sketches[slug] = replace(sketch, answers="shown")
        sketches[f"{slug} kept"] = replace(sketch, answers="kept")
    clockwise = gangway()
    sketches["clockwise"] = replace(clockwise, settings=replace(clockwise.settings, counterclockwise_positive=False))
    return {f"{name} {size}": drawn(sketch, size) for name, sketch in sketches.items() for size in WIDTHS}


STRIPS = every_strip()


@pytest.mark.parametrize("name", STRIPS)
def test_ids_are_unique_and_words_overlap_no_words_and_stay_on_the_sheet(name: str) -> None:
    picture = STRIPS[name]
    ids = [record.id for record in picture.records]
    assert len(ids) == len(set(ids))
    faded = {record.id[5:] for record in picture.records if record.id.startswith("note.")}
    texts = [text_shape(record) for record in picture.records if record.tag == "text"]
    # A note stands across its faded row on purpose; what it must not meet is another row.
    texts = [shape for shape in texts if not shape.id.startswith("note.") and shape.id.split(".")[-1] not in faded]
    assert [(a.id, b.id) for a, b in combinations(texts, 2) if overlap(a, b)] == []
    for shape in texts:
        for x, y in shape.corners:
            assert -0.5 <= x <= picture.width + 0.5 and -0.5 <= y <= picture.height + 0.5, shape.id


def test_rows_stand_at_least_26_px_apart() -> None:
    for width, narrow in WIDTHS.values():
        analysis = seen(gangway())
        picture = strips.draw(gangway(), analysis, width, strips.Scales(2000.0, 10000.0), narrow=narrow)
        y = [float(dict(record.attrs)["y"]) for record in picture.records if record.id.startswith("label.")]
        assert y[1] - y[0] >= 26.0 and y[2] - y[1] >= 26.0


def test_the_two_sides_of_a_balanced_sketch_are_equally_long() -> None:
    picture = drawn(gangway())
    # Of the gangway, T_x = −1442 N and R_x = +1442 N: one box each side, the same length.
    t, r = boxes(picture, "hoist")[0], boxes(picture, "hinge")[0]
    zero = float(re.findall(r"[\d.]+", dict(next(x for x in picture.records if x.id == "zero").attrs)["d"])[0])
    assert t[1] < zero < r[0]
    assert t[1] - t[0] == pytest.approx(r[1] - r[0], abs=0.05)


def test_segments_are_to_scale() -> None:
    sketch = gangway()
    analysis = seen(sketch)
    scales = strips.Scales(2000.0, 10000.0)
    picture = strips.draw(sketch, analysis, 863.0, scales)
    rail = dict(next(record for record in picture.records if record.id == "rails").attrs)["d"]
    left, right = (float(part) for part in re.findall(r"M([\d.]+) [\d.]+H([\d.]+)", rail)[0])
    half = (right - left) / 2
    weight = boxes(picture, "gangway-weight")[0]
    # W = 120 kg × 9.80665 m/s² = 1176.8 N; 2.6 px of air between segments.
    assert weight[1] - weight[0] == pytest.approx(1176.8 / 2000.0 * half - 2.6, abs=0.1)


def test_ticks_and_closed_appear_together_only_when_all_three_close() -> None:
    balanced, guessed = drawn(gangway()), drawn(states()["guess"])
    assert [words(balanced, f"total.{row}") for row in strips.ROWS] == ["closed"] * 3
    assert sum(record.role == "check" for record in balanced.records) == 3
    assert words(guessed, "total.turn") == "closed"
    assert not any(record.role == "check" for record in guessed.records)


def test_a_guess_that_points_left_leaves_the_right_hatched_with_its_value() -> None:
    # 1154 N at 148.1° beside T_x = −1442 N: ΣFx = 1154 cos 148.1° − 1442.3 = −2422 N.
    picture = drawn(states()["guess"])
    assert words(picture, "total.x") == "−2422\u00a0N"
    needed = boxes(picture, "needed.x")[0]
    zero = float(re.findall(r"[\d.]+", dict(next(x for x in picture.records if x.id == "zero").attrs)["d"])[0])
    assert needed[0] > zero


def test_kept_back_the_needed_side_is_hatched_without_a_value() -> None:
    picture = drawn(states()["two-guesses"])
    assert words(picture, "total.x") == "still needed"
    assert any(record.id == "needed.x-hatch" for record in picture.records)


def test_a_row_the_guess_cannot_change_says_so() -> None:
    picture = drawn(states()["guess"])
    assert words(picture, "note.turn") == "about A, R cannot be tested: its line passes through A"
    upright = replace(
        gangway(), supports=(replace(gangway().supports[0], guess=Guess(500.0, 90.0)), gangway().supports[1])
    )
    assert words(drawn(upright), "note.x") == "along x, R cannot be tested: it has no part along x"


def test_kept_back_a_rope_is_open_on_its_side_and_a_pin_on_both() -> None:
    picture = drawn(states()["kept"])
    opened = {record.id for record in picture.records if ".open-" in record.id and not record.id.endswith("hatch")}
    # The rope pulls up and to the left and turns the gangway counterclockwise; the pin can push anywhere, but
    # not turn about itself.
    assert opened == {"hoist.open-xn", "hoist.open-yp", "hoist.open-turnp"} | {
        f"hinge.open-{row}{side}" for row in "xy" for side in "pn"
    }
    assert words(picture, "total.turn") == "−6523+T= ?"


def test_kept_back_strips_do_not_change_with_the_answer() -> None:
    kept = states()["kept"]
    moved = replace(kept, supports=(kept.supports[0], replace(kept.supports[1], anchor_m=(1.0, 3.0))))
    scales = strips.Scales(5000.0, 10000.0)

    def open_parts(sketch: Sketch) -> list[object]:
        picture = strips.draw(sketch, seen(sketch), 863.0, scales)
        return [record for record in picture.records if record.of in ("hoist", "hinge")]

    assert open_parts(kept) == open_parts(moved)


def test_where_a_rope_would_have_to_push_the_torques_cannot_close() -> None:
    picture = drawn(states()["impossible"])
    assert words(picture, "total.turn") == "cannot close"
    assert not any(record.role == "check" for record in picture.records)


def test_letters_only_makes_blocks_of_equal_length_not_to_scale() -> None:
    picture = drawn(states()["letters"])
    assert words(picture, "scale") == "not to scale"
    lengths = {round(right - left, 1) for of in ("gangway-weight", "walker") for left, right in boxes(picture, of)}
    assert len(lengths) == 1


def test_the_positive_sense_of_turning_lies_to_the_right() -> None:
    clockwise = gangway()
    clockwise = replace(clockwise, settings=replace(clockwise.settings, counterclockwise_positive=False))
    usual, turned = drawn(gangway()), drawn(clockwise)
    rows = [boxes(picture, "gangway-weight")[1] for picture in (usual, turned)]
    zero = float(re.findall(r"[\d.]+", dict(next(x for x in usual.records if x.id == "zero").attrs)["d"])[0])
    assert rows[0][1] < zero < rows[1][0]


def test_scales_step_1_2_5_and_hold_between_30_and_100_percent() -> None:
    analysis = seen(gangway())
    # The longest side of ΣF is 1961 N, of Στ 6523 N·m.
    assert strips.settle(analysis, 863.0, None) == strips.Scales(2000.0, 10000.0)
    assert strips.settle(analysis, 863.0, strips.Scales(5000.0, 20000.0)) == strips.Scales(5000.0, 20000.0)
    assert strips.settle(analysis, 863.0, strips.Scales(10000.0, 50000.0)) == strips.Scales(2000.0, 10000.0)
    assert strips.settle(analysis, 863.0, strips.Scales(1000.0, 5000.0)) == strips.Scales(2000.0, 10000.0)


def test_a_segment_beyond_the_rail_is_cut_and_marked() -> None:
    picture = strips.draw(gangway(), seen(gangway()), 863.0, strips.Scales(1000.0, 5000.0))
    rail = dict(next(record for record in picture.records if record.id == "rails").attrs)["d"]
    left, right = (float(part) for part in re.findall(r"M([\d.]+) [\d.]+H([\d.]+)", rail)[0])
    for record in picture.records:
        if record.role.startswith("segment-") and record.tag == "path" and record.layer == "body":
            for start, end in boxes(picture, record.id):
                assert left - 2 <= start and end <= right + 2
    assert any(".cut-" in record.id for record in picture.records)


def test_on_a_phone_a_sum_names_what_is_open_and_a_row_not_tested_says_so_between_its_signs() -> None:
    kept = replace(gangway(), answers="kept")
    picture = drawn(kept, "390x844")
    assert [words(picture, f"total.{row}") for row in ("x", "y", "turn")] == ["R, T?", "R, T?", "T?"]
    hinge = replace(kept.supports[0], guess=Guess(900.0, 150.0))
    guessed = drawn(replace(kept, supports=(hinge, *kept.supports[1:])), "390x844")
    assert words(guessed, "note.turn") == "about A, R cannot be tested"
    shapes = {record.id: text_shape(record) for record in guessed.records if record.tag == "text"}
    assert not any(overlap(shapes["note.turn"], shapes[key]) for key in ("label.turn", "total.turn"))
    # The zero line leaves out the row that says only why it says nothing.
    zero = dict(next(record for record in guessed.records if record.id == "zero").attrs)["d"]
    assert zero.count("M") == 2
