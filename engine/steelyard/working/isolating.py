"""The first step: take the body out, say what is assumed, what touches it and what each contact can stop."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from ..model import Body, Support, Thing
from ..statics import axes
from ..statics.advice import vanishes
from ..statics.reading import ActingForce
from ..units.table import POUND_KG
from .expression import Equation, Symbol, product
from .figures import Known, number, put_in
from .phrases import Piece, Voice, is_plural
from .record import Contact, Fact, Line, Sense, Sentence, Step


def isolate(voice: Voice, *, numbers: bool = True) -> Step:
    """The isolating step of a working; without `numbers` weights stay letters."""
    bodies = [voice.sketch.body(body_id) for body_id in voice.bodies]
    known: dict[Symbol, Known] = {}
    lines = [line for body in bodies for line in _weights(voice, body, known, numbers)]
    return Step(
        kind="isolate",
        title=voice.say(f"Isolate {voice.body_name()}"),
        why=(_assumptions(voice, bodies), *_axes(voice), *(said for body in bodies for said in _pounds(voice, body))),
        sense=Sense("turn", turn=1 if voice.settings.counterclockwise_positive else -1),
        lines=tuple(lines),
        contacts=tuple(contacts(voice)),
        known=known,
    )


def another(voice: Voice, *, numbers: bool = True, weighed: Collection[str] = (), why: Sequence[Sentence] = ()) -> Step:
    """The step to another system of the same sketch, whose own axes and assumptions have been said.

    `weighed` are bodies whose weights have been worked out already.
    """
    known: dict[Symbol, Known] = {}
    bodies = [voice.sketch.body(body_id) for body_id in voice.bodies if body_id not in weighed]
    lines = [line for body in bodies for line in _weights(voice, body, known, numbers)]
    alone = "alone" if len(voice.bodies) == 1 else "together"
    pounds = [said for body in bodies for said in _pounds(voice, body)]
    return Step(
        "isolate", voice.say(f"Take {voice.body_name()} {alone}"), (*why, *pounds), lines=tuple(lines),
        contacts=tuple(contacts(voice)), known=known,
    )  # fmt: skip


def _assumptions(voice: Voice, bodies: Sequence[Body]) -> Sentence:
    words: list[str] = ["rigid", "at rest"]
    upright = voice.settings.seen_from == "side"
    if not upright:
        words.append("seen from above, so no weight acts in the page")
    elif len(bodies) == 1:
        words.append(_weighs(voice, bodies[0]))
    else:
        words += [f"the {body.name or body.kind} {_weighs(voice, body)}" for body in bodies]
    held = set(voice.bodies)
    supports = [
        support for support in voice.sketch.supports
        if (support.body in held) != (support.other in held) or (support.over_m is not None and support.body in held)
    ]  # fmt: skip
    kinds = {support.kind for support in supports}
    touching = [support for support in supports if support.kind in ("contact", "roller")]
    rough = [support for support in touching if support.mu is not None]
    if len(rough) < len(touching):
        words.append("smooth where it touches" if not rough else "smooth where no friction is given")
    if "rope" in kinds:
        words.append("held by light ropes" if sum(s.kind == "rope" for s in supports) > 1 else "held by a light rope")
    if "strut" in kinds:
        words.append("struts light and pinned at both ends")
    if any(support.over_m is not None for support in supports):
        words.append("pulleys fixed and without friction")
    pieces: list[Piece] = [f"Assumed: {', '.join(words)}"]
    for force in voice.forces.values():
        if force.mu is not None and not (force.back and force.partner in voice.forces):
            mu = voice.letters.rough(force.id)
            pieces += [", rough with ", mu, " = ", number(force.mu, "", voice.display.figures)]
    if upright and any(_uses_g(voice, body) for body in bodies):
        # Six figures hold every g in use, 9.80665 included.
        american = voice.settings.units == "us"
        shown = voice.settings.g_m_s2 * voice.display.per_metre
        pieces += ["; ", Symbol("g"), " = ", number(shown, "ft/s2" if american else "m/s2", 4 if american else 6)]
    return voice.say(*pieces, ".", fact=Fact("assumptions", {"words": tuple(words)}))


def _weighs(voice: Voice, body: Body) -> str:
    """What is taken of its weight, in words."""
    if not body.weighs:
        return "light (weight neglected)"
    if body.centre_m is None:
        return "made of uniform pieces" if body.pieces else "uniform"
    return f"with its {voice.settings.mass_centre_word} where it is drawn"


def _uses_g(voice: Voice, body: Body) -> bool:
    own = body.total_mass_kg is not None
    return own or any(isinstance(load, Thing) and load.body == body.id and load.mass_kg is not None
                      for load in voice.sketch.loads)  # fmt: skip


def _axes(voice: Voice) -> list[Sentence]:
    """The axes, where they are not level, and what counts as positive."""
    positive = 1 if voice.settings.counterclockwise_positive else -1
    right, up = voice.analysis.x_axis, voice.analysis.y_axis
    fact = Fact("positive", {"x": right, "y": up, "turn": positive})
    x, y, turning = Symbol("x"), Symbol("y"), f", turning {voice.turn(positive)}."
    if not voice.tilted:
        return [voice.say("Positive: ", x, " to the right, ", y, " up", turning, fact=fact)]
    angle = math.remainder(math.degrees(math.atan2(right[1], right[0])), 360.0)
    turn = voice.turn(1 if angle > 0.0 else -1)
    along = next((body.name for body in voice.sketch.bodies if body.id == voice.settings.axes_along), "")
    follows = f" along the {along}" if along and voice.settings.axes_deg == 0.0 else ""
    amount = number(abs(angle), "deg", voice.display.figures)
    return [
        voice.say("Axes: ", x, follows, " at ", amount, f" {turn} from {voice.level}, ", y, " square to it."),
        voice.say("Positive: ", x, f" {voice.ways(right)}, ", y, f" {voice.ways(up)}", turning, fact=fact),
    ]


def _masses(voice: Voice, body: Body) -> list[tuple[str, float]]:
    """The forces that are the weight of a mass, with the mass in kilograms."""
    masses: list[tuple[str, float]] = []
    if body.total_mass_kg is not None:
        masses.append((f"{body.id}-weight", body.total_mass_kg))
    for load in voice.sketch.loads:
        if isinstance(load, Thing) and load.body == body.id and load.mass_kg is not None:
            masses.append((load.id, load.mass_kg))
    return [(force_id, mass_kg) for force_id, mass_kg in masses if force_id in voice.forces]


def _pounds(voice: Voice, body: Body) -> list[Sentence]:
    """In feet and pounds no equation leads from a mass in pounds to its weight: it is said."""
    if voice.settings.units != "us":
        return []
    said = []
    for force_id, mass_kg in _masses(voice, body):
        mass = number(mass_kg / POUND_KG, "lb", voice.display.figures)
        weight = number(mass_kg * voice.settings.g_m_s2 * voice.display.per_newton, "lbf", voice.display.figures)
        said.append(voice.say(voice.letters.force(force_id), " is the weight of ", mass, ": ", weight, "."))
    return said


def _weights(voice: Voice, body: Body, known: dict[Symbol, Known], numbers: bool) -> list[Line]:
    """W = m g with its numbers, for each weight that comes from a mass; not in feet and pounds."""
    if voice.settings.units == "us":
        return []
    lines: list[Line] = []
    for force_id, mass_kg in _masses(voice, body):
        weight = voice.letters.force(force_id)
        mass = Symbol("m", weight.base + weight.index, force_id, italic_index=not weight.index)
        gravity = Symbol("g")
        known[mass] = Known(mass_kg, "kg")
        known[gravity] = Known(voice.settings.g_m_s2, "m/s2")
        known[weight] = Known(mass_kg * voice.settings.g_m_s2, "N")
        right = product(mass, gravity)
        lines.append(Line("given", Equation(weight, right)))
        if not numbers:
            continue
        worked = put_in(right, known, "N", voice.display.figures)
        lines.append(Line("numbers", Equation(None, worked.numbers)))
        lines.append(Line("value", Equation(weight, worked.result)))
    return lines


def contacts(voice: Voice) -> list[Contact]:
    """What touches what is isolated, what each can stop, and the forces it leaves on the free body."""
    by_entity: dict[str, list[ActingForce]] = {}
    for force in voice.forces.values():
        by_entity.setdefault(force.entity, []).append(force)
    supports = {support.id: support for support in voice.sketch.supports}
    made = []
    for entity, forces in by_entity.items():
        support = supports.get(entity)
        said, stops = _support(voice, support, forces) if support is not None else _load(voice, forces[0])
        ids = tuple(force.id for force in forces)
        fact = Fact("contact", {"entity": entity, "forces": ids, "stops": stops})
        made.append(Contact(entity, ids, stops, voice.say(*said, fact=fact)))
    return made


def _support(voice: Voice, support: Support, forces: list[ActingForce]) -> tuple[list[Piece], tuple[str, ...]]:
    first = forces[0]
    name = support.agent or _KIND[support.kind]
    if support.other is not None:  # what holds it is another body; a rope or strut leads there
        name = f"{name} to the {_far(voice, support, first)}" if support.kind in ("rope", "strut") else first.by
    stops = "stop" if is_plural(name) else "stops"
    who = f"The {name} {stops}"
    symbol = voice.letters.force(first.id)
    if support.kind in ("pin", "fixed"):
        both = _components(voice, first)
        moving: list[Piece] = [f"{who} movement along ", Symbol("x"), " and ", Symbol("y")]
        if support.kind == "pin":
            return [*moving, ", but not turning: ", *both, "."], ("x", "y")
        couple = voice.letters.force(forces[1].id) if len(forces) > 1 else symbol
        sense = voice.turn(forces[1].drawn_sense or 1) if len(forces) > 1 else ""
        return [*moving, " and turning: ", *both, " and the couple ", couple, f" (drawn {sense})."], (
            "x", "y", "turning",
        )  # fmt: skip
    way = voice.direction(first.along or (0.0, 0.0))
    if support.kind == "rope" and len(forces) > 1:
        ways = f"{way} at one and {voice.direction(forces[1].along or (0.0, 0.0))} at the other"
        return [f"The {support.agent or 'rope'} over the pulley pulls at both its ends with ", symbol, f", {ways}."], (
            "along",
        )  # fmt: skip
    if support.kind == "rope":
        return [f"{who} only movement away along it: it can pull, never push: ", symbol, f", {way}."], ("along",)
    if support.kind == "strut":
        return [f"{who} movement along itself, both ways: ", symbol, f", drawn {way}."], ("along",)
    if support.kind == "roller" and support.two_way:
        return [f"{who} movement square to its track, both ways: ", symbol, f", drawn {way}."], ("along",)
    said: list[Piece] = [f"{who} only movement into the surface: it can push, never pull: ", symbol, f", {way}."]
    can = ["along"]
    if first.sought == "size and place":
        said.append(" Its face can also stop it turning, by where it presses.")
        can.append("turning")
    for friction in forces[1:]:
        if vanishes(friction):
            continue
        mu = voice.letters.rough(friction.id)
        along = voice.direction(friction.along or (0.0, 0.0))
        said += [
            " It is rough and can stop sliding too, as long as no more than ",
            mu,
            "\u2009",
            symbol,
            " is needed: ",
        ]
        said += [
            voice.letters.force(friction.id),
            f", {'' if friction.about_to.startswith('slip') else 'drawn '}{along}.",
        ]
        can.append("sliding")
    return said, tuple(can)


def _far(voice: Voice, support: Support, force: ActingForce) -> str:
    """The body at the other end of a rope or strut, seen from the one it acts on."""
    return force.by if force.back else voice.sketch.body(support.other or support.body).name


def _components(voice: Voice, force: ActingForce) -> list[Piece]:
    """R_x (drawn to the right) and R_y (drawn up)."""
    signs, x_axis = force.along or (1.0, 1.0), voice.analysis.x_axis
    pieces: list[Piece] = []
    for axis, parts in (("x", (signs[0], 0.0)), ("y", (0.0, signs[1]))):
        way = voice.direction(axes.world(parts, x_axis), aside=", ")
        pieces += [" and "] if pieces else []
        pieces += [voice.letters.component(force.id, axis), f" (drawn {way})"]
    return pieces


def _load(voice: Voice, force: ActingForce) -> tuple[list[Piece], tuple[str, ...]]:
    symbol = voice.letters.force(force.id)
    who = f"The {force.by}" if force.by else "Something (not named yet)"
    acts, turns = voice.does(force.id, "acts", "act"), voice.does(force.id, "turns", "turn")
    if force.type == "gravity" and force.entity in voice.bodies:
        centre = voice.settings.mass_centre_word
        if len(voice.bodies) > 1:
            whose = f"The Earth pulls the {force.on} down with "
            return [whose, symbol, f" at its {centre}."], ()
        return ["The Earth pulls down with ", symbol, f" at the {centre}."], ()
    if force.type == "gravity" and force.entity in voice.analysis.system:
        return [f"The Earth pulls the {force.on} down with ", symbol, "."], ()
    if force.type == "gravity":
        return [f"The Earth pulls {voice.direction(force.along or (0.0, -1.0))} with ", symbol, "."], ()
    unknown = " (unknown)" if force.role == "unknown" else ""
    if force.along is None:
        way = voice.turn(force.drawn_sense or 1)
        return [f"{who} {turns} it with the couple ", symbol, f"{unknown}, drawn {way}."], ()
    if force.sought == "size and direction":
        return [f"{who} {acts} with a force of unknown size and direction: ", *_components(voice, force), "."], ()
    drawn = "drawn " if force.role == "unknown" and not force.one_way else ""
    return [f"{who} {acts} with ", symbol, f"{unknown}, {drawn}{voice.direction(force.along)}."], ()


_KIND = {"pin": "pin", "roller": "roller", "rope": "rope", "strut": "strut", "fixed": "fixed end", "contact": "contact"}
