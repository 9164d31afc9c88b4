"""Quiet marks at the points worth taking torques about: small open rings that say what would drop out."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..geometry import Point
from ..statics.advice import Advice
from . import grips, text
from .arrows import dot, on_circle
from .frame import Frame
from .labels import SYMBOL_COST, Box, Field, Wanted, best_side, draw
from .record import Record, Target
from .text import Line

RING_PX = 6.5
# The target's own reach; with the catch of a mouse it is 26 px across, with that of a finger 38.
TARGET_PX = 5.0
# Marks nearer than this to a pivot or to a better mark would share their target.
APART_PX = 26.0
COUNTS = ("no unknown", "one unknown", "two unknowns", "three unknowns", "four unknowns")

Piece = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark: its key ("try-2" is the third advice of the list), where it stands on the sheet, and its words."""

    key: str
    at: Point
    advice: Advice
    words: tuple[Piece, ...]

    @property
    def spoken(self) -> str:
        """The words as they are read aloud."""
        return "".join(piece[0] for piece in self.words)


def marks(
    tries: Sequence[Advice], symbols: Mapping[str, str], frame: Frame, pivots: Sequence[Point], *, busy: bool
) -> list[Mark]:
    """The marks that find room on the sheet; `pivots` are sheet points, whose own rings stand there already.

    While a hand is busy none is picked: then marks may come as near to the pivot as its ring.
    """
    left, top, right, bottom = frame.room
    found: list[Mark] = []
    for index, each in enumerate(tries):
        if each.point is None:
            continue
        at = frame.to_sheet(each.point)
        near = 12.0 * frame.pen if busy else APART_PX
        if not (left < at[0] < right and top < at[1] < bottom):
            continue
        if any(math.dist(at, other) < near for other in pivots) or any(
            math.dist(at, mark.at) < APART_PX for mark in found
        ):
            continue
        found.append(Mark(f"try-{index}", at, each, tuple(says(each, symbols))))
    return found


def says(each: Advice, symbols: Mapping[str, str]) -> list[Piece]:
    """ "R out, one unknown left: T" as pieces."""
    count = len(each.left)
    counted = COUNTS[count] if count < len(COUNTS) else f"{count} unknowns"
    words: list[Piece] = [*listed(each.drops, symbols), (" out, ", "plain")] if each.drops else []
    words.append((f"{counted} left", "plain"))
    if each.left:
        words += [(": ", "plain"), *listed(each.left, symbols)]
    return words


def listed(keys: Sequence[str], symbols: Mapping[str, str]) -> list[Piece]:
    """Symbols of parts as a list; both components of one force are said as the force."""
    groups: list[list[Piece]] = []
    for key in keys:
        force, _, axis = key.partition(".")
        whole = f"{force}.x" in keys and f"{force}.y" in keys
        if whole and axis == "y":
            continue
        one = axis and not whole
        groups.append(text.component_pieces(symbols[force], axis) if one else text.symbol_pieces(symbols[force]))
    said: list[Piece] = []
    for index, pieces in enumerate(groups):
        if index:
            said.append((" and " if index == len(groups) - 1 else ", ", "plain"))
        said += pieces
    return said


def rings(found: Sequence[Mark], frame: Frame, *, of: str, always: bool) -> list[Record]:
    """The open rings: always there while the pivot is in hand or selected, else only while it is lit."""
    radius = RING_PX * frame.pen
    if always:
        return [
            dot(mark.at, f"{of}.{mark.key}", mark.key, radius, "try", "overlay")._replace(name=mark.spoken)
            for mark in found
        ]
    return [dot(mark.at, f"{of}.{mark.key}", of, radius, "try", "overlay")._replace(shown="lit") for mark in found]


def when_lit(found: Sequence[Mark], frame: Frame, field_: Field, placed: Sequence[Box]) -> list[Record]:
    """What each mark shows when it or its line in the list is lit: a brass disc, its ring, and its words."""
    records: list[Record] = []
    for mark in found:
        glow = dot(mark.at, f"{mark.key}.brass", mark.key, 12.0 * frame.pen, "highlight-area", "construct")
        ring = dot(mark.at, f"{mark.key}.ring", mark.key, RING_PX * frame.pen, "try", "overlay")
        wanted = Wanted(f"{mark.key}.words", mark.key, (_line(mark, frame),), (mark.at,), 8.0 * frame.pen)
        side, _ = best_side(wanted, field_, list(placed), None)
        label, _ = draw(wanted, side)
        records += [record._replace(layer="overlay", shown="lit") for record in (ring, *label)]
        records.append(glow._replace(shown="lit"))
    return records


def _line(mark: Mark, frame: Frame) -> Line:
    return text.line("try-text", frame.small_px, *mark.words)


def keep_clear(found: Sequence[Mark], frame: Frame, field_: Field) -> None:
    """Let labels keep off the rings."""
    reach = (RING_PX + 1.5) * frame.pen
    for mark in found:
        x, y = mark.at
        field_.box((x - reach, y - reach, x + reach, y + reach), SYMBOL_COST)


def targets(found: Sequence[Mark], of: str) -> list[Target]:
    """What a hand can press while a pivot is selected: the pivot goes there."""
    return [
        Target(
            of,
            mark.key,
            "area",
            tuple(on_circle(mark.at, TARGET_PX, 45.0 * step) for step in range(8)),
            grips.RANK_GRIP + 4,
            mark.spoken,
            selected_only=True,
            cursor="pointer",
            command=of if of == grips.SECOND_PIVOT_ID else grips.PIVOT_ID,
            at_m=mark.advice.point,
            lights=mark.key,
        )
        for mark in found
    ]
