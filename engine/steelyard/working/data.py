"""A working as plain data for the page: MathML as nested lists, words as styled runs."""

from __future__ import annotations

from ..statics.advice import Advice
from .argue import Argument
from .both_ways import BothWays
from .expression import forces_in
from .layout import ROW_PX
from .mathml import equation_rows
from .phrases import Voice
from .record import Contact, Line, Sense, Sentence, Step, Working
from .spoken import equation_spoken
from .two_pivots import TwoPivots

Data = dict[str, object]


def as_data(working: Working) -> Data:
    """`{body, symbolsOnly, steps: [...]}`; every value is JSON."""
    return {
        "body": working.body,
        "symbolsOnly": working.symbols_only,
        "steps": [step_data(step, comma=working.comma) for step in working.steps],
    }


def step_data(step: Step, *, comma: bool = False, width_px: float = ROW_PX) -> Data:
    """One step: `{kind, title, why, sense, lines, remarks, contacts, point, axis, finds}`, `bodies` where several.

    `width_px` is the room for a row of mathematics at the size the panel sets it in.
    """
    return {
        "kind": step.kind,
        "title": sentence_data(step.title),
        "why": [sentence_data(each) for each in step.why],
        "sense": _sense(step.sense),
        "lines": [line_data(line, comma=comma, width_px=width_px) for line in step.lines],
        "remarks": [sentence_data(each) for each in step.remarks],
        "contacts": [_contact(each) for each in step.contacts],
        "point": None if step.point is None else list(step.point),
        "axis": None if step.axis is None else list(step.axis),
        "finds": list(step.finds),
        **({"bodies": list(step.bodies)} if step.bodies else {}),
    }


def line_data(line: Line, *, comma: bool = False, width_px: float = ROW_PX) -> Data:
    """`{kind, underlined, rows: [MathML], text, forces}`; `text` is how it is read aloud."""
    return {
        "kind": line.kind,
        "underlined": line.underlined,
        "rows": equation_rows(line.equation, comma=comma, width_px=width_px),
        "text": equation_spoken(line.equation, comma=comma),
        "forces": list(forces_in(line.equation)),
    }


def sentence_data(sentence: Sentence) -> list[Data]:
    """Runs `{text, role}`, with `of` where a force is named and `italic` for an index that names a quantity."""
    runs: list[Data] = []
    for run in sentence.runs:
        data: Data = {"text": run.text, "role": run.role}
        if run.of:
            data["of"] = run.of
        if run.italic:
            data["italic"] = True
        runs.append(data)
    return runs


def _contact(contact: Contact) -> Data:
    return {
        "entity": contact.entity,
        "forces": list(contact.forces),
        "stops": list(contact.stops),
        "sentence": sentence_data(contact.sentence),
    }


def _sense(sense: Sense | None) -> Data | None:
    if sense is None:
        return None
    if sense.kind == "turn":
        return {"kind": "turn", "turn": sense.turn, "words": sense.words}
    return {"kind": "axis", "angle_deg": sense.angle_deg, "words": sense.words}


def argument_data(argument: Argument) -> Data:
    """`{force, caution, stages, turn, turnCouple}`.

    A stage is `{part, verdict, sign, agrees, point, axis, sentences}`.
    """
    return {
        "force": argument.force,
        "caution": None if argument.caution is None else sentence_data(argument.caution),
        "stages": [
            {
                "part": stage.part,
                "verdict": stage.verdict,
                "sign": stage.sign,
                "agrees": stage.agrees,
                "point": None if stage.sum.point is None else list(stage.sum.point),
                "axis": None if stage.sum.along is None else list(stage.sum.along),
                "sentences": [sentence_data(each) for each in stage.sentences],
            }
            for stage in argument.stages
        ],
        "turn": None if argument.turn is None else list(argument.turn),
        "turnCouple": argument.turn_couple,
    }


def both_ways_data(both: BothWays, *, comma: bool = False) -> Data:
    """`{part, asDrawn, otherWay, sentence}`."""
    return {
        "part": both.part,
        "asDrawn": step_data(both.as_drawn, comma=comma),
        "otherWay": step_data(both.other_way, comma=comma),
        "sentence": sentence_data(both.sentence),
    }


def two_pivots_data(compared: TwoPivots, *, comma: bool = False) -> Data:
    """`{first, second, change, sentence}`; `change` is null with balance."""
    return {
        "first": step_data(compared.first, comma=comma),
        "second": step_data(compared.second, comma=comma),
        "change": None if compared.change is None else step_data(compared.change, comma=comma),
        "sentence": sentence_data(compared.sentence),
    }


def advice_data(advice: Advice, voice: Voice) -> Data:
    """`{source, point, axis, drops, left, count, sentence}` for a quiet mark on the board or a line in the panel."""
    if advice.point is not None:
        where = ["About ", *voice.where(advice), ": "]
    else:
        where = ["Along ", *voice.axis_words(advice.along or (1.0, 0.0), advice), ": "]
    drops = [*voice.symbols(advice.drops), " out, "] if advice.drops else []
    left = [*voice.symbols(advice.left), " left."] if advice.left else ["no unknown left."]
    return {
        "source": advice.source,
        "point": None if advice.point is None else list(advice.point),
        "axis": None if advice.along is None else list(advice.along),
        "drops": list(advice.drops),
        "left": list(advice.left),
        "count": len(advice.left),
        "sentence": sentence_data(voice.say(*where, *drops, *left)),
    }
