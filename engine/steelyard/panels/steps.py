"""The steps of a working for the page, and in a preview only what changed of them since the page heard last.

While something is dragged a step mostly keeps its words and its letters, and only some of its numbers change.
"""

from __future__ import annotations

from typing import NamedTuple

from ..working.data import Data, line_data, sentence_data, step_data
from ..working.expression import Equation, Expression, Function, Number, Sum, parts, sides
from ..working.figures import local
from ..working.record import Line, Sentence, Step

# Stands for a step or a line that is as it was.
SAME = 0


class PanelStep(NamedTuple):
    """A step, and the thing of the board whose point its torques are taken about ("" for none)."""

    step: Step
    of: str


class PanelSteps(NamedTuple):
    """The revealed steps and how they are written: with a decimal comma, in rows no wider than this."""

    steps: tuple[PanelStep, ...]
    comma: bool
    width_px: float

    def whole(self) -> list[Data]:
        """Every step in full."""
        return [self._whole(each) for each in self.steps]

    def since(self, held: PanelSteps | None) -> list[Data | int]:
        """Each step as the change from the one the page holds at its place: 0, or what changed of it.

        Of a step's lines each is 0, a list of the digits of its numbers in reading order, or a whole line.
        """
        if held is None or (held.comma, held.width_px) != (self.comma, self.width_px):
            return [*self.whole()]
        written: list[Data | int] = []
        for place, new in enumerate(self.steps):
            old = held.steps[place] if place < len(held.steps) else None
            if old is None or old.step.kind != new.step.kind or old.step.title != new.step.title:
                written.append(self._whole(new))
            else:
                written.append(self._change(old, new) or SAME)
        return written

    def _whole(self, each: PanelStep) -> Data:
        return {**step_data(each.step, comma=self.comma, width_px=self.width_px), "of": each.of}

    def _change(self, old: PanelStep, new: PanelStep) -> Data:
        before, after = old.step, new.step
        change: Data = {}
        if before.lines != after.lines:
            change["lines"] = self._lines(before.lines, after.lines)
        if before.why != after.why:
            change["why"] = _said(after.why)
        if before.remarks != after.remarks:
            change["remarks"] = _said(after.remarks)
        if (before.contacts, before.sense, before.point is None, old.of) != (
            after.contacts, after.sense, after.point is None, new.of,
        ):  # fmt: skip
            return self._whole(new)
        return change

    def _lines(self, before: tuple[Line, ...], after: tuple[Line, ...]) -> list[object]:
        written: list[object] = []
        for place, new in enumerate(after):
            old = before[place] if place < len(before) else None
            if old is not None and old == new:
                written.append(SAME)
                continue
            digits = None if old is None or old.underlined != new.underlined else _digits(old.equation, new.equation)
            if digits is not None:
                written.append([local(text, comma=self.comma) for text in digits])
            else:
                written.append(line_data(new, comma=self.comma, width_px=self.width_px))
        return written


def _said(sentences: tuple[Sentence, ...]) -> list[list[Data]]:
    return [sentence_data(each) for each in sentences]


def _digits(old: Equation, new: Equation) -> list[str] | None:
    """The digits of every number of the new equation, where nothing but digits differs; else None.

    As many characters in each number, and a minus in the same ones, keep rows and brackets as they are.
    """
    found: list[str] = []
    before, after = sides(old), sides(new)
    if len(before) != len(after):
        return None
    for left, right in zip(before, after, strict=True):
        if not _alike(left, right, found):
            return None
    return found


def _alike(old: Expression, new: Expression, found: list[str]) -> bool:
    if type(old) is not type(new):
        return False
    if isinstance(new, Number):
        assert isinstance(old, Number)
        found.append(new.text)
        same = len(old.text) == len(new.text) and old.text.startswith("-") == new.text.startswith("-")
        return same and old.unit == new.unit and old.of == new.of
    inside, wanted = parts(old), parts(new)
    if not wanted:
        return old == new
    if len(inside) != len(wanted) or _signs(old) != _signs(new):
        return False
    return all(_alike(left, right, found) for left, right in zip(inside, wanted, strict=True))


def _signs(expression: Expression) -> object:
    """What an expression says besides its parts: the signs of a sum, the name of a function."""
    if isinstance(expression, Sum):
        return [sign for sign, _ in expression.terms]
    return expression.name if isinstance(expression, Function) else None
