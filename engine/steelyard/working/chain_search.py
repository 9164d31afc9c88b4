"""The cheapest chain of equations, each with one new unknown, as a search over sets of unknowns found.

Nothing is known here of forces or of systems: an equation is the set of its unknowns, and what each would cost.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

# Sets of unknowns looked at before the first chain found has to do.
_MOST_SETS = 600


class Edge(NamedTuple):
    """One equation as sets of bits: what is in it, and what it would cost to find each with it.

    `system` is its place among the systems, -1 for a law, whose `option` counts the laws.
    """

    left: int
    costs: tuple[tuple[int, float], ...]
    system: int
    option: int


class Found(NamedTuple):
    """A step of the chain: one equation, or with `others` several solved together."""

    finds: int
    first: Edge
    others: tuple[Edge, ...] = ()

    @property
    def left(self) -> int:
        """The unknowns in it."""
        left = self.first.left
        for edge in self.others:
            left |= edge.left
        return left


@lru_cache(8)
def cheapest_chain(target: int, start: int, edges: tuple[Edge, ...]) -> tuple[Found, ...] | None:
    """The cheapest chain of equations with one new unknown each; None where there is none.

    Kept while something is dragged: the sets of unknowns rarely change.
    """
    if target & ~_closure(start, edges):
        return None
    queue: list[tuple[float, int, int, tuple[Found, ...]]] = [(0.0, 0, start, ())]
    done: set[int] = set()
    pushed = 0
    while queue and len(done) < _MOST_SETS:
        cost, _, mask, path = heapq.heappop(queue)
        if mask in done:
            continue
        if not target & ~mask:
            return path
        done.add(mask)
        for edge in edges:
            fresh = edge.left & ~mask
            if not fresh or fresh & (fresh - 1) or (mask | fresh) in done:
                continue
            price = next((each for bit, each in edge.costs if bit == fresh), None)
            if price is not None:
                pushed += 1
                heapq.heappush(queue, (cost + price, pushed, mask | fresh, (*path, Found(fresh, edge))))
    return tuple(greedy_chain(target, start, edges))


def _closure(start: int, edges: Sequence[Edge]) -> int:
    """All unknowns that equations with one new unknown lead to."""
    mask = start
    progress = True
    while progress:
        progress = False
        for edge in edges:
            fresh = edge.left & ~mask
            if fresh and not fresh & (fresh - 1):
                mask |= fresh
                progress = True
    return mask


def greedy_chain(target: int, start: int, edges: Sequence[Edge]) -> list[Found]:
    """A chain that takes the cheapest next equation each time, as far as it leads."""
    mask, path = start, list[Found]()
    while target & ~mask:
        ready = [
            (price, place, edge, bit)
            for place, edge in enumerate(edges)
            for bit, price in edge.costs
            if edge.left & ~mask == bit
        ]
        if not ready:
            break
        _, _, edge, bit = min(ready, key=lambda each: each[:2])
        path.append(Found(bit, edge))
        mask |= bit
    return path


def needed_steps(path: Sequence[Found], target: int, start: int) -> list[Found]:
    """Without the steps whose unknowns nothing asks for."""
    wanted, kept = target & ~start, list[Found]()
    for step in reversed(path):
        if step.finds & wanted:
            kept.append(step)
            wanted = (wanted | step.left) & ~step.finds
    return kept[::-1]


def scheduled(path: Sequence[Found]) -> list[Found]:
    """The same steps, those of one system one after the other as far as they can be."""
    waiting, ordered, reached, current = list(path), list[Found](), 0, -1
    while waiting:
        ready = [step for step in waiting if not step.left & ~reached & ~step.finds or not step.finds]
        ready = ready or waiting[:1]
        same = [step for step in ready if step.first.system == current] or ready
        step = same[0]
        waiting.remove(step)
        ordered.append(step)
        reached |= step.finds
        current = step.first.system if step.first.system >= 0 else current
    return ordered


def missing(path: Sequence[Found], target: int, start: int) -> int:
    """What of the unknowns asked for a chain does not find."""
    for step in path:
        start |= step.finds
    return target & ~start
