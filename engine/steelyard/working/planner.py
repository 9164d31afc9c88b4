"""The order of a good teacher: the shortest chain of equations with one new unknown each.

Every combination of the three equations of balance is itself a torque about some point or a sum along
some axis, so wherever an unknown has one value there is a pivot or an axis that leaves it alone. The
chain is found by a shortest path over sets of unknowns already found. Pivots too far away to be drawn
are tried only after solving two unknowns together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..geometry import Point, Vector
from ..statics import advice as advising
from ..statics.advice import Advice, Part
from ..statics.reading import Analysis
from ..statics.signs import Settled, sense_of, shares_of
from .laws import Law

# How hard an equation is to follow, in steps: a torque about a support or a sum along x or y is the plain case.
_SOURCE_COST = {
    "support": 1.0,
    "x": 0.95,
    "y": 0.95,
    "end": 1.15,
    "point": 1.2,
    "crossing": 1.4,
    "across": 1.5,
    "law": 0.5,
}
_TERM_COST = 0.02
# An arm under a twentieth of the sketch, or a share under a twentieth, magnifies every rounding.
_WEAK_SHARE = 0.05
_WEAK_COST = 0.6
# A crossing off most boards is worth another term or two.
_FAR_COST = 0.3
# The pivot that is on the board already is a little easier to look at than another.
_OWN_PIVOT = 0.05
# An equation already on the page costs nothing but going back to it.
_ASIDE_COST = 0.3
# Friction from its normal is the easiest of all equations; the normal from friction is read backwards.
_LAW_COST = 0.5
_LAW_BACK_COST = 0.8
# With letters only, an equation that leaves a sense to sizes is worth a less usual pivot.
_DOUBT_COST = 0.8
# Settles only which of two equal equations is written first.
_SOONER = 1e-6
# Two equations whose determinant (of shares of order one) is below this say the same.
_SINGULAR = 1e-6

OrderItem = str | Point


@dataclass(frozen=True, slots=True)
class Move:
    """One equation of the plan.

    `advice` is what is summed. `finds` are the keys it gives: one; two when it is solved together with
    `partner`; none when it is put aside until `later` moves have found more. `left` are the unknowns not
    yet known when it is written. `better` is a pivot or axis that would leave fewer, for a user's choice.
    `paired`: the next move is solved together with this one. `law`: not a sum, but what this law says; `laws` are
    put into the sum. `system`: which of several systems the sum is of. `together`: further sums, each with its system,
    that three unknowns or more are found with at once.
    """

    advice: Advice
    finds: tuple[str, ...]
    left: tuple[str, ...]
    partner: Advice | None = None
    better: Advice | None = None
    chosen: bool = False
    paired: bool = False
    law: Law | None = None
    laws: tuple[Law, ...] = ()
    system: int = 0
    together: tuple[tuple[int, Advice], ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """The moves in order, the keys they leave unfound, and an equation to check with."""

    moves: tuple[Move, ...]
    unfound: tuple[str, ...]
    check: Advice | None


def plan(
    analysis: Analysis,
    *,
    first_pivot: Point | None = None,
    order: Sequence[OrderItem] | None = None,
    extra: Sequence[Point] = (),
    settled: Mapping[str, Settled] | None = None,
    options: Sequence[Advice] | None = None,
    laws: Sequence[Law] = (),
) -> Plan:
    """The equations to write, in order.

    `laws` say more than the sums: they are used where these alone do not find every unknown.

    `settled` are the senses geometry settles: given for letters, it prefers equations that show them.

    `first_pivot` is the user's own first pivot; `order` the user's equations: "x", "y" or a point each.
    `extra` are further points of the body worth naming; `options` are the candidates with them, if at hand.
    What the user's equations leave unfound the planner finds.
    """
    options = advising.candidates(analysis, extra) if options is None else options
    made = _plan(analysis, first_pivot, order, extra, settled, options, ())
    return _plan(analysis, first_pivot, order, extra, settled, options, laws) if laws and made.unfound else made


def _plan(
    analysis: Analysis, first_pivot: Point | None, order: Sequence[OrderItem] | None, extra: Sequence[Point],
    settled: Mapping[str, Settled] | None, options: Sequence[Advice], laws: Sequence[Law],
) -> Plan:  # fmt: skip
    every = advising.parts(analysis)
    unknown = [part for part in every if part.unknown]
    chosen = list(order or ())
    if first_pivot is not None:
        chosen.insert(0, first_pivot)
    doubtful = frozenset() if settled is None else _doubtful(analysis, options, settled)
    moves: list[Move] = []
    found: set[str] = set()
    for item in chosen:
        _follow(moves, found, chosen_sum(analysis, item), options, analysis)
    _settle_aside(moves, found, analysis)
    _extend(moves, found, unknown, options, analysis, doubtful, laws)
    _settle_aside(moves, found, analysis)
    if len(found) < len(unknown):
        _pairs(moves, found, options, analysis)
    if len(found) < len(unknown) and laws:
        _pairs(moves, found, options, analysis, laws)
    if len(found) < len(unknown):
        far = advising.candidates(analysis, extra, advising.ANY_REACH)
        _extend(moves, found, unknown, far, analysis, laws=laws)
        _settle_aside(moves, found, analysis)
    unfound = tuple(part.key for part in unknown if part.key not in found)
    return Plan(tuple(moves), unfound, _check(analysis, moves, options))


def chosen_sum(analysis: Analysis, item: OrderItem) -> Advice:
    """The sum a user asks for: "x", "y", or torques about a point."""
    if item == "x":
        return advising.along(analysis, analysis.x_axis)
    if item == "y":
        return advising.along(analysis, analysis.y_axis)
    assert not isinstance(item, str)
    return advising.about(analysis, item)


def _follow(moves: list[Move], found: set[str], chosen: Advice, options: Sequence[Advice], analysis: Analysis) -> None:
    """Write the user's equation, whatever it leaves."""
    left = tuple(key for key in chosen.left if key not in found)
    better = None
    if len(left) > 1:
        fewer = [each for each in options if len([key for key in each.left if key not in found]) == 1]
        # A pivot that gives one of the same unknowns is the natural thing to compare with.
        fewer.sort(key=lambda each: (each.point is None, _cost(each, left)))
        better = fewer[0] if fewer else None
    finds = left if len(left) == 1 else ()
    moves.append(Move(chosen, finds, left, better=better, chosen=True))
    found.update(finds)
    _settle_aside(moves, found, analysis)


def _settle_aside(moves: list[Move], found: set[str], analysis: Analysis) -> None:
    """Take up equations put aside once only one of their unknowns is missing, or two share the same two."""
    progress = True
    while progress:
        progress = False
        waiting = [move for move in moves if not move.finds and not _taken_up(moves, move)]
        by_key = {part.key: part for part in advising.parts(analysis)} if waiting else {}
        for move in waiting:
            left = tuple(key for key in move.left if key not in found)
            if len(left) == 1 and len(move.left) > 1:
                moves.append(Move(move.advice, left, left))
                found.update(left)
                progress = True
                break
            mates = [
                other
                for other in waiting
                if other is not move
                and len(left) == 2
                and not any(by_key[key].which == "place" for key in left)
                and {key for key in other.left if key not in found} == set(left)
                and abs(_strength(by_key, left, move.advice, other.advice, analysis.lever_m)) > _SINGULAR
            ]
            if mates:
                moves.append(Move(mates[0].advice, left, left, partner=move.advice))
                found.update(left)
                progress = True
                break


def _taken_up(moves: Sequence[Move], aside: Move) -> bool:
    return any(move.finds and move.advice is aside.advice for move in moves) or any(
        move.partner is aside.advice for move in moves
    )


def _extend(
    moves: list[Move], found: set[str], unknown: Sequence[Part], options: Sequence[Advice], analysis: Analysis,
    doubtful: frozenset[tuple[int, str]] = frozenset(), laws: Sequence[Law] = (),
) -> None:  # fmt: skip
    """The cheapest chain of one-unknown equations to the largest set that can be found so.

    Level by level: sets with one unknown more each time, the cheapest way to each kept. There are at
    most three levels, because there are three independent equations, and one more for each law. `doubtful` are
    positions in `options`.
    """
    index = {part.key: 1 << position for position, part in enumerate(unknown)}
    start = sum(bit for key, bit in index.items() if key in found)
    every = advising.parts(analysis)
    # What one equation costs hangs on the unknown it gives, not on when it is written.
    prices: list[tuple[Advice, int, dict[int, float]]] = []
    for move in moves:
        if not move.finds and not _taken_up(moves, move):
            bits = [index[key] for key in move.advice.left]
            prices.append((move.advice, sum(bits), dict.fromkeys(bits, _ASIDE_COST)))
    by_law = {law.advice: law for law in laws}
    for each in by_law:
        bits = [index[key] for key in each.left]
        prices.append((each, sum(bits), {bits[0]: _LAW_COST, bits[1]: _LAW_BACK_COST}))
    for position, each in enumerate(options):
        costs = {}
        for part in unknown:
            if part.key in each.left:
                doubt = _DOUBT_COST if (position, part.key) in doubtful else 0.0
                costs[index[part.key]] = _cost(each, each.left, part, analysis, every) + doubt
        prices.append((each, sum(costs), costs))
    level: dict[int, tuple[float, tuple[tuple[Advice, int], ...]]] = {start: (0.0, ())}
    path: tuple[tuple[Advice, int], ...] = ()
    while level:
        path = min(level.values(), key=lambda reached: reached[0])[1]
        following: dict[int, tuple[float, tuple[tuple[Advice, int], ...]]] = {}
        for mask, (cost, so_far) in level.items():
            for each, leaves, costs in prices:
                fresh = leaves & ~mask
                if fresh == 0 or fresh & (fresh - 1):
                    continue
                # Of sums that cost the same, along x comes before along y.
                price = cost + costs[fresh] + (_SOONER * bin(mask).count("1") if each.source == "x" else 0.0)
                reached = following.get(mask | fresh)
                if reached is None or price < reached[0] - 1e-12:
                    following[mask | fresh] = (price, (*so_far, (each, fresh)))
        level = following
    for each, fresh in path:
        key = unknown[fresh.bit_length() - 1].key
        left = tuple(name for name in each.left if name not in found)
        moves.append(Move(each, (key,), left, law=by_law.get(each)))
        found.add(key)


def _doubtful(
    analysis: Analysis, options: Sequence[Advice], settled: Mapping[str, Settled]
) -> frozenset[tuple[int, str]]:
    """Sums, by position, that do not settle the sense of an unknown by geometry alone."""
    every = {part.key: part for part in advising.parts(analysis)}
    doubtful = set()
    for position, each in enumerate(options):
        shares = shares_of(each, every, analysis.lever_m)
        for key in each.left:
            if key not in shares:  # a normal somewhere on a face, about the end of the face
                continue
            others = {name: state for name, state in settled.items() if name != key}
            if sense_of(key, shares, every, others).kind != "certain":
                doubtful.add((position, key))
    return frozenset(doubtful)


def _cost(
    each: Advice,
    terms: Sequence[str],
    wanted: Part | None = None,
    analysis: Analysis | None = None,
    every: Sequence[Part] = (),
) -> float:
    cost = _SOURCE_COST[each.source] + _TERM_COST * len(terms)
    if wanted is not None and analysis is not None:
        if each.point == analysis.pivot:
            cost -= _OWN_PIVOT
        if each.source == "crossing" and advising.is_far(each, every, analysis.lever_m):
            cost += _FAR_COST
        share = share_in(wanted, each.point, each.along, analysis.lever_m)
        if abs(share) < _WEAK_SHARE:
            cost += _WEAK_COST
    return cost


def cost_of(each: Advice, wanted: Part, analysis: Analysis, every: Sequence[Part]) -> float:
    """How hard an equation is to follow, in steps, when it is to find one of its unknowns."""
    return _cost(each, each.left, wanted, analysis, every)


def share_in(part: Part, point: Point | None, axis: Vector | None, lever_m: float) -> float:
    """How strongly an equation holds a part: its arm over the lever, or its share along the axis."""
    if point is not None:
        arm = advising.turning(part, point, lever_m)
        return arm if part.along is None else arm / lever_m
    assert axis is not None
    return advising.pushing(part, axis)


def _pairs(
    moves: list[Move], found: set[str], options: Sequence[Advice], analysis: Analysis, laws: Sequence[Law] = ()
) -> None:
    """Two equations with the same two unknowns, where none leaves one; `laws` put N in place of f."""
    by_key = {part.key: part for part in advising.parts(analysis)}
    laws = [law for law in laws if law.force not in found and law.of not in found]
    left_in = [_left_with(each, found, laws) for each in options]
    best: tuple[float, Advice, Advice, tuple[str, ...]] | None = None
    for position, first in enumerate(options):
        left = left_in[position]
        # A normal times its place is no unknown that two linear equations share.
        if len(left) != 2 or any(by_key[key].which == "place" for key in left):
            continue
        for other, second in enumerate(options[position + 1 :], position + 1):
            if set(left_in[other]) != set(left):
                continue
            strength = _strength(by_key, left, first, second, analysis.lever_m, laws)
            if abs(strength) > _SINGULAR and (best is None or abs(strength) > best[0]):
                best = (abs(strength), first, second, left)
    if best is None:
        return
    _, first, second, left = best
    moves.append(Move(first, (), left, paired=True, laws=tuple(laws)))
    moves.append(Move(second, left, left, partner=first, laws=tuple(laws)))
    found.update(left)


def _left_with(each: Advice, found: set[str], laws: Sequence[Law]) -> tuple[str, ...]:
    """The unknowns left in a sum, friction about to slip counted as its normal."""
    put = {law.force: law.of for law in laws}
    return tuple(dict.fromkeys(put.get(key, key) for key in each.left if key not in found))


def _strength(
    by_key: Mapping[str, Part], pair: Sequence[str], first: Advice, second: Advice, lever_m: float,
    laws: Sequence[Law] = (),
) -> float:  # fmt: skip
    """How strongly two equations tell two unknowns apart."""
    rows = [
        [
            share_in(by_key[key], each.point, each.along, lever_m)
            + sum(
                law.factor * share_in(by_key[law.force], each.point, each.along, lever_m)
                for law in laws
                if law.of == key
            )
            for key in pair
        ]
        for each in (first, second)
    ]
    return rows[0][0] * rows[1][1] - rows[0][1] * rows[1][0]


def _check(analysis: Analysis, moves: Sequence[Move], options: Sequence[Advice]) -> Advice | None:
    """Torques about a point not used yet, with as many of the unknowns in it as possible."""
    used = [move.advice.point for move in moves if move.advice.point is not None]
    fresh = [each for each in options if each.point is not None and each.point not in used]
    if not fresh:
        home = analysis.readings[0].force.point if analysis.readings else analysis.pivot
        aside = (home[0] + analysis.lever_m, home[1] + analysis.lever_m)
        fresh = [replace(advising.about(analysis, aside), source="crossing")]
    fresh.sort(key=lambda each: (-len(each.left), _cost(each, ())))
    return fresh[0]
