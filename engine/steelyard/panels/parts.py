"""What the fields of every kind of thing are made of."""

from __future__ import annotations

from ..model import Settings, Sketch
from ..statics import shape
from ..statics.reading import Analysis, ForceReading
from .item import Item, action, quantity
from .words import symbol_runs

Fields = dict[str, object]
Group = dict[str, object]


def reading_of(analysis: Analysis | None, force_id: str) -> ForceReading | None:
    """The reading of one force; None when it does not act on the body looked at."""
    if analysis is None:
        return None
    return next((each for each in analysis.readings if each.force.id == force_id), None)


def of_thing(of: str, title: str, symbol: str, icon: str, role: str, *groups: Group) -> Fields:
    """All fields of one thing; groups without items are left out."""
    return {
        "of": of,
        "title": title,
        "symbol": symbol_runs(symbol) if symbol else [],
        "icon": icon,
        "role": role,
        "groups": [group for group in groups if group["items"]],
    }


def group(key: str, label: str, *items: Item) -> Group:
    """A group of fields: "main" is always in sight, others open on request."""
    return {"key": key, "label": label, "items": list(items)}


def place_items(sketch: Sketch, body_id: str, place_m: tuple[float, float], settings: Settings) -> tuple[Item, ...]:
    """Where on the body: along a bar one number, elsewhere two in the body's own frame."""
    body = next((each for each in sketch.bodies if each.id == body_id), None)
    if body is not None and body.kind == "bar":
        return (
            quantity("at", "at", place_m[0], "length", settings, spoken="distance along from the start of the bar"),
        )
    return (
        quantity("at_x", "at x", place_m[0], "length", settings, spoken="place on the body, x"),
        quantity("at_y", "y", place_m[1], "length", settings, spoken="place on the body, y"),
    )


def edit_actions(of: str, word: str) -> tuple[Item, ...]:
    """Duplicate and delete."""
    return (
        action("duplicate", "Duplicate", "duplicate", {"id": of}, spoken=f"duplicate {word}"),
        action("delete", "Delete", "delete", {"id": of}, spoken=f"delete {word}"),
    )


def name_action(sketch: Sketch, body_id: str, place_m: tuple[float, float]) -> Item:
    """Give the point of the body where something is a name of its own."""
    x, y = shape.world(sketch.body(body_id), place_m)
    return action("name-point", "Name this point", "point", {"body": body_id, "at": [x, y]})


def pin_action(sketch: Sketch, force_id: str) -> Item:
    """Keep the line, arm and sense of a force on the board, or let them go."""
    pinned = force_id in sketch.pinned
    label = "Unpin line and arm" if pinned else "Pin line and arm"
    return action("pin", label, "pin", {"id": force_id, "on": not pinned})


def part(point: tuple[float, float] | None, index: int) -> float | None:
    """One coordinate of a point that may not be there."""
    return None if point is None else point[index]
