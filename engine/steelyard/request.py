"""Reading one request: every argument is checked before anything is done with it."""

from __future__ import annotations

import json
import math
from typing import Any

from .errors import SteelyardError
from .geometry import Point

# Sheet pixels beyond this are no pointer's; the bound keeps every later product finite.
MOST_PX = 1e6


class Request:
    """One JSON request with its arguments read strictly; errors name the argument, what was got and what to send."""

    def __init__(self, data: dict[str, Any]) -> None:
        self._data = data

    @classmethod
    def read(cls, text: str) -> Request:
        """The request in a JSON text; raises SteelyardError `request.json` or `request.type`."""
        try:
            data = json.loads(text, parse_constant=_no_constant)
        except (ValueError, RecursionError) as error:
            raise SteelyardError(
                "request.json", "", f"A request must be JSON: {error}.", "Send one JSON object."
            ) from None
        if not isinstance(data, dict):
            raise SteelyardError("request.type", "", "A request must be a JSON object.", "Send one JSON object.")
        return cls(data)

    @property
    def seq(self) -> int | float | str | None:
        """The sequence mark to echo; None when it is missing or no plain value."""
        seq = self._data.get("seq")
        return seq if isinstance(seq, (int, float, str)) and not isinstance(seq, bool) else None

    @property
    def base(self) -> object:
        """The `seq` of the last reply the page holds, against which records may be left out."""
        return self._data.get("base")

    def is_verb(self, name: str) -> bool:
        """Whether this is what the request asks to do."""
        return self._data.get("do") == name

    def has(self, key: str) -> bool:
        """Whether the argument was sent at all."""
        return key in self._data

    def text(self, key: str) -> str:
        """A required string."""
        value = self._data.get(key)
        if not isinstance(value, str):
            raise _wrong(key, "a text", value)
        return value

    def text_or_none(self, key: str) -> str | None:
        """A string, or None when it is null or missing."""
        value = self._data.get(key)
        return None if value is None else self.text(key)

    def number(self, key: str) -> float:
        """A required finite number."""
        value = self._data.get(key)
        number = _number(value)
        if number is None:
            raise _wrong(key, "a number", value)
        return number

    def whole(self, key: str) -> int:
        """A required whole number."""
        value = self._data.get(key)
        if isinstance(value, bool) or not isinstance(value, int):
            raise _wrong(key, "a whole number", value)
        return value

    def flag(self, key: str) -> bool:
        """A required true or false."""
        value = self._data.get(key)
        if not isinstance(value, bool):
            raise _wrong(key, "true or false", value)
        return value

    def size_px(self, key: str) -> float:
        """A required length on screen, at least one pixel."""
        size = self.number(key)
        if not 1.0 <= size <= MOST_PX:
            raise _wrong(key, f"from 1 to {MOST_PX:.0f} pixels", size)
        return size

    def point_px(self, key: str) -> Point:
        """A required pair of sheet pixels."""
        first, second = self.numbers_px(key, 2)
        return (first, second)

    def numbers_px(self, key: str, count: int) -> tuple[float, ...]:
        """A required list of so many pixel numbers."""
        value = self._data.get(key)
        numbers = [_number(each) for each in value] if isinstance(value, list) else []
        read = tuple(each for each in numbers if each is not None and abs(each) <= MOST_PX)
        if len(numbers) != count or len(read) != count:
            raise _wrong(key, f"a list of {count} numbers of pixels", value)
        return read

    def texts(self, key: str) -> tuple[str, ...]:
        """A required list of strings."""
        value = self._data.get(key)
        if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
            raise _wrong(key, "a list of texts", value)
        return tuple(value)

    def mapping(self, key: str) -> dict[str, Any]:
        """A JSON object; missing means empty."""
        value = self._data.get(key, {})
        if not isinstance(value, dict):
            raise _wrong(key, "an object", value)
        return value

    def entries(self, key: str) -> list[dict[str, Any]]:
        """A list of JSON objects; missing or null means empty."""
        value = self._data.get(key)
        if value is None:
            return []
        if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
            raise _wrong(key, "a list of objects", value)
        return value


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is not a JSON number")


def _number(value: object) -> float | None:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


def _wrong(key: str, wanted: str, got: object) -> SteelyardError:
    shown = json.dumps(got, ensure_ascii=False, default=str)
    if len(shown) > 60:
        shown = shown[:57] + "..."
    return SteelyardError(
        "request.type", key, f"`{key}` must be {wanted}: got {shown}.", "Send it as the protocol says."
    )
