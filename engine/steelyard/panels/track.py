"""The track of one number of the selected thing: where it may go, where the body is held, and what changes where."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from .. import document
from ..document.paths import Entity, Number
from ..edit.change import acts_for
from ..edit.set_number import NUMBER
from ..errors import SteelyardError
from ..geometry import distance
from ..limits.changes import Limits
from ..limits.thresholds import limits
from ..model import Body, Sketch, SpreadLoad
from ..statics import meeting, shape
from ..units import factor_of, spoken_quantity, unit_of, write_exact, write_quantity
from .item import Item
from .words import NUMBER_WORDS

Data = dict[str, object]

# So many steps from end to end: a drag is as fine as a finger, a key press as coarse as is useful.
STEPS = 400


@dataclass(frozen=True, slots=True)
class Known:
    """The limits last found, and all they hang on: they stay true while only the number itself moves."""

    of: tuple[object, ...]
    limits: Limits


def limits_action(sketch: Sketch, entity_id: str) -> list[Item]:
    """The button that shows the track of a thing's first number; none while answers are kept back."""
    offered = _offered(sketch, entity_id)
    if not offered:
        return []
    path = offered[0].path
    said = f"limits of {document.words_for(sketch, offered[0])}"
    return [
        {
            "key": "limits",
            "label": "Limits",
            "kind": "show",
            "text": "",
            "unit": "",
            "show": {"track": path},
            "spoken": said,
        }
    ]


def track_panel(
    sketch: Sketch, entity_id: str | None, path: str | None, known: Known | None, *, preview: bool
) -> tuple[Data | None, Known | None]:
    """The track and what was found for it; None while answers are kept back or its thing is not selected.

    In a preview limits are never looked for anew: what is known is shown while it is true, and nothing otherwise.
    """
    if path is None or entity_id is None:
        return None, known
    offered = _offered(sketch, entity_id)
    number = next((each for each in offered if each.path == path), None)
    if number is None:
        return None, known
    low, high = _interval(sketch, number) or (0.0, 0.0)
    if known is not None and known.limits.number.path == path and known.limits.low <= number.value <= known.limits.high:
        low, high = known.limits.low, known.limits.high  # the track holds still while the number runs along it
    of = _hangs_on(sketch, number, low, high)
    if of is None:
        return None, known
    if known is None or known.of != of:
        if preview:
            return _data(sketch, number, offered, low, high, None), known
        try:
            known = Known(of, limits(sketch, path, low, high, body_id=_body_of(sketch, number)))
        except SteelyardError:
            return None, known
    return _data(sketch, number, offered, low, high, known.limits), known


def _hangs_on(sketch: Sketch, number: Number, low: float, high: float) -> tuple[object, ...] | None:
    """Everything the limits hang on; None when an end of the track would not make a sound sketch."""
    try:
        for end in (low, high):
            document.check(document.with_number(sketch, number, end))
    except SteelyardError:
        return None
    there = document.with_number(sketch, number, low)
    return (there.bodies, there.supports, there.loads, there.isolated, there.settings, low, high)


def _offered(sketch: Sketch, entity_id: str) -> list[Number]:
    """The numbers of a thing that have a track, the most telling first."""
    entity = _entity(sketch, entity_id)
    if entity is None or sketch.answers == "kept":
        return []
    found = [
        number
        for number in document.numbers_of(entity)
        if _interval(sketch, number) is not None and not _parts_a_joint(sketch, entity, number)
    ]
    return sorted(found, key=lambda number: number.key in ("centre_m", "length_m", "radius_m"))


def _parts_a_joint(sketch: Sketch, entity: Entity, number: Number) -> bool:
    """Whether another value of a number alone would leave two joined bodies apart."""
    if number.key not in ("origin_m", "angle_deg", "length_m", "points_m", "place_m"):
        return False
    return any(
        meeting.meets(each) and entity.id in ((each.body, each.other) if isinstance(entity, Body) else (each.id,))
        for each in sketch.supports
    )


def _entity(sketch: Sketch, entity_id: str) -> Entity | None:
    every: tuple[Entity, ...] = (*sketch.bodies, *sketch.supports, *sketch.loads)
    return next((entity for entity in every if acts_for(entity, entity_id)), None)


def _body_of(sketch: Sketch, number: Number) -> str | None:
    entity = _entity(sketch, number.of)
    return None if entity is None else entity.id if isinstance(entity, Body) else entity.body


def _interval(sketch: Sketch, number: Number) -> tuple[float, float] | None:
    """From where to where a number is tried: round ends that hold its value; None for those that have no track."""
    entity = _entity(sketch, number.of)
    body = next((each for each in sketch.bodies if each.id == _body_of(sketch, number)), None)
    if entity is None or body is None or number.key not in NUMBER_WORDS:
        return None
    value = number.value
    bar = body.kind == "bar"
    match number.kind:
        case "angle":
            return next(
                ((low, low + 360.0) for low in (-180.0, 0.0) if low <= value <= low + 360.0),
                (value - 180.0, value + 180.0),
            )
        case "intensity" if isinstance(entity, SpreadLoad):
            # Both ends act the same way, so a track runs from nothing to one side.
            both = sum(entity.shares)
            most = _round_up(2.0 * abs(value) or abs(both)) if both else 100.0
            return (-most, 0.0) if both < 0.0 else (0.0, most)
        case "number":
            return (0.0, _round_up(2.0 * value) if value > 0.0 else 1.0)
        case "mass" | "force" | "couple":
            return (0.0, _round_up(2.0 * value) if value > 0.0 else 100.0)
    if number.key == "anchor_m":
        corners = shape.axis(body)
        reach = _round_up(max(distance(corners[0], corner) for corner in corners))
        return (_whole(value, reach) - reach, _whole(value, reach) + reach)
    if number.key == "radius_m":
        return _radius_range(sketch, body, value)
    if number.key == "length_m":
        places = [each.place_m[0] for each in (*sketch.supports, *sketch.loads, *sketch.points) if each.body == body.id]
        places += [
            max(each.start_m[0], each.end_m[0])
            for each in sketch.loads
            if isinstance(each, SpreadLoad) and each.body == body.id
        ]
        least = max([*places, 0.0 if body.centre_m is None else body.centre_m[0]])
        return (max(least, 0.01 * value), _round_up(2.0 * value))
    if isinstance(entity, SpreadLoad) and number.key in ("start_m", "end_m"):
        return _end_range(entity, number.key, body) if bar and number.place == (0,) else None
    if bar and number.place == (0,):
        return (0.0, body.length_m)
    return None


def _radius_range(sketch: Sketch, disc: Body, radius_m: float) -> tuple[float, float]:
    """As small as what is within the rim allows, as large as is round; what is on the rim goes along."""
    every = (*sketch.supports, *sketch.loads, *sketch.points)
    places = [each.place_m for each in every if each.body == disc.id and shape.inward_deg(disc, each.place_m) is None]
    reach = [math.hypot(*place) for place in places]
    reach += [math.hypot(*hole.centre_m) + 1.01 * hole.radius_m for hole in disc.round_holes]
    return (max([*reach, 0.01 * radius_m]), _round_up(2.0 * radius_m))


def _round_up(value: float) -> float:
    """The next number of the form 1, 2 or 5 times a power of ten.

    >>> _round_up(160.0)
    200.0
    """
    power = 10.0 ** math.floor(math.log10(value))
    return next(times * power for times in (1.0, 2.0, 5.0, 10.0) if times * power >= value * (1.0 - 1e-12))


def _whole(value: float, reach: float) -> float:
    step = reach / 10.0
    return round(value / step) * step


def _data(
    sketch: Sketch, number: Number, offered: Sequence[Number], low: float, high: float, found: Limits | None
) -> Data:
    settings, kind = sketch.settings, number.kind
    factor = factor_of(kind, settings)

    def share(value: float) -> float:
        return round((value - low) / (high - low), 6)

    def written(value: float) -> str:
        return write_quantity(value, kind, settings)

    changes = () if found is None else found.changes
    return {
        "of": number.of,
        "key": NUMBER + number.path,
        "path": number.path,
        "label": document.words_for(sketch, number),
        "unit": unit_of(kind, settings),
        "numbers": [{"value": each.path, "text": _word(each)} for each in offered],
        "low": low / factor,
        "high": high / factor,
        "value": number.value / factor,
        "step": _step((high - low) / factor),
        "ends": [write_exact(low, kind, settings), write_exact(high, kind, settings)],
        "spoken": spoken_quantity(number.value, kind, settings, exact=True),
        "safe": [] if found is None else [[share(start), share(end)] for start, end in found.safe],
        "changes": [
            {
                "share": share(change.value),
                "text": written(change.value),
                "main": change.kind != "zero",
                "sentence": f"{written(change.value)}: {change.sentence}",
            }
            for change in changes
        ],
        "said": "" if found is None else " ".join(_said(number, found, written)),
    }


def _end_range(load: SpreadLoad, key: str, body: Body) -> tuple[float, float]:
    """How far one end of a load may go along a bar: up to its other end, but not quite."""
    own, other = (load.start_m[0], load.end_m[0]) if key == "start_m" else (load.end_m[0], load.start_m[0])
    shortest = min(0.01 * body.length_m, abs(own - other))
    return (0.0, other - shortest) if own < other else (other + shortest, body.length_m)


def _word(number: Number) -> str:
    axis = (
        f" {'xy'[number.place[-1]]}"
        if number.place and number.key not in ("place_m", "centre_m", "start_m", "end_m")
        else ""
    )
    return NUMBER_WORDS[number.key] + axis


def _step(span: float) -> float:
    """A round step, so that what is dragged reads as a round number."""
    return float(f"{_round_up(span / STEPS):.0e}")


def _said(number: Number, found: Limits, written: Callable[[float], str]) -> list[str]:
    """Where it is held, or why it is not here; then the nearest change below and above."""
    value = number.value
    stretch = next((each for each in found.stretches if each.start <= value <= each.end), None)
    safe = next((each for each in found.safe if each[0] <= value <= each[1]), None)
    said = []
    if safe is not None:
        whole = safe == (found.low, found.high)
        said.append(
            "Held in balance all the way."
            if whole
            else f"Held in balance from {written(safe[0])} to {written(safe[1])}."
        )
    elif stretch is not None:
        said.append(f"Not held here: {_first(stretch.sentence)}")
    slack = 1e-9 * (found.high - found.low)
    ways = (("", 0.0), ("Next below, ", -1.0), ("Next above, ", 1.0))
    for way, side in ways:
        there = [each for each in found.changes if _side(each.value - value, slack) == side]
        if there:
            # Of several at one value, the one that matters most.
            nearest = min(there, key=lambda each: (round(abs(each.value - value) / (2.0 * slack)), each.kind == "zero"))
            said.append(f"{way}{written(nearest.value)}: {_first(nearest.sentence)}")
    return said


def _first(text: str) -> str:
    """The first sentence of several: there is room for a line or two."""
    return text.split(". ")[0].removesuffix(".") + "."


def _side(distance_to: float, slack: float) -> float:
    return 0.0 if abs(distance_to) <= slack else math.copysign(1.0, distance_to)
