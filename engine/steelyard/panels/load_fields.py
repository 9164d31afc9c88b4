"""Fields of loads: forces, couples and things standing on a body."""

from __future__ import annotations

from ..model import Couple, Force, ForceType, Sketch, Thing
from ..picture.names import TYPE_WORDS
from ..statics.reading import ForceReading
from . import answers
from .item import Item, Option, action, choice, quantity, switch, text_field
from .partner import partner_action
from .parts import Fields, edit_actions, group, of_thing, pin_action, place_items
from .system import isolate_actions
from .words import agent_phrase, body_name, load_type_word

# Types a person may give to an arrow they drew; the fixing kinds belong to fixed ends.
FORCE_TYPES: tuple[ForceType, ...] = (
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


def force_fields(sketch: Sketch, force: Force, reading: ForceReading | None) -> Fields:
    settings = sketch.settings
    known = force.role == "known"
    main: list[Item] = list(place_items(sketch, force.body, force.place_m, settings))
    typed_parts: tuple[Item, ...] = ()
    if known:
        main.append(quantity("size", "size", force.size_n, "force", settings, spoken=f"size of {force.symbol}"))
    if known or force.sought == "size":
        main.append(
            quantity("angle", "angle", force.direction_deg, "angle", settings, spoken=f"angle of {force.symbol}")
        )
    if known and reading is not None and reading.vector is not None:
        x, y = reading.components_n
        typed_parts = (
            quantity("fx", "along x", x, "force", settings, spoken=f"part of {force.symbol} along x"),
            quantity("fy", "along y", y, "force", settings, spoken=f"part of {force.symbol} along y"),
        )
    guesses: list[Item] = []
    if not known:
        main += answers.of_reading(reading, settings, angle=force.sought != "size")
        guesses = answers.guess_items(force.id, force.guess, settings, couple=False)
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
    more += answers.turn_actions(sketch, reading)
    more.append(pin_action(sketch, force.id))
    more += partner_action(reading)
    more += edit_actions(force.id, force.symbol)
    return of_thing(
        force.id,
        f"{load_type_word(force)}, {agent_phrase(force.agent, body_name(sketch, force.body))}",
        force.symbol,
        "force",
        force.role,
        group("main", "", *main),
        group("guess", "Your guess", *guesses),
        group("parts", "Parts", *(typed_parts or answers.parts(None if known else reading, settings))),
        group("more", "More", *more),
    )


def _types(force: Force) -> tuple[ForceType, ...]:
    return FORCE_TYPES if force.type in FORCE_TYPES else (*FORCE_TYPES, force.type)


def _role_choice(role: str, sought: str) -> Item:
    value = role if role == "known" else sought
    options = (
        Option("known", "known"),
        Option("size", "size to be found"),
        Option("size and direction", "size and direction to be found"),
    )
    return choice("role", "", value, options, spoken="what is known of it")


def couple_fields(sketch: Sketch, couple: Couple, reading: ForceReading | None) -> Fields:
    settings = sketch.settings
    known = couple.role == "known"
    senses = (Option("true", settings.counterclockwise_word), Option("false", "clockwise"))
    main: list[Item] = []
    guesses: list[Item] = []
    if known:
        size = None if couple.couple_n_m is None else abs(couple.couple_n_m)
        main.append(quantity("size", "size", size, "couple", settings, spoken=f"size of {couple.symbol}"))
    else:
        main += answers.of_reading(reading, settings, couple=True)
        guesses = answers.guess_items(couple.id, couple.guess, settings, couple=True)
    main.append(choice("counterclockwise", "sense", "true" if couple.counterclockwise else "false", senses))
    main += place_items(sketch, couple.body, couple.place_m, settings)
    options = (Option("known", "known"), Option("couple", "to be found"))
    main.append(choice("role", "", "known" if known else "couple", options, spoken="what is known of it"))
    return of_thing(
        couple.id,
        f"couple, {agent_phrase(couple.agent, body_name(sketch, couple.body))}",
        couple.symbol,
        "couple",
        couple.role,
        group("main", "", *main),
        group("guess", "Your guess", *guesses),
        group(
            "more",
            "More",
            text_field("symbol", "letter", couple.symbol, spoken="letter of the couple"),
            text_field("agent", "by", couple.agent, spoken="exerted by"),
            *answers.turn_actions(sketch, reading),
            *partner_action(reading),
            *edit_actions(couple.id, couple.symbol),
        ),
    )


def thing_fields(sketch: Sketch, thing: Thing, reading: ForceReading | None) -> Fields:
    settings = sketch.settings
    name = thing.name or "thing"
    return of_thing(
        thing.id,
        f"{name} on {body_name(sketch, thing.body)}",
        thing.symbol,
        "thing",
        "known",
        group(
            "main",
            "",
            *place_items(sketch, thing.body, thing.place_m, settings),
            quantity("mass", "mass", thing.mass_kg, "mass", settings, spoken=f"mass of {name}"),
            text_field("name", "name", thing.name),
            *answers.known_size(reading, settings),
        ),
        group(
            "more",
            "More",
            text_field("symbol", "letter", thing.symbol, spoken="letter of the force"),
            pin_action(sketch, thing.id),
            *partner_action(reading),
            *isolate_actions(sketch, thing.id),
            *edit_actions(thing.id, name),
        ),
    )
