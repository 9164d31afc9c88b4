"""Why letting go has no answer, told before anything is tried."""

from __future__ import annotations

from collections.abc import Sequence

from ..model import Body, Sketch, SpreadLoad, Thing
from ..statics.reading import ActingForce
from .inertia import Inertia


def refusal(sketch: Sketch, body: Body, acting: Sequence[ActingForce], own: Inertia | None, *, joined: bool) -> str:
    """Why there is no answer, or nothing. A body joined to others may be without mass: they tell how it starts."""
    name = body.name or "body"
    acts = {force.id for force in acting if force.size_n != 0.0}
    for load in sketch.loads:
        # Its weight is known, but the mass that goes with it is not counted in the body's moment of inertia.
        if isinstance(load, SpreadLoad) and load.acts == "weight" and load.id in acts:
            return f"{load.symbol} is own weight spread along the {name}: letting go needs it as mass of the {name}."
    for load in sketch.loads:
        if sketch.settings.seen_from == "above" and isinstance(load, Thing) and load.body == body.id and load.mass_kg:
            return f"Seen from above nothing says whether the {load.name or 'thing'} rides along with the {name}."
    if own is None and not joined:
        return without_mass(body)
    if own is not None and own.moment_kg_m2 == 0.0:
        return f"The {name} has no extent: nothing says how fast it would turn."
    letters = [
        force.symbol for force in acting if force.role == "known" and force.size_n is None and force.couple_n_m is None
    ]
    if letters:
        return f"The size of {letters[0]} is a letter only: letting go needs its number."
    supports = {support.id for support in sketch.supports}
    drawn = [force.symbol for force in acting if force.role == "unknown" and force.entity not in supports]
    if drawn:
        return f"{drawn[0]} is drawn as an unknown arrow: letting go needs the support that it stands for."
    return ""


def without_mass(body: Body) -> str:
    """What is said where a mass is missing."""
    name = body.name or "body"
    return f"The {name} has no mass in numbers: without it nothing says how fast it would start. Give it a mass."
