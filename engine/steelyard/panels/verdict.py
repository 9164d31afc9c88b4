"""The verdict: a short headline and one plain sentence with its reason, the trade's word in brackets."""

from __future__ import annotations

from ..statics.reading import Analysis

_COUNT_WORDS = ("None", "One", "Two", "Three", "Four", "Five", "Six")
_FREE = "Free to move"


def verdict(analysis: Analysis | None, kept: bool) -> dict[str, object]:
    """`{kind, headline, sentence, balanced: {kind, sentence}, near, detail}` of the analysis that may be shown.

    What the supports can do comes first where it decides; arrows that do not balance, or that stand
    without supports, are judged by their sum. `kept` only words an open verdict: the analysis given
    holds no answer then.
    """
    if analysis is None:
        return {
            "kind": "empty",
            "headline": "Draw the thing you want to hold up.",
            "sentence": "Then say what holds it, what loads it, and about which point to take torques.",
            "balanced": {"kind": "open", "sentence": ""},
            "near": "",
            "detail": "",
        }
    headline, sentence, detail = _words(analysis, kept)
    return {
        "kind": analysis.supports.kind,
        "headline": headline,
        "sentence": sentence,
        "balanced": {"kind": analysis.balance.kind, "sentence": analysis.balance.sentence},
        "near": analysis.supports.near,
        "detail": detail,
    }


def _words(analysis: Analysis, kept: bool) -> tuple[str, str, str]:
    """Headline, sentence and a further sentence."""
    supports, balance = analysis.supports, analysis.balance
    if not analysis.readings:
        return "No forces yet.", "Say what holds it and what loads it.", ""
    if supports.kind == "impossible":
        return "Cannot hold.", supports.sentence, balance.sentence
    if supports.kind == "mechanism" and not supports.sentence.startswith(_FREE):
        return "Only some loads fit.", supports.sentence, balance.sentence
    if supports.kind == "mechanism":
        return (*_split(supports.sentence, _FREE), balance.sentence)
    if balance.kind in ("unbalanced", "to-the-figures") or supports.kind == "none":
        return (*_split(balance.sentence, ""), supports.sentence if supports.kind != "none" else "")
    if supports.kind == "indeterminate":
        return f"{_count(supports.degree)} too many: degree {supports.degree}.", supports.sentence, balance.sentence
    if balance.kind == "balanced":
        return "Balanced.", supports.sentence, ""
    headline, sentence = ("Answers kept back.", "") if kept else _split(balance.sentence, "")
    return headline, supports.sentence, sentence


def _split(sentence: str, start: str) -> tuple[str, str]:
    """A sentence "Headline: reason." as two, so that nothing is said twice side by side."""
    head, colon, rest = sentence.partition(": ")
    if not colon or not head.startswith(start):
        return sentence, ""
    return f"{head}.", rest[:1].upper() + rest[1:]


def _count(number: int) -> str:
    return _COUNT_WORDS[number] if number < len(_COUNT_WORDS) else str(number)
