"""The engine with other answers: what a reply must not depend on while answers are kept back."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from steelyard.statics import equilibrium
from steelyard.statics.system import Answer, System
from steelyard.statics.together import Together


def give_other_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here on every solved value is another one, and other supports cannot do their part."""
    solve, solve_joined = equilibrium.answer, equilibrium.together.solve

    def changed(solved: Answer, system: System) -> Answer:
        values = tuple(None if value is None else 1.7 - 3.1 * value for value in solved.values)
        wrong_way = () if solved.wrong_way else tuple(range(len(system.columns)))[:1]
        return replace(solved, values=values, wrong_way=wrong_way)

    def other(system: System) -> Answer:
        return changed(solve(system), system)

    def other_joined(*args: Any) -> Together:
        found = solve_joined(*args)
        solution = replace(found.solution, wrong_way=() if found.solution.wrong_way else (0,))
        return replace(found, answers=changed(found.answers, found.system), solution=solution)

    monkeypatch.setattr(equilibrium, "answer", other)
    monkeypatch.setattr(equilibrium.together, "solve", other_joined)
