"""The two verdicts, decided and said: do these forces balance, and what can the supports do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .. import linear
from ..model import Sketch
from ..program import ROUNDING_TOLERANCE
from ..units import write_exact
from . import failing, figures, giving_way, layout, pivot
from .conditions import program_of, scale, unknowns_of
from .giving_way import listed, number_word
from .reading import ActingForce, BalanceVerdict, ForceReading, Lack, Resultant, SupportsKind, SupportsVerdict, Way
from .system import Answer, System


def cannot(sketch: Sketch, force: ActingForce, part: str = "size") -> str:
    """Why a one-way force cannot act backwards, friction be so large, or a normal act beyond its face."""
    if part == "place":
        return f"{force.symbol} cannot act beyond its face"
    if force.type == "friction":
        share = write_exact(force.mu or 0.0, "number", sketch.settings)
        return f"friction ({force.symbol}) cannot be more than {share} of the normal force"
    if force.type == "tension":
        return "a rope cannot push"
    kind = next((support.kind for support in sketch.supports if support.id == force.entity), "")
    if kind == "contact":
        return "a contact cannot pull"
    return "a one-way roller cannot pull" if kind == "roller" else f"{force.symbol} can only act as drawn"


def balance(
    sketch: Sketch,
    readings: Sequence[ForceReading],
    answers: Answer,
    system: System,
    left_over: tuple[float, float, float] | None,
    residual: Resultant | None,
    force_scale_n: float,
    letters_beside: Sequence[str] = (),
) -> BalanceVerdict:
    """Do these forces balance, unknowns at their guesses, else at their answers?

    `left_over` is the sum (ΣFx, ΣFy, Στ) about the system's centre: zero there is zero about every
    point, so the verdict does not depend on the pivot; `residual` is the same about the pivot. `letters_beside` are
    known forces without a number on joined bodies.
    """
    if left_over is not None and residual is not None:
        limit = ROUNDING_TOLERANCE * force_scale_n
        limits = (limit, limit, limit * system.lever_m)
        if _within(left_over, limits):
            return BalanceVerdict("balanced", "Balanced.")
        rounding = figures.bound(sketch, tuple(reading.force for reading in readings), system)
        if _within(left_over, tuple(map(sum, zip(limits, rounding, strict=True)))):
            return BalanceVerdict("to-the-figures", "Balanced to the figures given: what is left over is rounding.")
        return BalanceVerdict("unbalanced", f"Not balanced: {_too_much(sketch, residual, limits)}.")
    if (answers.wrong_way or answers.beyond) and not any(_guessed(reading.force) for reading in readings):
        reasons = dict.fromkeys(reading.cannot for reading in readings if reading.cannot)
        return BalanceVerdict("unbalanced", f"Not balanced: {listed(list(reasons))}.")
    if answers.consistent is False:
        return BalanceVerdict("unbalanced", "Not balanced: no sizes of the unknown forces can close the sums.")
    letters = [*(reading.force.symbol for reading in readings if _letter(reading)), *letters_beside]
    if letters:
        return BalanceVerdict("open", f"Open: it depends on {listed(list(dict.fromkeys(letters)))}.")
    if any(_guessed(reading.force) for reading in readings):
        return BalanceVerdict("open", "Open: it depends on forces that statics cannot tell.")
    return BalanceVerdict("balanced", "Balanced, in more than one way.")


def _within(values: Sequence[float], limits: Sequence[float]) -> bool:
    return all(abs(value) <= limit for value, limit in zip(values, limits, strict=True))


def _guessed(force: ActingForce) -> bool:
    return force.guess is not None or force.guess_couple_n_m is not None


def _letter(reading: ForceReading) -> bool:
    return reading.force.role == "known" and reading.vector is None and reading.couple_n_m is None


def _too_much(sketch: Sketch, residual: Resultant, limits: Sequence[float]) -> str:
    settings = sketch.settings
    ways = []
    if abs(residual.fx_n) > limits[0]:
        ways.append("to the right" if residual.fx_n > 0.0 else "to the left")
    if abs(residual.fy_n) > limits[1]:
        page = " the page" if settings.seen_from == "above" else "wards"
        ways.append(f"{'up' if residual.fy_n > 0.0 else 'down'}{page}")
    parts = [f"too much {listed(ways)}"] if ways else []
    if abs(residual.torque_n_m) > limits[2]:
        sense = settings.counterclockwise_word if residual.torque_n_m > 0.0 else "clockwise"
        about = f" about {pivot.name_of(sketch)}" if ways else ""
        parts.append(f"too much {sense} {settings.turning_word}{about}")
    # Forces within rounding whose torque about a far centre is not: nothing is left but a turning.
    return listed(parts) if parts else f"a {settings.turning_word} is left over"


def supports(sketch: Sketch, readings: Sequence[ForceReading], answers: Answer, system: System) -> SupportsVerdict:
    """What can the supports do, from the rank of the unknowns' lines and from what acts one way only.

    A mechanism outranks the rest. `degree` counts the ways it can move, else the unknowns too many.
    """
    count, rank = len(system.columns), answers.factors.rank
    if not count:
        return SupportsVerdict(
            "none", 0, "No unknown forces: the drawn ones balance or they do not.", "", "", (), (), (), False
        )
    failing_ids = tuple(reading.force.id for reading in readings if reading.cannot)
    still = tuple(
        reading.force.id for reading in readings if reading.force.role == "unknown" and reading.fixed
    ) if count > rank else ()  # fmt: skip
    forces = {reading.force.id: reading.force for reading in readings}
    lacks, ways = _failures(tuple(forces.values()), answers, system) if failing_ids else ((), ())
    why = _why_not(sketch, readings, lacks, forces) if failing_ids else ""
    how = giving_way.nothing_keeps(ways, forces, sketch.settings)
    how = f" {how}" if how else ""
    limit = _at_limit(readings, answers, system)
    by_hand = giving_way.about_to(readings, sketch.settings)
    if rank < 3:
        motions = linear.left_null_space(answers.factors)
        reason = layout.free_reason(sketch, motions, system)
        stands = answers.consistent is True and not failing_ids
        stuck = f" And no balance as it stands: {why}.{how}" if why else _as_it_stands(answers)
        if by_hand and count == rank:
            sentence = giving_way.some_loads(by_hand, count, answers, stuck)
        else:
            sentence = f"{mechanism_sentence(3 - rank, reason)}{stuck}{too_many_sentence(count - rank)}"
        free = tuple(layout.about_origin(motion, system) for motion in motions)
        return SupportsVerdict(
            "mechanism", 3 - rank, sentence, reason, "", still, failing_ids, free, stands, lacks, ways, limit
        )
    reason = layout.holding_reason(system)
    near = layout.near(answers.factors)
    degree = count - 3
    kind: SupportsKind = "indeterminate" if degree else "determinate"
    if failing_ids:
        sentence = f"No balance {f'with {by_hand}' if by_hand else 'like this'}: {why}.{how}"
        return SupportsVerdict(
            "impossible", degree, sentence, reason, near, still, failing_ids, (), False, lacks, ways, by_hand=by_hand
        )
    stands = answers.consistent is True
    sentence = rank_sentence(degree, reason, near, readings, by_hand) + giving_way.just_holds(readings, limit)
    return SupportsVerdict(kind, degree, sentence, reason, near, still, (), (), stands, at_limit=limit, by_hand=by_hand)


def _failures(
    acting: Sequence[ActingForce], answers: Answer, system: System
) -> tuple[tuple[Lack, ...], tuple[Way, ...]]:
    """What the supports lack, and the ways in which they fail."""
    unknowns = unknowns_of(acting, system)
    values: Sequence[float | None] = answers.values
    proof = None
    if not system.letters:
        outcome = program_of(system).outcome
        proof = outcome.motion
        if None in values:
            values = outcome.values
    found = () if system.letters else failing.ways(unknowns, proof)
    ways = tuple(way._replace(motion=layout.about_origin(way.motion, system)) for way in found)
    return failing.lacks(unknowns, values, answers.wrong_way, answers.beyond), ways


def _why_not(
    sketch: Sketch, readings: Sequence[ForceReading], lacks: Sequence[Lack], forces: Mapping[str, ActingForce]
) -> str:
    """What a balance would need of the supports that fail."""
    said = {lack.force: giving_way.lacking(lack, forces[lack.force], sketch.settings) for lack in lacks}
    return listed(
        [said.get(each.force.id) or would_have_to(each.force, each.cannot) for each in readings if each.cannot]
    )


def _at_limit(readings: Sequence[ForceReading], answers: Answer, system: System) -> tuple[str, ...]:
    """The forces whose friction, or whose place on a face, is at its very end, within rounding."""
    if not system.bounds:
        return ()
    near = ROUNDING_TOLERANCE * scale(system, [value for value in answers.values if value is not None])
    found = []
    for column, normal, factor in system.bounds:
        value, pressed = answers.values[column], answers.values[normal]
        if value is None or pressed is None or not factor or pressed <= near:
            continue
        if abs(abs(value) - factor * pressed) <= near * max(1.0, factor):
            found.append(readings[system.owners[column][0]].force.id)
    return tuple(found)


def rank_sentence(degree: int, reason: str, near: str, readings: Sequence[ForceReading], by_hand: str = "") -> str:
    """What the supports can do, told from the layout of the unknowns alone."""
    count = f"With {by_hand}, {number_word(degree + 3)}" if by_hand else number_word(degree + 3).capitalize()
    if degree and _one_answer(readings):
        sentence = (
            f"{count} unknowns, three equations: more than statics can tell (statically indeterminate, degree "
            f"{degree}), but only one answer asks of every support no more than it can do."
        )
    elif degree:
        sentence = (
            f"{count} unknowns, three equations: more than statics can tell "
            f"(statically indeterminate, degree {degree}).{_still(readings)}"
        )
    else:
        sentence = f"{count} unknowns, three equations: each has one answer (statically determinate): {reason}."
    return f"{sentence} Take care: {near}, so small changes make large reactions." if near else sentence


def _one_answer(readings: Sequence[ForceReading]) -> bool:
    """Whether only what supports can do leaves one answer where the equations leave many."""
    return any(any(reading.squeezed) for reading in readings) and all(
        reading.fixed for reading in readings if reading.force.role == "unknown"
    )


def mechanism_sentence(ways: int, reason: str) -> str:
    """That it can move, and how."""
    return f"Free to move in {number_word(ways)} way{'s' * (ways > 1)} (a mechanism): {reason}."


def too_many_sentence(excess: int) -> str:
    """That a mechanism has, besides, unknowns which statics cannot tell apart; empty when it has none."""
    if not excess:
        return ""
    return f" Also {number_word(excess)} unknown{'s' * (excess > 1)} too many for statics (indeterminate)."


def unknown_count(readings: Sequence[ForceReading]) -> int:
    """How many numbers are to be found: two for a size and direction, else one for each unknown."""
    sought = [
        reading.force.sought
        for reading in readings
        if reading.force.role == "unknown"
        and reading.force.mu != 0.0
        and reading.force.about_to not in ("lift", "slack")
        and not (reading.force.type == "friction" and reading.force.about_to.startswith("slip"))
    ]
    return len(sought) + sought.count("size and direction") + sought.count("size and place")


def _as_it_stands(answers: Answer) -> str:
    if answers.consistent is None:
        return ""
    return " Balanced as it stands." if answers.consistent else " The loads set it moving."


def would_have_to(force: ActingForce, reason: str) -> str:
    """What a force that cannot would have to do for a balance; `reason` is why it cannot."""
    if force.type == "tension":
        return f"the rope ({force.symbol}) would have to push"
    if reason.endswith("face"):
        return f"{force.symbol} would have to act beyond its face"
    if force.type == "friction":
        return f"{force.symbol} would have to be more than its normal force allows"
    if force.type == "normal":
        return f"the support ({force.symbol}) would have to pull"
    return f"{force.symbol} would have to act against its drawn direction"


def _still(readings: Sequence[ForceReading]) -> str:
    names = []
    for reading in readings:
        force = reading.force
        if force.role != "unknown":
            continue
        if reading.fixed:
            names.append(force.symbol)
        elif force.sought == "size and direction":
            names += [
                f"the {axis} part of {force.symbol}"
                for axis, fixed in zip("xy", reading.component_fixed, strict=True)
                if fixed
            ]
    return f" Still fixed: {listed(names)}." if names else ""
