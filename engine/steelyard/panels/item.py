"""Fields as data: one dict a field, made in one place so that every field has the same parts."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from ..model import Settings
from ..units import write_quantity

Item = dict[str, object]


class Option(NamedTuple):
    """One value of a choice and what the reader sees for it."""

    value: str
    text: str


def quantity(
    key: str,
    label: str,
    value: float | None,
    kind: str,
    settings: Settings,
    *,
    spoken: str = "",
    options: tuple[Option, ...] = (),
    locked: str = "",
) -> Item:
    """A number to type; empty when there is none yet (`value` None)."""
    text, unit = ("", unit_of(kind, settings)) if value is None else number_and_unit(value, kind, settings)
    item: Item = {"key": key, "label": label, "kind": "quantity", "text": text, "unit": unit, "spoken": spoken or label}
    if options:
        item["options"] = [option._asdict() for option in options]
    if locked:
        item["locked"] = locked
    return item


def answer(key: str, label: str, text: str, *, spoken: str = "") -> Item:
    """Something the engine found: shown bold without a box, never typed."""
    return {"key": key, "label": label, "kind": "answer", "text": text, "unit": "", "spoken": spoken or label}


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


# Enough that what was typed comes back as typed, few enough that a dragged length is not a tail of rounding.
FIELD_FIGURES = 6


def number_and_unit(value: float, kind: str, settings: Settings) -> tuple[str, str]:
    """A value as a field shows it: up to six figures without trailing zeros, and its unit apart."""
    text = write_quantity(value, kind, replace(settings, significant_figures=FIELD_FIGURES))
    number, space, unit = text.partition("\u00a0")
    if not space and number.endswith("°"):
        number, unit = number[:-1], "°"
    mark = "," if settings.decimal_comma else "."
    if mark in number:
        number = number.rstrip("0").rstrip(mark)
    return number, unit


def unit_of(kind: str, settings: Settings) -> str:
    """The unit a field of this kind shows while it is empty."""
    return number_and_unit(1.0, kind, settings)[1]
