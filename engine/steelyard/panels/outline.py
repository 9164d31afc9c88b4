"""The outline beside the board: everything on it, in reading order, with what a screen reader calls it."""

from __future__ import annotations

from ..model import Body, Couple, Force, Load, Sketch, SpreadLoad, Support, Thing
from ..picture import given_words
from ..statics.pivot import second_name
from .words import BODY_WORDS, PIVOT_ID, SECOND_PIVOT_ID, SUPPORT_WORDS, body_name, load_type_word, spoken_symbol


def outline(sketch: Sketch, pivot_name: str) -> list[dict[str, object]]:
    """`[{id, kind, symbol, name, spoken, level}]`: each body with what holds it, loads it and its points; the pivot."""
    items: list[dict[str, object]] = []
    for body in sketch.bodies:
        items.append(_item(body.id, body.kind, "", body.name or BODY_WORDS[body.kind], _body_spoken(body), 1))
        if body.weighs and sketch.settings.seen_from == "side":
            spoken = f"{spoken_symbol(body.weight_symbol)}, weight of {body.name or BODY_WORDS[body.kind]}"
            items.append(_item(f"{body.id}-weight", "weight", body.weight_symbol, "weight", spoken, 2))
        for each in sketch.supports:
            if each.body == body.id:
                items.append(_support(sketch, each))
                if each.mu is not None:
                    spoken = f"{spoken_symbol(each.friction_symbol)}, friction at {spoken_symbol(each.symbol)}"
                    items.append(_item(f"{each.id}-friction", "friction", each.friction_symbol, "friction", spoken, 2))
        items += [_load(each) for each in sketch.loads if each.body == body.id]
        items += [
            _item(point.id, "point", point.name, "point", f"point {point.name}", 2)
            for point in sketch.points
            if point.body == body.id
        ]
    items += [
        _item(point.id, "point", point.name, "point of the paper", f"point {point.name} of the paper", 1)
        for point in sketch.points
        if point.body is None
    ]
    if sketch.pivot is not None:
        word = sketch.settings.pivot_word
        items.append(_item(PIVOT_ID, "pivot", pivot_name, word, f"{word} {spoken_symbol(pivot_name)}", 1))
    if sketch.second_pivot is not None:
        second, name = f"second {sketch.settings.pivot_word}", second_name(sketch)
        items.append(_item(SECOND_PIVOT_ID, "pivot", name, second, f"{second} {spoken_symbol(name)}", 1))
    for given in sketch.givens:
        symbol = given.letter if given.kind != "label" else ""
        what = given_words.what(sketch, given)
        value = given_words.value_words(sketch, given) if given.number else ""
        spoken = ", ".join(part for part in (spoken_symbol(symbol), what, value) if part)
        items.append(_item(given.id, given.kind, symbol, what, spoken, 1))
    return items


def _item(entity_id: str, kind: str, symbol: str, name: str, spoken: str, level: int) -> dict[str, object]:
    return {"id": entity_id, "kind": kind, "symbol": symbol, "name": name, "spoken": spoken, "level": level}


def _body_spoken(body: Body) -> str:
    kind = BODY_WORDS[body.kind]
    return f"{body.name}, {kind}" if body.name and body.name != kind else kind


def _support(sketch: Sketch, support: Support) -> dict[str, object]:
    word = SUPPORT_WORDS[support.kind]
    if support.mu is not None:
        word = f"rough {word}"
    if support.face_m is not None:
        word = f"{word} along a face"
    if support.other is not None:
        word = f"{word} to {body_name(sketch, support.other)}"
    name = f"{word}, {support.agent}" if support.agent and support.agent != word else word
    kind = "face" if support.face_m is not None else support.kind
    return _item(support.id, kind, support.symbol, name, f"{spoken_symbol(support.symbol)}, {name}", 2)


def _load(load: Load) -> dict[str, object]:
    if isinstance(load, Thing):
        name = load.name or "thing"
        return _item(load.id, "thing", load.symbol, name, f"{spoken_symbol(load.symbol)}, {name} on the body", 2)
    if isinstance(load, Couple):
        name = f"couple by {load.agent or '?'}"
        return _item(load.id, "couple", load.symbol, name, f"{spoken_symbol(load.symbol)}, {name}", 2)
    if isinstance(load, SpreadLoad):
        name = f"{load_type_word(load)} by {'Earth' if load.acts == 'weight' else load.agent or '?'}"
        return _item(load.id, "spread", load.symbol, name, f"{spoken_symbol(load.symbol)}, {name}", 2)
    name = f"{load_type_word(load)} by {load.agent or '?'}"
    return _item(load.id, "force", load.symbol, name, f"{spoken_symbol(load.symbol)}, {_role(load)}{name}", 2)


def _role(load: Force) -> str:
    return "unknown " if load.role == "unknown" else ""
