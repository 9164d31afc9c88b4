"""What the strips show before it is drawn: the terms of each sum, what is open in it, and whether it closes."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from ..geometry import Point, Vector, cross, subtract
from ..model import Sketch
from ..statics import advice as advising
from ..statics import axes
from ..statics import pivot as pivots
from ..statics.reading import ActingForce, Analysis, ForceReading
from . import text

Row = Literal["x", "y", "turn"]
ROWS: tuple[Row, ...] = ("x", "y", "turn")
Kind = Literal["known", "unknown", "guess"]

# A sum no larger than this part of the sketch's scale is closed: rounding alone leaves about 1e-15.
CLOSED = 1e-9
# A term no larger than this part of its scale is no term.
NO_TERM = 1e-9


def term(reading: ForceReading, row: Row, analysis: Analysis) -> float | None:
    """What a force adds to a sum, as guessed, known or solved; None while its size is open."""
    force = reading.force
    if force.along is None:
        if row != "turn":
            return 0.0
        if force.guess_couple_n_m is not None:
            return force.guess_couple_n_m
        impossible = force.role == "unknown" and analysis.supports.kind == "impossible"
        return None if impossible else reading.couple_n_m
    vector = force.guess if force.guess is not None else reading.vector
    if force.guess is None and force.role == "unknown" and analysis.supports.kind == "impossible":
        # The only balance needs what a support cannot do: its values are nobody's answer.
        vector = None
    if vector is None:
        if (
            row != "turn"
            and analysis.supports.kind != "impossible"
            and reading.components_n[ROWS.index(row)] is not None
        ):
            return reading.components_n[ROWS.index(row)]
        return 0.0 if sides_possible(reading, row, analysis) == () else None
    if row == "turn":
        turning = reading.guess_turning if force.guess is not None else reading.turning
        if turning is not None and turning.torque_n_m is not None:
            return turning.torque_n_m
        return cross(subtract(force.point, analysis.pivot), vector)
    return _part(vector, row, analysis)


def _part(vector: Vector, row: Row, analysis: Analysis) -> float:
    """The part of a vector along the axis of a row."""
    return axes.along(vector, analysis.x_axis)[ROWS.index(row)]


def sides_possible(reading: ForceReading, row: Row, analysis: Analysis) -> tuple[int, ...]:
    """The sides (−1, +1) on which an open force can lie in a row, from its line and point alone."""
    force = reading.force
    if force.along is None:
        sense = force.drawn_sense * reading.senses[0]
        return () if row != "turn" else (sense,) if sense else (-1, 1)
    if row == "turn" and reading.turning.drops_out:
        return ()
    if force.sought == "size and direction":
        return (-1, 1) if reading.senses == (0, 0) else _sides_settled(reading, row, analysis)
    if row == "turn" and force.sought == "size and place" and force.face is not None:
        return _sides_over_face(force, force.face, analysis)
    turns = row == "turn"
    part = cross(subtract(force.point, analysis.pivot), force.along) if turns else _part(force.along, row, analysis)
    scale = analysis.lever_m if row == "turn" else 1.0
    if abs(part) <= NO_TERM * scale:
        return ()
    sign = 1 if part > 0.0 else -1
    if force.one_way or force.role == "known":
        return (sign,)
    return (sign * reading.senses[0],) if reading.senses[0] else (-1, 1)


def _sides_over_face(force: ActingForce, face: tuple[Point, Point], analysis: Analysis) -> tuple[int, ...]:
    """The ways a normal can turn that acts anywhere on a face: both, when the pivot is square to a point of it."""
    assert force.along is not None
    least = NO_TERM * analysis.lever_m
    turns = [cross(subtract(end, analysis.pivot), force.along) for end in face]
    return tuple(sign for sign in (-1, 1) if max(sign * turn for turn in turns) > least)


def _sides_settled(reading: ForceReading, row: Row, analysis: Analysis) -> tuple[int, ...]:
    """The sides for two components of which at least one acts one way whatever the sizes."""
    sides: set[int] = set()
    for part, sense in zip(advising.parts_of(reading.force), reading.senses, strict=True):
        if row == "turn":
            share = advising.turning(part, analysis.pivot, analysis.lever_m)
        else:
            share = advising.pushing(part, analysis.x_axis if row == "x" else analysis.y_axis)
        if share:
            sides |= {-1, 1} if not sense else {sense if share > 0.0 else -sense}
    return tuple(sorted(sides))


@dataclass(slots=True)
class Bar:
    """What one row is made of, before it is drawn: (force, kind, symbol, value) and the open ones by side."""

    terms: list[tuple[str, Kind, str, float]] = field(default_factory=list)
    open_sides: list[tuple[str, str, tuple[int, ...]]] = field(default_factory=list)
    total: float = 0.0
    letters: bool = False
    faded: str = ""
    closed: bool = False
    never: bool = False


def bars_of(sketch: Sketch, analysis: Analysis) -> dict[Row, Bar]:
    """The three rows with their terms, and what they say where they say nothing."""
    bars: dict[Row, Bar] = {row: Bar() for row in ROWS}
    for reading in analysis.readings:
        force = reading.force
        guessed = force.guess is not None or force.guess_couple_n_m is not None
        kind: Kind = "guess" if guessed else "known" if force.role == "known" else "unknown"
        for row, bar in bars.items():
            value = term(reading, row, analysis)
            scale = analysis.torque_scale_n_m if row == "turn" else analysis.force_scale_n
            if value is None:
                if kind == "known":
                    bar.letters = True
                    for side in _letter_sides(reading, row, analysis):
                        bar.terms.append((force.id, kind, force.symbol, float(side)))
                else:
                    bar.open_sides.append((force.id, force.symbol, sides_possible(reading, row, analysis)))
                continue
            bar.total += value
            if abs(value) > NO_TERM * scale:
                bar.terms.append((force.id, kind, force.symbol, value))
    _close(bars, analysis)
    _fade(bars, sketch, analysis)
    return bars


def _letter_sides(reading: ForceReading, row: Row, analysis: Analysis) -> tuple[int, ...]:
    if reading.force.along is None:
        return (reading.force.drawn_sense or 1,)
    return sides_possible(reading, row, analysis)


def _close(bars: dict[Row, Bar], analysis: Analysis) -> None:
    all_close = analysis.balance.kind in ("balanced", "to-the-figures")
    for row, bar in bars.items():
        scale = analysis.torque_scale_n_m if row == "turn" else analysis.force_scale_n
        whole = not bar.open_sides and not bar.letters
        bar.closed = whole and (all_close or abs(bar.total) <= CLOSED * scale)
        if analysis.supports.kind == "impossible" and abs(bar.total) > CLOSED * scale:
            # Every open force can only add to the side that is already too long.
            sign = 1 if bar.total > 0.0 else -1
            bar.never = not bar.letters and all(sides == (sign,) for _, _, sides in bar.open_sides)


def _fade(bars: dict[Row, Bar], sketch: Sketch, analysis: Analysis) -> None:
    """Rows in which no guess has a term say so: dragging the guess cannot change them."""
    guesses = [reading.force for reading in analysis.readings if reading.force.guess is not None]
    couples = [reading for reading in analysis.readings if reading.force.guess_couple_n_m is not None]
    if not guesses or couples:
        return
    for row, bar in bars.items():
        if any(kind == "guess" for _, kind, _, _ in bar.terms):
            continue
        first = guesses[0]
        size = math.hypot(*first.guess) if first.guess is not None else 0.0
        symbol = text.plain(first.symbol)
        if size == 0.0:
            continue
        if row == "turn":
            where = f"about {pivots.name_of(sketch)}"
            bar.faded = f"{where}, {symbol} cannot be tested: its line passes through {pivots.name_of(sketch)}"
        else:
            bar.faded = f"along {row}, {symbol} cannot be tested: it has no part along {row}"
