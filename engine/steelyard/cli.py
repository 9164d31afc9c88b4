"""The `steelyard` command: solve a sketch, find its limits, let go of it, write its working, or draw it.

Exit codes: 0 answered, 2 bad input (said on standard error).
"""

from __future__ import annotations

import argparse
import io
import json
import math
import re
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from . import __version__, document, shelf
from .errors import SteelyardError
from .geometry import Point
from .kinetics.motion import motion
from .kinetics.release import release
from .limits.thresholds import limits
from .model import Pivot, Sketch
from .report.answer import answer_data
from .report.explain import explain
from .report.limits import limits_data, limits_text, wanted
from .report.release import release_data, release_text
from .report.table import table
from .statics import analyse, joined
from .statics.isolate import find_body
from .units import read_quantity, write_quantity

if TYPE_CHECKING:
    from .picture.board import View

ANSWERED, BAD_INPUT = 0, 2
VIEWS = ("set-up", "extended", "point", "polygon")
# What a sketch is read from: said in every command's help.
FILE = "a sketch (JSON), or the name of a scenario on the shelf; - reads standard input"

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
        if options.command == "draw":
            _draw(sketch, options.view, options.out)
        elif options.command == "problem":
            print(_problem(sketch))
        else:
            if getattr(options, "system", None):
                sketch = replace(sketch, isolated=joined.system_ids(sketch, bodies=options.system))
            if options.pivot is not None:
                sketch = replace(sketch, pivot=Pivot(options.pivot))
            print(_ANSWERS[options.command](sketch, options))
    except SteelyardError as error:
        where = f"{options.file}: " if error.code not in ("file.write", "file.read") else ""
        print(f"steelyard: {where}{error}", file=sys.stderr)
        return BAD_INPUT
    return ANSWERED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="steelyard", description="Equilibrium of a body in a sketch.")
    parser.add_argument("--version", action="version", version=f"steelyard {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    solve = commands.add_parser("solve", help="say whether the forces balance and what the supports do")
    _takes_sketch(solve)
    form = solve.add_mutually_exclusive_group()
    form.add_argument(
        "--json", dest="form", action="store_const", const="json", help="the answer as JSON, in newtons and metres"
    )
    form.add_argument(
        "--explain", dest="form", action="store_const", const="explain",
        help="the equations as assembled, the decision about their rank, and the verdict's reason",
    )  # fmt: skip
    _takes_system(solve)
    solve.set_defaults(form="table")
    solve.add_argument(
        "--limits", nargs=3, metavar=("PATH", "FROM", "TO"), action="append", default=[],
        help="with --json: the limits of one number too, such as walker.place_m[0] 0 6; may be given again",
    )  # fmt: skip
    between = commands.add_parser("limits", help="say at which values of one number something changes, and what")
    between.add_argument("file", metavar="FILE", help=FILE)
    between.add_argument("path", metavar="PATH", help="the number, such as walker.place_m[0] or loads[0].mass_kg")
    between.add_argument("low", metavar="FROM", help='one end, such as 0, "2.5 m" or "-30 deg"')
    between.add_argument("high", metavar="TO", help="the other end")
    between.add_argument(
        "--where", metavar="REACTION=VALUE", help='instead: where a reaction has a value, as hinge.y=0 or "hoist=2 kN"'
    )
    _takes_system(between)
    between.add_argument("--json", dest="form", action="store_const", const="json", help="as JSON, in SI units")
    between.set_defaults(form="table", pivot=None)
    let_go = commands.add_parser(
        "release", help="say how the body starts to move when it is let go, and for a moment on"
    )
    let_go.add_argument("file", metavar="FILE", help=FILE)
    let_go.add_argument("--json", dest="form", action="store_const", const="json", help="as JSON, in SI units")
    let_go.set_defaults(form="table", pivot=None)
    working = commands.add_parser("working", help="print the worked solution, step by step")
    _takes_sketch(working)
    form = working.add_mutually_exclusive_group()
    form.add_argument(
        "--latex", dest="form", action="store_const", const="latex", help="a whole LaTeX document (needs siunitx)"
    )
    form.add_argument(
        "--markdown", dest="form", action="store_const", const="markdown", help="Markdown with TeX formulas (usual)"
    )
    working.set_defaults(form="markdown")
    working.add_argument("--symbols", action="store_true", help="letters only, no numbers put in")
    problem = commands.add_parser("problem", help="state the problem in sentences, made from the sketch")
    problem.add_argument("file", metavar="FILE", help=FILE)
    draw = commands.add_parser("draw", help="write a picture of the sketch")
    draw.add_argument("file", metavar="FILE", help=FILE)
    views = "body with supports, or with their forces; or forces from one dot, or head to tail"
    draw.add_argument("--view", choices=VIEWS, default="extended", help=views)
    draw.add_argument("-o", "--out", metavar="OUT", required=True, help="the SVG file to write; - writes it out")
    return parser


def _takes_sketch(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help=FILE)
    parser.add_argument("--pivot", metavar="X,Y", type=_point, help="take torques about this point, in metres")


def _takes_system(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--system", metavar="ID,ID", type=_ids,
        help="ids of the bodies taken as one, and of things taken with them; usual: the sketch's own system",
    )  # fmt: skip


def _ids(text: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(each.strip() for each in text.split(",") if each.strip()))


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
    """The sketch in a file, a saved document or a scenario; or, where no such file is, one from the shelf."""
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text(encoding="utf-8")
    except FileNotFoundError:
        if re.fullmatch(r"[a-z0-9-]+", name):
            return _from_shelf(name)
        raise _unreadable(name, "there is no such file") from None
    except OSError as problem:
        raise _unreadable(name, (problem.strerror or str(problem)).lower()) from None
    except UnicodeDecodeError:
        raise _unreadable(name, "it is not text in UTF-8") from None
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        data = None  # document.read says what is wrong with it
    if isinstance(data, dict) and "slug" in data and "sketch" in data:
        text = json.dumps(data["sketch"])
    return document.read(text)


def _from_shelf(name: str) -> Sketch:
    slugs = [each.slug for each in shelf.listing()]
    if name not in slugs:
        message = f'There is no file "{name}", and no scenario of that name on the shelf.'
        raise SteelyardError("file.read", name, message, f"The scenarios are {', '.join(slugs)}.")
    return shelf.load(name)


def _unreadable(name: str, reason: str) -> SteelyardError:
    message = f"{name} cannot be read: {reason}."
    return SteelyardError("file.read", name, message, "Give the name of a sketch file, or of a scenario.")


def _solve(sketch: Sketch, options: argparse.Namespace) -> str:
    analysis = analyse(sketch)
    if options.form == "json":
        found = [limits(sketch, path, *_ends(sketch, path, low, high)) for path, low, high in options.limits]
        return _json(answer_data(sketch, analysis, found))
    return explain(sketch, analysis) if options.form == "explain" else table(sketch, analysis)


def _limits(sketch: Sketch, options: argparse.Namespace) -> str:
    low, high = _ends(sketch, options.path, options.low, options.high)
    if options.where is None:
        found = limits(sketch, options.path, low, high)
        return _json(limits_data(found)) if options.form == "json" else limits_text(sketch, found)
    said, places = wanted(sketch, options.path, low, high, options.where)
    if options.form == "json":
        return _json({"path": options.path, "where": options.where, "values": list(places)})
    kind = document.number_at(sketch, options.path).kind
    figures = max(6, sketch.settings.significant_figures)
    written = [write_quantity(place, kind, sketch.settings, figures=figures) for place in places]
    return f"{said} has this value at {', '.join(written)}." if written else f"{said} has this value nowhere between."


def _release(sketch: Sketch, options: argparse.Namespace) -> str:
    found = release(sketch)
    moved = motion(sketch, found)
    if options.form == "json":
        return _json(release_data(sketch, found, moved))
    return release_text(sketch, found, moved)


def _ends(sketch: Sketch, path: str, low: str, high: str) -> tuple[float, float]:
    """Both ends of an interval as typed, with or without a unit."""
    kind = document.number_at(sketch, path).kind
    first, second = (read_quantity(text, kind, sketch.settings, where=path) for text in (low, high))
    return first, second


def _json(data: object) -> str:
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False)


def _working(sketch: Sketch, options: argparse.Namespace) -> str:
    from .working import export, steps  # here, so that solving stays quick
    from .working.desk import Options

    written = steps.work(sketch, analyse(sketch), options=Options(symbols_only=options.symbols))
    text = export.latex_document(written) if options.form == "latex" else export.markdown(written)
    return text.rstrip("\n")


_ANSWERS = {"solve": _solve, "working": _working, "limits": _limits, "release": _release}


def _problem(sketch: Sketch) -> str:
    from .panels.problem import problem  # here, so that solving stays quick

    body = find_body(sketch, None)
    stated = problem(sketch, body.id)
    return "" if stated is None else str(stated["text"])


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


if __name__ == "__main__":
    sys.exit(main())
