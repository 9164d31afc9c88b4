"""Sketches, sheets and measured shapes for the tests of the picture."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from steelyard import shelf
from steelyard.model import Body, Couple, Force, Guess, Sketch, Support, Thing
from steelyard.picture import board, frame, text, theme
from steelyard.picture.record import Picture, Record
from steelyard.statics import analyse
from steelyard.statics.kept import kept_back
from steelyard.statics.reading import Analysis

# Board sizes for windows of 1366×768, 1920×1080 and 390×844.
SHEETS = {"1366x768": (863.0, 522.0, False), "1920x1080": (1417.0, 830.0, False), "390x844": (390.0, 393.0, True)}

Point = tuple[float, float]


def scenarios() -> dict[str, Sketch]:
    """Every sketch on the shelf."""
    return {each.slug: shelf.load(each.slug) for each in shelf.listing()}


def gangway(**changes: object) -> Sketch:
    """The gangway with answers shown, changed."""
    return replace(shelf.load("gangway"), answers="shown", **changes)  # type: ignore[arg-type]


def states() -> dict[str, Sketch]:
    """The gangway in every state a force can be drawn in."""
    shown = gangway()
    hinge, hoist = shown.supports
    body = shown.bodies[0]
    settings = shown.settings
    guessed = replace(hinge, guess=Guess(1154.0, 148.1))
    prop = Support("prop", "contact", body.id, (6.0, 0.0), "N", "quay")
    strut = Support("stay", "strut", body.id, (4.0, 0.0), "S", "stay", anchor_m=(0.0, -2.5))
    wall = Support("wall", "fixed", body.id, (0.0, 0.0), "R", "wall")
    kept = replace(shown, answers="kept")
    return {
        "shown": shown,
        "kept": kept,
        "ring": replace(kept, settings=replace(settings, unknowns_drawn="ring")),
        "guess": replace(shown, supports=(guessed, hoist)),
        "kept-guess": replace(kept, supports=(guessed, hoist)),
        "two-guesses": replace(kept, supports=(guessed, replace(hoist, guess=Guess(1500.0, 0.0)))),
        "impossible": replace(shown, supports=(hinge, replace(hoist, anchor_m=(5.0, -3.2)))),
        "indeterminate": replace(shown, supports=(hinge, hoist, prop)),
        "against": replace(shown, supports=(hinge, strut)),
        "fixed": replace(shown, supports=(wall,)),
        "fixed-kept": replace(kept, supports=(wall,)),
        "mechanism": replace(shown, supports=(hinge,)),
        "letters": replace(shown, bodies=(replace(body, mass_kg=None, weight_symbol_only=True),)),
        "all-constructions": replace(shown, settings=replace(settings, all_constructions=True)),
        "pinned": replace(shown, pinned=("hoist",)),
        "crowded": replace(shown, loads=crowd(body)),
    }


def crowd(body: Body) -> tuple[Force | Couple | Thing, ...]:
    """Nine more loads on the bar: twelve forces with the weight and the two reactions."""
    loads: list[Force | Couple | Thing] = [Thing("walker", body.id, (4.0, 0.0), "P", "walker", 80.0)]
    for index in range(7):
        angle = (250.0, 285.0, 60.0, 270.0, 110.0, 300.0, 200.0)[index]
        loads.append(
            Force(
                f"push-{index}", body.id, (0.7 + 0.75 * index, 0.0), f"F_{index + 1}", "other", f"deckhand {index + 1}",
                "known", 300.0 + 90.0 * index, angle,
            )
        )  # fmt: skip
    loads.append(Couple("winch", body.id, (2.0, 0.0), "C", "winch", "known", -400.0))
    return tuple(loads)


def seen(sketch: Sketch) -> Analysis | None:
    """The analysis as the session hands it to the picture."""
    if not sketch.bodies:
        return None
    analysis = analyse(sketch)
    return kept_back(analysis) if sketch.answers == "kept" else analysis


def sheet(sketch: Sketch, size: str, text_scale: float = 1.0) -> frame.Frame:
    """The sketch fitted to a sheet."""
    width, height, touch = SHEETS[size]
    return frame.fit(sketch, seen(sketch), width, height, text_scale=text_scale, touch=touch)


def picture(sketch: Sketch, size: str = "1366x768", view: board.View = "extended", **options: object) -> Picture:
    """The sketch drawn on a fitted sheet."""
    return board.draw(sketch, seen(sketch), sheet(sketch, size), view, **options)  # type: ignore[arg-type]


def every_picture() -> Iterator[tuple[str, Sketch, Picture]]:
    """All scenarios kept and shown, and all states, in both views on the three sheets."""
    sketches = {f"state {name}": sketch for name, sketch in states().items()}
    for slug, sketch in scenarios().items():
        for answers in ("kept", "shown"):
            sketches[f"{slug} {answers}"] = replace(sketch, answers=answers)  # type: ignore[arg-type]
        ring = replace(sketch.settings, unknowns_drawn="ring")
        sketches[f"{slug} ring"] = replace(sketch, answers="kept", settings=ring)
    for name, sketch in sketches.items():
        for size in SHEETS:
            for view in ("set-up", "extended"):
                yield f"{name} {view} {size}", sketch, picture(sketch, size, view)  # type: ignore[arg-type]


# Shapes measured from records alone


@dataclass(frozen=True)
class Shape:
    """A convex polygon, or a disc when `radius` is set."""

    id: str
    of: str
    corners: tuple[Point, ...]
    radius: float = 0.0


# Capitals and ascenders, then descenders, in em of the text's own size; a little under what the fonts
# reserve, since this measures ink.
ASCENT, DESCENT = 0.72, 0.22


def text_shape(record: Record) -> Shape:
    """The box of a text record, turned as the record is."""
    attrs = dict(record.attrs)
    x, y, size = float(attrs["x"]), float(attrs["y"]), float(attrs["font-size"])
    width = sum(run.dx + text.width_of(run.text, record.role, size, run.role) for run in record.runs)
    left = {"start": x, "middle": x - width / 2, "end": x - width}[attrs.get("text-anchor", "start")]
    top, bottom = y - ASCENT * size, y + DESCENT * size
    corners = [(left, top), (left + width, top), (left + width, bottom), (left, bottom)]
    if "transform" in attrs:
        degrees, cx, cy = (float(part) for part in re.findall(r"-?[\d.]+", attrs["transform"]))
        turn = math.radians(degrees)
        corners = [
            (
                cx + (px - cx) * math.cos(turn) - (py - cy) * math.sin(turn),
                cy + (px - cx) * math.sin(turn) + (py - cy) * math.cos(turn),
            )
            for px, py in corners
        ]
    return Shape(record.id, record.of, tuple(corners))


def points_of(path: str) -> list[Point]:
    """End points of the absolute commands M, L and A of a path."""
    found = []
    for command, numbers in re.findall(r"([MLA])([^A-Za-z]*)", path):
        values = [float(part) for part in numbers.split()]
        found.append((values[-2], values[-1]) if command else (0.0, 0.0))
    return found


def strokes(path: str, half: float) -> list[tuple[Point, ...]]:
    """Every straight piece of an M/L path as a thin box."""
    boxes: list[tuple[Point, ...]] = []
    for part in path.split("M")[1:]:
        line = points_of("M" + part)
        for (x1, y1), (x2, y2) in pairwise(line):
            size = math.hypot(x2 - x1, y2 - y1)
            if size == 0.0:
                continue
            sx, sy = -(y2 - y1) / size * half, (x2 - x1) / size * half
            boxes.append(((x1 + sx, y1 + sy), (x2 + sx, y2 + sy), (x2 - sx, y2 - sy), (x1 - sx, y1 - sy)))
    return boxes


def arrow_shapes(picture_: Picture) -> list[Shape]:
    """Shafts and heads of everything that is an arrow or stands for one."""
    shapes: list[Shape] = []
    for record in picture_.records:
        path = dict(record.attrs).get("d", "")
        if record.role in ("arrow-known", "arrow-unknown"):
            p = points_of(path)
            if "A" in path:
                brass = dict(next(each for each in picture_.records if each.id == f"{record.of}.brass").attrs)
                centre = (float(brass["cx"]), float(brass["cy"]))
                shapes.append(Shape(record.id, record.of, (centre,), float(brass["r"])))
            else:
                shapes.append(Shape(f"{record.id} shaft", record.of, (p[0], p[1], p[5], p[6])))
                shapes.append(Shape(f"{record.id} head", record.of, (p[2], p[3], p[4])))
        elif record.role in ("guess-shaft", "guess-head", "bars", "as-drawn", "slack", "strike") and "A" not in path:
            shapes.extend(Shape(record.id, record.of, box) for box in strokes(path, 1.2))
    return shapes


def overlap(first: Shape, second: Shape) -> bool:
    """Whether two shapes overlap: no edge of either separates them; discs against their nearest point."""
    if second.radius and not first.radius:
        first, second = second, first
    if first.radius:
        return _disc_overlap(first, second)
    for polygon in (first.corners, second.corners):
        for index, (x1, y1) in enumerate(polygon):
            x2, y2 = polygon[index - 1]
            ones = [(y2 - y1) * x + (x1 - x2) * y for x, y in first.corners]
            twos = [(y2 - y1) * x + (x1 - x2) * y for x, y in second.corners]
            if max(ones) <= min(twos) or max(twos) <= min(ones):
                return False
    return True


def _disc_overlap(disc: Shape, other: Shape) -> bool:
    x, y = disc.corners[0]
    if other.radius:
        return math.hypot(x - other.corners[0][0], y - other.corners[0][1]) < disc.radius + other.radius
    inside = True
    sign = 0.0
    for index, (x2, y2) in enumerate(other.corners):
        x1, y1 = other.corners[index - 1]
        turn = (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)
        if sign == 0.0:
            sign = turn
        inside = inside and turn * sign >= 0.0
        squared = (x2 - x1) ** 2 + (y2 - y1) ** 2
        part = 0.0 if squared == 0.0 else min(1.0, max(0.0, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / squared))
        if math.hypot(x - x1 - part * (x2 - x1), y - y1 - part * (y2 - y1)) < disc.radius:
            return True
    return inside


def used_roles(picture_: Picture) -> set[str]:
    """Every role a picture uses, of records and of runs."""
    return {record.role for record in picture_.records} | {
        run.role for record in picture_.records for run in record.runs
    }


def known_roles() -> set[str]:
    """Every role the theme has a style for."""
    return set(theme.STYLES)
