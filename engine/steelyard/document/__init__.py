"""Sketch ↔ JSON document: a strict reader, a readable writer, and the schema both agree with."""

from __future__ import annotations

from .bodies import LEAST_LENGTH_M, on_body
from .bounds import check_changed
from .checks import acting_ids, check
from .givens import trouble
from .paths import Number, gravity, number_at, numbers, numbers_of, with_number, words_for
from .reader import from_data, read
from .schema import schema
from .writer import to_data, write

__all__ = [
    "LEAST_LENGTH_M",
    "Number",
    "acting_ids",
    "check",
    "check_changed",
    "from_data",
    "gravity",
    "number_at",
    "numbers",
    "numbers_of",
    "on_body",
    "read",
    "schema",
    "to_data",
    "trouble",
    "with_number",
    "words_for",
    "write",
]
