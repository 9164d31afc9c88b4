"""Fields of a support: where it holds, which way it can act, and what it was found to carry."""

from __future__ import annotations

from ..model import Sketch, Support
from ..statics import meeting
from ..statics.holding import BACK
from ..statics.reading import Analysis
from . import answers
from .item import Item, Option, choice, quantity, switch, text_field
from .partner import partner_action
from .parts import Fields, edit_actions, group, name_action, of_thing, part, pin_action, place_items, reading_of
from .words import SUPPORT_WORDS, force_title


def support_fields(sketch: Sketch, support: Support, analysis: Analysis | None) -> Fields:
    settings = sketch.settings
    front = reading_of(analysis, support.id)
    # On the other body that it joins to, its partner is what acts.
    reading = front or reading_of(analysis, f"{support.id}{BACK}")
    couple = reading_of(analysis, f"{support.id}-couple") or reading_of(analysis, f"{support.id}-couple{BACK}")
    title = force_title(reading.force) if reading else SUPPORT_WORDS[support.kind]
    main: list[Item] = list(place_items(sketch, support.body, support.place_m, settings))
    if support.kind in ("rope", "strut"):
        other = next((body for body in sketch.bodies if body.id == support.other), None)
        label = "towards" if other is None else f"to {other.name} at"
        x, y = part(support.anchor_m, 0), part(support.anchor_m, 1)
        main.append(quantity("towards_x", label, x, "length", settings, spoken="far end, x"))
        if other is None or other.kind != "bar":
            main.append(quantity("towards_y", "", y, "length", settings, spoken="far end, y"))
    if support.over_m is not None:
        over = ("over a pulley at", ""), ("pulley, x", "pulley, y")
        for index, (label, spoken) in enumerate(zip(*over, strict=True)):
            key = f"over_{'xy'[index]}"
            main.append(quantity(key, label, support.over_m[index], "length", settings, spoken=spoken))
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
    more += _joined(sketch, support)
    more += answers.turn_actions(sketch, front)
    more += [
        pin_action(sketch, reading.force.id if reading else support.id),
        name_action(sketch, support.body, support.place_m),
    ]
    more += partner_action(reading)
    more += edit_actions(support.id, SUPPORT_WORDS[support.kind])
    # A pair has one guess, drawn where its first one acts.
    there_only = front is None and reading is not None
    guesses = [] if there_only else answers.guess_items(support.id, support.guess, settings, couple=False)
    if couple is not None and not there_only:
        guesses += answers.guess_items(couple.force.id, support.couple_guess, settings, couple=True)
    return of_thing(
        support.id,
        title,
        support.symbol,
        support.kind,
        "unknown",
        group("main", "", *main),
        group("guess", "Your guess", *guesses),
        group("parts", "Parts", *answers.parts(reading, settings)),
        group("more", "More", *more),
    )


def _joined(sketch: Sketch, support: Support) -> list[Item]:
    """What a support holds its body to: the ground, or another body that reaches to it; and over which pulley."""
    if len(sketch.bodies) < 2:
        return []
    others = [Option(body.id, body.name) for body in meeting.reaches(sketch, support)]
    if not others:
        return []
    items = [choice("other", "joined to", support.other or "", (Option("", "the ground"), *others))]
    if support.kind == "rope" and support.other is not None:
        items.append(switch("over", "over a pulley", support.over_m is not None, spoken="runs over a fixed pulley"))
    return items
