"""An analysis with its answers kept back: only what a reader can see on the diagram is left."""

from __future__ import annotations

from collections.abc import Collection, Sequence, Set
from dataclasses import replace

from . import holding, moments, verdict
from .reading import (
    ActingForce,
    Analysis,
    BalanceVerdict,
    ForceReading,
    SupportsKind,
    SupportsVerdict,
    Turning,
    WholeVerdict,
)

ASKED = BalanceVerdict("open", "Open: the unknown forces are still to be found.")


NOTHING_FOUND: frozenset[str] = frozenset()


def kept_back(analysis: Analysis, found: Set[str] = NOTHING_FOUND) -> Analysis:
    """The analysis without any value, direction or verdict that gives an unknown away.

    Left are the known forces, the guesses, the geometry of known lines, what the layout of the supports
    alone tells, and the residual once every unknown has a guess or has been found. `found` are the parts a
    reader has found already: the force's id, with ".x" or ".y" for a component.
    """
    unknown = [reading.force for reading in analysis.readings if reading.force.role == "unknown"]
    if not unknown:
        return analysis
    guessed = all(
        force.guess is not None or force.guess_couple_n_m is not None or _is_found(force, found) for force in unknown
    )
    readings = tuple(_kept_reading(reading, analysis, found) for reading in analysis.readings)
    # A reader who has found what some support cannot do knows that there is no balance.
    known_bad = any(each.cannot for each in readings)
    force_scale_n, torque_scale_n_m = moments.scales(readings, analysis.lever_m)
    return replace(
        analysis,
        readings=readings,
        residual=analysis.residual if guessed else None,
        balance=analysis.balance if guessed else ASKED,
        supports=analysis.supports if known_bad else _kept_supports(analysis, readings),
        whole=analysis.whole if known_bad or analysis.whole is None else _kept_whole(analysis.whole),
        force_scale_n=force_scale_n,
        torque_scale_n_m=torque_scale_n_m,
    )


def parts_of(force: ActingForce) -> tuple[str, ...]:
    """The parts of an unknown force that are found one by one."""
    if force.sought == "size and direction":
        return (f"{force.id}.x", f"{force.id}.y")
    return (force.id, f"{force.id}.place") if force.sought == "size and place" else (force.id,)


def told_parts(analysis: Analysis, told: Collection[str]) -> frozenset[str]:
    """The parts of forces whose answers are shown; with them what some support cannot do, where there is no balance."""
    forces = [reading.force for reading in analysis.readings if reading.force.role == "unknown"]
    asked = [force for force in forces if force.id in told]
    if asked and analysis.supports.kind == "impossible":
        asked += [force for force in forces if force.id in analysis.supports.failing]
    return frozenset(part for force in asked for part in parts_of(force))


def _is_found(force: ActingForce, found: Set[str]) -> bool:
    return all(part in found for part in parts_of(force))


def _kept_reading(reading: ForceReading, analysis: Analysis, found: Set[str]) -> ForceReading:
    force = reading.force
    if force.role == "known":
        return reading
    if _is_found(force, found):
        # Friction on a face is drawn where its normal acts, once that is found.
        hidden = force.face is not None and force.normal and f"{force.normal}.place" not in found
        return reading._replace(force=holding.unplaced(force)) if hidden else reading
    x_found, y_found = f"{force.id}.x" in found, f"{force.id}.y" in found
    against_x, against_y = reading.against_components
    x, y = reading.components_n
    x_sense, y_sense = reading.senses
    x_fixed, y_fixed = reading.component_fixed
    force = holding.unplaced(force)
    return reading._replace(
        force=force,
        senses=(x_sense if x_found else 0, y_sense if y_found else 0),
        vector=None,
        couple_n_m=None,
        size_n=None,
        direction_deg=None,
        against_drawn=False,
        against_components=(against_x and x_found, against_y and y_found),
        turning=_kept_turning(force, analysis),
        cannot="",
        components_n=(x if x_found else None, y if y_found else None),
        # That it has one value only because it is at its limit would be an answer.
        fixed=reading.fixed and not any(reading.squeezed),
        component_fixed=(x_fixed and not reading.squeezed[0], y_fixed and not reading.squeezed[1]),
        squeezed=(False, False),
    )


def _kept_turning(force: ActingForce, analysis: Analysis) -> Turning:
    """From the drawing alone: a known line has foot and arm, a one-way force a certain sense."""
    if force.sought == "couple":
        return moments.of_couple(None)
    if force.sought == "size and place":
        return moments.NOT_KNOWN
    if force.sought == "size" and force.along is not None:
        return moments.of_force(analysis.pivot, force.point, force.along, None, force.one_way, analysis.lever_m)
    return moments.of_vector(analysis.pivot, force.point, None, analysis.lever_m)


def _kept_supports(analysis: Analysis, readings: Sequence[ForceReading]) -> SupportsVerdict:
    """What the layout alone tells: one answer and no possible answer read the same."""
    supports = analysis.supports
    kind = _layout_kind(supports.kind, supports.degree)
    if analysis.whole is not None:
        sentence = analysis.whole.layout
    elif kind == "mechanism":
        sentence = verdict.mechanism_sentence(supports.degree, supports.reason)
        sentence += verdict.too_many_sentence(verdict.unknown_count(readings) - 3 + supports.degree)
    else:
        sentence = verdict.rank_sentence(supports.degree, supports.reason, supports.near, readings, supports.by_hand)
    still = tuple(reading.force.id for reading in readings if reading.fixed and reading.force.role == "unknown")
    return replace(
        supports,
        kind=kind,
        sentence=sentence,
        failing=(),
        balanced_as_it_stands=False,
        still_fixed=still if supports.still_fixed else (),
        lacks=(),
        ways=(),
        at_limit=(),
    )


def _kept_whole(whole: WholeVerdict) -> WholeVerdict:
    return replace(whole, kind=_layout_kind(whole.kind, whole.degree), sentence=whole.layout, failing=())


def _layout_kind(kind: SupportsKind, degree: int) -> SupportsKind:
    if kind == "impossible":
        return "indeterminate" if degree else "determinate"
    return kind
