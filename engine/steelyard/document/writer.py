"""From a sketch to JSON data and to readable text."""

from __future__ import annotations

import json
from typing import Any

from ..model import FORMAT_VERSION, Load, Sketch
from . import table
from .table import FORMAT, Entity

_INNER = {"guess": table.GUESS, "measured": table.MEASURED}
# An entry that fits on a line of this width stands on one line.
_LINE = 140


def to_data(sketch: Sketch) -> dict[str, Any]:
    """The document as JSON data; what stands at its default is left out, except the title and g."""
    data: dict[str, Any] = {"format": FORMAT, "version": FORMAT_VERSION, "title": sketch.title}
    if sketch.question:
        data["question"] = sketch.question
    if sketch.caution:
        data["caution"] = sketch.caution
    if sketch.answers != "shown":
        data["answers"] = sketch.answers
    data["settings"] = _plain(sketch.settings, table.SETTINGS)
    for key, entity, entries in (
        ("bodies", table.BODY, sketch.bodies),
        ("points", table.NAMED_POINT, sketch.points),
        ("supports", table.SUPPORT, sketch.supports),
    ):
        if entries:
            data[key] = [_plain(entry, entity) for entry in entries]
    if sketch.loads:
        data["loads"] = [_plain_load(load) for load in sketch.loads]
    if sketch.givens:
        data["givens"] = [_plain_kind(given, given.kind, table.GIVENS[given.kind]) for given in sketch.givens]
    if sketch.half_widths:
        data["half_widths"] = [_plain(each, table.HALF_WIDTH) for each in sketch.half_widths]
    for key, pivot in (("pivot", sketch.pivot), ("second_pivot", sketch.second_pivot)):
        if pivot is not None:
            data[key] = _plain(pivot, table.PIVOT)
    if sketch.pinned:
        data["pinned"] = list(sketch.pinned)
    if sketch.order:
        data["order"] = list(sketch.order)
    if sketch.told:
        data["told"] = list(sketch.told)
    if sketch.isolated:
        data["isolated"] = list(sketch.isolated)
    return data


def write(sketch: Sketch) -> str:
    """The document as readable text: an entry that fits stands on one line; numbers are those stored, exactly."""
    return _pretty(to_data(sketch), 0) + "\n"


def _plain_load(load: Load) -> dict[str, Any]:
    kind = table.LOAD_KINDS[type(load)]
    return _plain_kind(load, kind, table.LOADS[kind])


def _plain_kind(value: object, kind: str, entity: Entity) -> dict[str, Any]:
    plain = _plain(value, entity)
    return {"id": plain.pop("id"), "kind": kind, **plain}


def _plain(value: object, entity: Entity) -> dict[str, Any]:
    defaults = entity.defaults()
    data: dict[str, Any] = {}
    for field in entity.fields:
        held = getattr(value, field.key)
        if not field.always and field.key in defaults and held == defaults[field.key]:
            continue
        inner = _INNER.get(field.shape)
        if field.shape in table.INNER:
            data[field.key] = [_plain(entry, table.INNER[field.shape]) for entry in held]
        else:
            data[field.key] = _listed(held) if inner is None else _plain(held, inner)
    return data


def _listed(value: object) -> object:
    return [_listed(entry) for entry in value] if isinstance(value, tuple) else value


def _pretty(value: object, depth: int) -> str:
    flat = json.dumps(value, ensure_ascii=False, allow_nan=False)
    if depth > 0 and 2 * depth + len(flat) <= _LINE:
        return flat
    inner, outer = "  " * (depth + 1), "  " * depth
    if isinstance(value, dict) and value:
        lines = [f"{inner}{json.dumps(key)}: {_pretty(entry, depth + 1)}" for key, entry in value.items()]
        return "{\n" + ",\n".join(lines) + f"\n{outer}}}"
    if isinstance(value, list) and value:
        lines = [inner + _pretty(entry, depth + 1) for entry in value]
        return "[\n" + ",\n".join(lines) + f"\n{outer}]"
    return flat
