"""Fields of a given: its value, which moves what it measures when typed, its letter, and where it stands."""

from __future__ import annotations

from ..document.givens import LINED, edge_count
from ..edit.driving import why_fixed
from ..edit.set_given import EDGE_MARK
from ..model import Force, Given, Sketch
from ..picture import given_words
from ..statics import measuring
from .item import Item, Option, answer, choice, quantity, switch, text_field
from .parts import Fields, edit_actions, group, of_thing


def given_fields(sketch: Sketch, given: Given) -> Fields:
    """Fields of a dimension line, an angle, a slope or a label."""
    settings = sketch.settings
    more: list[Item] = []
    match given.kind:
        case "length":
            main = [*_value(sketch, given), *_letter(given)]
            ways = (
                Option("straight", "straight"),
                Option("across", "across, along x"),
                Option("upright", "up, along y"),
            )
            more = [choice("measured", "measured", given.measured, ways), _offset(sketch, given, "stands off")]
        case "angle":
            main = [*_value(sketch, given), *_letter(given), _against(sketch, given)]
            more = [switch("other", "the other angle", given.other, spoken="the obtuse angle instead of the acute one")]
            more.append(_offset(sketch, given, "radius"))
        case "slope":
            rise, run, _ = given_words.leg_words(measuring.slope(sketch, given), settings)
            main = [text_field("ratio", "rise : run", f"{rise} : {run}", spoken="rise to run")]
            more = [_offset(sketch, given, "long side")]
        case "label":
            main = [text_field("text", "words", given.text), text_field("letter", "or a letter", given.letter)]
            x, y = given.shift_m or (None, None)
            more = [
                quantity("shift_x", "from its point, x", x, "length", settings, spoken="label from its point, x"),
                quantity("shift_y", "y", y, "length", settings, spoken="label from its point, y"),
            ]
    in_extended = switch("in_extended", "in Extended too", given.in_extended, spoken="shown in Extended too")
    return of_thing(
        given.id,
        given_words.what(sketch, given),
        "",
        given.kind,
        "body",
        group("main", "", *main, in_extended),
        group("more", "More", *more, *edit_actions(given.id, given.kind)),
    )


def _value(sketch: Sketch, given: Given) -> list[Item]:
    """A number to type where it can be set; else what it comes to, and why."""
    why = why_fixed(sketch, given)
    if why:
        text = given_words.value_words(sketch, given)
        return [answer("value", given.kind, text, spoken=f"{given.kind}: {why}") | {"locked": why}]
    if given.kind == "length":
        return [quantity("value", "length", measuring.length(sketch, given).value_m, "length", sketch.settings)]
    return [quantity("value", "angle", measuring.angle(sketch, given).value_deg, "angle", sketch.settings)]


def _letter(given: Given) -> list[Item]:
    return [
        text_field("letter", "letter", given.letter, spoken=f"letter of the {given.kind}"),
        switch("number", "number shown", given.number),
    ]


def _offset(sketch: Sketch, given: Given, label: str) -> Item:
    return quantity("offset", label, given.offset_m, "length", sketch.settings, spoken=f"{given.kind}, {label}")


def _against(sketch: Sketch, given: Given) -> Item:
    """What an angle is measured against: level, upright, or any other line that is drawn."""
    level, upright = (given_words.axis_words(each, sketch.settings) for each in (False, True))
    options = [Option("horizontal", level), Option("vertical", upright)]
    for line, edge, words in _lines(sketch):
        if (line, edge) != (given.line, given.edge):
            options.append(Option(_key(line, edge), words))
    now = given.against if given.second_line is None else _key(given.second_line, given.second_edge)
    return choice("against", "with", now, tuple(options), spoken="angle measured against")


def _key(line: str, edge: int) -> str:
    return f"{line}{EDGE_MARK}{edge}" if edge else line


def _lines(sketch: Sketch) -> list[tuple[str, int, str]]:
    found = []
    for body in sketch.bodies:
        for edge in range(edge_count(body)):
            part = f", edge {edge + 1}" if edge_count(body) > 1 else ""
            found.append((body.id, edge, f"{body.name}{part}"))
    found += [(each.id, 0, given_words.line_words(sketch, each.id)) for each in sketch.supports if each.kind in LINED]
    for load in sketch.loads:
        if isinstance(load, Force) and (load.role == "known" or load.sought == "size"):
            found.append((load.id, 0, given_words.line_words(sketch, load.id)))
    return found
