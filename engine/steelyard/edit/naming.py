"""Ids, letters and names proposed for new things. No letter proposed alone is also a unit (N, m, kg, s, J)."""

from __future__ import annotations

import re

from ..model import BodyKind, Sketch, SpreadLoad
from .change import entities

# For each tool the letters to try in turn before numbered ones; an id stem is the tool's own name.
LETTERS: dict[str, tuple[str, ...]] = {
    "pin": ("R", "H", "Q"),
    "roller": ("B", "C", "D"),
    "contact": ("C", "D", "E"),
    "rope": ("T", "U"),
    "strut": ("S", "U"),
    "fixed": ("R", "H", "Q"),
    "force": ("F", "Q", "K"),
    "couple": ("M", "L"),
    "thing": ("P", "Q", "K"),
    "spread": ("Q", "K", "F"),
    # The load on each metre of a spread load.
    "each-metre": ("w", "q", "p"),
    "weight": ("W", "G"),
}
_POINT_LETTERS = "ABCDEFGHKLOPQ"
_BODY_NAMES: dict[BodyKind, str] = {"bar": "bar", "bent-bar": "bent bar", "plate": "plate", "disc": "disc"}


def fresh_id(sketch: Sketch, stem: str) -> str:
    """An id not in use: `force`, then `force2`, `force3`."""
    taken = {entity.id for entity in (*entities(sketch), *sketch.givens)}
    stem = re.sub(r"\d+$", "", stem)[:26].rstrip("-") or "thing"
    if stem not in taken and stem not in ("sketch", "pivot", "settings"):
        return stem
    number = 2
    while f"{stem}{number}" in taken:
        number += 1
    return f"{stem}{number}"


def symbols_in_use(sketch: Sketch) -> set[str]:
    """Every letter that stands in the sketch."""
    found = {entry.symbol for entry in (*sketch.supports, *sketch.loads)}
    found |= {support.couple_symbol for support in sketch.supports if support.kind == "fixed"}
    rough = [support for support in sketch.supports if support.mu is not None]
    found |= {letter for support in rough for letter in (support.friction_symbol, support.mu_symbol)}
    found |= {load.spread_symbol for load in sketch.loads if isinstance(load, SpreadLoad)}
    found |= {given.letter for given in sketch.givens if given.letter}
    return found | {body.weight_symbol for body in sketch.bodies}


def symbol(sketch: Sketch, tool: str) -> str:
    """A letter for a new thing of this kind, not in use: R, H, Q, then R_1, R_2 and so on."""
    taken = symbols_in_use(sketch)
    for letter in LETTERS[tool]:
        if letter not in taken:
            return letter
    number = 1
    while f"{LETTERS[tool][0]}_{number}" in taken:
        number += 1
    return f"{LETTERS[tool][0]}_{number}"


def of_contact(sketch: Sketch, letter: str, contact: str) -> str:
    """A letter of a rough contact, f or μ: alone while it is not in use, then with the contact's own below, f_D."""
    taken = symbols_in_use(sketch)
    if letter not in taken:
        return letter
    stem = f"{letter}_{contact.replace('_', '').replace('{', '').replace('}', '')}"
    number = 1
    while (stem if number == 1 else f"{stem}{number}") in taken:
        number += 1
    return stem if number == 1 else f"{stem}{number}"


def body_name(sketch: Sketch, kind: BodyKind) -> str:
    """ "bar", then "bar 2"."""
    taken = {body.name for body in sketch.bodies}
    name = _BODY_NAMES[kind]
    number = 1
    while (name if number == 1 else f"{name} {number}") in taken:
        number += 1
    return name if number == 1 else f"{name} {number}"


def point_name(sketch: Sketch) -> str:
    """A free capital letter for a named point, then P1, P2."""
    taken = {point.name for point in sketch.points}
    for letter in _POINT_LETTERS:
        if letter not in taken:
            return letter
    number = 1
    while f"P{number}" in taken:
        number += 1
    return f"P{number}"


# Letters for what givens measure; none is also a unit, nor a usual letter of a force.
_GIVEN_LETTERS = {"length": ("L", "a", "b", "c", "h"), "angle": ("θ", "α", "β", "γ", "φ")}


def given_letter(sketch: Sketch, kind: str) -> str:
    """A letter for a length or an angle, not in use: L, a, b, then L_1."""
    taken = symbols_in_use(sketch)
    letters = _GIVEN_LETTERS[kind]
    free = next((letter for letter in letters if letter not in taken), None)
    if free is not None:
        return free
    number = 1
    while f"{letters[0]}_{number}" in taken:
        number += 1
    return f"{letters[0]}_{number}"
