"""One rounded sentence for the status line after a change."""

from __future__ import annotations

from ..model import Settings, Sketch
from ..statics.reading import Analysis, ForceReading
from ..units import spoken_quantity
from .verdict import verdict
from .words import sense_word, spoken_symbol


def summary(sketch: Sketch, analysis: Analysis | None, selected: str | None) -> str:
    """ "T 2146 newtons. Balanced.": the selected force, else the first unknown with an answer, then the verdict."""
    if analysis is None:
        return "Empty sheet." if not sketch.bodies else ""
    readings = [each for each in analysis.readings if selected in (each.force.id, each.force.entity)]
    if not readings:
        readings = [each for each in analysis.readings if each.force.role == "unknown" and _has_value(each)]
    parts = [_say(reading, sketch.settings) for reading in readings[:1]]
    said = verdict(analysis, sketch.answers == "kept")
    parts.append(str(said["headline"]) or str(said["sentence"]))
    return " ".join(part for part in parts if part)


def _say(reading: ForceReading, settings: Settings) -> str:
    symbol = spoken_symbol(reading.force.symbol)
    if reading.couple_n_m is not None:
        size = spoken_quantity(abs(reading.couple_n_m), "couple", settings)
        sense = sense_word((reading.couple_n_m > 0.0) - (reading.couple_n_m < 0.0), settings)
        return f"{symbol} {size} {sense}".rstrip() + "."
    if reading.size_n is not None:
        return f"{symbol} {spoken_quantity(reading.size_n, 'force', settings)}."
    return f"{symbol} to be found." if reading.force.role == "unknown" else f"{symbol}."


def _has_value(reading: ForceReading) -> bool:
    return reading.size_n is not None or reading.couple_n_m is not None
