"""What is needed beside what is there: friction against μ, and where on its face a normal acts, as small bars.

Only what a reading holds is said: with answers kept back there is nothing to say.
"""

from __future__ import annotations

from collections.abc import Mapping

from ..edit.change import tidy
from ..geometry import distance
from ..model import Settings, Sketch
from ..statics.reading import Analysis, ForceReading
from ..units import write_exact, write_quantity
from .contact_words import end_words
from .words import spoken_symbol, symbol_runs

Data = dict[str, object]
Run = dict[str, str]

# How far the bar runs on past μ, and past what is needed where that is more.
_PAST_MU = 1.25
_PAST_NEEDED = 1.1
# A normal no larger than this part of the largest force presses on nothing.
_NO_FORCE = 1e-9


def coefficient_letters(sketch: Sketch) -> dict[str, str]:
    """The letter of μ for each rough contact, by its id."""
    return {support.id: support.mu_symbol for support in sketch.supports if support.mu is not None}


def meters(analysis: Analysis | None, force_id: str, settings: Settings, letters: Mapping[str, str]) -> list[Data]:
    """The bars of one force: `{key, runs, spoken, share, mark, over}`.

    `share` is how far the bar is filled and `mark` where its limit stands, both from 0 to 1; `over`: more is needed
    than there is. A place on a face has no limit but its ends, so its `mark` is None.
    """
    if analysis is None:
        return []
    reading = next((each for each in analysis.readings if each.force.id == force_id), None)
    if reading is None or reading.vector is None or reading.size_n is None:
        return []
    normal = reading
    if reading.force.normal:
        found = next((each for each in analysis.readings if each.force.id == reading.force.normal), None)
        if found is None:
            return []
        normal = found
    # Where something else has no balance, what balance would need here is nobody's answer.
    if analysis.supports.kind == "impossible" and not (reading.cannot or normal.cannot):
        return []
    pressing = normal.size_n is not None and not normal.against_drawn
    if not pressing or normal.size_n is None or normal.size_n <= _NO_FORCE * analysis.force_scale_n:
        return []
    if reading.force.normal:
        return [_friction(reading, normal, normal.size_n, settings, letters)]
    return [] if reading.force.face is None else [_place(reading, settings)]


def _friction(
    friction: ForceReading, normal: ForceReading, normal_n: float, settings: Settings, letters: Mapping[str, str]
) -> Data:
    """ "f/N = 0.23 of μ = 0.40"."""
    mu = friction.force.mu or 0.0
    needed = (friction.size_n or 0.0) / normal_n
    over = bool(friction.cannot)
    top = max(_PAST_MU * mu, _PAST_NEEDED * needed) or 1.0
    written = write_quantity(needed, "number", settings)
    there = write_exact(mu, "number", settings)
    letter = letters.get(friction.force.entity, "μ")
    joint = ", more than " if over else " of "
    runs = [
        *symbol_runs(friction.force.symbol),
        _words("/"),
        *symbol_runs(normal.force.symbol),
        _words(f" = {written}{joint}"),
        *symbol_runs(letter),
        _words(f" = {there}"),
    ]
    spoken = (
        f"{spoken_symbol(friction.force.symbol)} over {spoken_symbol(normal.force.symbol)} is {written}"
        f"{joint}{spoken_symbol(letter)}, {there}"
    )
    return {
        "key": "friction", "runs": runs, "spoken": spoken, "share": round(needed / top, 4),
        "mark": round(mu / top, 4), "over": over,
    }  # fmt: skip


def _place(normal: ForceReading, settings: Settings) -> Data:
    """ "0.32 m from its left end, of 1 m"; past an end where it would have to be."""
    force = normal.force
    assert force.face is not None
    start, end = force.face
    first, last = end_words(force.face)
    length_m = distance(start, end)
    along = ((end[0] - start[0]) / length_m, (end[1] - start[1]) / length_m)
    at_m = (force.point[0] - start[0]) * along[0] + (force.point[1] - start[1]) * along[1]
    # Told from the left or lower end, whichever way the face was drawn.
    if first in ("right end", "upper end"):
        first, last, at_m = last, first, length_m - at_m
    over = normal.cannot != "" and not 0.0 <= at_m <= length_m
    whole = write_exact(tidy(length_m), "length", settings)
    if over and at_m > length_m:
        words = f"{write_quantity(at_m - length_m, 'length', settings)} past its {last}"
    elif over:
        words = f"{write_quantity(-at_m, 'length', settings)} past its {first}"
    else:
        at_m = min(length_m, max(0.0, at_m))
        words = f"{write_quantity(at_m, 'length', settings)} from its {first}, of {whole}"
    share = min(1.0, max(0.0, at_m / length_m))
    return {
        "key": "place",
        "runs": [_words(words)],
        "spoken": f"{spoken_symbol(force.symbol)} acts {words}",
        "share": round(share, 4),
        "mark": None,
        "over": over,
    }


def _words(text: str) -> Run:
    return {"text": text, "role": "value"}
