"""The argument about a guess, as the page shows it: direction first, size second, and what can be done next.

Made from the analysis that may be shown, so with answers kept back it says only what the reader can know; what
is offered says which sum would close, never with which size.
"""

from __future__ import annotations

import math

from ..geometry import Vector, angle_of
from ..model import Sketch
from ..statics import advice as advising
from ..statics.argument import guess_along
from ..statics.reading import Analysis, ForceReading
from ..statics.stretching import CLOSES, NOTHING, Closes, axis, share, standing
from ..units import write_quantity
from ..working.argue import Argument, Stage, argue
from ..working.both_ways import both_ways
from ..working.data import Data, both_ways_data, sentence_data
from ..working.desk import Desk, Options
from ..working.expression import Symbol
from ..working.phrases import Piece
from ..working.remarks import way
from .answers import may_be_drawn


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
    unknown = [reading for reading in analysis.readings if reading.force.role == "unknown"]
    mine = [each for each in unknown if selected in (each.force.id, each.force.entity)]
    mine.sort(key=lambda each: each.force.id != selected)
    reading = next((each for each in (*mine, *unknown) if _guessed(each)), None)
    desk = Desk(sketch, analysis, Options(symbols_only=not numbers))
    if reading is not None:
        return _argued(desk, reading, both, preview)
    for each in mine:
        if sketch.answers == "kept" and each.vector is None and each.couple_n_m is None:
            return _invitation(desk, each)
        if (minus := _minus(desk, each)) is not None:
            return {"kind": "minus", "of": each.force.id, "headline": minus.pop("headline"), **minus}
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
        "headline": _said(desk, asked, letter, "?" if reading.force.one_way else " act?"),
        "lead": [_said(desk, f"Draw your guess: drag the {grip} of ", letter, ", and see what it leaves open.")],
        "actions": [_command("start", _said(desk, "Draw a guess"), "guess", {"id": reading.force.id, "on": True})],
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
        "minus": _minus(desk, reading),
        "both": _both(desk, part) if part else None,
        "actions": _actions(desk, reading, found, preview),
    }


# Sums: what is missing, as far as a reader can know it


def _left(desk: Desk, closes: Closes) -> float | None:
    """What a sum comes to as it stands; None while something in it is open. Rounding is nothing."""
    terms = [standing(each, closes, desk.analysis) for each in desk.analysis.readings]
    known = [term for term in terms if term is not None]
    if len(known) < len(terms):
        return None
    total = math.fsum(known)
    scale = desk.analysis.torque_scale_n_m if closes == "turning" else desk.analysis.force_scale_n
    return 0.0 if abs(total) <= NOTHING * scale else total


def _amount(desk: Desk, closes: Closes, value: float) -> str:
    return write_quantity(abs(value), "couple" if closes == "turning" else "force", desk.voice.settings)


def _way(desk: Desk, closes: Closes, value: float) -> str:
    """Which way a part of a sum acts, in words."""
    if closes == "turning":
        return desk.voice.turn(1 if value > 0.0 else -1)
    along = axis(desk.analysis, closes)
    sign = 1.0 if value > 0.0 else -1.0
    words = desk.voice.direction((along[0] * sign, along[1] * sign))
    return f"{words}wards" if words in ("up", "down") else words


def _balance_words(desk: Desk, stage: Stage, closes: Closes) -> str:
    """ "2422 N missing to the right", "250 N too much upwards", "closed"; nothing while the sum is not known.

    While the force's answer is kept back no amount is said: with the guess it would make the answer.
    """
    total = _left(desk, closes)
    if total is None:
        return ""
    if total == 0.0:
        return "closed"
    force = desk.voice.forces[stage.part.partition(".")[0]]
    own = share(force, closes, desk.analysis)
    too_much = own * total > 0.0 and stage.agrees is not False
    if desk.options.symbols_only or _is_kept(desk, force.id):
        return f"too much {_way(desk, closes, total)}" if too_much else f"more needed {_way(desk, closes, -total)}"
    if too_much:
        return f"{_amount(desk, closes, total)} too much {_way(desk, closes, total)}"
    return f"{_amount(desk, closes, total)} missing {_way(desk, closes, -total)}"


def _is_kept(desk: Desk, force_id: str) -> bool:
    reading = desk.analysis.reading(force_id)
    return desk.voice.sketch.answers == "kept" and reading.vector is None and reading.couple_n_m is None


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


# Words


def _headline(desk: Desk, found: Argument) -> list[Data]:
    """The first thing to see to: a part drawn the wrong way, a sum that does not close, else that all is well."""
    letter = desk.letters.force(found.force)
    against = next((stage for stage in found.stages if stage.agrees is False), None)
    open_stage = next((stage for stage in found.stages if not _settled(desk, stage)), None)
    for stage in (against, open_stage):
        if stage is None:
            continue
        closes = _closes(desk, stage)
        words = _balance_words(desk, stage, closes) if closes is not None else ""
        if words and words != "closed":
            return _said(desk, *_place(desk, stage), ": ", words)
        if stage.agrees is False:
            return _said(desk, *_place(desk, stage), ": ", *_must(desk, stage))
        if stage.verdict in ("depends", "open"):
            return _said(desk, *_place(desk, stage), ": it depends on sizes")
    left = [_left(desk, closes) for closes in CLOSES]
    if all(total == 0.0 for total in left):
        return _said(desk, "All three sums close")
    turning = left[CLOSES.index("turning")]
    if turning:
        kept = desk.options.symbols_only or _is_kept(desk, found.force)
        missing = "more needed" if kept else f"{_amount(desk, 'turning', turning)} missing"
        missing += f" {_way(desk, 'turning', -turning)}"
        return _said(desk, "About ", desk.voice.place(desk.analysis.pivot), f": {missing}")
    return _said(desk, letter, " acts the way it must; now its size")


def _lead(desk: Desk, found: Argument) -> list[list[Data]]:
    """What the first open stage comes to, for a reader with little room: what must be, and what the guess does."""
    first = next((stage for stage in found.stages if stage.agrees is False), None)
    first = first or next((stage for stage in found.stages if not _settled(desk, stage)), None)
    return [] if first is None else [sentence_data(each) for each in first.sentences[-2:]]


def _settled(desk: Desk, stage: Stage) -> bool:
    closes = _closes(desk, stage)
    words = _balance_words(desk, stage, closes) if closes is not None else ""
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
    words = _balance_words(desk, stage, closes) if closes is not None else ""
    return {
        "part": stage.part,
        "verdict": stage.verdict,
        "agrees": stage.agrees,
        "title": _said(desk, *_place(desk, stage)),
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
        return _said(desk, "The answer: ", letter, f" is {size} {sense}".rstrip(), ".")
    if reading.vector is None or reading.size_n is None:
        return None
    size = write_quantity(reading.size_n, "force", settings)
    if reading.size_n == 0.0:
        return _said(desk, "The answer: ", letter, f" is {size}.")
    angle = write_quantity(angle_of(reading.vector), "angle", settings)
    return _said(desk, "The answer: ", letter, f" is {size} at {angle}, {desk.voice.direction(reading.vector)}.")


def _minus(desk: Desk, reading: ForceReading) -> Data | None:
    """What a minus means: the other way from the arrow as drawn; for a one-way force, no balance like this."""
    voice, force = desk.voice, reading.force
    letter = desk.letters.force(force.id)
    if reading.cannot:
        return {
            "headline": _said(desk, "No balance like this"),
            "lead": [_said(desk, letter, f" would have to act the way it cannot: {reading.cannot}.")],
            "actions": [],
        }
    drawn: list[tuple[Symbol, float, str]] = []
    if force.along is None and reading.against_drawn and reading.couple_n_m is not None:
        drawn.append((letter, reading.couple_n_m, "couple"))
    elif force.sought == "size" and reading.against_drawn and reading.size_n is not None:
        drawn.append((letter, reading.size_n, "force"))
    elif force.sought == "size and direction":
        for which, against, value in zip("xy", reading.against_components, reading.components_n, strict=True):
            if against and value is not None:
                drawn.append((voice.symbol(f"{force.id}.{which}"), value, "force"))
    if not drawn:
        return None
    said: list[Piece] = []
    for place, (symbol, value, kind) in enumerate(drawn):
        size = write_quantity(-abs(value), "couple" if kind == "couple" else "force", voice.settings)
        said += [" and " if place else "", symbol, f" = {size}"]
    many = len(drawn) > 1
    reason = (
        "Minus: they act the other way from the arrows as drawn. Same sizes, same physics."
        if many
        else "Minus: it acts the other way from the arrow as drawn. Same size, same physics."
    )
    args: dict[str, object] = {"id": force.entity, "key": "as_answered", "text": "true"}
    draw = [_command("as-answered", _said(desk, "Draw it this way"), "set", args)]
    actions = draw if may_be_drawn(voice.sketch, reading) else []
    return {"headline": _said(desk, *said), "lead": [_said(desk, reason)], "actions": actions}


def _both(desk: Desk, part: str) -> Data | None:
    """Both cases side by side; with answers kept back in symbols only, so that no size is given away."""
    sketch = desk.voice.sketch
    options = Options(symbols_only=sketch.answers == "kept" or desk.options.symbols_only)
    found = both_ways(sketch, desk.analysis, part, options=options)
    if found is None:
        return None
    titles = [
        _said(desk, desk.voice.symbol(part), f" drawn {way(desk.voice, desk.parts[part], sign)}") for sign in (1, -1)
    ]
    return {
        **both_ways_data(found, comma=desk.voice.comma),
        "asDrawnTitle": titles[0],
        "otherWayTitle": titles[1],
    }


# What can be done


def _actions(desk: Desk, reading: ForceReading, found: Argument, preview: bool) -> list[Data]:
    force_id, sketch = found.force, desk.voice.sketch
    actions: list[Data] = []
    if found.turn is not None or found.turn_couple is not None:
        actions.append(_command("turn", _said(desk, "Turn it"), "turn", {"id": force_id}, moves=True))
    else:
        actions += _stretches(desk, reading)
    if sketch.answers == "kept" and reading.fixed:
        told = force_id in sketch.told
        label = "Keep the answer back" if told else "Show the answer"
        actions.append(_command("tell", _said(desk, label), "tell", {"id": force_id, "on": not told}))
    two_way = next((stage.part for stage in found.stages if not desk.parts[stage.part].one_way), "")
    if two_way and (preview or both_ways(sketch, desk.analysis, two_way, options=Options(symbols_only=True))):
        actions.append({"key": "both", "label": _said(desk, "Other way round"), "show": {"both": two_way}})
    actions.append(_command("drop", _said(desk, "Remove my guess"), "guess", {"id": force_id, "on": False}))
    return actions


def _stretches(desk: Desk, reading: ForceReading) -> list[Data]:
    """The sums a guess can close by its size alone, as far as a reader can know.

    Those in which nothing else is to be found come first; while answers are kept back they come alone.
    """
    force = reading.force
    others = {closes: _others_sought(desk, force.id, closes) for closes in CLOSES}
    rows = sorted(CLOSES, key=lambda closes: others[closes])
    offers: list[Data] = []
    least = 0
    for closes in rows:
        own = share(force, closes, desk.analysis)
        left = _left(desk, closes)
        if own == 0.0 or (left is None and not _can_be_found(desk, closes)):
            continue
        # Closed already, or left open by the others on the side where the guess does not act.
        if left is not None and (left == 0.0 or (own - left) * own <= 0.0):
            continue
        if offers and others[closes] > least and _is_kept(desk, force.id):
            break
        least = others[closes]
        label = _said(desk, "Stretch it until ", _sum_symbol(desk, closes), " closes")
        args: dict[str, object] = {"id": force.id, "closes": closes}
        offers.append(_command(f"stretch-{closes}", label, "stretch", args, moves=True))
    return offers


def _others_sought(desk: Desk, force_id: str, closes: Closes) -> int:
    """How many other unknowns have a term in a sum."""
    analysis = desk.analysis
    if closes == "turning":
        found = advising.about(analysis, analysis.pivot)
    else:
        found = advising.along(analysis, axis(analysis, closes))
    return len({key.partition(".")[0] for key in found.left} - {force_id})


def _can_be_found(desk: Desk, closes: Closes) -> bool:
    """Whether whatever is still open in a sum has a single answer."""
    return all(each.fixed or standing(each, closes, desk.analysis) is not None for each in desk.analysis.readings)


def _sum_symbol(desk: Desk, closes: Closes) -> Symbol:
    if closes != "turning":
        return Symbol("ΣF", closes, italic_index=True)
    letter = "τ" if desk.voice.settings.turning_word == "torque" else "M"
    return Symbol(f"Σ{letter}", desk.voice.point_name(desk.analysis.pivot))


def _command(key: str, label: list[Data], command: str, args: dict[str, object], *, moves: bool = False) -> Data:
    """A button: the command it gives; `moves`: the arrow is seen moving there (the command takes a `share`)."""
    data: Data = {"key": key, "label": label, "command": command, "args": args}
    if moves:
        data["moves"] = True
    return data


def _said(desk: Desk, *pieces: Piece) -> list[Data]:
    return sentence_data(desk.voice.say(*pieces))
