"""The line under the board: the fields of the selected thing, answers among them.

Every field is changed with the command `set {id, key, text}`; buttons carry their own command.
"""

from __future__ import annotations

from ..geometry import Point
from ..model import Body, Couple, Force, Given, NamedPoint, Pivot, Sketch, SpreadLoad, Support, Thing
from ..statics import axes
from ..statics.pivot import pivot_point, second_point
from ..statics.reading import Analysis
from .body_fields import body_fields
from .extents import Extents
from .given_fields import given_fields
from .item import Item, Option, action, choice, meter, quantity, text_field
from .load_fields import couple_fields, force_fields, thing_fields
from .meters import meters
from .parts import Fields, edit_actions, group, of_thing, place_items, reading_of
from .release import release_action
from .spread_fields import spread_fields
from .support_fields import support_fields
from .track import limits_action
from .words import PIVOT_ID, SECOND_PIVOT_ID, SUPPORT_WORDS, entity, load_type_word


def fields(
    sketch: Sketch, analysis: Analysis | None, selected: str | None, known: Extents | None = None
) -> Fields | None:
    """`{of, title, symbol, icon, role, groups}` of the selected thing; None when nothing is selected.

    `selected` is an entity's id, "pivot", or a force's own id such as `<body>-weight`. `analysis` is
    the one that may be shown: an answer it does not hold has no field. `known` says how far unknowns without a
    single value reach.
    """
    if selected is None:
        return None
    made = _fields(sketch, analysis, selected, known or Extents())
    return None if made is None else _with_limits(sketch, made, selected)


def _with_limits(sketch: Sketch, made: Fields, selected: str) -> Fields:
    """The fields with the button for the limits of the thing's numbers, before those that copy and delete it."""
    groups = made["groups"]
    assert isinstance(groups, list)
    for each in groups:
        if each["key"] == "more":
            items = each["items"]
            at = next((index for index, item in enumerate(items) if item["key"] == "duplicate"), len(items))
            each["items"] = [
                *items[:at],
                *release_action(sketch, selected),
                *limits_action(sketch, selected),
                *items[at:],
            ]
    return made


def _fields(sketch: Sketch, analysis: Analysis | None, selected: str, known: Extents) -> Fields | None:
    found = entity(sketch, selected)
    if found is None and selected == PIVOT_ID and sketch.bodies:
        found = Pivot(pivot_point(sketch))
    reading = reading_of(analysis, selected)
    if found is None and reading is not None:
        found = entity(sketch, reading.force.entity)
    match found:
        case Body():
            return body_fields(sketch, found, reading if selected != found.id else None)
        case Support():
            return support_fields(sketch, found, analysis, known, selected)
        case Force():
            return _with_range(force_fields(sketch, found, reading), found.id, analysis, sketch, known)
        case Couple():
            return _with_range(couple_fields(sketch, found, reading), found.id, analysis, sketch, known)
        case Thing():
            return thing_fields(sketch, found, reading)
        case SpreadLoad():
            return spread_fields(sketch, found, reading)
        case NamedPoint():
            return _point(sketch, found)
        case Given():
            return given_fields(sketch, found)
        case Pivot():
            return _second_pivot(sketch, found) if selected == SECOND_PIVOT_ID else _pivot(sketch, found)
    return None


def _with_range(made: Fields, force_id: str, analysis: Analysis | None, sketch: Sketch, known: Extents) -> Fields:
    """The fields of an unknown load with how far it reaches, where it has no single value."""
    groups = made["groups"]
    assert isinstance(groups, list)
    bars = meters(analysis, force_id, sketch.settings, known)
    for each in groups:
        if each["key"] == "main":
            each["items"] += [meter(f"meter-{bar['key']}", bar) for bar in bars]
    return made


def _point(sketch: Sketch, point: NamedPoint) -> Fields:
    settings = sketch.settings
    if point.body is None:
        place: tuple[Item, ...] = (
            quantity("x", "x", point.place_m[0], "length", settings),
            quantity("y", "y", point.place_m[1], "length", settings),
        )
    else:
        place = place_items(sketch, point.body, point.place_m, settings)
    return of_thing(
        point.id,
        f"point {point.name}",
        "",
        "point",
        "body",
        group("main", "", text_field("name", "name", point.name), *place),
        group("more", "More", *edit_actions(point.id, f"point {point.name}")),
    )


def _pivot(sketch: Sketch, pivot: Pivot) -> Fields:
    settings = sketch.settings
    word = settings.pivot_word
    x, y = pivot_point(sketch)
    more = [action("name-point", "Name this point", "point", {"at": [x, y]})]
    if sketch.second_pivot is None:
        more.append(action("second", "Pin a second one", "second-pivot", {}, spoken=f"pin a second {word}"))
    more.append(action("put-back", "Put it back", "delete", {"id": PIVOT_ID}, spoken=f"put the {word} back"))
    return of_thing(
        PIVOT_ID,
        f"{word}: {settings.turning_word}s are taken about this point; nothing turns there",
        "",
        "pivot",
        "pivot",
        group("main", "", *_where(sketch, pivot, (x, y), word)),
        group("more", "More", *more),
    )


def _second_pivot(sketch: Sketch, pivot: Pivot) -> Fields:
    settings = sketch.settings
    word = f"second {settings.pivot_word}"
    x, y = second_point(sketch) or pivot.place_m
    return of_thing(
        SECOND_PIVOT_ID,
        f"{word}: the same {settings.turning_word}s, taken about another point",
        "",
        "pivot",
        "pivot",
        group("main", "", *_where(sketch, pivot, (x, y), word)),
        group(
            "more",
            "More",
            action("name-point", "Name this point", "point", {"at": [x, y]}),
            action("take-away", "Take it away", "delete", {"id": SECOND_PIVOT_ID}, spoken=f"take the {word} away"),
        ),
    )


def _where(sketch: Sketch, pivot: Pivot, place: Point, word: str) -> tuple[Item, ...]:
    """A pivot's place, and what it is tied to."""
    settings = sketch.settings
    ties = [Option("", "nothing: it stays where it is put")]
    ties += [Option(each.id, f"{SUPPORT_WORDS[each.kind]} {each.symbol}") for each in sketch.supports]
    ties += [Option(each.id, f"point {each.name}") for each in sketch.points]
    ties += [Option(each.id, f"{load_type_word(each)} {each.symbol}") for each in sketch.loads]
    # Places are read off the rulers, which stay level where the axes do not.
    right, up = ("x", "y") if axes.is_level(axes.x_axis(sketch)) else ("right", "up")
    return (
        quantity("x", right, place[0], "length", settings, spoken=f"{word}, {right}"),
        quantity("y", up, place[1], "length", settings, spoken=f"{word}, {up}"),
        choice("tied_to", "tied to", pivot.tied_to or "", tuple(ties), spoken=f"{word} tied to"),
    )
