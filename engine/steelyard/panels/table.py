"""The forces table: every force on the body with its size, direction, arm and torque, and the three sums."""

from __future__ import annotations

from ..geometry import angle_of
from ..model import Settings
from ..statics import axes
from ..statics.reading import Analysis, ForceReading, Turning
from ..units import Kind, write_quantity
from ..working.phrases import direction_words
from .extents import Extents
from .meters import meters
from .words import agent_phrase, sense_word, shown_sign, spoken_symbol, symbol_runs, turning_letter

Run = dict[str, str]
Cell = dict[str, object]


def table(
    analysis: Analysis | None, settings: Settings, pivot_name: str, known: Extents | None = None
) -> dict[str, object]:
    """The forces table as `{columns, rows, totals}`; a row's id is its force's id, a guess's row has `guess` true.

    `positive` is the sense a column or a sum counts as positive. A value that is not fixed, or kept back, is
    "?"; a load given as a letter only keeps its letter. `known` says how far
    the others reach; that, and what is needed of friction beside what is there, stands in the row's `meters`.
    """
    if analysis is None:
        return {"columns": [], "rows": [], "totals": []}
    columns = [
        {"key": "symbol", "label": "", "spoken": "symbol"},
        {"key": "force", "label": "force by … on …", "spoken": "force by and on"},
        {"key": "size", "label": "size", "spoken": "size"},
        {"key": "direction", "label": "direction", "spoken": "direction"},
        {"key": "arm", "label": "arm", "spoken": f"moment arm about {pivot_name}"},
        {
            "key": "torque",
            "label": settings.turning_word,
            "spoken": f"{settings.turning_word} about {pivot_name}",
            "positive": _turning_sense(settings),
        },
    ]
    rows: list[dict[str, object]] = []
    for reading in analysis.readings:
        row = _row(reading, settings, known or Extents())
        row["meters"] = meters(analysis, reading.force.id, settings, known or Extents())
        rows.append(row)
        if reading.force.guess is not None or reading.force.guess_couple_n_m is not None:
            rows.append(_guess_row(reading, settings))
    return {"columns": columns, "rows": rows, "totals": _totals(analysis, settings, pivot_name)}


def _row(reading: ForceReading, settings: Settings, known: Extents) -> dict[str, object]:
    force = reading.force
    cells: list[Cell] = [
        _cell("symbol", *symbol_runs(force.symbol)),
        _cell("force", {"text": agent_phrase(force.by, force.on), "role": "small"}),
        _cell("size", *_size(reading, settings)),
        _cell("direction", _value(_direction(reading, settings, known))),
    ]
    cells += _turning_cells(reading.turning, settings, couple=force.along is None)
    return {"id": force.id, "role": force.role, "guess": False, "cells": cells, "spoken": spoken_symbol(force.symbol)}


def _guess_row(reading: ForceReading, settings: Settings) -> dict[str, object]:
    force = reading.force
    if force.guess is not None:
        size = write_quantity(_length(force.guess), "force", settings)
        angle = write_quantity(angle_of(force.guess), "angle", settings)
    else:
        size = write_quantity(abs(force.guess_couple_n_m or 0.0), "couple", settings)
        angle = ""
    cells: list[Cell] = [
        _cell("symbol", *symbol_runs(force.symbol)),
        _cell("force", {"text": "guess", "role": "small"}),
        _cell("size", _value(size)),
        _cell("direction", _value(angle)),
    ]
    if reading.guess_turning is not None:
        cells += _turning_cells(reading.guess_turning, settings, couple=force.along is None)
    else:
        cells += [_cell("arm", _value("")), _cell("torque", _value(""))]
    spoken = f"{spoken_symbol(force.symbol)}, guess"
    return {"id": force.id, "role": "guess", "guess": True, "cells": cells, "spoken": spoken, "meters": []}


def _length(vector: tuple[float, float]) -> float:
    return float((vector[0] ** 2 + vector[1] ** 2) ** 0.5)


def _size(reading: ForceReading, settings: Settings) -> list[Run]:
    """The size as it may be shown: a value, the letter of a force given by its letter, or "?"."""
    force = reading.force
    if reading.couple_n_m is not None:
        return [_value(write_quantity(abs(reading.couple_n_m), "couple", settings))]
    if reading.size_n is not None:
        return [_value(write_quantity(reading.size_n, "force", settings))]
    if force.role == "known":
        return symbol_runs(force.symbol)
    return [_value("?")]


def _direction(reading: ForceReading, settings: Settings, known: Extents) -> str:
    """The direction that is known: of the answer, or of the known line, both ways where both are possible."""
    force = reading.force
    if reading.direction_deg is not None:
        return write_quantity(reading.direction_deg, "angle", settings)
    if force.along is None:
        return ""
    if force.sought == "size and direction":
        return "?"
    angle = angle_of(force.along)
    text = write_quantity(angle, "angle", settings)
    if force.role == "known" or force.one_way:
        return text
    back = write_quantity((angle + 180.0) % 360.0, "angle", settings)
    size = next((each for each in known.reaches.get(force.id, ()) if each.part == "size"), None)
    if size is not None and size.least.value >= 0.0:
        return text
    return back if size is not None and size.greatest.value <= 0.0 else f"{text} or {back}"


def _turning_cells(turning: Turning, settings: Settings, *, couple: bool) -> list[Cell]:
    if turning.drops_out:
        zero = write_quantity(0.0, "length", settings)
        return [_cell("arm", _value(zero)), _cell("torque", {"text": "drops out", "role": "small"})]
    if couple:
        arm = _cell("arm", {"text": "none", "role": "small"})
    else:
        arm = _cell("arm", _value("?" if turning.arm_m is None else write_quantity(turning.arm_m, "length", settings)))
    if turning.torque_n_m is None:
        torque = _cell("torque", _value("?"))
    else:
        shown = write_quantity(turning.torque_n_m * shown_sign(settings), "couple", settings)
        torque = _cell("torque", _value(shown))
    if turning.sense is not None:
        torque["sense"] = turning.sense
        torque["spoken"] = sense_word(turning.sense, settings)
    return [arm, torque]


def _totals(analysis: Analysis, settings: Settings, pivot_name: str) -> list[dict[str, object]]:
    """ΣFx, ΣFy and the sum of torques of known, guessed and solved forces; "?" while something in them is open."""
    residual = analysis.residual
    forces = (None, None) if residual is None else axes.along((residual.fx_n, residual.fy_n), analysis.x_axis)
    sums: tuple[tuple[str, str, float | None, Kind], ...] = (
        ("fx", "x", forces[0], "force"),
        ("fy", "y", forces[1], "force"),
    )
    totals: list[dict[str, object]] = []
    for key, axis, value, kind in sums:
        label: list[Run] = [
            {"text": "Σ", "role": "value"},
            {"text": "F", "role": "symbol"},
            {"text": axis, "role": "sub"},
        ]
        settled = None if value is None else settle(value, analysis.force_scale_n)
        text = "?" if settled is None else write_quantity(settled, kind, settings)
        way = analysis.x_axis if axis == "x" else analysis.y_axis
        words = direction_words(way, above=settings.seen_from == "above")
        totals.append(
            {
                "key": key,
                "label": label,
                "runs": [_value(text)],
                "spoken": f"sum of forces along {axis}, positive {words}",
                "positive": {"kind": "axis", "angle_deg": angle_of(way), "words": words},
            }
        )
    sense = _turning_sense(settings)
    value = None if residual is None else settle(residual.torque_n_m, analysis.torque_scale_n_m)
    text = "?" if value is None else write_quantity(value * shown_sign(settings), "couple", settings)
    totals.append(
        {
            "key": "torque",
            "label": [
                {"text": "Σ", "role": "value"},
                {"text": turning_letter(settings), "role": "symbol"},
                {"text": f" about {pivot_name}", "role": "small"},
            ],
            "runs": [_value(text)],
            "spoken": f"sum of {settings.turning_word}s about {pivot_name}, positive {sense['words']}",
            "positive": sense,
        }
    )
    return totals


def _turning_sense(settings: Settings) -> dict[str, object]:
    """The positive sense of turning, drawn beside the column and its sum."""
    turn = 1 if settings.counterclockwise_positive else -1
    return {"kind": "turn", "turn": turn, "words": sense_word(turn, settings)}


# Rounding in the solve leaves sums of about 1e-13 of the largest term; nothing a person typed or drew is so small.
SETTLED_FRACTION = 1e-9


def settle(value: float, scale: float) -> float:
    """Zero for a sum that is only rounding beside the forces it was made of, else the value itself."""
    return 0.0 if abs(value) <= SETTLED_FRACTION * scale else value


def _value(text: str) -> Run:
    return {"text": text, "role": "value"}


def _cell(key: str, *runs: Run) -> Cell:
    return {"key": key, "runs": list(runs)}
