"""The argument about a guess, as the page shows it: direction first, size second, and what can be done next.

Made from the analysis that may be shown, so with answers kept back it says only what the reader can know; what
is offered says which sum would close, never with which size.
"""

from __future__ import annotations

from ..geometry import Vector, angle_of
from ..model import Sketch
from ..statics.advice import vanishes
from ..statics.argument import guess_along
from ..statics.reading import Analysis, ForceReading
from ..statics.stretching import CLOSES, Closes, axis
from ..units import write_quantity
from ..working.argue import Argument, Stage, argue
from ..working.both_ways import both_ways
from ..working.data import Data, both_ways_data, sentence_data
from ..working.desk import Desk, Options
from ..working.phrases import Piece
from ..working.remarks import way
from .guess_actions import actions, command, minus, said
from .guess_sums import amount, balance_words, is_kept, left_over, side_words


def argument(
    sketch: Sketch,
    analysis: Analysis | None,
    selected: str | None,
    both: str = "",
    *,
    numbers: bool = True,
    preview: bool = False,
) -> Data | None:
    """What to say about the guess for the selected unknown, or else for the first unknown that has one.

    `{kind: "argument", of, headline, lead, stages, answer, minus, both, actions}`; without any guess `{kind: "invite"}`
    for a selected unknown with answers kept back, `{kind: "minus"}` where an answer is minus what was drawn,
    else None. `both` is the part for which both ways of drawing it are to be seen side by side. `numbers`
    false: in symbols only. In a preview it is not tried whether there are both ways to show.
    """
    if analysis is None:
        return None
    # About a force that is said to vanish nothing is left to argue.
    unknown = [
        reading for reading in analysis.readings
        if reading.force.role == "unknown" and not vanishes(reading.force)
    ]  # fmt: skip
    mine = [each for each in unknown if selected in (each.force.id, each.force.entity)]
    mine.sort(key=lambda each: each.force.id != selected)
    reading = next((each for each in (*mine, *unknown) if _guessed(each)), None)
    desk = Desk(sketch, analysis, Options(symbols_only=not numbers))
    if reading is not None:
        return _argued(desk, reading, both, preview)
    for each in mine:
        if sketch.answers == "kept" and each.vector is None and each.couple_n_m is None:
            return _invitation(desk, each)
        if (meaning := minus(desk, each)) is not None:
            return {"kind": "minus", "of": each.force.id, **meaning}
    return None


def _guessed(reading: ForceReading) -> bool:
    return reading.force.guess is not None or reading.force.guess_couple_n_m is not None


def _invitation(desk: Desk, reading: ForceReading) -> Data:
    letter = desk.letters.force(reading.force.id)
    grip = "grip" if reading.force.along is None else "head"
    asked = "How much is " if reading.force.one_way else "Which way does "
    return {
        "kind": "invite",
        "of": reading.force.id,
        "headline": said(desk, asked, letter, "?" if reading.force.one_way else " act?"),
        "lead": [said(desk, f"Draw your guess: drag the {grip} of ", letter, ", and see what it leaves open.")],
        "actions": [command("start", said(desk, "Draw a guess"), "guess", {"id": reading.force.id, "on": True})],
    }


def _argued(desk: Desk, reading: ForceReading, both: str, preview: bool) -> Data:
    force, sketch = reading.force, desk.voice.sketch
    found = argue(sketch, desk.analysis, force.id, options=desk.options)
    part = both if both in {stage.part for stage in found.stages} else ""
    return {
        "kind": "argument",
        "of": force.id,
        "headline": _headline(desk, found),
        "lead": _lead(desk, found),
        "caution": None if found.caution is None else sentence_data(found.caution),
        "stages": [_stage(desk, stage) for stage in found.stages],
        "answer": _answer(desk, reading),
        "minus": minus(desk, reading),
        "both": _both(desk, part) if part else None,
        "actions": actions(desk, reading, found, preview),
    }


def _place(desk: Desk, stage: Stage) -> list[Piece]:
    """Where a stage is argued, as the beginning of a heading."""
    _, _, which = stage.part.partition(".")
    if which:
        return ["Along ", *desk.voice.axis_words(axis(desk.analysis, "x" if which == "x" else "y"))]
    if desk.parts[stage.part].along is None:
        return ["Turning"]
    return ["Along its line"]


def _closes(desk: Desk, stage: Stage) -> Closes | None:
    """The sum a stage is about; none for a size along a slanting line."""
    _, _, which = stage.part.partition(".")
    if which:
        return "x" if which == "x" else "y"
    return "turning" if desk.parts[stage.part].along is None else None


def _headline(desk: Desk, found: Argument) -> list[Data]:
    """The first thing to see to: a part drawn the wrong way, a sum that does not close, else that all is well."""
    letter = desk.letters.force(found.force)
    against = next((stage for stage in found.stages if stage.agrees is False), None)
    open_stage = next((stage for stage in found.stages if not _settled(desk, stage)), None)
    for stage in (against, open_stage):
        if stage is None:
            continue
        closes = _closes(desk, stage)
        words = balance_words(desk, stage, closes) if closes is not None else ""
        if words and words != "closed":
            return said(desk, *_place(desk, stage), ": ", words)
        if stage.agrees is False:
            return said(desk, *_place(desk, stage), ": ", *_must(desk, stage))
        if stage.verdict in ("depends", "open"):
            return said(desk, *_place(desk, stage), ": it depends on sizes")
    left = [left_over(desk, closes) for closes in CLOSES]
    if all(total == 0.0 for total in left):
        return said(desk, "All three sums close")
    turning = left[CLOSES.index("turning")]
    if turning:
        kept = desk.options.symbols_only or is_kept(desk, found.force)
        missing = "more needed" if kept else f"{amount(desk, 'turning', turning)} missing"
        missing += f" {side_words(desk, 'turning', -turning)}"
        return said(desk, "About ", desk.voice.place(desk.analysis.pivot), f": {missing}")
    return said(desk, letter, " acts the way it must; now its size")


def _lead(desk: Desk, found: Argument) -> list[list[Data]]:
    """What the first open stage comes to, for a reader with little room: what must be, and what the guess does."""
    first = next((stage for stage in found.stages if stage.agrees is False), None)
    first = first or next((stage for stage in found.stages if not _settled(desk, stage)), None)
    return [] if first is None else [sentence_data(each) for each in first.sentences[-2:]]


def _settled(desk: Desk, stage: Stage) -> bool:
    closes = _closes(desk, stage)
    words = balance_words(desk, stage, closes) if closes is not None else ""
    return stage.agrees is True and words in ("", "closed")


def _must(desk: Desk, stage: Stage) -> list[Piece]:
    symbol = desk.voice.symbol(stage.part)
    part = desk.parts[stage.part]
    if stage.sign == 0:
        return [symbol, " must be zero"]
    if part.along is None:
        return [symbol, " must act ", desk.voice.turn(part.turn * stage.sign)]
    along: Vector = (part.along[0] * stage.sign, part.along[1] * stage.sign)
    return [symbol, " must act ", desk.voice.direction(along)]


def _stage(desk: Desk, stage: Stage) -> Data:
    closes = _closes(desk, stage)
    words = balance_words(desk, stage, closes) if closes is not None else ""
    return {
        "part": stage.part,
        "verdict": stage.verdict,
        "agrees": stage.agrees,
        "title": said(desk, *_place(desk, stage)),
        "mark": _mark(desk, stage),
        "sum": words,
        "sentences": [sentence_data(each) for each in stage.sentences],
    }


def _mark(desk: Desk, stage: Stage) -> str:
    """What the heading of a stage says of the guess."""
    if stage.agrees is True:
        return "as it must"
    if stage.agrees is None:
        return "depends on sizes" if stage.verdict in ("depends", "open") else "certain"
    part = desk.parts[stage.part]
    if not guess_along(desk.voice.forces[part.force], part):
        return "no part there yet"
    return "the other way" if stage.sign else "must be zero"


def _answer(desk: Desk, reading: ForceReading) -> list[Data] | None:
    """The answer in words, where it may be said."""
    settings = desk.voice.settings
    letter = desk.letters.force(reading.force.id)
    if reading.cannot or desk.analysis.supports.kind == "impossible":
        return None
    if reading.couple_n_m is not None:
        sense = desk.voice.turn(1 if reading.couple_n_m > 0.0 else -1) if reading.couple_n_m else ""
        size = write_quantity(abs(reading.couple_n_m), "couple", settings)
        return said(desk, "The answer: ", letter, f" is {size} {sense}".rstrip(), ".")
    if reading.vector is None or reading.size_n is None:
        return None
    size = write_quantity(reading.size_n, "force", settings)
    if reading.size_n == 0.0:
        return said(desk, "The answer: ", letter, f" is {size}.")
    angle = write_quantity(angle_of(reading.vector), "angle", settings)
    return said(desk, "The answer: ", letter, f" is {size} at {angle}, {desk.voice.direction(reading.vector)}.")


def _both(desk: Desk, part: str) -> Data | None:
    """Both cases side by side; with answers kept back in symbols only, so that no size is given away."""
    sketch = desk.voice.sketch
    options = Options(symbols_only=sketch.answers == "kept" or desk.options.symbols_only)
    found = both_ways(sketch, desk.analysis, part, options=options)
    if found is None:
        return None
    titles = [
        said(desk, desk.voice.symbol(part), f" drawn {way(desk.voice, desk.parts[part], sign)}") for sign in (1, -1)
    ]
    return {
        **both_ways_data(found, comma=desk.voice.comma),
        "asDrawnTitle": titles[0],
        "otherWayTitle": titles[1],
    }
