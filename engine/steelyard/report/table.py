"""The forces on the body as an aligned table, the sums, and the two verdicts, for reading in a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from ..document import words_for
from ..geometry import Vector, angle_of, length
from ..model import Settings, Sketch
from ..statics import axes, pivot
from ..statics.reading import Analysis, ForceReading, Turning
from ..statics.uncertainty import Spread, Uncertainty, uncertainty
from ..units import Kind, write_exact, write_quantity
from .reaches import reach_rows, use_rows


def table(sketch: Sketch, analysis: Analysis) -> str:
    """The forces as an aligned table, the sums, and the two verdicts below it."""
    settings = sketch.settings
    rows: list[tuple[str, ...]] = [
        ("", "force", "size", "direction", "along x", "along y", "arm", str(settings.turning_word))
    ]
    for reading in analysis.readings:
        rows += _rows(reading, settings, analysis.x_axis)
    residual = analysis.residual
    fx, fy = (_written(part, "force", settings) for part in left_over(analysis))
    turning = _torque(None if residual is None else residual.torque_n_m, settings)
    rows.append(("Σ", "left over", "", "", fx, fy, "", turning))
    point = ", ".join(write_quantity(part, "length", settings) for part in analysis.pivot)
    lines = [sketch.title, f"{settings.pivot_word} {pivot.name_of(sketch)} at ({point})"]
    if not axes.is_level(analysis.x_axis):
        lines.append(f"x axis at {write_quantity(angle_of(analysis.x_axis), 'angle', settings)} from level")
    turn = settings.counterclockwise_word if settings.counterclockwise_positive else "clockwise"
    lines += [f"positive: along x, along y, {turn}", ""]
    lines += aligned(rows)
    reaching, used = reach_rows(sketch, analysis), use_rows(sketch, analysis)
    if reaching:
        lines += ["", "What each can be, within what every support can do", *aligned(reaching)]
    if used:
        lines += ["", "Used of what is there", *aligned(used)]
    found = uncertainty(sketch, bodies=analysis.system)
    if found is not None:
        lines += ["", *_how_sure(sketch, found)]
    lines += ["", analysis.balance.sentence, analysis.supports.sentence]
    if analysis.whole is not None:
        lines.append(analysis.whole.alone.sentence)
    return "\n".join(lines)


_KINDS: dict[str, Kind] = {"direction": "angle", "couple": "couple"}
_NAMES = {"x": " along x", "y": " along y", "size": "", "direction": " direction", "couple": ""}


def _how_sure(sketch: Sketch, found: Uncertainty) -> list[str]:
    """The half-widths of all unknowns, their worst case, and what matters most."""
    settings = sketch.settings
    words = {number.path: words_for(sketch, number) for number in found.inputs}
    given = [
        f"{words[number.path]} {write_exact(number.value, number.kind, settings)} ± "
        f"{write_exact(width, number.kind, settings)}"
        for number, width in zip(found.inputs, found.half_widths, strict=True)
    ]
    lines = [f"How sure, given {'; '.join(given)}"]
    if found.spreads:
        rows: list[tuple[str, ...]] = [("", "", "first order", "worst case", "most from")]
        rows += [_spread_row(spread, words, settings) for spread in found.spreads]
        lines += aligned(rows)
    if any(not (extent.least_sure and extent.greatest_sure) for extent in (s.extent for s in found.spreads) if extent):
        lines.append("~ reached by corners and a search; every other end is exact")
    names = {spread.force: spread.symbol for spread in found.spreads}
    if found.may_fail:
        failing = ", ".join(names[force] for force in found.may_fail)
        lines.append(f"Somewhere in these ranges it would have to do what it cannot: {failing}.")
    return [*lines, found.trouble] if found.trouble else lines


def _spread_row(spread: Spread, words: dict[str, str], settings: Settings) -> tuple[str, ...]:
    kind = _KINDS.get(spread.quantity, "force")
    value = write_quantity(spread.value, kind, settings)
    first = f"{value} ± {write_quantity(spread.half_width, kind, settings, figures=2)}"
    extent = spread.extent
    worst = ""
    if extent is not None:
        ends = ((extent.least, extent.least_sure), (extent.greatest, extent.greatest_sure))
        least, greatest = (("" if sure else "~") + write_quantity(end, kind, settings) for end, sure in ends)
        worst = f"{least} to {greatest}"
    return (spread.symbol + _NAMES[spread.quantity], "", first, worst, words.get(spread.most, "nothing"))


def left_over(analysis: Analysis) -> tuple[float | None, float | None]:
    """ΣFx and ΣFy along the sketch's axes, in newtons."""
    residual = analysis.residual
    return (None, None) if residual is None else axes.along((residual.fx_n, residual.fy_n), analysis.x_axis)


def _rows(reading: ForceReading, settings: Settings, x_axis: Vector) -> list[tuple[str, ...]]:
    """The row of a force, and the row of its guess where it has one."""
    force = reading.force
    name = (force.symbol, f"{force.type} by {force.by or '?'} on {force.on}")
    guess_name = ("", "guess")
    if force.along is None:
        rows = [_couple_row(name, reading.couple_n_m, settings)]
        if force.guess_couple_n_m is not None:
            rows.append(_couple_row(guess_name, force.guess_couple_n_m, settings))
        return rows
    rows = [_force_row(name, reading.size_n, reading.direction_deg, reading.components_n, reading.turning, settings)]
    guess = force.guess
    if guess is not None and reading.guess_turning is not None:
        parts = axes.along(guess, x_axis)
        rows.append(_force_row(guess_name, length(guess), angle_of(guess), parts, reading.guess_turning, settings))
    return rows


def _force_row(
    name: tuple[str, str],
    size_n: float | None,
    direction_deg: float | None,
    parts: tuple[float | None, float | None],
    turning: Turning,
    settings: Settings,
) -> tuple[str, ...]:
    return (
        *name,
        _written(size_n, "force", settings),
        _written(direction_deg, "angle", settings),
        _written(parts[0], "force", settings),
        _written(parts[1], "force", settings),
        _written(turning.arm_m, "length", settings),
        _torque(turning.torque_n_m, settings),
    )


def _couple_row(name: tuple[str, str], couple_n_m: float | None, settings: Settings) -> tuple[str, ...]:
    written = _torque(couple_n_m, settings)
    return (*name, written, "", "", "", "", written)


def _torque(torque_n_m: float | None, settings: Settings) -> str:
    """A torque with the sign of the sketch's positive sense of turning."""
    turned = torque_n_m if torque_n_m is None or settings.counterclockwise_positive else 0.0 - torque_n_m
    return _written(turned, "couple", settings)


def _written(value: float | None, kind: Kind, settings: Settings) -> str:
    return "?" if value is None else write_quantity(value, kind, settings)


def aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns of equal width: words from the left, numbers to the right."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  ".join(
            cell.ljust(width) if column < 2 else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]
