"""The `steelyard` command: solve a sketch, or draw it, from a file.

Exit codes: 0 answered, 2 bad input (said on standard error).
"""

from __future__ import annotations

import argparse
import io
import json
import math
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from . import __version__, document
from .errors import SteelyardError
from .geometry import Point, Vector, angle_of, length
from .model import Pivot, Settings, Sketch
from .statics import analyse, axes, pivot
from .statics.reading import Analysis, ForceReading, Turning
from .units import Kind, write_quantity

if TYPE_CHECKING:
    from .picture.board import View

ANSWERED, BAD_INPUT = 0, 2
VIEWS = ("set-up", "extended")

# An A5 sheet lying down at 150 px to the inch: room for the labels of a dozen forces.
SHEET_PX = (1240.0, 874.0)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; returns the exit code. Wrong usage ends in SystemExit with code 2."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # minus signs and sums, whatever the terminal's own encoding
            stream.reconfigure(encoding="utf-8")
    options = _parser().parse_args(_with_negative_pivot(sys.argv[1:] if arguments is None else arguments))
    try:
        sketch = _read_sketch(options.file)
        if options.command == "solve":
            _solve(sketch, options.json, options.pivot)
        else:
            _draw(sketch, options.view, options.out)
    except SteelyardError as error:
        where = f"{options.file}: " if error.code != "file.write" else ""
        print(f"steelyard: {where}{error}", file=sys.stderr)
        return BAD_INPUT
    return ANSWERED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="steelyard", description="Equilibrium of a body in a sketch.")
    parser.add_argument("--version", action="version", version=f"steelyard {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    solve = commands.add_parser("solve", help="say whether the forces balance and what the supports do")
    solve.add_argument("file", metavar="FILE", help="a sketch (JSON); - reads standard input")
    solve.add_argument("--json", action="store_true", help="print the answer as JSON, in newtons and metres")
    solve.add_argument("--pivot", metavar="X,Y", type=_point, help="take torques about this point, in metres")
    draw = commands.add_parser("draw", help="write a picture of the sketch")
    draw.add_argument("file", metavar="FILE", help="a sketch (JSON); - reads standard input")
    draw.add_argument("--view", choices=VIEWS, default="extended", help="body with supports, or with their forces")
    draw.add_argument("-o", "--out", metavar="OUT", required=True, help="the SVG file to write; - writes it out")
    return parser


def _with_negative_pivot(arguments: Sequence[str]) -> list[str]:
    """`--pivot -1,2` as one word: argparse would take the minus sign for an option."""
    joined: list[str] = []
    for word in arguments:
        if joined and joined[-1] == "--pivot":
            joined[-1] = f"--pivot={word}"
        else:
            joined.append(word)
    return joined


def _point(text: str) -> Point:
    """A point from "X,Y"; argparse reports the error."""
    parts = text.replace("−", "-").split(",")
    try:
        x, y = (float(part) for part in parts)
    except ValueError:
        x = y = math.nan
    if not (abs(x) <= 1e12 and abs(y) <= 1e12):
        raise argparse.ArgumentTypeError(f'must be two numbers in metres, X,Y: got "{text}". Write for instance 0,1.5.')
    return (x, y)


def _read_sketch(name: str) -> Sketch:
    """The sketch in a file: a saved document, or a scenario of the shelf, which holds one."""
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text(encoding="utf-8")
    except OSError as problem:
        message = f"The file cannot be read: {problem.strerror or problem}."
        raise SteelyardError("file.read", name, message, "Give the name of a sketch file.") from None
    except UnicodeDecodeError:
        message = "The file is not text in UTF-8."
        raise SteelyardError("file.read", name, message, "Give the name of a sketch file.") from None
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        data = None  # document.read says what is wrong with it
    if isinstance(data, dict) and "slug" in data and "sketch" in data:
        text = json.dumps(data["sketch"])
    return document.read(text)


def _solve(sketch: Sketch, as_json: bool, about: Point | None) -> None:
    if about is not None:
        sketch = replace(sketch, pivot=Pivot(about))
    analysis = analyse(sketch)
    if as_json:
        print(json.dumps(answer_data(analysis), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print(_table(sketch, analysis))


def _draw(sketch: Sketch, view: View, out: str) -> None:
    from .picture import board, frame, svg  # here, so that solving stays quick
    from .session.presentation import Study
    from .session.seen import seen

    analysis = seen(sketch, None, Study()).analysis
    sheet = frame.fit(sketch, analysis, *SHEET_PX)
    text = svg.write(board.draw(sketch, analysis, sheet, view), title=sketch.title, desc=sketch.caution)
    if out == "-":
        print(text)
        return
    try:
        Path(out).write_text(text, encoding="utf-8")
    except OSError as problem:
        message = f"The picture cannot be written to {out}: {problem.strerror or problem}."
        raise SteelyardError("file.write", out, message, "Give another name with -o.") from None


def answer_data(analysis: Analysis) -> dict[str, object]:
    """The whole answer as JSON data; null where statics fixes no value, or where the notion does not apply.

    `fx_n` and `fy_n` are parts along the sketch's axes; torques are positive counterclockwise.
    """
    forces: list[dict[str, object]] = []
    for reading in analysis.readings:
        forces.append(_force_data(reading))
        if reading.guess_turning is not None:
            forces.append(_guess_data(reading, reading.guess_turning, analysis.x_axis))
    residual = analysis.residual
    left_over = _left_over(analysis)
    balance = analysis.balance
    return {
        "balance": {"kind": None if balance.kind == "open" else balance.kind, "sentence": balance.sentence},
        "supports": {
            "kind": analysis.supports.kind,
            "degree": analysis.supports.degree,
            "sentence": analysis.supports.sentence,
        },
        "pivot_m": list(analysis.pivot),
        "x_axis_deg": angle_of(analysis.x_axis),
        "forces": forces,
        "residual": {
            "fx_n": left_over[0],
            "fy_n": left_over[1],
            "torque_n_m": None if residual is None else residual.torque_n_m,
        },
    }


def _left_over(analysis: Analysis) -> tuple[float | None, float | None]:
    """ΣFx and ΣFy along the sketch's axes, in newtons."""
    residual = analysis.residual
    return (None, None) if residual is None else axes.along((residual.fx_n, residual.fy_n), analysis.x_axis)


def _named(reading: ForceReading, role: str) -> dict[str, object]:
    force = reading.force
    return {
        "id": force.id,
        "name": force.symbol,
        "type": force.type,
        "by": force.by,
        "on": force.on,
        "role": role,
    }


def _force_data(reading: ForceReading) -> dict[str, object]:
    is_couple = reading.force.along is None
    fx, fy = (0.0, 0.0) if is_couple else reading.components_n
    return {
        **_named(reading, reading.force.role),
        "fx_n": fx,
        "fy_n": fy,
        "couple_n_m": reading.couple_n_m if is_couple else 0.0,
        "size_n": reading.size_n,
        "direction_deg": reading.direction_deg,
        "arm_m": reading.turning.arm_m,
        "torque_n_m": reading.turning.torque_n_m,
    }


def _guess_data(reading: ForceReading, turning: Turning, x_axis: Vector) -> dict[str, object]:
    guess = reading.force.guess
    fx, fy = (0.0, 0.0) if guess is None else axes.along(guess, x_axis)
    return {
        **_named(reading, "guess"),
        "fx_n": fx,
        "fy_n": fy,
        "couple_n_m": 0.0 if guess is not None else reading.force.guess_couple_n_m,
        "size_n": None if guess is None else length(guess),
        "direction_deg": None if guess is None else angle_of(guess),
        "arm_m": turning.arm_m,
        "torque_n_m": turning.torque_n_m,
    }


def _table(sketch: Sketch, analysis: Analysis) -> str:
    """The forces as an aligned table, the sums, and the two verdicts below it."""
    settings = sketch.settings
    rows: list[tuple[str, ...]] = [
        ("", "force", "size", "direction", "along x", "along y", "arm", str(settings.turning_word))
    ]
    for reading in analysis.readings:
        rows += _rows(reading, settings, analysis.x_axis)
    residual = analysis.residual
    fx, fy = (_written(part, "force", settings) for part in _left_over(analysis))
    turning = _torque(None if residual is None else residual.torque_n_m, settings)
    rows.append(("Σ", "left over", "", "", fx, fy, "", turning))
    point = ", ".join(write_quantity(part, "length", settings) for part in analysis.pivot)
    lines = [sketch.title, f"{settings.pivot_word} {pivot.name_of(sketch)} at ({point})"]
    if not axes.is_level(analysis.x_axis):
        lines.append(f"x axis at {write_quantity(angle_of(analysis.x_axis), 'angle', settings)} from level")
    turn = settings.counterclockwise_word if settings.counterclockwise_positive else "clockwise"
    lines += [f"positive: along x, along y, {turn}", ""]
    lines += _aligned(rows)
    lines += ["", analysis.balance.sentence, analysis.supports.sentence]
    return "\n".join(lines)


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


def _aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns of equal width: words from the left, numbers to the right."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  ".join(
            cell.ljust(width) if column < 2 else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


if __name__ == "__main__":
    sys.exit(main())
