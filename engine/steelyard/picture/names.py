"""What things on the board are called by a screen reader."""

from __future__ import annotations

from ..model import AboutTo, Body, ForceType, Settings, Sketch, Support, SupportKind
from ..statics.reading import ForceReading
from ..units import write_quantity
from .text import plain

TYPE_WORDS: dict[ForceType, str] = {
    "gravity": "weight",
    "normal": "normal force",
    "friction": "friction",
    "contact": "contact force",
    "pin": "pin force",
    "tension": "tension",
    "strut": "strut force",
    "fixing force": "fixing force",
    "fixing couple": "fixing couple",
    "spring": "spring force",
    "fluid": "fluid force",
    "muscle": "muscle or tendon force",
    "other": "force",
}
SUPPORT_WORDS: dict[SupportKind, str] = {
    "pin": "pin",
    "roller": "roller",
    "rope": "rope",
    "strut": "strut",
    "fixed": "fixed end",
    "contact": "contact surface",
}
ABOUT_TO_WORDS: dict[AboutTo, str] = {
    "": "",
    "slip": "about to slip",
    "slip-back": "about to slip",
    "tip": "about to tip",
    "tip-back": "about to tip",
    "lift": "about to lift off",
    "slack": "about to go slack",
}


def of_force(reading: ForceReading, settings: Settings) -> str:
    """For example "T, tension, by hoist on gangway, 2146 N at 132.23°"; without a value when none is given."""
    force = reading.force
    parts = [
        plain(force.symbol),
        TYPE_WORDS[force.type],
        f"by {force.by or 'something not named'} on {force.on or 'body'}",
    ]
    if reading.size_n is not None and reading.direction_deg is not None:
        size = write_quantity(reading.size_n, "force", settings)
        parts.append(f"{size} at {write_quantity(reading.direction_deg, 'angle', settings)}")
    elif reading.size_n is not None:
        parts.append(write_quantity(reading.size_n, "force", settings))
    elif reading.couple_n_m is not None:
        parts.append(write_quantity(reading.couple_n_m, "couple", settings))
    elif force.role == "unknown":
        parts.append("unknown")
    if reading.cannot:
        parts.append(reading.cannot)
    return ", ".join(parts)


def of_guess(reading: ForceReading) -> str:
    """The guess drawn for a force."""
    return f"your guess for {plain(reading.force.symbol)}"


def of_support(support: Support, sketch: Sketch) -> str:
    """For example "hoist, rope holding gangway"."""
    kind = SUPPORT_WORDS[support.kind]
    if support.mu is not None:
        kind = f"rough {kind}"
    if support.face_m is not None:
        kind = f"{kind} along a face"
    names = {body.id: body.name or "the body" for body in sketch.bodies}
    held = names.get(support.body, "the body")
    if support.other is not None:
        joint = f"{kind} joining {held} and {names.get(support.other, 'another body')}"
        return f"{support.agent}, {joint}" if support.agent else joint
    return f"{support.agent}, {kind} holding {held}" if support.agent else f"{kind} holding {held}"


def of_body(body: Body) -> str:
    """The body's name with its kind."""
    kind = body.kind.replace("-", " ")
    return f"{body.name}, {kind}" if body.name else kind
