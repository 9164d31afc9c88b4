"""A sum worked out term by term, for a check or where no unknown is left in it."""

from __future__ import annotations

import math

from ..statics.advice import is_along
from .desk import Desk
from .expression import Equation, Symbol, total
from .figures import Known, put_in
from .record import Fact, Line, Sentence, Step, StepKind
from .terms import Balance


def sum_symbol(desk: Desk, balance: Balance) -> Symbol:
    """Στ (or ΣM) with the name of the point, ΣF with the axis."""
    if balance.point is not None:
        letter = "τ" if desk.voice.settings.turning_word == "torque" else "M"
        return Symbol(f"Σ{letter}", desk.voice.point_name(balance.point))
    assert balance.axis is not None
    x, y = desk.analysis.x_axis, desk.analysis.y_axis
    named = "x" if is_along(balance.axis, x) else "y" if is_along(balance.axis, y) else "u"
    return Symbol("ΣF", named, italic_index=True)


def sum_step(desk: Desk, balance: Balance, kind: StepKind, title: Sentence, why: tuple[Sentence, ...] = ()) -> Step:
    """Σ = its terms = numbers = value, and what the value says. Letters without a number stop at the terms."""
    symbol = sum_symbol(desk, balance)
    written = total(tuple((term.sign, term.written) for term in balance.terms))
    lines = [Line("sum", Equation(symbol, written))]
    known = desk.known(balance)
    unit = desk.display.torque if balance.point is not None else desk.display.force
    remarks: tuple[Sentence, ...] = ()
    if all(term.symbol in known for term in balance.terms):
        scale = math.fsum(desk.worth(balance, term, known) for term in balance.terms)
        worked = put_in(written, known, unit, desk.display.figures, scale=scale)
        known[symbol] = Known(worked.result.value, unit)
        if worked.numbers != worked.result and balance.terms:
            lines.append(Line("numbers", Equation(None, worked.numbers)))
        lines.append(Line("value", Equation(symbol, worked.result), underlined=True))
        closed = worked.result.value == 0.0
        fact = Fact(
            "sum", {"point": balance.point, "axis": balance.axis, "value": worked.result.value, "closed": closed}
        )
        said = "It closes." if closed else "It does not close: this much is left over."
        remarks = (desk.voice.say(said, fact=fact),)
    return Step(
        kind, title, why, desk.sense(balance), tuple(lines), remarks, balance.point, balance.axis, (), (), known
    )
