"""Fields of a spread load: where it lies, how much of it there is, which way it acts, and what it comes to."""

from __future__ import annotations

from ..edit import spreading
from ..model import Sketch, SpreadLoad
from ..picture.names import TYPE_WORDS
from ..statics import spread
from ..statics.reading import ForceReading
from ..units import write_quantity
from .item import Item, Option, action, answer, choice, quantity, text_field
from .load_fields import FORCE_TYPES
from .partner import partner_action
from .parts import Fields, edit_actions, group, of_thing, pin_action
from .words import agent_phrase, body_name, load_type_word

_SHAPES = (
    Option("uniform", "the same all along"),
    Option("rising", "rising from nothing"),
    Option("falling", "falling to nothing"),
    Option("sloping", "from one size to another"),
)
_ACTS = (
    Option("across", "across the body"),
    Option("down", "straight down"),
    Option("angle", "at an angle"),
    Option("weight", "own weight"),
)


def spread_fields(sketch: Sketch, load: SpreadLoad, reading: ForceReading | None) -> Fields:
    settings = sketch.settings
    name = body_name(sketch, load.body)
    own = load.acts == "weight"
    begin, stop = spreading.distances(load, sketch.body(load.body))
    along = f"along the {name}"
    kind = spread.form_of(load)
    letter = load.spread_symbol
    main: list[Item] = [
        quantity("from", "from", begin, "length", settings, spoken=f"start of the load {along}"),
        quantity("to", "to", stop, "length", settings, spoken=f"end of the load {along}"),
    ]
    if kind == "uniform":
        main.append(quantity("intensity", letter, load.start_n_per_m, "intensity", settings, spoken="load per length"))
    if kind in ("falling", "sloping"):
        main.append(_height(load, "start", load.start_n_per_m, sketch))
    if kind in ("rising", "sloping"):
        main.append(_height(load, "end", load.end_n_per_m, sketch))
    shapes = tuple(each for each in _SHAPES if each.value != "sloping" or not load.letter_only)
    main.append(choice("shape", "", kind, shapes, spoken="how the load changes along the body"))
    main.append(choice("acts", "acts", load.acts, _ACTS, spoken="which way the load acts"))
    if load.acts == "angle":
        main.append(quantity("angle", "angle", load.direction_deg, "angle", settings, spoken="angle of the load"))
    if reading is not None and reading.size_n is not None:
        main.append(answer("answer-size", "resultant", write_quantity(reading.size_n, "force", settings)))
    more: list[Item] = [
        text_field("symbol", "letter", load.symbol, spoken="letter of the resultant"),
        text_field("spread_symbol", "per length", letter, spoken="letter of the load per length"),
    ]
    if not own:
        types = FORCE_TYPES if load.type in FORCE_TYPES else (*FORCE_TYPES, load.type)
        more.append(choice("type", "type", load.type, tuple(Option(key, TYPE_WORDS[key]) for key in types)))
        more.append(text_field("agent", "by", load.agent, spoken="exerted by"))
    if not load.letter_only:
        args: dict[str, object] = {"id": load.id, "key": "turned_round", "text": "true"}
        more.append(action("turned_round", "Turn it round", "set", args))
    more.append(action("resultant", "Replace by its resultant", "resultant", {"id": load.id}))
    more.append(pin_action(sketch, load.id))
    more += partner_action(reading)
    more += edit_actions(load.id, load.symbol)
    by = "Earth" if own else load.agent
    return of_thing(
        load.id,
        f"{load_type_word(load)}, {agent_phrase(by, name)}",
        load.symbol,
        "spread",
        "known",
        group("main", "", *main),
        group("more", "More", *more),
    )


def _height(load: SpreadLoad, end: str, value: float | None, sketch: Sketch) -> Item:
    label = f"{load.spread_symbol} at {end}" if spread.form_of(load) == "sloping" else load.spread_symbol
    spoken = f"load per length at its {end}"
    return quantity(f"{end}_intensity", label, value, "intensity", sketch.settings, spoken=spoken)
