"""Solving balances for an unknown, in symbols: one equation for one unknown, or two for two."""

from __future__ import annotations

from .expression import ONE, ZERO, Expression, Negation, Quotient, Symbol, product, total
from .terms import Balance

Signed = tuple[tuple[int, Expression], ...]


def solved_for(balance: Balance, key: str) -> Expression:
    """The unknown of a balance, from the other terms; KeyError when it has no term."""
    own: Signed = tuple((term.sign, term.factor) for term in balance.terms if term.part == key)
    others: Signed = tuple((term.sign, term.written) for term in balance.terms if term.part != key)
    if not own:
        raise KeyError(key)
    return _divided(_turned(others), own)


def pair_solved_for(first: Balance, second: Balance, key: str, other: str) -> Expression:
    """One of two unknowns that two balances share, by Cramer's rule.

    a·u + b·v = c in both: u = (c₁b₂ − c₂b₁)/(a₁b₂ − a₂b₁).
    """
    a1, b1, c1 = _columns(first, key, other)
    a2, b2, c2 = _columns(second, key, other)
    above = _product(c1, b2) + _turned(_product(c2, b1))
    below = _product(a1, b2) + _turned(_product(a2, b1))
    return _divided(above, below)


def _columns(balance: Balance, key: str, other: str) -> tuple[Signed, Signed, Signed]:
    factors: dict[str, Signed] = {
        wanted: tuple((term.sign, term.factor) for term in balance.terms if term.part == wanted)
        for wanted in (key, other)
    }
    rest: Signed = tuple((-term.sign, term.written) for term in balance.terms if term.part not in (key, other))
    return factors[key], factors[other], rest


def _turned(signed: Signed) -> Signed:
    return tuple((-sign, term) for sign, term in signed)


def _product(first: Signed, second: Signed) -> Signed:
    return tuple((one * two, product(left, right)) for one, left in first for two, right in second)


def _divided(above: Signed, below: Signed) -> Expression:
    """A quotient without needless minus signs: the denominator starts positive, a common minus stands in front."""
    if not above:
        return ZERO
    if below[0][0] < 0:
        above, below = _turned(above), _turned(below)
    if all(sign < 0 for sign, _ in above):
        return Negation(_over(_turned(above), below))
    return _over(above, below)


def _over(above: Signed, below: Signed) -> Expression:
    numerator, denominator = total(above), total(below)
    return numerator if denominator == ONE else Quotient(numerator, denominator)


def symbols_of(balance: Balance) -> tuple[Symbol, ...]:
    """The symbols of the forces in a balance, each once."""
    return tuple(dict.fromkeys(term.symbol for term in balance.terms))
