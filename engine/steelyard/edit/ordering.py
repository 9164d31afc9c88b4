"""The order of the forces head to tail: a shaft dragged, or moved by keys, past others of the chain."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from .. import document
from ..geometry import Point, Vector, add, distance, scale, subtract
from ..model import Sketch
from .change import Change, fail
from .context import Context
from .snapping import Snapped


def with_order(sketch: Sketch, ids: Iterable[str]) -> Sketch:
    """The sketch with these forces laid head to tail in this order; those of other bodies keep theirs.

    Raises `SteelyardError` when one is no force of the sketch, or is named twice.
    """
    wanted = tuple(ids)
    acting = document.acting_ids(sketch)
    for force_id in wanted:
        if force_id not in acting:
            fail("order", "ids", f'There is no force called "{force_id[:40]}".', "Send the ids of forces.")
    if len(set(wanted)) != len(wanted):
        fail("order", "ids", "`ids` must hold each force once.", "Leave the repeated one out.")
    return replace(sketch, order=(*wanted, *(each for each in sketch.order if each not in wanted)))


class Ordering:
    """One hold on a shaft of the chain; points are in newtons from where the chain starts.

    `vectors` are the forces of the chain in their order at the beginning; None for one without a size.
    `at` puts the held one where its middle is nearest to the hand.
    """

    def __init__(self, sketch: Sketch, of: str, vectors: Mapping[str, Vector | None], start: Point) -> None:
        if of not in vectors:
            fail("order", of, "This force is not in the chain.", "Take hold of another one.")
        self.before = sketch
        self.of = of
        self.sketch = sketch
        self.snapped: Snapped | None = None
        self.problem = ""
        self._vectors = dict(vectors)
        self._ids = list(vectors)
        self._offset = subtract(self._middle(self._ids.index(of)), start)

    def at(self, point: Point, context: Context) -> Sketch:
        """The sketch with the hand at this point."""
        wanted = add(point, self._offset)
        places = range(len(self._ids))
        return self._put(min(places, key=lambda place: distance(self._middle(place), wanted)))

    def nudge(self, dx: float, dy: float, context: Context) -> Sketch:
        """One place later to the right or down, earlier to the left or up."""
        step = (1 if dx > 0.0 else -1) if dx else (-1 if dy > 0.0 else 1) if dy else 0
        return self._put(min(len(self._ids) - 1, max(0, self._place + step)))

    def change(self) -> Change:
        """What the hold comes to."""
        return Change(self.sketch, "Change the order of the forces")

    @property
    def readout(self) -> str:
        """Which place the force has in the chain."""
        return f"{ordinal(self._place + 1)} in the chain"

    @property
    def _place(self) -> int:
        return self._now.index(self.of)

    @property
    def _now(self) -> list[str]:
        own = set(self._ids)
        return [each for each in self.sketch.order if each in own] if self.sketch is not self.before else self._ids

    def _middle(self, place: int) -> Point:
        """Where the middle of the held arrow would be, were it at this place among the others."""
        others = [each for each in self._ids if each != self.of]
        at: Point = (0.0, 0.0)
        for each in others[:place]:
            at = add(at, self._vectors[each] or (0.0, 0.0))
        return add(at, scale(self._vectors[self.of] or (0.0, 0.0), 0.5))

    def _put(self, place: int) -> Sketch:
        others = [each for each in self._ids if each != self.of]
        ids = [*others[:place], self.of, *others[place:]]
        self.sketch = self.before if ids == self._ids else with_order(self.before, ids)
        return self.sketch


_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def ordinal(number: int) -> str:
    """ "first", "second", ..., and figures beyond ten."""
    return _ORDINALS[number - 1] if number <= len(_ORDINALS) else f"number {number}"
