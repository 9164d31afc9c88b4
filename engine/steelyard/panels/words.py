"""The trade's words as the settings choose them, and names of things for people."""

from __future__ import annotations

from ..model import Body, Couple, Force, Given, Load, NamedPoint, Pivot, Settings, Sketch, SpreadLoad, Support, Thing
from ..picture.names import TYPE_WORDS
from ..statics.reading import ActingForce

Entity = Body | NamedPoint | Support | Force | Couple | Thing | SpreadLoad | Pivot | Given

PIVOT_ID = "pivot"
SECOND_PIVOT_ID = "second-pivot"

BODY_WORDS = {"bar": "bar", "bent-bar": "bent bar", "plate": "plate", "disc": "disc"}
SUPPORT_WORDS = {
    "pin": "pin",
    "roller": "roller",
    "rope": "rope",
    "strut": "strut",
    "fixed": "fixed end",
    "contact": "contact",
}
# Short names of the stored numbers, by the last key of their path.
NUMBER_WORDS = {
    "mass_kg": "mass",
    "weight_n": "weight",
    "length_m": "length",
    "radius_m": "radius",
    "angle_deg": "angle",
    "normal_deg": "direction",
    "direction_deg": "direction",
    "size_n": "size",
    "couple_n_m": "size",
    "place_m": "place",
    "anchor_m": "far end",
    "centre_m": "centre",
    "start_m": "start",
    "end_m": "end",
    "start_n_per_m": "load at start",
    "end_n_per_m": "load at end",
    "mu": "friction",
    "face_m": "end of the face",
}


def entity(sketch: Sketch, wanted: str) -> Entity | None:
    """The thing with this id; the pivots answer to "pivot" and "second-pivot"; None when there is none."""
    if wanted == PIVOT_ID:
        return sketch.pivot
    if wanted == SECOND_PIVOT_ID:
        return sketch.second_pivot
    every = (*sketch.bodies, *sketch.supports, *sketch.loads, *sketch.points, *sketch.givens)
    return next((each for each in every if each.id == wanted), None)


def body_name(sketch: Sketch, body_id: str) -> str:
    """What the body is called, lower case kind when it has no name."""
    for body in sketch.bodies:
        if body.id == body_id:
            return body.name or BODY_WORDS[body.kind]
    return "body"


def agent_phrase(by: str, on: str) -> str:
    """ "hoist on gangway"; an agent not named yet is "?"."""
    return f"{by or '?'} on {on}"


def force_title(force: ActingForce) -> str:
    """ "tension, hoist on gangway"."""
    return f"{TYPE_WORDS[force.type]}, {agent_phrase(force.by, force.on)}"


def load_type_word(load: Load) -> str:
    """The trade's word for what a load is."""
    if isinstance(load, Couple):
        return "couple"
    if isinstance(load, Thing):
        return "thing on the body"
    if isinstance(load, SpreadLoad):
        return "own weight, spread" if load.acts == "weight" else "spread load"
    return TYPE_WORDS[load.type]


def symbol_runs(symbol: str) -> list[dict[str, str]]:
    """A symbol as styled text: what follows an underscore is a subscript.

    >>> symbol_runs("R_A")
    [{'text': 'R', 'role': 'symbol'}, {'text': 'A', 'role': 'sub'}]
    """
    letter, _, below = symbol.partition("_")
    if not letter or not below:
        return [{"text": symbol, "role": "symbol"}]
    return [{"text": letter, "role": "symbol"}, {"text": below.strip("{}"), "role": "sub"}]


def spoken_symbol(symbol: str) -> str:
    """A symbol as a screen reader should say it: "R_A" is "R A"."""
    return symbol.replace("_", " ").replace("{", "").replace("}", "")


def turning_letter(settings: Settings) -> str:
    """τ for torque, M for moment."""
    return "τ" if settings.turning_word == "torque" else "M"


def sense_word(sense: int | None, settings: Settings) -> str:
    """counterclockwise (or anticlockwise), clockwise, or nothing."""
    if sense is None or sense == 0:
        return ""
    return settings.counterclockwise_word if sense > 0 else "clockwise"


def shown_sign(settings: Settings) -> float:
    """+1 when counterclockwise counts as positive on screen, else −1."""
    return 1.0 if settings.counterclockwise_positive else -1.0
