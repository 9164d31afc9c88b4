"""Labels along the levers of forces, and notes beside what is lit: placed after all others, clear of everything."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Literal

from ..geometry import Point
from . import constructions, labels, text
from .labels import CONSTRUCTION_COST, EDGE_COST, SYMBOL_COST, Box, Field, Wanted
from .levers import Lever
from .look import PARTS_KEPT
from .record import Record


def keep_clear(field: Field, strokes: list[Lever]) -> None:
    """Let other labels keep clear of levers and the arcs at them."""
    for each in strokes:
        cost = EDGE_COST if each.always else CONSTRUCTION_COST
        field.segment(each.start, each.end, 1.5, cost)
        for box in each.arc:
            field.box(box, cost)


def place_arm_labels(
    strokes: list[Lever],
    notes: list[Wanted],
    field: Field,
    boxes: Mapping[str, Box],
    remembered: Mapping[str, int],
    moving: frozenset[str],
    *,
    settle: bool,
) -> tuple[list[Record], dict[str, int]]:
    """The labels of levers, and the notes that show while their force is lit; with the side each was given.

    `boxes` are the labels that stand already. During a gesture a label keeps its side, but for those of `moving`.
    """
    made: list[Record] = []
    sides: dict[str, int] = {}
    placed = list(boxes.values())
    # What all keep clear of; in most previews every label keeps its place and nobody asks.
    taken: list[constructions.Met] | None = None
    # What each lit force has labelled so far: only its own labels are seen together.
    own: dict[str, list[Box]] = {}
    # Those always shown first: the others keep clear of them.
    for key, force_id, start, end, content, always, arc in sorted(strokes, key=lambda each: not each.always):
        side = remembered.get(key)
        if side is None or settle or force_id in moving:
            if taken is None:
                taken = _obstacles(field, placed, len(boxes))
            others = [each for each in strokes if each.of == force_id and each.id != key]
            met = [*arc, *(box for each in others for box in each.arc), *own.get(force_id, ())]
            mine = [*taken, *((box, None, 1.0) for box in met), *(_stroke_met(each) for each in others)]
            old = None if settle else side
            side, cost = constructions.place_arm_label(start, end, content, mine, field.room, old)
            if cost >= 1.0:
                # No room along the arm: level then, wherever there is some, with a leader.
                was = old - constructions.ARM_PLACES if old is not None and old >= constructions.ARM_PLACES else None
                level = _level(key, force_id, content, start, end)
                free, _ = labels.best_side(level, field, [*placed, *own.get(force_id, ())], was)
                side = constructions.ARM_PLACES + free
        sides[key] = side
        if side >= constructions.ARM_PLACES:
            level = _level(key, force_id, content, start, end)
            records, box = labels.draw(level, side - constructions.ARM_PLACES)
            shown: Literal["always", "lit"] = "always" if always else "lit"
            made.extend(record._replace(layer="construct", shown=shown) for record in records)
        else:
            record, box = constructions.arm_label(key, force_id, start, end, content, side, always)
            made.append(record)
        if always:
            if taken is not None:
                taken.append((box, None, 1.0))
            placed.append(box)
        else:
            own.setdefault(force_id, []).append(box)
    for note in notes:
        beside = own.setdefault(note.of, [])
        old = None if settle else remembered.get(note.id)
        sides[note.id], _ = labels.best_side(note, field, [*placed, *beside], old)
        records, box = labels.draw(note, sides[note.id])
        made.extend(record._replace(layer="construct", shown="lit") for record in records)
        beside.append(box)
    return made, sides


def _obstacles(field: Field, placed: list[Box], labelled: int) -> list[constructions.Met]:
    """What labels along arms keep clear of: the other labels (`labelled` of them no arm's), and what is drawn."""
    taken: list[constructions.Met] = [(box, None, 1.0) for box in placed[:labelled]]
    for left, top, right, bottom, weight, stroke in field.things:
        # Crossing a body's edge is only ugly: it decides between places that are free otherwise.
        ugly = weight == EDGE_COST
        if weight >= SYMBOL_COST or ugly:
            cost = constructions.UGLY if ugly else 1.0
            taken.append(((left, top, right, bottom), stroke, cost))
    return [*taken, *((box, None, 1.0) for box in placed[labelled:])]


def _stroke_met(stroke: Lever) -> constructions.Met:
    """Another stroke of the same force as something its labels had better not cross."""
    (x1, y1), (x2, y2) = stroke.start, stroke.end
    box = (min(x1, x2) - 1.5, min(y1, y2) - 1.5, max(x1, x2) + 1.5, max(y1, y2) + 1.5)
    return (box, (x1, y1, x2, y2, 1.5), constructions.UGLY)


@lru_cache(maxsize=PARTS_KEPT)
def _level(key: str, of: str, content: text.Line, start: Point, end: Point) -> Wanted:
    """The label of an arm along which there is no room, kept while it does not change."""
    return Wanted(key, of, (content,), (_middle(start, end), start, end), 2.0)


def _middle(start: Point, end: Point) -> Point:
    return ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
