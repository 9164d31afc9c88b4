"""The JSON Schema (2020-12) of a document, made from the table of fields.

The copy in the package, `steelyard.schema.json`, is for other programs; a test keeps the two equal.
The schema says what each field may hold. References, shapes of bodies and consistency go beyond it.
"""

from __future__ import annotations

from typing import Any

from ..model import FORMAT_VERSION
from . import table
from .table import Entity, Field


def schema() -> dict[str, Any]:
    """The schema of a whole document as JSON data."""
    properties: dict[str, Any] = {"format": {"const": table.FORMAT}, "version": {"const": FORMAT_VERSION}}
    for field in table.SKETCH_TEXTS:
        properties[field.key] = _value(field)
    properties["settings"] = {"$ref": "#/$defs/settings"}
    for key, name in (
        ("bodies", "body"),
        ("points", "namedPoint"),
        ("supports", "support"),
        ("loads", "load"),
        ("givens", "given"),
        ("half_widths", "halfWidth"),
    ):
        properties[key] = {"type": "array", "maxItems": table.MOST_ENTITIES, "items": {"$ref": f"#/$defs/{name}"}}
    for key in ("pivot", "second_pivot"):
        properties[key] = {"oneOf": [{"type": "null"}, {"$ref": "#/$defs/pivot"}]}
    properties["pinned"] = _value(table.PINNED)
    properties["order"] = _value(table.ORDER)
    properties["told"] = _value(table.TOLD)
    properties["isolated"] = _value(table.ISOLATED)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Steelyard sketch",
        "description": "Metres, newtons, newton metres, kilograms, degrees counterclockwise from +x; x right, y up.",
        "type": "object",
        "properties": properties,
        "required": ["format", "version", "title"],
        "additionalProperties": False,
        "$defs": {
            "id": {"type": "string", "pattern": table.ID_PATTERN},
            "number": {"type": "number", "minimum": -table.LARGEST_NUMBER, "maximum": table.LARGEST_NUMBER},
            "point": {"type": "array", "items": {"$ref": "#/$defs/number"}, "minItems": 2, "maxItems": 2},
            "points": {"type": "array", "items": {"$ref": "#/$defs/point"}, "maxItems": table.MOST_CORNERS},
            "guess": _object(table.GUESS),
            "roundHole": _object(table.ROUND_HOLE),
            "piece": _object(table.PIECE),
            "settings": _object(table.SETTINGS),
            "body": _object(table.BODY),
            "namedPoint": _object(table.NAMED_POINT),
            "support": _object(table.SUPPORT)
            | {
                "if": {"properties": {"kind": {"enum": ["rope", "strut"]}}, "required": ["kind"]},
                "then": {"properties": {"anchor_m": {"$ref": "#/$defs/point"}}, "required": ["anchor_m"]},
            },
            **{kind: _object(entity, kind) for kind, entity in table.LOADS.items()},
            "load": {"oneOf": [{"$ref": f"#/$defs/{kind}"} for kind in table.LOADS]},
            "measured": _object(table.MEASURED),
            **{_def_of(kind): _object(entity, kind) for kind, entity in table.GIVENS.items()},
            "given": {"oneOf": [{"$ref": f"#/$defs/{_def_of(kind)}"} for kind in table.GIVENS]},
            "halfWidth": _object(table.HALF_WIDTH),
            "pivot": _object(table.PIVOT),
        },
    }


def _def_of(kind: str) -> str:
    return f"{kind}Given"


def _object(entity: Entity, kind: str = "") -> dict[str, Any]:
    defaults = entity.defaults()
    properties: dict[str, Any] = {"kind": {"const": kind}} if kind else {}
    required = ["kind"] if kind else []
    for field in entity.fields:
        value = _value(field)
        if field.key not in defaults:
            required.append(field.key)
        elif defaults[field.key] is None:
            value = {"oneOf": [{"type": "null"}, value]}
        properties[field.key] = {**value, "description": field.says}
    made: dict[str, Any] = {"description": entity.says, "type": "object", "properties": properties}
    return made | {"required": required, "additionalProperties": False}


def _value(field: Field) -> dict[str, Any]:
    match field.shape:
        case "id" | "reference":
            return {"$ref": "#/$defs/id"}
        case "text":
            least = {"minLength": 1, "allOf": [{"pattern": r"\S"}]} if field.filled else {}
            return {"type": "string", "maxLength": field.longest, "pattern": table.TEXT_PATTERN, **least}
        case "choice":
            return {"enum": list(field.choices)}
        case "switch":
            return {"type": "boolean"}
        case "number" | "integer":
            return _bounded(field)
        case "point" | "points" | "guess" | "measured":
            return {"$ref": f"#/$defs/{field.shape}"}
        case "holes":
            return {"type": "array", "items": {"$ref": "#/$defs/points"}, "maxItems": table.MOST_HOLES}
        case "round-holes":
            return {"type": "array", "items": {"$ref": "#/$defs/roundHole"}, "maxItems": table.MOST_HOLES}
        case "pieces":
            return {"type": "array", "items": {"$ref": "#/$defs/piece"}, "maxItems": table.MOST_HOLES}
        case "ids":
            suffixes = "|".join(table.ACTING_SUFFIXES)
            pattern = f"{table.ID_PATTERN.removesuffix('$')}({suffixes})?$"
            items = {"type": "string", "pattern": pattern}
            return {"type": "array", "items": items, "uniqueItems": True, "maxItems": table.MOST_ENTITIES}


def _bounded(field: Field) -> dict[str, Any]:
    least = -table.LARGEST_NUMBER if field.least is None else field.least
    most = table.LARGEST_NUMBER if field.most is None else field.most
    bounds: dict[str, Any] = {"minimum": least, "maximum": most}
    if field.above is not None:
        bounds = {"exclusiveMinimum": field.above, "maximum": most}
    return {"type": "integer" if field.shape == "integer" else "number", **bounds}
