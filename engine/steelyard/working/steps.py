"""The working: isolate, one equation and one unknown at a time, a check, an answer in a sentence."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..model import Sketch
from ..statics.advice import candidates, ends_of
from ..statics.reading import Analysis
from ..statics.signs import settle
from . import answering, friction, isolating, limits, replacing
from .desk import Desk, Options
from .one_equation import single, together
from .planner import Plan, plan
from .record import Step, Working
from .systems_steps import joined_steps


def work(sketch: Sketch, analysis: Analysis, *, options: Options | None = None) -> Working:
    """The worked solution of one body, whatever its supports can do.

    Needs no solved value: the numbers come from the equations it writes.
    """
    chosen = options or Options()
    steps = tuple(each_step(sketch, analysis, chosen))
    return Working(analysis.body, steps, sketch.settings.decimal_comma, chosen.symbols_only)


def each_step(sketch: Sketch, analysis: Analysis, options: Options) -> Iterator[Step]:
    """The steps one after the other; each is worked out only when it is asked for."""
    for step in _steps(Desk(sketch, analysis, options)):
        if not options.symbols_only:
            yield step
        elif step.kind != "check":
            yield without_numbers(step)


def _steps(desk: Desk) -> Iterator[Step]:
    yield isolating.isolate(desk.voice, numbers=not desk.options.symbols_only)
    yield from replacing.replaced(desk)
    sketch, analysis = desk.voice.sketch, desk.analysis
    if analysis.whole is not None and analysis.supports.kind != "none":
        yield from joined_steps(desk)
        return
    yield from friction.impending(desk)
    kind = analysis.supports.kind
    unknown = any(part.unknown for part in desk.parts.values())
    if kind == "none" or not unknown:
        yield from limits.sums_only(desk)
        return
    # With a contact about to slip the sums may find everything and leave its law to be seen.
    if kind == "mechanism" and not desk.laws:
        yield from limits.free_to_move(desk)
        if not analysis.supports.balanced_as_it_stands:
            return
    extra = ends_of(sketch, analysis)
    letters_only = desk.options.symbols_only or any(
        not part.unknown and part.size is None for part in desk.parts.values()
    )
    tries = candidates(analysis, extra)
    if letters_only:
        desk.settled, desk.reasons = settle(tries, desk.parts, analysis.lever_m)
    made = plan(
        analysis,
        first_pivot=desk.options.first_pivot,
        order=desk.options.order,
        extra=extra,
        settled=desk.settled if letters_only else None,
        options=tries,
        laws=desk.laws,
    )
    yield from chain(desk, made)
    yield from friction.needed(desk, made)
    if made.unfound:
        yield limits.too_many(desk, made)
        yield from limits.relations(desk, made)
    elif made.check is not None and (step := answering.check(desk, made.check)) is not None:
        yield step
    yield answering.answer(desk, made)


def without_numbers(step: Step) -> Step:
    """The step with its numeric lines, and what was said about numbers, left out."""
    kept = tuple(line for line in step.lines if line.kind in ("given", "equation", "solved", "sum"))
    numeric = ("sign", "direction", "sum", "answer", "free", "impossible", "range")
    said = tuple(each for each in step.remarks if each.fact is None or each.fact.kind not in numeric)
    return replace(step, lines=kept, remarks=said)


def chain(desk: Desk, made: Plan) -> Iterator[Step]:
    """The equations of a plan, and the whole forces their parts make up."""
    found: set[str] = set()
    for move in made.moves:
        if move.law is not None:
            yield friction.at_its_most(desk, move.law, move.finds[0])
        else:
            yield together(desk, move) if move.partner is not None else single(desk, move)
        found.update(move.finds)
    yield from answering.combined(desk, found)
