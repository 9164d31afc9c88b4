"""A working as plain data for the page: MathML as nested lists, words as styled runs."""

from __future__ import annotations

from .expression import forces_in
from .mathml import equation_rows
from .record import Contact, Line, Sense, Sentence, Step, Working
from .spoken import equation_spoken

Data = dict[str, object]


def as_data(working: Working) -> Data:
    """`{body, symbolsOnly, steps: [...]}`; every value is JSON."""
    return {
        "body": working.body,
        "symbolsOnly": working.symbols_only,
        "steps": [step_data(step, comma=working.comma) for step in working.steps],
    }


def step_data(step: Step, *, comma: bool = False) -> Data:
    """One step: `{kind, title, why, sense, lines, remarks, contacts, point, axis, finds}`."""
    return {
        "kind": step.kind,
        "title": sentence_data(step.title),
        "why": [sentence_data(each) for each in step.why],
        "sense": _sense(step.sense),
        "lines": [line_data(line, comma=comma) for line in step.lines],
        "remarks": [sentence_data(each) for each in step.remarks],
        "contacts": [_contact(each) for each in step.contacts],
        "point": None if step.point is None else list(step.point),
        "axis": None if step.axis is None else list(step.axis),
        "finds": list(step.finds),
    }


def line_data(line: Line, *, comma: bool = False) -> Data:
    """`{kind, underlined, rows: [MathML], text, forces}`; `text` is how it is read aloud."""
    return {
        "kind": line.kind,
        "underlined": line.underlined,
        "rows": equation_rows(line.equation, comma=comma),
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
        return {"kind": "turn", "turn": sense.turn}
    return {"kind": "axis", "angle_deg": sense.angle_deg}
