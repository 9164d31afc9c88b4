"""The engine with other answers: what a reply must not depend on while answers are kept back."""

from __future__ import annotations

from dataclasses import replace

import pytest
from steelyard.statics import equilibrium
from steelyard.statics.system import Answer, System


def give_other_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here on every solved value is another one, and other supports cannot do their part."""
    solve = equilibrium.answer

    def other(system: System) -> Answer:
        solved = solve(system)
        values = tuple(None if value is None else 1.7 - 3.1 * value for value in solved.values)
        wrong_way = () if solved.wrong_way else tuple(range(len(system.columns)))[:1]
        return replace(solved, values=values, wrong_way=wrong_way)

    monkeypatch.setattr(equilibrium, "answer", other)
