"""With sizes known as letters only: which way unknowns must act all the same, from geometry and one-way facts."""

from __future__ import annotations

from dataclasses import replace

from .advice import candidates, parts, parts_of
from .reading import Analysis, ForceReading
from .signs import settle


def has_letters(analysis: Analysis) -> bool:
    """Whether the size of a known force is a letter."""
    return any(_is_letter(reading) for reading in analysis.readings)


def with_senses(analysis: Analysis) -> Analysis:
    """The analysis with the senses that hold whatever the letters stand for; itself when nothing is a letter."""
    if not has_letters(analysis):
        return analysis
    every = {part.key: part for part in parts(analysis)}
    settled, _ = settle(candidates(analysis), every, analysis.lever_m)
    readings = []
    for reading in analysis.readings:
        keys = [part.key for part in parts_of(reading.force) if part.unknown and part.which != "place"]
        signs = [settled[key].sign if key in settled else 0 for key in keys]
        readings.append(reading._replace(senses=(signs[0], signs[-1])) if any(signs) else reading)
    return replace(analysis, readings=tuple(readings))


def _is_letter(reading: ForceReading) -> bool:
    return reading.force.role == "known" and reading.vector is None and reading.couple_n_m is None
