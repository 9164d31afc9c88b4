"""What is joined to a system: its verdicts and equations as JSON data, and the equations explained in text."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict

from ..geometry import angle_of
from ..model import Settings, Sketch
from ..statics.reading import Analysis, PartVerdict
from ..statics.whole_equations import WholeEquations, whole_equations
from ..units import write_quantity

Data = dict[str, object]

MINUS = "\N{MINUS SIGN}"
# Figures of the columns: enough to solve them again and find the printed answers.
FIGURES = 6
ROWS = (("ΣFx", "N"), ("ΣFy", "N"), ("Στ", "N·m"))
PARTS = {"x": "_x", "y": "_y", "size": "", "couple": "", "place": "·e"}


def whole_data(sketch: Sketch, analysis: Analysis) -> Data | None:
    """All that is joined to the system: verdict, parts, two-force bodies, equations; None when nothing is."""
    whole, system = analysis.whole, whole_equations(sketch, analysis)
    if whole is None or system is None:
        return None
    return {
        "bodies": list(whole.bodies),
        "unknown_count": whole.unknowns,
        "equation_count": whole.equations,
        "rank": whole.rank,
        "kind": whole.kind,
        "degree": whole.degree,
        "sentence": whole.sentence,
        "failing": list(whole.failing),
        "parts": [_part(each) for each in whole.parts],
        "alone": _part(whole.alone),
        "motions": [
            [{"body": body, "motion": list(motion)} for body, motion in zip(whole.bodies, each, strict=True)]
            for each in whole.motions
        ],
        "two_force_bodies": [
            {"body": each.body, "forces": list(each.forces), "direction_deg": angle_of(each.direction)}
            for each in whole.links
        ],
        "unknowns": [asdict(each) | {"bodies": list(each.bodies)} for each in system.unknowns],
        "equations": [
            {
                "body": each.body,
                "wrenches": [{"unknown": column, "wrench": list(wrench)} for column, wrench in each.wrenches],
                "applied": list(each.applied),
                "letters": [asdict(letter) | {"wrench": list(letter.wrench)} for letter in each.letters],
                "left_over": None if each.left_over is None else list(each.left_over),
            }
            for each in system.bodies
        ],
        "pivots": list(system.pivots),
        "limit": system.limit,
        "margin": system.margin if math.isfinite(system.margin) else None,
        "smallest_singular_value": system.smallest,
    }


def _part(part: PartVerdict) -> Data:
    return {
        "bodies": list(part.bodies),
        "unknowns": part.unknowns,
        "rank": part.rank,
        "settled": part.settled,
        "sentence": part.sentence,
    }


def whole_explained(sketch: Sketch, analysis: Analysis) -> list[str]:
    """The equations of all joined bodies, body by body, and the decision about their rank; [] with none joined."""
    system = whole_equations(sketch, analysis)
    if system is None or analysis.whole is None:
        return []
    settings = sketch.settings
    lines = [
        f"All that is joined: {len(system.bodies)} bodies, {system.equations} equations, "
        f"{len(system.unknowns)} unknowns.",
        "The two forces of a third-law pair are one unknown, with opposite entries on its two bodies.",
    ]
    for each in system.bodies:
        lines += ["", f"{each.name[:1].upper()}{each.name[1:]}"]
        for row, (name, unit) in enumerate(ROWS):
            terms = [
                (wrench[row], f"{_number(abs(wrench[row]), settings)} {_named(system, column)}")
                for column, wrench in each.wrenches
            ]
            terms += [
                (letter.wrench[row], f"{_number(abs(letter.wrench[row]), settings)} {letter.symbol}")
                for letter in each.letters
            ]
            terms.append((each.applied[row], f"{_number(abs(each.applied[row]), settings)} {unit}"))
            lines.append(f"  {name}: {_sum(terms)} = 0")
    lines += ["", "Their values"]
    for unknown in system.unknowns:
        named = f"  {unknown.symbol}{PARTS[unknown.part]}"
        unit = "N·m" if unknown.part in ("couple", "place") else "N"
        if unknown.value is not None:
            lines.append(f"{named} = {_number(unknown.value, settings)} {unit}")
        else:
            lines.append(f"{named}: {'no value' if unknown.fixed else 'not fixed by statics'}")
    smallest = min(system.pivots[: system.rank], default=0.0)
    lines += [
        "",
        f"The rank of all: {system.rank}, torques about a centre and over a lever of each body's own.",
        f"  smallest pivot counted over the largest entry {_number(smallest, settings, 3)}; "
        f"a pivot counts above {_number(system.limit, settings, 1)}",
    ]
    if len(system.pivots) > system.rank:
        lines.append(f"  largest entry not counted {_number(system.pivots[system.rank], settings, 3)}")
    if math.isfinite(system.margin):
        lines.append(f"  margin: the pivot nearest to the limit is {_number(system.margin, settings, 3)} times from it")
    lines.append(f"  smallest singular value over the largest entry {_number(system.smallest, settings, 3)}")
    return lines


def _named(system: WholeEquations, column: int) -> str:
    unknown = system.unknowns[column]
    return f"{unknown.symbol}{PARTS[unknown.part]}"


def _sum(terms: Sequence[tuple[float, str]]) -> str:
    """Signed terms in a row; those that are zero are left out."""
    shown = [(value, text) for value, text in terms if value]
    if not shown:
        return "0"
    first, *rest = shown
    start = f"{MINUS}{first[1]}" if first[0] < 0.0 else first[1]
    return " ".join([start, *(f"{MINUS if value < 0.0 else '+'} {text}" for value, text in rest)])


def _number(value: float, settings: Settings, figures: int = FIGURES) -> str:
    return write_quantity(value, "number", settings, figures=figures)
