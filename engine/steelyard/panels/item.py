"""Fields as data: one dict a field, made in one place so that every field has the same parts."""

from __future__ import annotations

from typing import NamedTuple

from ..model import Settings
from ..units import Kind, unit_of, write_exact, write_quantity

Item = dict[str, object]


class Option(NamedTuple):
    """One value of a choice and what the reader sees for it."""

    value: str
    text: str


def quantity(
    key: str,
    label: str,
    value: float | None,
    kind: Kind,
    settings: Settings,
    *,
    spoken: str = "",
    options: tuple[Option, ...] = (),
    locked: str = "",
) -> Item:
    """A number to type; empty when there is none yet (`value` None)."""
    item: Item = {
        "key": key,
        "label": label,
        "kind": "quantity",
        "text": "" if value is None else number_text(value, kind, settings),
        "unit": unit_of(kind, settings),
        "spoken": spoken or label,
    }
    if options:
        item["options"] = [option._asdict() for option in options]
    if locked:
        item["locked"] = locked
    return item


def answer(key: str, label: str, text: str, *, spoken: str = "") -> Item:
    """Something the engine found: shown bold without a box, never typed."""
    return {"key": key, "label": label, "kind": "answer", "text": text, "unit": "", "spoken": spoken or label}


def meter(key: str, data: dict[str, object]) -> Item:
    """What is needed beside what is there, as a small bar with words: never typed."""
    item: Item = {"key": key, "label": "", "kind": "meter", "text": "", "unit": "", "spoken": data["spoken"]}
    return {**item, "meter": data}


def text_field(key: str, label: str, text: str, *, spoken: str = "") -> Item:
    """Words to type."""
    return {"key": key, "label": label, "kind": "text", "text": text, "unit": "", "spoken": spoken or label}


def choice(key: str, label: str, value: str, options: tuple[Option, ...], *, spoken: str = "") -> Item:
    """One of several offered values."""
    return {
        "key": key,
        "label": label,
        "kind": "choice",
        "text": value,
        "unit": "",
        "options": [option._asdict() for option in options],
        "spoken": spoken or label,
    }


def switch(key: str, label: str, on: bool, *, spoken: str = "") -> Item:
    """On or off, as the text "true" or "false"."""
    text = "true" if on else "false"
    return {"key": key, "label": label, "kind": "switch", "text": text, "unit": "", "spoken": spoken or label}


def action(key: str, label: str, command: str, args: dict[str, object], *, spoken: str = "") -> Item:
    """A button: the command it gives and its arguments."""
    return {
        "key": key,
        "label": label,
        "kind": "action",
        "text": "",
        "unit": "",
        "command": command,
        "args": args,
        "spoken": spoken or label,
    }


# A dragged length is not shown with its tail of rounding; what a person types is shorter and comes back as typed.
FIELD_FIGURES = 6


def number_text(value: float, kind: Kind, settings: Settings) -> str:
    """A value as a field shows it, in the shown unit: as typed, or to six figures when it has more."""
    exact = write_exact(value, kind, settings, with_unit=False)
    if sum(letter.isdigit() for letter in exact) <= FIELD_FIGURES + 1:
        return exact
    rounded = write_quantity(value, kind, settings, with_unit=False, figures=FIELD_FIGURES)
    mark = "," if settings.decimal_comma else "."
    return rounded.rstrip("0").rstrip(mark) if mark in rounded and "×" not in rounded else rounded
