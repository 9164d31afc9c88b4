"""Points worth trying as pivots, the form torques are written in, and the same sum about two points."""

from __future__ import annotations

from functools import lru_cache

from ..geometry import angle_of
from ..model import Sketch, TorqueForm
from ..statics.advice import Advice
from ..statics.pivot import pivot_point, second_point
from ..statics.reading import Analysis, ForceReading
from ..statics.tries import is_at, worth_trying
from ..working.data import advice_data, sentence_data, two_pivots_data
from ..working.expression import Symbol
from ..working.figures import display
from ..working.letters import letters_for
from ..working.phrases import Piece, Voice, listed, sentence
from ..working.two_pivots import two_pivots

Data = dict[str, object]


def pivots(sketch: Sketch, analysis: Analysis) -> Data:
    """`{tries, forms, turning_word, pivot_word, pinned, compare, missing}`.

    A try is `{key, sentence, here, command}`: its key is that of its mark on the board, its command puts the pivot
    there, or turns the axes. `compare` is null without a second pivot, or while a force has no value to put in:
    then `missing` says which.
    """
    settings = sketch.settings
    letters = letters_for(sketch, analysis)
    voice = Voice(sketch, analysis, letters, display(settings))
    tries = worth_trying(sketch, analysis)
    here = pivot_point(sketch)
    second = second_point(sketch)
    missing = None if second is None else _missing(sketch, analysis, voice)
    compared = None if second is None or missing is not None else two_pivots(sketch, analysis, here, second)
    return {
        "tries": [
            {
                "key": f"try-{index}",
                "sentence": advice_data(each, voice)["sentence"],
                "here": is_at(each, here, analysis.lever_m),
                "command": _command(each, sketch),
            }
            for index, each in enumerate(tries)
        ],
        "forms": _forms(settings.torque_form, settings.arm_letter),
        "turning_word": settings.turning_word,
        "pivot_word": settings.pivot_word,
        "pinned": second is not None,
        "compare": None if compared is None else two_pivots_data(compared, comma=settings.decimal_comma),
        "missing": None if missing is None else sentence_data(voice.say(*missing)),
    }


def _command(each: Advice, sketch: Sketch) -> Data | None:
    """What pressing a line does; an axis that is one of the two already needs nothing done."""
    if each.point is not None:
        return {"name": "pivot", "args": {"at": list(each.point)}}
    if each.source != "across" or each.along is None or sketch.settings.axes_along is not None:
        return None
    return {"name": "settings", "args": {"key": "axes_deg", "text": repr(angle_of(each.along))}}


@lru_cache(maxsize=4)
def _forms(chosen: TorqueForm, arm_letter: str) -> Data:
    """The three ways to write the same torque, short enough for three buttons in a row."""
    size, index_x, index_y = Symbol("F"), Symbol("F", "x", italic_index=True), Symbol("F", "y", italic_index=True)
    ways: tuple[tuple[str, str, list[Piece]], ...] = (
        ("arm", "force times moment arm", [size, "\u2009", Symbol(arm_letter)]),
        (
            "square",
            "distance times the part of the force across it",
            [Symbol("r"), "\u2009", size, "\u2009sin\u2009", Symbol("φ")],
        ),
        ("components", "from components", [Symbol("x"), "\u2009", index_y, " − ", Symbol("y"), "\u2009", index_x]),
    )
    return {
        "value": chosen,
        "options": [
            {"value": value, "spoken": spoken, "runs": sentence_data(sentence(*pieces))}
            for value, spoken, pieces in ways
        ],
    }


def _missing(sketch: Sketch, analysis: Analysis, voice: Voice) -> list[Piece] | None:
    """What keeps the two sums from being worked out, in words; None when nothing does."""
    letters = [each for each in analysis.readings if each.force.role == "known" and not _has_value(each)]
    if letters:
        verb = "is a letter" if len(letters) == 1 else "are letters"
        return [*_symbols(letters, voice), f" {verb} only: with a size, both sums can be worked out."]
    nobody = analysis.supports.kind == "impossible"
    open_ = [
        each
        for each in analysis.readings
        if each.force.role == "unknown" and not _guessed(each) and (nobody or not _has_value(each))
    ]
    if not open_:
        return None
    verb = "has" if len(open_) == 1 else "have"
    if sketch.answers == "kept":
        return [
            "Both sums can be worked out once ",
            *_symbols(open_, voice),
            f" {verb} a guess, or the answers are shown.",
        ]
    return [*_symbols(open_, voice), f" {verb} no single value: with a guess, both sums can be worked out."]


def _symbols(readings: list[ForceReading], voice: Voice) -> list[Piece]:
    return listed([voice.letters.force(each.force.id) for each in readings])


def _guessed(reading: ForceReading) -> bool:
    return reading.force.guess is not None or reading.force.guess_couple_n_m is not None


def _has_value(reading: ForceReading) -> bool:
    return (reading.couple_n_m if reading.force.along is None else reading.vector) is not None
