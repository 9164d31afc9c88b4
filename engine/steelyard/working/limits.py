"""Workings where statics cannot give every unknown: nothing unknown, free to move, too many supports."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..geometry import Point, Vector, scale
from ..statics import advice as advising
from ..statics.advice import Advice
from .desk import Desk, title_of
from .expression import Number
from .phrases import Piece, Voice, counted
from .planner import Plan
from .ranges import Range, ranges
from .record import Fact, Line, Sentence, Step
from .remarks import way
from .sums import sum_step
from .terms import sum_equation

# Of a motion scaled to unit size: less turning than this per lever is a slide.
_NO_TURN = 1e-9
_SAME_POINT = 1e-6


def sums_only(desk: Desk) -> list[Step]:
    """Nothing is unknown: the three sums say whether these forces balance."""
    analysis = desk.analysis
    steps = []
    wanted = (advising.along(analysis, analysis.x_axis), advising.along(analysis, analysis.y_axis),
              advising.about(analysis, analysis.pivot))  # fmt: skip
    for each in wanted:
        steps.append(sum_step(desk, desk.balance(each), "check", title_of(desk, each)))
    return [*steps, _whether_balanced(desk, steps)]


def _whether_balanced(desk: Desk, steps: Sequence[Step]) -> Step:
    """What the three sums together say of the forces."""
    values = [line.equation.right.value for step in steps for line in step.lines
              if line.kind == "value" and isinstance(line.equation.right, Number)]  # fmt: skip
    closed = len(values) == len(steps) and not any(values)
    fact = Fact("balanced", {"closed": closed, "whole": len(values) == len(steps)})
    if len(values) < len(steps):
        said = "They balance only if all three sums are zero."
    else:
        said = "All three sums are zero: these forces balance." if closed else "These forces do not balance."
    return Step("answer", desk.voice.say("Answer"), remarks=(desk.voice.say(said, fact=fact),))


def free_to_move(desk: Desk) -> list[Step]:
    """For each way the body can move, the sum no support has a part in: only it decides whether it stays."""
    steps = []
    for motion in desk.analysis.supports.free_motion:
        each = idle_sum(desk, motion)
        balance = desk.balance(each)
        fact = Fact("no-unknown", {"point": each.point, "axis": each.along})
        why = desk.voice.say("No support has a part in this sum, so no reaction can change it.", fact=fact)
        step = sum_step(desk, balance, "limit", title_of(desk, each), (why,))
        value = next((line.equation.right for line in step.lines if line.kind == "value"), None)
        said = _moves(desk, each, None if value is None else getattr(value, "value", None), motion)
        steps.append(
            Step(step.kind, step.title, step.why, step.sense, step.lines, (said,), step.point, step.axis, (), (),
                 step.known)
        )  # fmt: skip
    return steps


def idle_sum(desk: Desk, motion: tuple[float, float, float]) -> Advice:
    """The balance a free motion belongs to: torques about its still point, or forces along a slide."""
    vx, vy, omega = motion
    lever = max(desk.analysis.lever_m, 1e-300)
    if abs(omega) * lever > _NO_TURN * math.hypot(vx, vy, omega * lever):
        return _about_still_point(desk, (-vy / omega + 0.0, vx / omega + 0.0))
    size = math.hypot(vx, vy)
    axis: Vector = advising.rightwards((vx / size, vy / size))
    return advising.along(desk.analysis, axis)


def _about_still_point(desk: Desk, point: Point) -> Advice:
    """Torques about the still point: the point of application or crossing that it is, to rounding, however far off."""
    lever = desk.analysis.lever_m
    home = desk.analysis.readings[0].force.point if desk.analysis.readings else (0.0, 0.0)
    # Where lines nearly parallel cross is known to fewer digits the farther off it is.
    nothing = _SAME_POINT * max(lever, math.dist(point, home))
    for each in advising.candidates(desk.analysis, reach=advising.ANY_REACH):
        if each.point is not None and math.dist(each.point, point) <= nothing:
            return each
    return advising.about(desk.analysis, point)


def _moves(desk: Desk, each: Advice, value: float | None, motion: tuple[float, float, float]) -> Sentence:
    voice = desk.voice
    body = desk.voice.sketch.body(desk.analysis.body)
    name = body.name or "body"
    data = {"point": each.point, "axis": each.along, "value": value, "motion": motion}
    fact = Fact("free", data)
    if value is None:
        return voice.say(f"Unless this sum is zero, the {name} cannot stay at rest.", fact=fact)
    if value == 0.0 and desk.analysis.supports.balanced_as_it_stands:
        return voice.say(
            f"Nothing drives this motion: the {name} stays as it stands, but nothing holds it there.", fact=fact
        )
    if value == 0.0:
        return voice.say("Nothing drives this motion, and nothing holds it back.", fact=fact)
    if each.point is not None:
        positive = 1 if desk.writer.counterclockwise_positive else -1
        sense = voice.turn(positive if value > 0.0 else -positive)
        return voice.say(f"It is not zero, so the {name} cannot stay at rest: it is turned {sense}.", fact=fact)
    assert each.along is not None
    pushed = voice.direction(scale(each.along, value))
    return voice.say(f"It is not zero, so the {name} cannot stay at rest: it is pushed {pushed}.", fact=fact)


def too_many(desk: Desk, made: Plan) -> Step:
    """More unknowns than equations: the equation with fewest of the rest, and why it ends there."""
    voice = desk.voice
    options = advising.candidates(desk.analysis, reach=advising.ANY_REACH)
    touching = [each for each in options if set(each.left) & set(made.unfound)]
    touching.sort(key=lambda each: (len(set(each.left) & set(made.unfound)), each.point is None))
    least = touching[0]
    balance = desk.balance(least)
    left = tuple(key for key in least.left if key in made.unfound)
    degree = desk.analysis.supports.degree
    equations = len(made.unfound) - degree
    fact = Fact("too-many", {"unfound": made.unfound, "degree": degree, "left": left, "point": least.point,
                             "axis": least.along})  # fmt: skip
    why = voice.say(
        f"{counted(len(made.unfound), 'unknown is', 'unknowns are')} left, ", *voice.symbols(made.unfound),
        f", and {counted(equations, 'independent equation', 'independent equations').lower()}. "
        f"No {voice.settings.pivot_word} and no axis leaves fewer than ", *voice.symbols(left), ":", fact=fact,
    )  # fmt: skip
    remark = undetermined(voice, degree)
    equation = Line("equation", sum_equation(balance, two_sided=desk.two_sided))
    title = voice.say("What cannot be found: ", *title_pieces(desk, least))
    said = (remark, *ranges_said(desk, ranges(desk.analysis, tuple(desk.parts.values()))))
    return Step("limit", title, (why,), desk.sense(balance), (equation,), said, balance.point, balance.axis,
                (), (), desk.known(balance))  # fmt: skip


def relations(desk: Desk, made: Plan) -> list[Step]:
    """Where friction or a face leaves more unknowns than sums: what the other sums say, though none finds one."""
    rough = any(reading.force.mu is not None or reading.force.face is not None for reading in desk.analysis.readings)
    if not rough:
        return []
    analysis, voice = desk.analysis, desk.voice
    open_keys = set(made.unfound)
    used = [move.advice for move in made.moves]
    steps = []
    for each in (advising.along(analysis, analysis.x_axis), advising.along(analysis, analysis.y_axis)):
        left = [key for key in each.left if key in open_keys]
        if len(left) < 2 or each in used:
            continue
        balance = desk.balance(each)
        names = voice.symbols(left)
        fact = Fact("left", {"keys": each.left, "point": None, "axis": each.along})
        why = voice.say("This sum ties ", *names, " together: whatever one of them is, it gives the other"
                        f"{'s' * (len(left) > 2)}.", fact=fact)  # fmt: skip
        line = Line("equation", sum_equation(balance, two_sided=desk.two_sided))
        steps.append(Step("limit", title_of(desk, each), (why,), desk.sense(balance), (line,), (), None, each.along,
                          (), (), desk.known(balance)))  # fmt: skip
    return steps


def undetermined(voice: Voice, degree: int) -> Sentence:
    """Why statics ends here."""
    return voice.say(
        "Statics alone cannot say how they share it (statically indeterminate): that depends on how the body and its "
        "supports give.", fact=Fact("degree", {"degree": degree}),
    )  # fmt: skip


def ranges_said(desk: Desk, found: Sequence[Range]) -> list[Sentence]:
    """How far what supports can do bounds what is not fixed."""
    voice = desk.voice
    bounded = [each for each in found if math.isfinite(each.least) or math.isfinite(each.most)]
    if not bounded or desk.options.symbols_only:
        return []
    one_way = [part.key for part in desk.parts.values() if part.unknown and part.one_way]
    said = [voice.say("What can only pull or push bounds the rest: ", *voice.symbols(one_way),
                      " cannot be less than zero.")] if one_way else []  # fmt: skip
    rough = [each.force.id for each in desk.analysis.readings if each.force.type == "friction" and each.force.mu]
    if rough:
        said.append(
            voice.say(
                "Friction bounds them too: ",
                *voice.symbols(rough),
                " cannot be more than μ times the normal force.",
                fact=Fact("rough", {"of": rough}),
            )
        )
    for each in bounded:
        pieces: list[Piece] = [voice.symbol(each.part)]
        if each.least == each.most:
            pieces += [" can only be ", *_end(desk, each.part, each.least)]
        elif math.isinf(each.most):
            pieces += [" is at least ", *_end(desk, each.part, each.least, alone=True)]
        elif math.isinf(each.least):
            pieces += [" is at most ", *_end(desk, each.part, each.most, alone=True)]
        else:
            pieces += [" can be anything from ", *_end(desk, each.part, each.least)]
            pieces += [" to ", *_end(desk, each.part, each.most)]
        fact = Fact("range", {"part": each.part, "least": each.least, "most": each.most})
        said.append(voice.say(*pieces, ".", fact=fact))
    return said


def _end(desk: Desk, key: str, value: float, *, alone: bool = False) -> list[Piece]:
    """One end of a range; of a force that can act both ways, with the way it acts there, or counts."""
    part = desk.parts[key]
    unit = desk.unit(part)
    if part.one_way or value == 0.0 or alone:
        counted = [] if part.one_way or not alone else [f", counted {way(desk.voice, part, 1)}"]
        return [desk.voice.amount(value * desk.display.factor(unit), unit), *counted]
    shown = desk.voice.amount(abs(value) * desk.display.factor(unit), unit)
    return [shown, f" {way(desk.voice, part, 1 if value > 0.0 else -1)}"]


def title_pieces(desk: Desk, each: Advice) -> list[Piece]:
    """ "torques about A" as pieces of a longer title."""
    if each.point is not None:
        return [f"{desk.voice.settings.turning_word}s about ", *desk.voice.where(each)]
    assert each.along is not None
    return ["forces along ", *desk.voice.axis_words(each.along, each)]
