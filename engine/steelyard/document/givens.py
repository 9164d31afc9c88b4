"""Are the givens tied to things that are there, and is each whole?"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..errors import SteelyardError
from ..model import Body, Force, Given, MeasuredPoint, Sketch, Support
from .bodies import on_body

PIVOT = "pivot"
_CORNER = re.compile(r"^corner-(\d{1,3})$")
_HOLE = re.compile(r"^hole-(\d{1,2})$")
# Supports whose force has a line that is drawn.
LINED = ("rope", "strut", "roller", "contact")


class Trouble(NamedTuple):
    """What is wrong with a given: the code, the key below it, the problem and what to do."""

    code: str
    key: str
    problem: str
    hint: str


def check_givens(sketch: Sketch) -> None:
    """Raise `SteelyardError` at the first given that measures nothing, or does not say what."""
    for index, given in enumerate(sketch.givens):
        found = trouble(sketch, given)
        if found is not None:
            where = f"givens[{index}].{found.key}"
            raise SteelyardError(f"document.{found.code}", where, f"`{where}` {found.problem}", found.hint)


def trouble(sketch: Sketch, given: Given) -> Trouble | None:
    """The first thing wrong with a given; None when it is sound. "dangling": what it measured is not there."""
    for key, point in (("start", given.start), ("end", given.end)):
        found = None if point is None else _of_point(sketch, point, key)
        if found is not None:
            return found
    lines = (
        ("line", given.line, "edge", given.edge),
        ("second_line", given.second_line, "second_edge", given.second_edge),
    )
    for key, line, edge_key, edge in lines:
        found = None if line is None else _of_line(sketch, line, key, edge, edge_key)
        if found is not None:
            return found
    return _of_kind(given)


def corner_of(part: str) -> int | None:
    """The number of a corner from "corner-2"; None for any other part."""
    found = _CORNER.match(part)
    return None if found is None else int(found.group(1))


def hole_of(part: str) -> int | None:
    """The number of a round hole from "hole-2"; None for any other part."""
    found = _HOLE.match(part)
    return None if found is None else int(found.group(1))


def edge_count(body: Body) -> int:
    """How many straight pieces a body's outline or axis has."""
    if body.kind == "bar":
        return 1
    if body.kind == "disc":
        return 0
    return len(body.points_m) - (1 if body.kind == "bent-bar" else 0)


def body_of(sketch: Sketch, given: Given) -> str | None:
    """Id of the body a given belongs to: that of the first thing it measures that has one."""
    named = [given.line, *(point.of for point in (given.start, given.end) if point is not None)]
    for of in named:
        if any(body.id == of for body in sketch.bodies):
            return of
        for entity in (*sketch.supports, *sketch.loads, *sketch.points):
            if entity.id == of and entity.body is not None:
                return entity.body
    return None


def _of_point(sketch: Sketch, point: MeasuredPoint, key: str) -> Trouble | None:
    body = next((each for each in sketch.bodies if each.id == point.of), None)
    if body is not None:
        return _of_body(body, point, key)
    others = (*sketch.supports, *sketch.points, *sketch.loads)
    entity = next((each for each in others if each.id == point.of), None)
    if entity is None and not (point.of == PIVOT and sketch.bodies):
        problem = f'must be the id of a body, support, load or named point, or "pivot": got "{point.of}".'
        return Trouble("dangling", f"{key}.of", problem, "Leave this given out, or name what it measures.")
    if point.place_m is not None:
        return Trouble("inconsistent", f"{key}.place_m", f'is only for a body: "{point.of}" is none.', "Leave it out.")
    if point.part == "" or (point.part == "anchor" and isinstance(entity, Support) and entity.anchor_m is not None):
        return None
    problem = f'must be a part that "{point.of}" has: got "{point.part}".'
    return Trouble("dangling", f"{key}.part", problem, "Leave it out for where the thing is.")


def _of_body(body: Body, point: MeasuredPoint, key: str) -> Trouble | None:
    if point.place_m is not None:
        if point.part:
            return Trouble("inconsistent", f"{key}.part", "cannot stand beside a place.", "Keep one of them.")
        if not on_body(body, point.place_m):
            x, y = point.place_m
            return Trouble("off-body", f"{key}.place_m", f"must be on the body: got [{x:g}, {y:g}].", "Move it there.")
        return None
    corner = corner_of(point.part)
    has_ends = body.kind in ("bar", "bent-bar")
    if point.part in ("", "centre") or (point.part in ("start", "end") and has_ends):
        return None
    if corner is not None and corner < len(body.points_m):
        return None
    hole = hole_of(point.part)
    if (hole is not None and hole < len(body.round_holes)) or (body.kind == "disc" and point.part in ("middle", "rim")):
        return None
    problem = f'must be a part that "{body.id}" has: got "{point.part}".'
    ends = "start, end, " if has_ends else "middle, rim, " if body.kind == "disc" else ""
    holes = f", hole-0 to hole-{len(body.round_holes) - 1}" if body.round_holes else ""
    corners = f", or corner-0 to corner-{len(body.points_m) - 1}" if body.points_m else ""
    return Trouble("dangling", f"{key}.part", problem, f"It has {ends}centre{holes}{corners}.")


def _of_line(sketch: Sketch, line: str, key: str, edge: int, edge_key: str) -> Trouble | None:
    body = next((each for each in sketch.bodies if each.id == line), None)
    if body is not None:
        if edge >= edge_count(body):
            if body.kind == "disc":
                return Trouble(
                    "dangling", key, f'must have a straight line: "{line}" is a disc.', "Leave this given out."
                )
            most = edge_count(body) - 1
            return Trouble("dangling", edge_key, f"must be 0 to {most} here: got {edge}.", "Write 0.")
        return None
    if edge:
        return Trouble("inconsistent", edge_key, "is only for a body with several edges.", "Leave it out.")
    for support in sketch.supports:
        if support.id == line and support.kind in LINED:
            return None
    for load in sketch.loads:
        if load.id == line and isinstance(load, Force) and (load.role == "known" or load.sought == "size"):
            return None
    problem = f'must be the id of a body, rope, strut, roller, contact, or force with a line: got "{line}".'
    return Trouble("dangling", key, problem, "Leave this given out, or name a line that is drawn.")


def _of_kind(given: Given) -> Trouble | None:
    match given.kind:
        case "length":
            if given.start is not None and given.start == given.end:
                return Trouble("inconsistent", "end", "must be another point than the start.", "Name the other end.")
        case "angle":
            if (given.against == "line") != (given.second_line is not None):
                said = "is needed to measure against a line." if given.against == "line" else 'needs "against": "line".'
                return Trouble("inconsistent", "second_line", said, 'Give both, or "horizontal" or "vertical" alone.')
            if given.second_edge and given.second_line is None:
                return Trouble("inconsistent", "second_edge", "is only for a second line.", "Leave it out.")
            if (given.line, given.edge) == (given.second_line, given.second_edge):
                problem = "must be another line: the angle of a line with itself is nothing."
                return Trouble("inconsistent", "second_line", problem, "Name the other line.")
        case "label":
            if bool(given.letter.strip()) == bool(given.text.strip()):
                return Trouble(
                    "inconsistent", "text", "or a letter must be given, one of the two.", "Write one of them."
                )
        case "slope":
            return None
    if not given.number and not given.letter.strip():
        problem = "cannot be off without a letter: nothing would be shown."
        return Trouble("inconsistent", "number", problem, "Give it a letter, or show its number.")
    return None
