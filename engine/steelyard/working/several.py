"""Three equations or more with as many unknowns, of one system or several, where no chain separates them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from .. import linear
from ..statics.advice import Advice
from .desk import Desk, title_of
from .expression import Equation, Number, Symbol
from .figures import NOTHING, Known, digits
from .laws import Law, as_balance, law_equation
from .one_equation import headed
from .phrases import counted
from .record import Fact, Line, Sentence, Step
from .remarks import of_value
from .terms import Balance, apart, sum_equation


def several_together(sums: Sequence[tuple[Desk, Advice]], laws: Sequence[Law], finds: Sequence[str]) -> Step:
    """The equations, with those of contacts about to slide, and where every other size is known the values.

    `finds` are keys of all systems.
    """
    first = sums[0][0]
    balances: list[Balance] = []
    for desk, each in sums:
        balance = desk.balance(each)
        for other in balances:
            balance = apart(other, balance)
        balances.append(balance)
    balances += [as_balance(law, first.letters) for law in laws]
    known = first.known(*balances)
    symbols = [first.voice.symbol(key) for key in finds]
    lines = [Line("equation", sum_equation(each, two_sided=first.two_sided)) for each in balances[: len(sums)]]
    lines += [Line("equation", law_equation(law, first.letters)) for law in laws]
    said: list[Sentence] = []
    desks = [*(desk for desk, _ in sums), *(first for _ in laws)]
    values = _solved(desks, balances, symbols, known)
    for symbol, value in zip(symbols, values, strict=False):
        desk, own = next(
            (desk, term.part) for (desk, _), balance in zip(sums, balances, strict=False)
            for term in balance.terms if term.symbol == symbol
        )  # fmt: skip
        unit = desk.unit(desk.parts[own])
        first.values[symbol] = known[symbol] = Known(value, unit)
        shown = Number(value, digits(value, first.display.figures), unit)
        lines.append(Line("value", Equation(symbol, shown), underlined=True))
        if not first.options.symbols_only:
            said.append(of_value(desk.voice, desk.parts[own], value))
    fact = Fact("several", {"keys": tuple(finds)})
    count = counted(len(finds), "equation", "equations")
    why = first.voice.say(
        "Every sum of a body or group with one of ", *first.voice.symbols(finds), f" in it has another in it. {count}, "
        f"{counted(len(finds), 'unknown', 'unknowns').lower()}: solve them together.", fact=fact,
    )  # fmt: skip
    taken = [title_of(desk, each, headed(desk.voice.body_name())) for desk, each in sums]
    taken += [first.voice.say("Friction at its most: ", first.letters.force(law.force)) for law in laws]
    return Step(
        "several", first.voice.say("Together"), (why, *taken), lines=tuple(lines), remarks=tuple(said),
        finds=tuple(finds), known=known,
    )  # fmt: skip


def _solved(
    desks: Sequence[Desk], balances: Sequence[Balance], symbols: Sequence[Symbol],
    known: Mapping[Symbol, Known],
) -> list[float]:  # fmt: skip
    """The values that close all the sums, in display units; empty while some other size is a letter."""
    columns = [[0.0] * len(balances) for _ in symbols]
    rest = [0.0] * len(balances)
    scale = 0.0
    for row, (desk, balance) in enumerate(zip(desks, balances, strict=True)):
        for term in balance.terms:
            share = term.share * desk.length_factor(balance, term.part)
            if term.symbol in symbols:
                columns[symbols.index(term.symbol)][row] += share
            elif term.symbol in known:
                worth = desk.worth(balance, term, known)
                size = math.copysign(worth, term.share * known[term.symbol].value)
                rest[row] -= size
                scale = max(scale, worth)
            else:
                return []
    factors = linear.factor(columns, len(balances))
    values, _ = linear.solve(factors, rest)
    return [0.0 if abs(value) <= NOTHING * scale else value for value in values]
