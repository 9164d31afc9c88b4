"""No label overlaps a label, a shaft or a head; nothing is cut off by the sheet."""

from __future__ import annotations

from itertools import combinations

import pytest
from picture_cases import SHEETS, Shape, arrow_shapes, every_picture, overlap, picture, sheet, states, text_shape
from steelyard.model import Sketch
from steelyard.picture.record import Picture

PICTURES = {name: (sketch, drawn) for name, sketch, drawn in every_picture()}


def always_texts(drawn: Picture) -> list[Shape]:
    return [
        text_shape(record)
        for record in drawn.records
        if record.tag == "text" and record.shown == "always" and record.layer in ("label", "construct", "edge")
    ]


def overlaps(drawn: Picture) -> list[tuple[str, str]]:
    texts = always_texts(drawn)
    found = [(a.id, b.id) for a, b in combinations(texts, 2) if overlap(a, b)]
    found += [(label.id, arrow.id) for label in texts for arrow in arrow_shapes(drawn) if overlap(label, arrow)]
    return found


@pytest.mark.parametrize("name", PICTURES)
def test_no_label_overlaps_a_label_a_shaft_or_a_head(name: str) -> None:
    assert overlaps(PICTURES[name][1]) == []


@pytest.mark.parametrize("name", PICTURES)
def test_the_arm_label_of_a_lit_force_overlaps_no_label_shaft_or_head(name: str) -> None:
    drawn = PICTURES[name][1]
    obstacles = always_texts(drawn) + arrow_shapes(drawn)
    lit = [text_shape(record) for record in drawn.records if record.tag == "text" and record.shown == "lit"]
    found = [(label.id, other.id) for label in lit for other in obstacles if overlap(label, other)]
    assert found == []


@pytest.mark.parametrize("name", PICTURES)
def test_no_text_and_no_arrow_is_cut_off_by_the_sheet(name: str) -> None:
    drawn = PICTURES[name][1]
    outside = []
    for shape in [*(text_shape(r) for r in drawn.records if r.tag == "text"), *arrow_shapes(drawn)]:
        reach = shape.radius
        if any(
            x - reach < -0.5 or y - reach < -0.5 or x + reach > drawn.width + 0.5 or y + reach > drawn.height + 0.5
            for x, y in shape.corners
        ):
            outside.append(shape.id)
    assert outside == []


def test_the_count_finds_an_overlap_where_there_is_one() -> None:
    drawn = PICTURES["state shown extended 1366x768"][1]
    label = next(text_shape(record) for record in drawn.records if record.id == "hoist.label")
    head = next(shape for shape in arrow_shapes(drawn) if shape.id == "hoist head")
    shift = (head.corners[1][0] - label.corners[0][0] - 5, head.corners[1][1] - label.corners[0][1] - 5)
    moved = Shape("moved", "", tuple((x + shift[0], y + shift[1]) for x, y in label.corners))
    assert overlap(moved, head)
    assert not overlap(label, head)


@pytest.mark.parametrize("size", SHEETS)
def test_labels_keep_their_sides_through_a_gesture(size: str) -> None:
    sketch: Sketch = states()["shown"]
    first = picture(sketch, size)
    again = picture(sketch, size, sides=first.sides, moving=frozenset({"walker"}))
    kept = {key: side for key, side in first.sides.items() if not key.startswith("walker")}
    assert {key: again.sides[key] for key in kept} == kept


def test_text_twice_as_large_still_overlaps_nothing_on_a_desktop() -> None:
    sketch = states()["shown"]
    from picture_cases import seen
    from steelyard.picture import board

    drawn = board.draw(sketch, seen(sketch), sheet(sketch, "1920x1080", 2.0), "extended")
    assert overlaps(drawn) == []
