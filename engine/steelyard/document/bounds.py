"""Whether what was changed by hand still fits into a document: numbers may be dragged past what a file may hold."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..model import Sketch
from . import table, values
from .table import Entity

_LISTS = ("bodies", "points", "supports", "loads", "givens", "half_widths")
_ENTITIES = {
    "bodies": table.BODY,
    "points": table.NAMED_POINT,
    "supports": table.SUPPORT,
    "half_widths": table.HALF_WIDTH,
}


def check_changed(before: Sketch, after: Sketch) -> None:
    """Raise `SteelyardError` at the first number or list of what has changed that could not be read back."""
    for where, value, entity in _changed(before, after):
        _check_fields(value, entity, where)


def _changed(before: Sketch, after: Sketch) -> Iterator[tuple[str, Any, Entity]]:
    for key in _LISTS:
        held = {id(entry) for entry in getattr(before, key)}
        for index, entry in enumerate(getattr(after, key)):
            if id(entry) not in held:
                yield f"{key}[{index}]", entry, _entity_of(key, entry)
    for key, entity in (("pivot", table.PIVOT), ("second_pivot", table.PIVOT), ("settings", table.SETTINGS)):
        entry = getattr(after, key)
        if entry is not None and entry is not getattr(before, key):
            yield key, entry, entity


def _entity_of(key: str, entry: Any) -> Entity:
    if key == "loads":
        return table.LOADS[table.LOAD_KINDS[type(entry)]]
    return table.GIVENS[entry.kind] if key == "givens" else _ENTITIES[key]


def _check_fields(entry: Any, entity: Entity, where: str) -> None:
    for field in entity.fields:
        value = getattr(entry, field.key)
        if value is None:
            continue
        path = f"{where}.{field.key}"
        match field.shape:
            case "number":
                values.read_number(value, path, field)
            case "point":
                values.read_point(value, path)
            case "points":
                values.read_points(list(value), path)
            case "holes":
                values.read_holes([list(hole) for hole in value], path)
            case "round-holes" | "pieces":
                for index, inner in enumerate(value):
                    _check_fields(inner, table.INNER[field.shape], f"{path}[{index}]")
            case "guess":
                _check_fields(value, table.GUESS, path)
            case "measured":
                _check_fields(value, table.MEASURED, path)
