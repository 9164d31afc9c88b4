"""The system of equations as it was assembled, the rank decision with its margin, and the verdict's reason, as text."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence

from .. import linear
from ..model import Settings, Sketch, Thing
from ..program import ROUNDING_TOLERANCE
from ..statics import pivot
from ..statics.equations import Equations, equations
from ..statics.layout import NEAR_DEGENERATE
from ..statics.reading import Analysis
from ..units import write_exact, write_quantity
from .table import aligned
from .whole import FIGURES, PARTS, whole_explained

WIDTH = 100
_ROWS = ("ΣFx", "ΣFy", "Στ")
_PLAIN = {"sense": "{0} is zero", "friction": "{0} is all there is", "place": "{0} is at the end of its face"}


def explain(sketch: Sketch, analysis: Analysis) -> str:
    """How the answer came about: the columns, the rank, the values, and the verdict, in aligned text."""
    system = equations(sketch, analysis)
    blocks = [_heading(sketch, analysis), _columns(system, sketch.settings), _rank(system, sketch.settings)]
    if system.unknowns:
        blocks.append(_values(system, sketch.settings))
    joined = whole_explained(sketch, analysis)
    if joined:
        blocks.append(joined)
    blocks.append(_verdict(analysis))
    return "\n\n".join("\n".join(block) for block in blocks)


def _wrapped(text: str, indent: str = "") -> list[str]:
    # Columns of figures hang on their spaces; only sentences are broken, and never at a no-break space.
    pieces = textwrap.wrap(text.replace("\u00a0", "\u2060"), WIDTH, initial_indent=indent, subsequent_indent=indent)
    return [piece.replace("\u2060", "\u00a0") for piece in pieces]


def _heading(sketch: Sketch, analysis: Analysis) -> list[str]:
    settings = sketch.settings
    point = ", ".join(write_quantity(part, "length", settings, figures=FIGURES) for part in analysis.pivot)
    turned = math.degrees(math.atan2(analysis.x_axis[1], analysis.x_axis[0]))
    along = "x right, y up" if turned == 0.0 else f"x turned {_number(turned, settings)}° from level"
    return [
        sketch.title,
        f"{_who(sketch, analysis)}. {along}, {settings.counterclockwise_word} positive; "
        f"{settings.turning_word}s about {pivot.name_of(sketch)} at ({point}).",
    ]


def _who(sketch: Sketch, analysis: Analysis) -> str:
    """The body, or those taken as one and the things taken with them."""
    called = {body.id: body.name for body in sketch.bodies}
    called |= {load.id: load.name for load in sketch.loads if isinstance(load, Thing)}
    names = [called[each] for each in analysis.system]
    return f"Body: {names[0]}" if len(names) == 1 else f"Taken as one: {', '.join(names)}"


def _columns(system: Equations, settings: Settings) -> list[str]:
    """One column an unknown, then the letters, then what is applied; the sum of each row must be zero."""
    unknowns = [each.symbol + PARTS[each.part] for each in system.unknowns]
    heads = ["", "", *unknowns, *(each.symbol for each in system.letters), "applied"]
    columns = [*(each.wrench for each in system.unknowns), *(each.wrench for each in system.letters)]
    units = ("N", "N", "N·m")
    rows = [heads]
    for row, (name, unit) in enumerate(zip(_ROWS, units, strict=True)):
        cells = [_number(column[row], settings) for column in columns]
        rows.append([name, "", *cells, f"{_number(system.applied[row], settings)} {unit}"])
    said = "The equations: each column times its value, and what is applied, add up to zero in every row."
    if columns:
        turning = any(each.part in ("couple", "place") for each in system.unknowns)
        couples = " (of a couple: one newton metre)" if turning else ""
        said += f" A column is what one newton{couples} of it gives: N per N, and metres in the row Στ."
    lines = [*_wrapped(said), "", *aligned(rows)]
    if system.letters:
        lines.append(f"Known by letter only: {', '.join(each.symbol for each in system.letters)}.")
    return [*lines, *_conditions(system, settings)]


def _conditions(system: Equations, settings: Settings) -> list[str]:
    """What the unknowns have to keep to beside the equations, and which of it is met with nothing to spare."""
    one_way = [each for each in system.conditions if each.kind == "sense"]
    lines = []
    if one_way:
        lines.append(f"Cannot be negative: {', '.join(each.symbol for each in one_way)}.")
    for each in system.conditions:
        factor = write_exact(each.factor, "number", settings)
        match each.kind:
            case "friction":
                lines.append(f"Within what friction can do: |{each.symbol}| ≤ {factor}·{each.normal}.")
            case "place":
                torque = f"{each.symbol}·e, its torque about the middle of its face"
                lines.append(f"Within its face: {torque}: |{each.symbol}·e| ≤ {factor} m·{each.normal}.")
            case "slips":
                lines.append(
                    f"About to slip: {each.symbol} = {factor}·{each.normal}, counted in the column of {each.normal}."
                )
            case "none":
                lines.append(f"Nothing there: {each.symbol} = 0.")
    tight = [_PLAIN[each.kind].format(each.symbol) for each in system.conditions if each.tight and each.kind in _PLAIN]
    if tight:
        lines.append(f"Met with nothing to spare: {', '.join(tight)}.")
    return lines


def _rank(system: Equations, settings: Settings) -> list[str]:
    rank = system.rank
    count = len(system.unknowns)
    if not count:
        return ["No unknowns, so there is no rank to decide: the applied sums are zero or they are not."]
    centre = ", ".join(_number(part, settings) for part in rank.centre_m)
    lines = [
        "The rank, decided on columns freed of units: torques about the middle of the unknowns' points,",
        f"({centre}) m, divided by the lever {_number(rank.lever_m, settings)} m.",
        f"  singular values    {_listed(rank.singular_values, settings)}",
        f"  pivots over first  {_listed(rank.pivots, settings)}",
        f"  a pivot counts above {_number(rank.limit, settings, 1)}, so the rank is {rank.rank} "
        f"({count} unknown{'s' * (count > 1)}, 3 equations)",
    ]
    lines.append(f"  margin: {_margin(system, settings)}")
    smallest = rank.singular_values[-1] / rank.singular_values[0]
    if rank.rank == 3:
        beside = "not below" if smallest >= NEAR_DEGENERATE else "below"
        lines.append(
            f"  smallest over largest singular value {_number(smallest, settings, 3)}: {beside} "
            f"{_number(NEAR_DEGENERATE, settings, 1)}, under which a layout is called nearly degenerate"
        )
    return lines


def _margin(system: Equations, settings: Settings) -> str:
    """By what factor the nearest pivot misses the limit."""
    rank = system.rank
    if not math.isfinite(rank.margin):
        return "every pivot that does not count is exactly zero"
    nearest = min((each for each in rank.pivots if each), key=lambda each: abs(math.log(each / rank.limit)))
    side = "above" if nearest > rank.limit else "below"
    factor = _number(rank.margin, settings, 3)
    return f"the pivot nearest to the limit is {_number(nearest, settings, 3)}, {factor} times {side} it"


def _values(system: Equations, settings: Settings) -> list[str]:
    rows = []
    for each in system.unknowns:
        unit = "N·m" if each.part in ("couple", "place") else "N"
        if each.value is not None:
            value = f"{_number(each.value, settings)} {unit}"
        else:
            value = "no value" if each.fixed else "not fixed by statics"
        rows.append([each.symbol + PARTS[each.part], "", value])
    lines = ["The values", *(f"  {row}" for row in aligned(rows))]
    if system.left_over is not None:
        left = _listed(system.left_over, settings, 2)
        lines.append(f"Put back, they leave ({left}) of the three sums: {_smallness(system, system.left_over)}.")
    return lines


def _smallness(system: Equations, left_over: Sequence[float]) -> str:
    """Whether what is left of each sum is rounding beside its own terms."""
    for row, left in enumerate(left_over):
        terms = [each.wrench[row] * (each.value or 0.0) for each in system.unknowns]
        if abs(left) > ROUNDING_TOLERANCE * max(map(abs, [system.applied[row], *terms])):
            return "not zero"
    return "rounding"


def _verdict(analysis: Analysis) -> list[str]:
    supports = analysis.supports
    lines = ["The verdict", *_wrapped(analysis.balance.sentence, "  "), *_wrapped(supports.sentence, "  ")]
    if supports.reason:
        lines += _wrapped(f"Reason: {supports.reason}.", "  ")
    if analysis.whole is not None:
        for part in analysis.whole.parts:
            lines += _wrapped(part.sentence, "  ")
    for motion in supports.free_motion:
        lines.append(f"  A motion nothing stops: ({', '.join(f'{part + 0.0:.4g}' for part in motion)}) as (vx, vy, ω).")
    lines += _wrapped(
        f"Tolerances: a pivot counts above {linear.RANK_TOLERANCE:g} of the first; "
        f"sums below {ROUNDING_TOLERANCE:g} of the largest force are zero.",
        "  ",
    )
    return lines


def _number(value: float, settings: Settings, figures: int = FIGURES) -> str:
    return write_quantity(value, "number", settings, figures=figures)


def _listed(values: Sequence[float], settings: Settings, figures: int = FIGURES) -> str:
    return "  ".join(_number(value, settings, figures) for value in values)
