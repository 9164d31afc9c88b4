"""What is needed beside what is there: friction against μ, and where on its face a normal acts, as small bars.

Only what a reading holds is said: with answers kept back there is nothing to say.
"""

from __future__ import annotations

from ..edit.change import tidy
from ..geometry import distance
from ..model import Settings
from ..statics.reading import Analysis, ForceReading
from ..statics.use import Use
from ..units import NO_BREAK_SPACE, Kind, write_exact, write_quantity
from .contact_words import end_words
from .extents import Extents, between, range_lines
from .parts import reading_of
from .words import spoken_symbol, symbol_runs

Data = dict[str, object]
Run = dict[str, str]

# How far the bar runs on past μ, and past what is needed where that is more.
_PAST_MU = 1.25
_PAST_NEEDED = 1.1
# A normal no larger than this part of the largest force presses on nothing.
_NO_FORCE = 1e-9


def meters(analysis: Analysis | None, force_id: str, settings: Settings, known: Extents) -> list[Data]:
    """The bars of one force: `{key, runs, spoken, share, from, mark, over}`; and its ranges, in words alone.

    `share` is how far the bar is filled, `from` where the filling begins when it is a range, and `mark` where the
    limit stands, all from 0 to 1; `over`: more is needed than there is. A place on a face has no limit but its ends,
    so its `mark` is None. A range in words has no bar: its `share` is None.
    """
    reading = reading_of(analysis, force_id)
    if analysis is None or reading is None:
        return []
    use = known.uses.get(force_id)
    if reading.vector is None:
        lines = range_lines(reading.force, known, settings)
        return lines if use is None else [*lines, *_of_use(analysis, reading, use, settings, known)]
    if use is not None and use.kind == "place" and use.least != use.greatest:
        return _of_use(analysis, reading, use, settings, known)
    return _of_answer(analysis, reading, settings, known)


def _of_use(analysis: Analysis, reading: ForceReading, use: Use, settings: Settings, known: Extents) -> list[Data]:
    """The bar of a range: the least and the most of all that the supports can do."""
    if use.least is None or use.greatest is None:
        return []
    if use.kind == "friction":
        normal = _normal_of(analysis, reading)
        return [] if normal is None else [_friction(reading, normal, (use.least, use.greatest), settings, known)]
    return [_place(reading, (use.least + use.limit, use.greatest + use.limit), settings)]


def _of_answer(analysis: Analysis, reading: ForceReading, settings: Settings, known: Extents) -> list[Data]:
    """The bar of a single value."""
    normal = _normal_of(analysis, reading) if reading.force.normal else reading
    if normal is None or reading.size_n is None:
        return []
    # Where something else has no balance, what balance would need here is nobody's answer.
    if analysis.supports.kind == "impossible" and not (reading.cannot or normal.cannot):
        return []
    pressing = normal.size_n is not None and not normal.against_drawn
    if not pressing or normal.size_n is None or normal.size_n <= _NO_FORCE * analysis.force_scale_n:
        return []
    if reading.force.normal:
        needed = reading.size_n / normal.size_n
        return [_friction(reading, normal, (needed, needed), settings, known)]
    face = reading.force.face
    if face is None:
        return []
    (start, end), point = face, reading.force.point
    length_m = distance(start, end)
    along = ((end[0] - start[0]) / length_m, (end[1] - start[1]) / length_m)
    at_m = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
    return [_place(reading, (at_m, at_m), settings)]


def _normal_of(analysis: Analysis, friction: ForceReading) -> ForceReading | None:
    return reading_of(analysis, friction.force.normal)


def _friction(
    friction: ForceReading, normal: ForceReading, needed: tuple[float, float], settings: Settings, known: Extents
) -> Data:
    """ "f/N = 0.23 of μ = 0.40", or from where to where."""
    mu = friction.force.mu or 0.0
    least, most = needed
    over = bool(friction.cannot)
    # The bar measures how much, whichever way it acts.
    low = 0.0 if least <= 0.0 <= most else min(abs(least), abs(most))
    high = max(abs(least), abs(most))
    top = max(_PAST_MU * mu, _PAST_NEEDED * high) or 1.0
    letter = known.letters.get(friction.force.entity, "μ")
    joint = ", more than " if over else " of " if least == most else ", of "
    told = _one_or_two(least, most, "number", settings)
    there = write_exact(mu, "number", settings)
    runs = [
        *symbol_runs(friction.force.symbol),
        _words("/"),
        *symbol_runs(normal.force.symbol),
        _words(f" {told}{joint}"),
        *symbol_runs(letter),
        _words(f"{NO_BREAK_SPACE}={NO_BREAK_SPACE}{there}"),
    ]
    told = told.replace("= ", "is ", 1)
    spoken = (
        f"{spoken_symbol(friction.force.symbol)} over {spoken_symbol(normal.force.symbol)} {told}"
        f"{joint}{spoken_symbol(letter)}, {there}"
    )
    return _bar("friction", runs, spoken, low / top if least != most else None, high / top, mu / top, over=over)


def _place(normal: ForceReading, at_m: tuple[float, float], settings: Settings) -> Data:
    """ "0.32 m from its left end, of 1 m"; past an end where it would have to be."""
    force = normal.force
    assert force.face is not None
    length_m = distance(*force.face)
    first, last = end_words(force.face)
    least, most = at_m
    # Told from the left or lower end, whichever way the face was drawn.
    if first in ("right end", "upper end"):
        first, last, least, most = last, first, length_m - most, length_m - least
    over = normal.cannot != "" and not 0.0 <= least <= most <= length_m
    if over and most > length_m:
        words = f"{write_quantity(most - length_m, 'length', settings)} past its {last}"
    elif over:
        words = f"{write_quantity(-least, 'length', settings)} past its {first}"
    else:
        least, most = (min(length_m, max(0.0, each)) for each in (least, most))
        told = _one_or_two(least, most, "length", settings).removeprefix("= ")
        words = f"{told} from its {first}, of {write_exact(tidy(length_m), 'length', settings)}"
    low, high = (min(1.0, max(0.0, each / length_m)) for each in (least, most))
    spoken = f"{spoken_symbol(force.symbol)} acts {words}"
    return _bar("place", [_words(words)], spoken, low if least != most else None, high, None, over=over)


def _one_or_two(least: float, most: float, kind: Kind, settings: Settings) -> str:
    if least == most:
        return f"= {write_quantity(most, kind, settings)}"
    return between(least, most, kind, settings)


def _bar(
    key: str, runs: list[Run], spoken: str, begins: float | None, share: float, mark: float | None, *, over: bool
) -> Data:
    return {
        "key": key,
        "runs": runs,
        "spoken": spoken,
        "share": round(share, 4),
        "from": None if begins is None else round(begins, 4),
        "mark": None if mark is None else round(mark, 4),
        "over": over,
    }


def _words(text: str) -> Run:
    return {"text": text, "role": "value"}
