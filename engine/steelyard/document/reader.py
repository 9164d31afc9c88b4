"""From text or JSON data to a sketch: strict, and precise about what is wrong."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, NoReturn, TypeVar, cast

from ..errors import SteelyardError
from ..model import (
    FORMAT_VERSION,
    Body,
    Given,
    GivenKind,
    Guess,
    HalfWidth,
    Load,
    MeasuredPoint,
    NamedPoint,
    Pivot,
    Settings,
    Sketch,
    Support,
)
from . import table, values
from .checks import check
from .table import FORMAT, Entity, Field
from .values import complain, shown

Made = TypeVar("Made")


def read(text: str) -> Sketch:
    """The sketch a document holds.

    Raises `SteelyardError` for anything that is not a whole, sound document: `where` is the JSON path.
    """
    if len(text) > table.MOST_CHARACTERS:
        hint = "Is this a sketch saved by Steelyard?"
        complain("too-long", "", f"at most {table.MOST_CHARACTERS} characters", f"{len(text)}", hint)
    try:
        data = json.loads(
            text.removeprefix("\ufeff"),
            parse_constant=_refuse_constant,
            parse_int=_whole_number,
            object_pairs_hook=_without_repeats,
        )
    except json.JSONDecodeError as problem:
        message = f"The document is not JSON: line {problem.lineno}, column {problem.colno}: {problem.msg.lower()}."
        raise SteelyardError("document.json", "", message, "Is this a sketch saved by Steelyard?") from None
    except RecursionError:
        message = "The document is not a sketch: its brackets are nested too deeply."
        raise SteelyardError("document.json", "", message, "Is this a sketch saved by Steelyard?") from None
    return from_data(data)


def from_data(data: object) -> Sketch:
    """The sketch that JSON data hold; the same errors as `read`."""
    known = ("format", "version", *table.SKETCH_KEYS)
    if not isinstance(data, dict):
        complain("type", "", "an object", shown(data), "Is this a sketch saved by Steelyard?")
    _check_format(data)
    found = values.read_object(data, "", known)
    sketch = Sketch(
        **_read_fields(found, "", table.SKETCH_TEXTS, {"question": "", "caution": "", "answers": "shown"}),
        bodies=_read_all(found, "bodies", table.BODY, Body),
        points=_read_all(found, "points", table.NAMED_POINT, NamedPoint),
        supports=_read_all(found, "supports", table.SUPPORT, Support),
        loads=_read_loads(found),
        givens=_read_givens(found),
        half_widths=_read_all(found, "half_widths", table.HALF_WIDTH, HalfWidth),
        pivot=_read_pivot(found, "pivot"),
        second_pivot=_read_pivot(found, "second_pivot"),
        pinned=_read_forces(found, table.PINNED),
        order=_read_forces(found, table.ORDER),
        told=_read_forces(found, table.TOLD),
        isolated=_read_forces(found, table.ISOLATED),
        settings=_read_settings(found),
    )
    check(sketch)
    return sketch


def _refuse_constant(name: str) -> NoReturn:
    message = f"The document must hold finite numbers only: got {name}."
    raise SteelyardError("document.not-finite", "", message, "Enter an ordinary number.")


def _whole_number(digits: str) -> int:
    # Python refuses to turn thousands of digits into an int; such a number is out of bounds anyway.
    return int(digits) if len(digits) <= 40 else int(digits[:40])


def _without_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            message = f"`{key}` is given twice in one object."
            raise SteelyardError("document.repeated-field", key, message, "Keep one of the two.")
        found[key] = value
    return found


def _check_format(data: dict[str, Any]) -> None:
    if data.get("format") != FORMAT:
        got = shown(data["format"]) if "format" in data else "nothing"
        complain("format", "format", f'"{FORMAT}"', got, "Open a file that was saved by Steelyard.")
    version = data.get("version")
    if isinstance(version, bool) or not isinstance(version, int | float) or version != int(version):
        got = shown(version) if "version" in data else "nothing"
        complain("version", "version", f"the whole number {FORMAT_VERSION}", got, f"Write {FORMAT_VERSION}.")
    if version > FORMAT_VERSION:
        message = f"`version` is {shown(version)}: this sketch was made by a newer Steelyard than this one."
        hint = f"Open it there, or reload this page to update it; this one reads version {FORMAT_VERSION}."
        raise SteelyardError("document.newer", "version", message, hint)
    if version < 1:
        complain("version", "version", f"{FORMAT_VERSION}", shown(version), f"Write {FORMAT_VERSION}.")


def _read_fields(
    data: dict[str, Any], where: str, fields: tuple[Field, ...], defaults: dict[str, Any]
) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for field in fields:
        path = f"{where}.{field.key}" if where else field.key
        if field.key not in data:
            if field.key not in defaults:
                message = f"`{path}` is missing: {field.says[0].lower()}{field.says[1:]}"
                raise SteelyardError("document.missing", path, message, f"Add `{field.key}`.")
            found[field.key] = defaults[field.key]
            continue
        value = data[field.key]
        if value is None and field.key in defaults and defaults[field.key] is None:
            found[field.key] = None
            continue
        found[field.key] = _read_value(value, path, field)
    return found


def _read_value(value: object, path: str, field: Field) -> Any:
    match field.shape:
        case "id" | "reference":
            return values.read_id(value, path)
        case "text":
            return values.read_text(value, path, field)
        case "choice":
            return values.read_choice(value, path, field)
        case "number":
            return values.read_number(value, path, field)
        case "integer":
            return values.read_integer(value, path, field)
        case "switch":
            return values.read_switch(value, path)
        case "point":
            return values.read_point(value, path)
        case "points":
            return values.read_points(value, path)
        case "holes":
            return values.read_holes(value, path)
        case "round-holes" | "pieces":
            entity = table.INNER[field.shape]
            entries = values.read_list(value, path, table.MOST_HOLES)
            return tuple(
                _read_entity(entry, f"{path}[{index}]", entity, entity.made) for index, entry in enumerate(entries)
            )
        case "guess":
            return _read_entity(value, path, table.GUESS, Guess)
        case "measured":
            return _read_entity(value, path, table.MEASURED, MeasuredPoint)
        case "ids":
            entries = values.read_list(value, path)
            return tuple(_read_pin(entry, f"{path}[{index}]") for index, entry in enumerate(entries))


def _read_entity(value: object, where: str, entity: Entity, made: type[Made], also: tuple[str, ...] = ()) -> Made:
    keys = also + tuple(field.key for field in entity.fields)
    data = values.read_object(value, where, keys)
    return made(**_read_fields(data, where, entity.fields, entity.defaults()))


def _read_all(data: dict[str, Any], key: str, entity: Entity, made: type[Made]) -> tuple[Made, ...]:
    entries = values.read_list(data.get(key, []), key)
    return tuple(_read_entity(entry, f"{key}[{index}]", entity, made) for index, entry in enumerate(entries))


def _read_loads(data: dict[str, Any]) -> tuple[Load, ...]:
    loads: list[Load] = []
    for kind, entry, where in _kinds(data, "loads", "load", table.LOADS):
        load: Load = _read_entity(entry, where, table.LOADS[kind], table.LOADS[kind].made, also=("kind",))
        loads.append(load)
    return tuple(loads)


def _read_givens(data: dict[str, Any]) -> tuple[Given, ...]:
    givens: list[Given] = []
    for kind, entry, where in _kinds(data, "givens", "given", table.GIVENS):
        entity = table.GIVENS[kind]
        found = values.read_object(entry, where, ("kind", *(field.key for field in entity.fields)))
        givens.append(Given(kind=cast(GivenKind, kind), **_read_fields(found, where, entity.fields, entity.defaults())))
    return tuple(givens)


def _kinds(
    data: dict[str, Any], key: str, called: str, kinds: dict[str, Entity]
) -> Iterator[tuple[str, dict[str, Any], str]]:
    """The entries of a list whose fields depend on their `kind`, with that kind and the path."""
    for index, entry in enumerate(values.read_list(data.get(key, []), key)):
        where = f"{key}[{index}]"
        if not isinstance(entry, dict):
            complain("type", where, "an object", shown(entry), "Put its fields between { and }.")
        if "kind" not in entry:
            *others, last = (f'"{kind}"' for kind in kinds)
            message = f"`{where}.kind` is missing: {', '.join(others)} or {last}."
            raise SteelyardError("document.missing", f"{where}.kind", message, "Add `kind`.")
        field = Field("kind", "choice", f"What kind of {called}.", choices=tuple(kinds))
        yield values.read_choice(entry["kind"], f"{where}.kind", field), entry, where


def _read_pivot(data: dict[str, Any], key: str) -> Pivot | None:
    value = data.get(key)
    return None if value is None else _read_entity(value, key, table.PIVOT, Pivot)


def _read_settings(data: dict[str, Any]) -> Settings:
    return _read_entity(data.get("settings", {}), "settings", table.SETTINGS, Settings)


def _read_forces(data: dict[str, Any], field: Field) -> tuple[str, ...]:
    read: tuple[str, ...] = _read_value(data.get(field.key, []), field.key, field)
    return read


def _read_pin(value: object, where: str) -> str:
    # A weight or a fixing couple has its entity's id with a suffix, so it may be longer than an id.
    if isinstance(value, str):
        for suffix in table.ACTING_SUFFIXES:
            if value.endswith(suffix):
                return values.read_id(value.removesuffix(suffix), where) + suffix
    return values.read_id(value, where)
