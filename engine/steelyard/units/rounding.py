"""How a computed value is rounded for the eye: one rule for board, strips, table and working."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal
from functools import lru_cache

# Fourteen figures, so that noise such as 2.4999999999999996 does not decide which way a half goes.
_HONEST_FIGURES = 14
# While something is dragged most numbers stay as they are.
_REMEMBERED = 4096


@lru_cache(_REMEMBERED)
def significant(value: float, figures: int) -> Decimal:
    """A finite value to so many significant figures, halves away from zero as people round by hand.

    >>> significant(44145.0, 4), significant(-0.125, 2), significant(0.0, 3)
    (Decimal('4.415E+4'), Decimal('-0.13'), Decimal('0'))
    """
    exact = Decimal(f"{value:.{_HONEST_FIGURES}g}" if figures < _HONEST_FIGURES else repr(value))
    if exact == 0:
        return Decimal(0)
    return Context(prec=figures, rounding=ROUND_HALF_UP).plus(exact)
