"""Fields of a support: where it holds, which way it can act, and what it was found to carry."""

from __future__ import annotations

from ..edit import facing
from ..edit.set_contact import can_be_about_to
from ..model import Sketch, Support
from ..statics import holding, meeting
from ..statics.holding import BACK
from ..statics.reading import Analysis, ForceReading
from ..working.phrases import direction_words
from . import answers
from .contact_words import about_to_words
from .extents import Extents
from .item import Item, Option, choice, meter, quantity, switch, text_field
from .meters import meters
from .partner import partner_action
from .parts import Fields, edit_actions, group, name_action, of_thing, part, pin_action, place_items, reading_of
from .words import SUPPORT_WORDS, force_title


def support_fields(
    sketch: Sketch, support: Support, analysis: Analysis | None, known: Extents, selected: str
) -> Fields:
    """The fields of a support; `selected` may be the id of one of its forces, which then gives them their heading."""
    settings = sketch.settings
    # On the other body that it joins to, the partners are what acts.
    ending = "" if reading_of(analysis, support.id) is not None or support.other is None else BACK
    reading = reading_of(analysis, f"{support.id}{ending}")
    couple = reading_of(analysis, f"{support.id}-couple{ending}")
    friction = reading_of(analysis, f"{support.id}-friction{ending}")
    rubbing = friction is not None and selected == friction.force.id
    chosen = friction if rubbing else reading
    title = force_title(chosen.force) if chosen else SUPPORT_WORDS[support.kind]
    where, motions = _where(sketch, support), _about_to(sketch, support)
    # Of friction, how rough it is and how much of that is needed come first; of its normal, where it acts.
    main = [*(() if rubbing else where), *_roughness(sketch, support)]
    if not rubbing:
        main += answers.of_reading(reading, settings, angle=support.kind != "contact")
        main += answers.of_reading(couple, settings, couple=True)
    for each in (friction, reading) if rubbing else (reading, couple, friction):
        if each is not None:
            bars = meters(analysis, each.force.id, settings, known)
            main += [meter(f"meter-{each.force.id}-{bar['key']}", bar) for bar in bars]
    main += answers.friction(friction, settings) if rubbing else []
    more = [*motions, *(where if rubbing else ()), *_letters(sketch, support)]
    more += _joined(sketch, support)
    more += [] if ending and reading else answers.turn_actions(sketch, friction or reading)
    more += [
        pin_action(sketch, chosen.force.id if chosen else support.id),
        name_action(sketch, support.body, support.place_m),
    ]
    more += partner_action(chosen)
    more += edit_actions(support.id, SUPPORT_WORDS[support.kind])
    return of_thing(
        friction.force.id if friction is not None and rubbing else support.id,
        title,
        support.friction_symbol if rubbing else support.symbol,
        "face" if support.face_m is not None else support.kind,
        "unknown",
        group("main", "", *main),
        # A pair has one guess, drawn where its first one acts.
        group("guess", "Your guess", *([] if ending and reading else _guesses(sketch, support, couple, friction))),
        group("parts", "Parts", *answers.parts(chosen, settings)),
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


def _where(sketch: Sketch, support: Support) -> list[Item]:
    """Where it holds, and what line its force lies on."""
    settings = sketch.settings
    if support.face_m is not None:
        body = sketch.body(support.body)
        first, last = facing.distances(support, body)
        x, y = holding.normal(support, body)
        sides = (Option("this", direction_words((x, y))), Option("other", direction_words((0.0 - x, 0.0 - y))))
        return [
            quantity("from", "from", first, "length", settings, spoken="where the face begins along its piece"),
            quantity("to", "to", last, "length", settings, spoken="where the face ends along its piece"),
            choice("side", "pushes", "this", sides, spoken="which way it pushes"),
        ]
    items = list(place_items(sketch, support.body, support.place_m, settings))
    if support.kind in ("rope", "strut"):
        other = next((body for body in sketch.bodies if body.id == support.other), None)
        label = "towards" if other is None else f"to {other.name} at"
        far = support.anchor_m
        items.append(quantity("towards_x", label, part(far, 0), "length", settings, spoken="far end, x"))
        if other is None or other.kind != "bar":
            items.append(quantity("towards_y", "", part(far, 1), "length", settings, spoken="far end, y"))
    if support.over_m is not None:
        over = ("over a pulley at", ""), ("pulley, x", "pulley, y")
        for index, (label, spoken) in enumerate(zip(*over, strict=True)):
            key = f"over_{'xy'[index]}"
            items.append(quantity(key, label, support.over_m[index], "length", settings, spoken=spoken))
    if support.kind in ("roller", "contact"):
        said = "direction of its push"
        items.append(quantity("normal", "pushes at", support.normal_deg, "angle", settings, spoken=said))
    return items


def _roughness(sketch: Sketch, support: Support) -> list[Item]:
    """The coefficient of friction of a contact, empty where it is smooth."""
    if support.kind != "contact":
        return []
    label = f"friction {support.mu_symbol.replace('_', ' ')}" if support.mu is not None else "friction μ"
    spoken = "coefficient of static friction; empty for a smooth contact"
    return [quantity("mu", label, support.mu, "number", sketch.settings, spoken=spoken)]


def _about_to(sketch: Sketch, support: Support) -> list[Item]:
    """What it is on the point of, where it can give way."""
    motions = can_be_about_to(support)
    if not motions:
        return []
    options = tuple(Option(each, about_to_words(sketch, support, each) or "stay put") for each in motions)
    return [choice("about_to", "about to", support.about_to, options, spoken="what it is about to do")]


def _letters(sketch: Sketch, support: Support) -> list[Item]:
    """Letters, names and kinds."""
    items: list[Item] = [text_field("symbol", "letter", support.symbol, spoken="letter of the force")]
    if support.kind == "fixed":
        items.append(text_field("couple_symbol", "couple letter", support.couple_symbol))
    if support.mu is not None:
        items.append(text_field("friction_symbol", "friction letter", support.friction_symbol))
        items.append(text_field("mu_symbol", "coefficient letter", support.mu_symbol))
    if support.kind == "roller":
        items.append(switch("two_way", "can pull too", support.two_way, spoken="the roller can pull as well as push"))
    items.append(text_field("agent", "by", support.agent, spoken="exerted by"))
    kinds = tuple(Option(key, word) for key, word in SUPPORT_WORDS.items())
    items.append(choice("kind", "kind", support.kind, kinds))
    if support.kind == "contact" and sketch.body(support.body).kind != "disc":
        ways = (Option("point", "at a point"), Option("face", "along a face"))
        touches = "point" if support.face_m is None else "face"
        items.append(choice("touches", "touches", touches, ways))
    return items


def _guesses(
    sketch: Sketch, support: Support, couple: ForceReading | None, friction: ForceReading | None
) -> list[Item]:
    settings = sketch.settings
    items = answers.guess_items(support.id, support.guess, settings)
    if couple is not None:
        items += answers.guess_items(couple.force.id, support.couple_guess, settings, couple=True)
    if friction is not None and not support.about_to.startswith("slip"):
        items += answers.guess_items(friction.force.id, support.friction_guess, settings, friction=True)
    return items
