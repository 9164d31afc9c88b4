"""Givens in words: their numbers as they were typed, their letters, and what they are called when read aloud."""

from __future__ import annotations

from ..document.givens import PIVOT, hole_of
from ..geometry import Point, distance
from ..model import Given, MeasuredPoint, NamedPoint, Settings, Sketch, Support, Thing
from ..statics import measuring
from ..statics.pivot import name_of, place_of
from ..units import Kind, write_exact, write_quantity
from .text import plain, symbol_pieces

# What a person types has no more digits than this; longer numbers are measured, and rounded to the sketch's figures.
_TYPED_DIGITS = 5
_SAME_PLACE = 1e-9

Piece = tuple[str, str] | tuple[str, str, float]


def number_words(value: float, kind: Kind, settings: Settings) -> str:
    """A measured value as it was typed where it is short, else to the figures of the settings; with its unit."""
    exact = write_exact(value, kind, settings)
    digits = "".join(letter for letter in exact if letter.isdigit()).lstrip("0")
    return exact if len(digits) <= _TYPED_DIGITS else write_quantity(value, kind, settings)


def value_words(sketch: Sketch, given: Given) -> str:
    """The number of a length or an angle, or the ratio of a slope; "" for a label."""
    match given.kind:
        case "length":
            return number_words(measuring.length(sketch, given).value_m, "length", sketch.settings)
        case "angle":
            return number_words(measuring.angle(sketch, given).value_deg, "angle", sketch.settings)
        case "slope":
            rise, run, _ = leg_words(measuring.slope(sketch, given), sketch.settings)
            return f"{rise} : {run}"
    return ""


def leg_words(slope: measuring.Slope, settings: Settings) -> tuple[str, str, str]:
    """Rise, run and long side of a slope triangle; the long side is "" unless it is a whole number."""
    rise, run = (
        write_exact(leg, "number", settings)
        if leg in (0.0, 1.0) or slope.whole
        else write_quantity(leg, "number", settings)
        for leg in (slope.rise, slope.run)
    )
    return rise, run, "" if slope.long_side is None else write_exact(slope.long_side, "number", settings)


def pieces(sketch: Sketch, given: Given) -> list[Piece]:
    """What stands beside a length or an angle, or for a label: letter, number or both."""
    if given.kind == "label":
        return [(given.text, "plain")] if given.text else list(symbol_pieces(given.letter))
    letter: list[Piece] = list(symbol_pieces(given.letter)) if given.letter else []
    if not given.number:
        return letter
    return [*letter, (value_words(sketch, given), "value", 6.0 if letter else 0.0)]


def spoken(sketch: Sketch, given: Given) -> str:
    """For example "length from A to walker, 4 m", "angle of gangway with the horizontal, θ, 12°"."""
    letter = [plain(given.letter)] if given.letter and given.kind != "label" else []
    shown = [value_words(sketch, given)] if given.number and given.kind != "label" else []
    return ", ".join([what(sketch, given), *letter, *shown])


def what(sketch: Sketch, given: Given) -> str:
    """What a given measures, in words."""
    match given.kind:
        case "length":
            assert given.start is not None and given.end is not None
            way = {"straight": "length", "across": "distance across", "upright": "height"}[given.measured]
            return f"{way} from {point_words(sketch, given.start)} to {point_words(sketch, given.end)}"
        case "angle":
            level = axis_words(given.against == "vertical", sketch.settings)
            other = level if given.second_line is None else line_words(sketch, given.second_line)
            return f"angle of {line_words(sketch, given.line or '')} with {other}"
        case "slope":
            return f"slope of {line_words(sketch, given.line or '')}"
    return f"label {given.text or plain(given.letter)}"


def axis_words(upright: bool, settings: Settings) -> str:
    """The horizontal or the vertical; seen from above there are only the directions of the page."""
    if settings.seen_from == "above":
        return "the y direction" if upright else "the x direction"
    return "the vertical" if upright else "the horizontal"


def point_words(sketch: Sketch, measured: MeasuredPoint) -> str:
    """What a measured point is called: the named point there, else what is there."""
    at = measuring.point_of(sketch, measured)
    named = point_name(sketch, at)
    if named:
        return named
    if measured.of == PIVOT:
        return f"{sketch.settings.pivot_word} {name_of(sketch)}"
    for entity in (*sketch.supports, *sketch.loads, *sketch.points):
        if entity.id == measured.of:
            if isinstance(entity, NamedPoint):
                return entity.name
            if isinstance(entity, Support) and measured.part == "anchor":
                return f"the anchor of {entity.agent or plain(entity.symbol)}"
            if isinstance(entity, Thing):
                return entity.name or plain(entity.symbol)
            return entity.agent or plain(entity.symbol)
    body = sketch.body(measured.of)
    if measured.place_m is not None:
        return f"a place on {body.name}"
    if measured.part in ("", "centre"):
        return f"the {sketch.settings.mass_centre_word} of {body.name}"
    if measured.part == "middle":
        return f"the centre of {body.name}"
    if measured.part.startswith("hole-"):
        which = f" {(hole_of(measured.part) or 0) + 1}" if len(body.round_holes) > 1 else ""
        return f"the centre of hole{which} of {body.name}"
    return f"the {measured.part.replace('-', ' ')} of {body.name}"


def point_name(sketch: Sketch, at: Point) -> str:
    """The letter of the named point, or of the label, at a place; "" when there is none."""
    reach = _SAME_PLACE * max(1.0, abs(at[0]), abs(at[1]))
    for named in sketch.points:
        there = place_of(sketch, named.id)
        if there is not None and named.name and distance(there, at) <= reach:
            return named.name
    for given in sketch.givens:
        lettered = given.kind == "label" and len(given.text) in (1, 2)
        if lettered and given.start is not None and distance(measuring.point_of(sketch, given.start), at) <= reach:
            return given.text
    return ""


def line_words(sketch: Sketch, line: str) -> str:
    """What has a line is called."""
    for body in sketch.bodies:
        if body.id == line:
            return body.name
    for support in sketch.supports:
        if support.id == line:
            return support.agent or plain(support.symbol)
    return next((plain(load.symbol) for load in sketch.loads if load.id == line), "")
