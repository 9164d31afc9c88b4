"""One value of a document: is it what its field allows? Every complaint names its path, what was got, what to do."""

from __future__ import annotations

import json
import math
import re
from typing import Any, NoReturn

from ..errors import SteelyardError
from ..geometry import Point
from .table import (
    ID_PATTERN,
    LARGEST_NUMBER,
    MOST_CORNERS,
    MOST_ENTITIES,
    MOST_HOLES,
    TEXT_PATTERN,
    Field,
)

_ID = re.compile(ID_PATTERN)
_TEXT = re.compile(TEXT_PATTERN)


def complain(code: str, where: str, wanted: str, got: str, hint: str) -> NoReturn:
    """Raise the error "`where` must be wanted: got so-and-so. Hint." """
    named = f"`{where}`" if where else "The document"
    raise SteelyardError(f"document.{code}", where, f"{named} must be {wanted}: got {got}.", hint)


def shown(value: object) -> str:
    """A value as it stood in the file, shortened; objects and lists by what they are."""
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) >= 10**18:
        return "a number of more than 18 digits"
    text = json.dumps(value) if isinstance(value, str | int | float | bool | None) else f"a {type(value).__name__}"
    return text if len(text) <= 42 else f'{text[:38]}…"'


def nearest_name(name: str, names: tuple[str, ...]) -> str:
    """The known name closest to a mistyped one, or "" when none is near."""
    best, best_cost = "", 1 + len(name) // 3
    for candidate in names:
        cost = _edits(name.lower(), candidate)
        if candidate.startswith(name.lower()) and len(name) >= 3:
            cost = min(cost, 1)
        if cost < best_cost:
            best, best_cost = candidate, cost
    return best


def _edits(first: str, second: str) -> int:
    """Levenshtein distance; names here are short, so the plain table will do."""
    if len(first) > 40:
        return len(first)
    row = list(range(len(second) + 1))
    for index, letter in enumerate(first, 1):
        before, row[0] = row[0], index
        for other, wanted in enumerate(second, 1):
            before, row[other] = row[other], min(row[other] + 1, row[other - 1] + 1, before + (letter != wanted))
    return row[-1]


def read_object(value: object, where: str, keys: tuple[str, ...]) -> dict[str, Any]:
    """An object with none but these keys."""
    if not isinstance(value, dict):
        complain("type", where, "an object", shown(value), "Put its fields between { and }.")
    for key in value:
        if key not in keys:
            path = f"{where}.{key}" if where else str(key)
            near = nearest_name(str(key), keys)
            hint = f"Did you mean `{near}`?" if near else f"The fields here are {', '.join(keys)}."
            raise SteelyardError("document.unknown-field", path, f"`{path}` is not a field Steelyard knows.", hint)
    return value


def read_list(value: object, where: str, most: int = MOST_ENTITIES) -> list[Any]:
    """A list that is not too long."""
    if not isinstance(value, list):
        complain("type", where, "a list", shown(value), "Put its entries between [ and ].")
    if len(value) > most:
        complain("too-many", where, f"a list of at most {most}", shown(value), "Split it into several sketches.")
    return value


def read_number(value: object, where: str, field: Field | None = None) -> float:
    """A finite number within the bounds of its field."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        hint = "Write a number without quotes, with a point for decimals."
        complain("type", where, "a number", shown(value), hint)
    if isinstance(value, float) and not math.isfinite(value):
        complain("not-finite", where, "finite", str(value), "Enter an ordinary number.")
    if abs(value) > LARGEST_NUMBER:
        hint = "Check the unit: lengths are in metres, forces in newtons, masses in kilograms."
        complain("too-large", where, "at most 1e12 in size", shown(value), hint)
    number = float(value) + 0.0  # adding zero turns −0.0 into 0.0
    if field is not None:
        if field.least is not None and number < field.least:
            hint = "Give the size without a sign and turn the direction instead." if field.least == 0 else ""
            complain("range", where, f"at least {field.least:g}", shown(value), hint)
        if field.above is not None and number <= field.above:
            complain("range", where, f"more than {field.above:g}", shown(value), "Enter a positive number.")
        if field.most is not None and number > field.most:
            complain("range", where, f"at most {field.most:g}", shown(value), "Enter a smaller number.")
    return number


def read_integer(value: object, where: str, field: Field) -> int:
    """A whole number within the bounds of its field."""
    if isinstance(value, bool) or not isinstance(value, int | float) or value % 1 != 0:
        complain("type", where, "a whole number", shown(value), "Write it without quotes and without decimals.")
    return int(read_number(value, where, field))


def read_switch(value: object, where: str) -> bool:
    """true or false."""
    if not isinstance(value, bool):
        complain("type", where, "true or false", shown(value), "Write true or false without quotes.")
    return value


def read_text(value: object, where: str, field: Field) -> str:
    """Text that is not overlong, holds no control characters, and is not empty where a name is needed."""
    if not isinstance(value, str):
        complain("type", where, "text", shown(value), "Put it in quotes.")
    if len(value) > field.longest:
        complain("too-long", where, f"at most {field.longest} characters", f"{len(value)}", "Shorten it.")
    if not _TEXT.match(value) or value.endswith("\n"):
        complain("characters", where, "plain text on one line", shown(value), "Take out line breaks and tabs.")
    if field.filled and not value.strip():
        complain("empty", where, "filled in", shown(value), "Give it a name.")
    return value


def read_choice(value: object, where: str, field: Field) -> str:
    """One of a few words."""
    if not isinstance(value, str) or value not in field.choices:
        wanted = "one of " + ", ".join(f'"{choice}"' for choice in field.choices)
        near = nearest_name(value, field.choices) if isinstance(value, str) else ""
        complain("choice", where, wanted, shown(value), f'Did you mean "{near}"?' if near else "Choose one of these.")
    return value


def read_id(value: object, where: str) -> str:
    """An id: a small letter, then small letters, digits and hyphens, at most 32 in all."""
    if not isinstance(value, str):
        complain("type", where, "an id in quotes", shown(value), 'Write for instance "force3".')
    if not _ID.match(value) or value.endswith("\n"):
        wanted = "an id of small letters, digits and hyphens that begins with a letter, 32 at most"
        complain("id", where, wanted, shown(value), 'Write for instance "force3".')
    return value


def read_point(value: object, where: str) -> Point:
    """A pair of numbers."""
    if not isinstance(value, list | tuple):
        complain("type", where, "a point [x, y]", shown(value), "Write two numbers in brackets, such as [1.2, 3.2].")
    if len(value) != 2:
        complain("type", where, "a point [x, y]", f"{len(value)} entries", "Write two numbers, such as [1.2, 3.2].")
    return (read_number(value[0], f"{where}[0]"), read_number(value[1], f"{where}[1]"))


def read_points(value: object, where: str) -> tuple[Point, ...]:
    """A list of points."""
    entries = read_list(value, where, MOST_CORNERS)
    return tuple(read_point(entry, f"{where}[{index}]") for index, entry in enumerate(entries))


def read_holes(value: object, where: str) -> tuple[tuple[Point, ...], ...]:
    """A list of lists of points."""
    entries = read_list(value, where, MOST_HOLES)
    return tuple(read_points(entry, f"{where}[{index}]") for index, entry in enumerate(entries))
