"""Limits of one number, and places where a reaction has a given value, as data and as text."""

from __future__ import annotations

from dataclasses import asdict
from itertools import groupby

from ..document import words_for
from ..errors import SteelyardError
from ..limits.changes import Limits
from ..limits.thresholds import where
from ..model import Sketch
from ..statics import joined
from ..statics.isolate import acting_forces
from ..units import Kind, read_quantity, write_quantity
from .table import aligned

Data = dict[str, object]


def limits_data(found: Limits) -> Data:
    """The limits of one number as JSON data, in stored units."""
    return {
        "path": found.number.path,
        "value": found.number.value,
        "from": found.low,
        "to": found.high,
        "changes": [asdict(change) for change in found.changes],
        "stretches": [asdict(stretch) for stretch in found.stretches],
        "safe": [list(ends) for ends in found.safe],
    }


def limits_text(sketch: Sketch, found: Limits) -> str:
    """What changes where, and where the body is held."""
    settings = sketch.settings
    number = found.number

    def written(value: float) -> str:
        return write_quantity(value, number.kind, settings, figures=max(6, settings.significant_figures))

    said = words_for(sketch, number)
    lines = [
        sketch.title,
        f"{said[0].upper()}{said[1:]}, now {written(number.value)}, from {written(found.low)} to {written(found.high)}",
        "",
    ]
    if found.changes:
        lines += aligned([(written(change.value), change.sentence) for change in found.changes])
    else:
        lines.append("Nothing changes on the way.")
    lines.append("")
    if found.safe:
        lines += [f"Held in balance from {written(start)} to {written(end)}." for start, end in found.safe]
    else:
        lines.append("Held in balance nowhere between.")
    for sentence, stretches in groupby(found.stretches, key=lambda stretch: "" if stretch.holds else stretch.sentence):
        if sentence:
            first, *rest = stretches
            lines.append(f"From {written(first.start)} to {written((rest or [first])[-1].end)}: {sentence}")
    return "\n".join(lines)


def wanted(sketch: Sketch, path: str, low: float, high: float, asked: str) -> tuple[str, tuple[float, ...]]:
    """The places asked for as "hoist=2000 N", "hinge.y=0", "base.place=0.2 m" or "base-friction.use=1", in words.

    Raises `SteelyardError` `limits.asked` for anything else, and what `where` raises.
    """
    reaction, equals, text = asked.partition("=")
    force, _, part = reaction.strip().partition(".")
    if not equals or part not in ("", "x", "y", "place", "use"):
        message = f'What is looked for must read as a reaction and its value: got "{asked}".'
        raise SteelyardError("limits.asked", "", message, "Write for instance hoist=2000 N, or hinge.y=0.")
    bodies = joined.connected(sketch, joined.bodies_of(sketch, joined.system_ids(sketch)))
    acting = {force.id: force for body_id in bodies for force in acting_forces(sketch, body_id)}
    couple = force in acting and acting[force].along is None
    kinds: dict[str, Kind] = {"place": "length", "use": "number"}
    kind: Kind = kinds.get(part, "couple" if couple else "force")
    value = read_quantity(text, kind, sketch.settings, where=reaction.strip())
    places = where(sketch, path, low, high, force, value, part)
    symbol = acting[force].symbol
    words = {"": symbol, "place": f"the place of {symbol} from the middle of its face", "use": f"the use of {symbol}"}
    return words.get(part, f"the {part} part of {symbol}"), places
