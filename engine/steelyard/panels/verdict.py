"""The verdict in one plain sentence, its trade word in brackets, with the reason behind it."""

from __future__ import annotations

from ..statics.reading import Analysis, SupportsVerdict

_COUNT_WORDS = ("None", "One", "Two", "Three", "Four", "Five", "Six")


def verdict(analysis: Analysis | None) -> dict[str, object]:
    """`{kind, headline, sentence, balanced: {kind, sentence}, near, detail}` of the analysis that may be shown.

    The sentence answers what can be answered: a guess is judged by whether the arrows balance,
    a sketch without one by what its supports can do.
    """
    if analysis is None:
        return {
            "kind": "empty",
            "headline": "",
            "sentence": "Draw the thing you want to hold up.",
            "balanced": {"kind": "open", "sentence": ""},
            "near": "",
            "detail": "",
        }
    supports, balance = analysis.supports, analysis.balance
    about_arrows = supports.kind == "none" or (supports.kind == "determinate" and balance.kind == "unbalanced")
    return {
        "kind": supports.kind,
        "headline": _headline(analysis),
        "sentence": balance.sentence if about_arrows else supports.sentence,
        "balanced": {"kind": balance.kind, "sentence": balance.sentence},
        "near": supports.near,
        "detail": supports.reason,
    }


def _headline(analysis: Analysis) -> str:
    supports = analysis.supports
    if supports.kind == "impossible":
        return "Cannot hold."
    if supports.kind == "indeterminate":
        return f"{_count(supports.degree)} too many: degree {supports.degree}."
    if supports.kind == "mechanism":
        return _mechanism(supports)
    return {
        "balanced": "Balanced.",
        "to-the-figures": "Balanced to the figures given.",
        "unbalanced": "Not balanced.",
        "open": "To be found." if supports.kind == "determinate" else "It depends.",
    }[analysis.balance.kind]


def _count(number: int) -> str:
    return _COUNT_WORDS[number] if number < len(_COUNT_WORDS) else str(number)


def _mechanism(supports: SupportsVerdict) -> str:
    if supports.balanced_as_it_stands:
        return "Balanced as it stands, but free to move."
    ways = "" if supports.degree == 1 else f" in {_COUNT_WORDS[supports.degree].lower()} ways"
    return f"Free to move{ways}."
