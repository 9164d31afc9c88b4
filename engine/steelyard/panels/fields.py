"""The line under the board: the fields of the selected thing, answers among them.

Every field is changed with the command `set {id, key, text}`; buttons carry their own command.
"""

from __future__ import annotations

from ..model import Body, Couple, Force, NamedPoint, Pivot, Settings, Sketch, Support, Thing
from ..statics.reading import Analysis, ForceReading
from . import answers
from .item import Item, Option, action, choice, quantity, switch, text_field
from .words import (
    BODY_WORDS,
    PIVOT_ID,
    SUPPORT_WORDS,
    TYPE_WORDS,
    agent_phrase,
    body_name,
    entity,
    force_title,
    load_type_word,
    symbol_runs,
)

# Types a person may give to an arrow they drew; the fixing kinds belong to fixed ends.
FORCE_TYPES = (
    "contact",
    "normal",
    "friction",
    "tension",
    "strut",
    "pin",
    "spring",
    "fluid",
    "muscle",
    "gravity",
    "other",
)

Fields = dict[str, object]
Group = dict[str, object]


def fields(sketch: Sketch, analysis: Analysis | None, selected: str | None) -> Fields | None:
    """`{of, title, symbol, icon, role, groups}` of the selected thing; None when nothing is selected.

    `selected` is an entity's id, "pivot", or a force's own id such as `<body>-weight`. `analysis` is
    the one that may be shown: an answer it does not hold has no field.
    """
    if selected is None:
        return None
    found = entity(sketch, selected)
    reading = _reading(analysis, selected)
    if found is None and reading is not None:
        found = entity(sketch, reading.force.entity)
    match found:
        case Body():
            return _body(sketch, found, reading if selected != found.id else None)
        case Support():
            return _support(sketch, found, analysis)
        case Force():
            return _force(sketch, found, reading)
        case Couple():
            return _couple(sketch, found, reading)
        case Thing():
            return _thing(sketch, found, reading)
        case NamedPoint():
            return _point(sketch, found)
        case Pivot():
            return _pivot(sketch, found)
    return None


def _reading(analysis: Analysis | None, force_id: str) -> ForceReading | None:
    if analysis is None:
        return None
    return next((each for each in analysis.readings if each.force.id == force_id), None)


def _fields(of: str, title: str, symbol: str, icon: str, role: str, *groups: Group) -> Fields:
    return {
        "of": of,
        "title": title,
        "symbol": symbol_runs(symbol) if symbol else [],
        "icon": icon,
        "role": role,
        "groups": [group for group in groups if group["items"]],
    }


def _group(key: str, label: str, *items: Item) -> Group:
    return {"key": key, "label": label, "items": list(items)}


def _place(sketch: Sketch, body_id: str, place_m: tuple[float, float], settings: Settings) -> tuple[Item, ...]:
    """Where on the body: along a bar one number, elsewhere two in the body's own frame."""
    body = next((each for each in sketch.bodies if each.id == body_id), None)
    if body is not None and body.kind == "bar":
        return (
            quantity("at", "at", place_m[0], "length", settings, spoken="distance along from the start of the bar"),
        )
    return (
        quantity("at_x", "at x", place_m[0], "length", settings, spoken="place on the body, x"),
        quantity("at_y", "y", place_m[1], "length", settings, spoken="place on the body, y"),
    )


def _edit_actions(of: str, word: str) -> tuple[Item, ...]:
    return (
        action("duplicate", "Duplicate", "duplicate", {"id": of}, spoken=f"duplicate {word}"),
        action("delete", "Delete", "delete", {"id": of}, spoken=f"delete {word}"),
    )


def _pin_action(sketch: Sketch, force_id: str) -> Item:
    pinned = force_id in sketch.pinned
    label = "Unpin line and arm" if pinned else "Pin line and arm"
    return action("pin", label, "pin", {"id": force_id, "on": not pinned})


def _body(sketch: Sketch, body: Body, weight: ForceReading | None) -> Fields:
    settings = sketch.settings
    word = BODY_WORDS[body.kind]
    shape: tuple[Item, ...] = (
        quantity(
            "x", "start x" if body.kind == "bar" else "x", body.origin_m[0], "length", settings, spoken="start, x"
        ),
        quantity("y", "y", body.origin_m[1], "length", settings, spoken="start, y"),
    )
    if body.kind == "bar":
        shape += (quantity("length", "length", body.length_m, "length", settings),)
    shape += (quantity("angle", "angle", body.angle_deg, "angle", settings, spoken="angle from the x direction"),)
    mass = quantity("mass", "mass", body.mass_kg, "mass", settings, spoken=f"mass of {body.name or word}")
    weight_item = quantity("weight", "weight", _weight(body, settings), "force", settings, spoken="weight")
    name = text_field("name", "name", body.name)
    symbol = text_field("weight_symbol", "weight letter", body.weight_symbol)
    letter_only = switch("weight_symbol_only", "weight as a letter only", body.weight_symbol_only)
    centre = (
        quantity(
            "centre_x",
            "centre x",
            _part(body.centre_m, 0),
            "length",
            settings,
            spoken=f"{settings.mass_centre_word}, x",
        ),
        quantity(
            "centre_y", "y", _part(body.centre_m, 1), "length", settings, spoken=f"{settings.mass_centre_word}, y"
        ),
    )
    if weight is not None:
        return _fields(
            weight.force.id,
            force_title(weight.force),
            body.weight_symbol,
            "weight",
            "known",
            _group("main", "", mass, weight_item, *answers.known_direction(weight, settings)),
            _group("more", "More", symbol, letter_only, *centre, _pin_action(sketch, weight.force.id)),
        )
    return _fields(
        body.id,
        body.name or word,
        "",
        body.kind,
        "body",
        _group("main", "", *shape, mass),
        _group(
            "more", "More", name, weight_item, symbol, letter_only, *centre, *_edit_actions(body.id, body.name or word)
        ),
    )


def _weight(body: Body, settings: Settings) -> float | None:
    if body.weight_n is not None:
        return body.weight_n
    return None if body.mass_kg is None else body.mass_kg * settings.g_m_s2


def _part(point: tuple[float, float] | None, index: int) -> float | None:
    return None if point is None else point[index]


def _support(sketch: Sketch, support: Support, analysis: Analysis | None) -> Fields:
    settings = sketch.settings
    reading = _reading(analysis, support.id)
    couple = _reading(analysis, f"{support.id}-couple")
    title = force_title(reading.force) if reading else SUPPORT_WORDS[support.kind]
    main: list[Item] = list(_place(sketch, support.body, support.place_m, settings))
    if support.kind in ("rope", "strut"):
        main.append(
            quantity("towards_x", "towards", _part(support.anchor_m, 0), "length", settings, spoken="far end, x")
        )
        main.append(quantity("towards_y", "", _part(support.anchor_m, 1), "length", settings, spoken="far end, y"))
    if support.kind in ("roller", "contact"):
        label = "pushes at"
        main.append(quantity("normal", label, support.normal_deg, "angle", settings, spoken="direction of its push"))
    main += answers.of_reading(reading, settings)
    main += answers.of_reading(couple, settings, couple=True)
    more: list[Item] = [
        text_field("symbol", "letter", support.symbol, spoken="letter of the force"),
        text_field("agent", "by", support.agent, spoken="exerted by"),
        choice("kind", "kind", support.kind, tuple(Option(key, word) for key, word in SUPPORT_WORDS.items())),
    ]
    if support.kind == "fixed":
        more.insert(1, text_field("couple_symbol", "couple letter", support.couple_symbol))
    if support.kind == "roller":
        more.append(switch("two_way", "can pull too", support.two_way, spoken="the roller can pull as well as push"))
    more += answers.turn_actions(reading)
    more.append(_pin_action(sketch, support.id))
    more += _edit_actions(support.id, SUPPORT_WORDS[support.kind])
    guesses = answers.guess_items(support.id, support.guess, settings, couple=False)
    guesses += answers.guess_items(support.id, support.couple_guess, settings, couple=True)
    return _fields(
        support.id,
        title,
        support.symbol,
        support.kind,
        "unknown",
        _group("main", "", *main),
        _group("guess", "Your guess", *guesses),
        _group("parts", "Parts", *answers.parts(reading, settings)),
        _group("more", "More", *more),
    )


def _force(sketch: Sketch, force: Force, reading: ForceReading | None) -> Fields:
    settings = sketch.settings
    known = force.role == "known"
    main: list[Item] = list(_place(sketch, force.body, force.place_m, settings))
    typed_parts: tuple[Item, ...] = ()
    if known:
        main.append(quantity("size", "size", force.size_n, "force", settings, spoken=f"size of {force.symbol}"))
    if known or force.sought == "size":
        main.append(
            quantity("angle", "angle", force.direction_deg, "angle", settings, spoken=f"angle of {force.symbol}")
        )
    if known and reading is not None and reading.vector is not None:
        typed_parts = (
            quantity("fx", "along x", reading.vector[0], "force", settings, spoken=f"part of {force.symbol} along x"),
            quantity("fy", "along y", reading.vector[1], "force", settings, spoken=f"part of {force.symbol} along y"),
        )
    if not known:
        main += answers.of_reading(reading, settings)
    main.append(_role_choice(force.role, force.sought))
    more: list[Item] = [
        text_field("symbol", "letter", force.symbol, spoken="letter of the force"),
        choice("type", "type", force.type, tuple(Option(key, TYPE_WORDS[key]) for key in _types(force))),
        text_field("agent", "by", force.agent, spoken="exerted by"),
    ]
    if not known and force.sought == "size":
        more.append(switch("one_way", "acts only as drawn", force.one_way))
    push = not force.head_at_point
    more.append(
        action(
            "head_at_point",
            "Show as a push" if push else "Show as a pull",
            "set",
            {"id": force.id, "key": "head_at_point", "text": "true" if push else "false"},
        )
    )
    more += answers.turn_actions(reading)
    more.append(_pin_action(sketch, force.id))
    more += _edit_actions(force.id, force.symbol)
    return _fields(
        force.id,
        f"{load_type_word(force)}, {agent_phrase(force.agent, body_name(sketch, force.body))}",
        force.symbol,
        "force",
        force.role,
        _group("main", "", *main),
        _group("guess", "Your guess", *answers.guess_items(force.id, force.guess, settings, couple=False)),
        _group("parts", "Parts", *(typed_parts or answers.parts(None if known else reading, settings))),
        _group("more", "More", *more),
    )


def _types(force: Force) -> tuple[str, ...]:
    return FORCE_TYPES if force.type in FORCE_TYPES else (*FORCE_TYPES, force.type)


def _role_choice(role: str, sought: str) -> Item:
    value = role if role == "known" else sought
    options = (
        Option("known", "known"),
        Option("size", "size to be found"),
        Option("size and direction", "size and direction to be found"),
    )
    return choice("role", "", value, options, spoken="what is known of it")


def _couple(sketch: Sketch, couple: Couple, reading: ForceReading | None) -> Fields:
    settings = sketch.settings
    known = couple.role == "known"
    senses = (Option("true", settings.counterclockwise_word), Option("false", "clockwise"))
    main: list[Item] = []
    if known:
        main.append(quantity("size", "size", couple.couple_n_m, "couple", settings, spoken=f"size of {couple.symbol}"))
    else:
        main += answers.of_reading(reading, settings, couple=True)
    main.append(choice("counterclockwise", "sense", "true" if couple.counterclockwise else "false", senses))
    main += _place(sketch, couple.body, couple.place_m, settings)
    options = (Option("known", "known"), Option("couple", "to be found"))
    main.append(choice("role", "", "known" if known else "couple", options, spoken="what is known of it"))
    return _fields(
        couple.id,
        f"couple, {agent_phrase(couple.agent, body_name(sketch, couple.body))}",
        couple.symbol,
        "couple",
        couple.role,
        _group("main", "", *main),
        _group("guess", "Your guess", *answers.guess_items(couple.id, couple.guess, settings, couple=True)),
        _group(
            "more",
            "More",
            text_field("symbol", "letter", couple.symbol, spoken="letter of the couple"),
            text_field("agent", "by", couple.agent, spoken="exerted by"),
            *answers.turn_actions(reading),
            *_edit_actions(couple.id, couple.symbol),
        ),
    )


def _thing(sketch: Sketch, thing: Thing, reading: ForceReading | None) -> Fields:
    settings = sketch.settings
    name = thing.name or "thing"
    return _fields(
        thing.id,
        f"{name} on {body_name(sketch, thing.body)}",
        thing.symbol,
        "thing",
        "known",
        _group(
            "main",
            "",
            *_place(sketch, thing.body, thing.place_m, settings),
            quantity("mass", "mass", thing.mass_kg, "mass", settings, spoken=f"mass of {name}"),
            text_field("name", "name", thing.name),
            *answers.known_size(reading, settings),
        ),
        _group(
            "more",
            "More",
            text_field("symbol", "letter", thing.symbol, spoken="letter of the force"),
            _pin_action(sketch, thing.id),
            *_edit_actions(thing.id, name),
        ),
    )


def _point(sketch: Sketch, point: NamedPoint) -> Fields:
    settings = sketch.settings
    if point.body is None:
        place: tuple[Item, ...] = (
            quantity("x", "x", point.place_m[0], "length", settings),
            quantity("y", "y", point.place_m[1], "length", settings),
        )
    else:
        place = _place(sketch, point.body, point.place_m, settings)
    return _fields(
        point.id,
        f"point {point.name}",
        "",
        "point",
        "body",
        _group("main", "", text_field("name", "name", point.name), *place),
        _group("more", "More", *_edit_actions(point.id, f"point {point.name}")),
    )


def _pivot(sketch: Sketch, pivot: Pivot) -> Fields:
    settings = sketch.settings
    word = settings.pivot_word
    ties = [Option("", "nothing: it stays where it is put")]
    ties += [Option(each.id, f"{SUPPORT_WORDS[each.kind]} {each.symbol}") for each in sketch.supports]
    ties += [Option(each.id, f"point {each.name}") for each in sketch.points]
    ties += [Option(each.id, f"{load_type_word(each)} {each.symbol}") for each in sketch.loads]
    return _fields(
        PIVOT_ID,
        f"{word}: {settings.turning_word}s are taken about it; nothing turns there",
        "",
        "pivot",
        "pivot",
        _group(
            "main",
            "",
            quantity("x", "x", pivot.place_m[0], "length", settings, spoken=f"{word}, x"),
            quantity("y", "y", pivot.place_m[1], "length", settings, spoken=f"{word}, y"),
            choice("tied_to", "tied to", pivot.tied_to or "", tuple(ties), spoken=f"{word} tied to"),
        ),
    )
