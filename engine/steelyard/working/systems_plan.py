"""The shortest chain through several systems: each equation of some body or group, with one new unknown in it.

Like `planner`, but over all systems at once, and only as far as the unknowns of the system asked for.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from ..geometry import Point
from ..statics import advice as advising
from ..statics.advice import Advice
from .chain_search import Edge, Found, cheapest_chain, greedy_chain, missing, needed_steps, scheduled
from .planner import Move, OrderItem, chosen_sum, cost_of, share_in
from .systems import Joined, System

# Another body than the one asked for has to be drawn first, a group is harder to see than a body.
_OTHER_COST = 0.35
_GROUP_COST = 0.1
_LAW_COST = 0.3
_ASIDE_COST = 0.3
# More equations than this at once are left to a computer.
_MOST_TOGETHER = 4
_ASKED_FOR = 0.3
_SINGULAR = 1e-6


@dataclass(frozen=True, slots=True)
class SystemsPlan:
    """The moves in order, each of a system; the keys (of all systems) that nothing finds; what is known by the end."""

    moves: tuple[Move, ...]
    unfound: tuple[str, ...]
    found: frozenset[str]


def plan_systems(
    whole: Joined, *, first_pivot: Point | None = None, order: Sequence[OrderItem] | None = None
) -> SystemsPlan:
    """The equations to write, in order, for every unknown of the first system.

    `first_pivot` and `order` are the user's own first sums of that system.
    """
    names = tuple(dict.fromkeys(key for system in whole.systems for key in system.keys.values()))
    bits = {name: 1 << place for place, name in enumerate(names)}
    chosen = [*([first_pivot] if first_pivot is not None else []), *(order or ())]
    own = [chosen_sum(whole.systems[0].analysis, item) for item in chosen]
    target = sum(bits[key] for key in set(whole.systems[0].keys.values()))
    # What a contact about to slide tells is used where the sums do not find everything.
    path: Sequence[Found] = ()
    for slips in (False, True):
        edges = _edges(whole, bits, own, slips=slips)
        first, start = _own_first(edges, len(own))
        way = cheapest_chain(target, start, edges)
        if way is not None:
            path = way
            break
        path = _with_several(whole, names, target, start, edges, _every(whole, bits, slips=slips))
        if not missing(path, target, start) or not any(law.kind == "slip" for law in whole.laws):
            break
    steps = scheduled([*first, *needed_steps(path, target, start)])
    reached = start
    for step in steps:
        reached |= step.finds
    moves = [move for step in steps for move in _moves(whole, names, bits, step, own)]
    unfound = tuple(name for name in names if bits[name] & target & ~reached)
    return SystemsPlan(tuple(_with_left(whole, moves)), unfound, frozenset(n for n in names if bits[n] & reached))


def _edges(whole: Joined, bits: Mapping[str, int], own: Sequence[Advice], *, slips: bool) -> tuple[Edge, ...]:
    """The user's own sums first, then of equal sets of unknowns the cheapest equation for each, and the laws."""
    own_edges = [_edge(whole, 0, place, each, bits, aside=True) for place, each in enumerate(own)]
    best: dict[tuple[int, int], tuple[float, int, int]] = {}
    for index, system in enumerate(whole.systems):
        extra = (_OTHER_COST if index else 0.0) + _GROUP_COST * (len(system.bodies) - 1)
        every = tuple(system.parts.values())
        for place, each in enumerate(system.options):
            left = 0
            for key in each.left:
                left |= bits[system.keys[key]]
            for key in each.left:
                cost = extra + cost_of(each, system.parts[key], system.analysis, every)
                at = (left, bits[system.keys[key]])
                if at not in best or cost < best[at][0] - 1e-12:
                    best[at] = (cost, index, place)
    by_option: dict[tuple[int, int, int], list[tuple[int, float]]] = {}
    for (left, bit), (cost, index, place) in best.items():
        by_option.setdefault((left, index, place), []).append((bit, round(cost, 3)))
    edges = [Edge(left, tuple(costs), index, place) for (left, index, place), costs in by_option.items()]
    laws = _laws(whole, bits, slips=slips)
    return (*own_edges, *laws, *edges)


def _every(whole: Joined, bits: Mapping[str, int], *, slips: bool) -> tuple[Edge, ...]:
    """All equations of all systems, for solving several of them together, and with `slips` what friction tells."""
    sums = (
        _edge(whole, index, place, each, bits, aside=False)
        for index, system in enumerate(whole.systems)
        for place, each in enumerate(system.options)
    )
    return (*sums, *(law for law in _laws(whole, bits, slips=slips) if whole.laws[law.option].kind == "slip"))


def _laws(whole: Joined, bits: Mapping[str, int], *, slips: bool) -> list[Edge]:
    edges = []
    for place, law in enumerate(whole.laws):
        if law.force in bits and law.of in bits and (slips or law.kind == "member"):
            pair = (bits[law.force], bits[law.of])
            edges.append(Edge(pair[0] | pair[1], tuple((bit, _LAW_COST) for bit in pair), -1, place))
    return edges


def _edge(whole: Joined, index: int, place: int, each: Advice, bits: Mapping[str, int], *, aside: bool) -> Edge:
    keys = [bits[whole.systems[index].keys[key]] for key in each.left]
    # The user's own sums are counted from minus one on, before the options of the system.
    return Edge(sum(keys), tuple((bit, _ASIDE_COST) for bit in keys), index, -1 - place if aside else place)


def _own_first(edges: Sequence[Edge], count: int) -> tuple[list[Found], int]:
    """The user's own sums as the first steps; those with more than one unknown find nothing yet."""
    steps, reached = [], 0
    for edge in edges[:count]:
        fresh = edge.left & ~reached
        single = fresh if fresh and not fresh & (fresh - 1) else 0
        steps.append(Found(single, edge))
        reached |= single
    return steps, reached


def _with_several(
    whole: Joined, names: Sequence[str], target: int, start: int, edges: tuple[Edge, ...], every: Sequence[Edge]
) -> list[Found]:
    """A chain with two or more equations solved together wherever no single one leads on."""
    path = greedy_chain(target, start, edges)
    while True:
        mask = start
        for step in path:
            mask |= step.finds
        if not target & ~mask:
            return path
        group = _group(whole, names, mask, target, every)
        if group is None:
            return path
        path.append(group)
        path += greedy_chain(target, mask | group.finds, edges)


def _group(whole: Joined, names: Sequence[str], mask: int, target: int, every: Sequence[Edge]) -> Found | None:
    """As few equations as can be with no more unknowns left in them than they are, and able to tell these apart."""
    left = {edge.left & ~mask for edge in every}
    left |= {one | two for one, two in combinations(left, 2)}
    sets = [each for each in left if 2 <= bin(each).count("1") <= _MOST_TOGETHER]
    best: tuple[int, float, Found] | None = None
    for wanted in sorted(sets, key=lambda each: (bin(each).count("1"), each)):
        count = bin(wanted).count("1")
        if best is not None and count > best[0]:
            break
        keys = [name for place, name in enumerate(names) if wanted >> place & 1]
        if any(key.endswith(advising.PLACE) for key in keys):
            continue
        inside = [edge for edge in every if edge.left & ~mask and not edge.left & ~mask & ~wanted]
        found = _independent(whole, keys, inside)
        if found is None or found[0].system < 0:
            continue
        # Unknowns that are asked for come before those that only lead to them.
        price = sum(_hardness(whole, edge) for edge in found) - _ASKED_FOR * bin(wanted & target).count("1")
        if best is None or price < best[1] - 1e-12:
            best = (count, price, Found(wanted, found[0], found[1:]))
    return None if best is None else best[2]


def _independent(whole: Joined, keys: Sequence[str], ready: Sequence[Edge]) -> tuple[Edge, ...] | None:
    """The plainest equations, as many as there are unknowns, none of which follows from the others."""
    plain = sorted(range(len(ready)), key=lambda place: (_hardness(whole, ready[place]), place))
    chosen: list[Edge] = []
    rows: list[list[float]] = []
    for place in plain:
        row = [_share(whole, key, ready[place]) for key in keys]
        for other in rows:  # what is left of it beside the equations chosen already
            part = sum(one * two for one, two in zip(row, other, strict=True))
            row = [one - part * two for one, two in zip(row, other, strict=True)]
        size = math.hypot(*row)
        if size > _SINGULAR:
            rows.append([each / size for each in row])
            chosen.append(ready[place])
        if len(chosen) == len(keys):
            return tuple(sorted(chosen, key=lambda edge: edge.system < 0))
    return None


def _hardness(whole: Joined, edge: Edge) -> float:
    if edge.system < 0:
        return _LAW_COST
    system = whole.systems[edge.system]
    each = system.options[edge.option]
    first = next(system.parts[key] for key in each.left)
    extra = (_OTHER_COST if edge.system else 0.0) + _GROUP_COST * (len(system.bodies) - 1)
    return extra + cost_of(each, first, system.analysis, tuple(system.parts.values()))


def _share(whole: Joined, key: str, edge: Edge) -> float:
    if edge.system < 0:
        law = whole.laws[edge.option]
        return 1.0 if key == law.force else -law.factor if key == law.of else 0.0
    system = whole.systems[edge.system]
    own = next((name for name, other in system.keys.items() if other == key), None)
    each = system.options[edge.option]
    return 0.0 if own is None else share_in(system.parts[own], each.point, each.along, system.analysis.lever_m)


def _moves(
    whole: Joined, names: Sequence[str], bits: Mapping[str, int], step: Found, own: Sequence[Advice]
) -> Iterator[Move]:
    """A step as moves of the planner, in the keys of its system."""
    found = tuple(name for place, name in enumerate(names) if step.finds >> place & 1)
    edge = step.first
    if edge.system < 0:
        law = whole.laws[edge.option]
        yield Move(law.advice, found, found, law=law, system=-1)
        return
    advice = own[-1 - edge.option] if edge.option < 0 else whole.systems[edge.system].options[edge.option]
    finds = _local(whole.systems[edge.system], found)
    if not step.others:
        yield Move(advice, finds, finds, chosen=edge.option < 0, system=edge.system)
        return
    rest = tuple(
        (other.system, whole.systems[other.system].options[other.option])
        if other.system >= 0
        else (-1, whole.laws[other.option].advice)
        for other in step.others
    )
    if len(rest) > 1 or rest[0][0] < 0:
        yield Move(advice, found, found, system=edge.system, together=rest)
        return
    yield Move(advice, (), finds, paired=True, system=edge.system)
    index, second = rest[0]
    finds = _local(whole.systems[index], found)
    yield Move(second, finds, finds, partner=advice, system=index)


def _local(system: System, found: Sequence[str]) -> tuple[str, ...]:
    return tuple(key for key, name in system.keys.items() if name in found)


def _with_left(whole: Joined, moves: Sequence[Move]) -> Iterator[Move]:
    """What is not known yet when each equation is written."""
    found: set[str] = set()
    for move in moves:
        if move.system < 0 or move.together:  # these are in the keys of all systems
            yield move
            found.update(move.finds)
            continue
        keys: Mapping[str, str] = whole.systems[move.system].keys
        left = tuple(key for key in move.advice.left if keys[key] not in found)
        yield replace(move, left=left)
        found.update(keys[key] for key in move.finds)
