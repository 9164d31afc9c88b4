"""Equations in plain English, as a person would read them aloud from the board."""

from __future__ import annotations

from .expression import Equation, Number, Symbol
from .figures import UNITS, local
from .layout import Token, line

_GREEK = {
    "α": "alpha", "β": "beta", "γ": "gamma", "η": "eta", "θ": "theta", "ξ": "xi", "ρ": "rho", "τ": "tau", "φ": "phi",
    "χ": "chi", "ψ": "psi", "Σ": "sum of ", "ℓ": "l",
}  # fmt: skip
_NAMES = {"cos": "cosine", "sin": "sine", "tan": "tangent", "arctan": "inverse tangent"}


def equation_spoken(equation: Equation, *, comma: bool = False) -> str:
    """An equation as words."""
    words = " ".join(_token(token, comma) for token in line(equation)).split()
    return " ".join(words).replace(" ,", ",")


def symbol_spoken(symbol: Symbol) -> str:
    """A symbol as words: "R x", "theta T"."""
    base = "".join(_GREEK.get(char, char) for char in symbol.base)
    index = "".join(f" {_GREEK[char]} " if char in _GREEK else char for char in symbol.index).strip()
    return f"{base} {index}" if index else base


def number_spoken(number: Number, *, comma: bool = False) -> str:
    """A number with its unit as words; "minus" for a minus sign."""
    text = local(number.text, comma=comma).replace("\u2009", "").replace("−", "minus ")
    if not number.unit:
        return text
    unit = UNITS[number.unit]
    return f"{text} {unit.one if number.text in ('1', '-1') else unit.many}"


def _token(token: Token, comma: bool) -> str:
    match token.kind:
        case "symbol":
            assert isinstance(token.leaf, Symbol)
            return symbol_spoken(token.leaf)
        case "number":
            assert isinstance(token.leaf, Number)
            return number_spoken(token.leaf, comma=comma)
        case "name":
            return _NAMES[token.text]
        case "plus":
            return "plus"
        case "minus" | "negative":
            return "minus"
        case "dot":
            return "times"
        case "beside":
            return ""
        case "equals":
            return "equals"
        case "open":
            return "the quantity"
        case "close":
            return ", end of quantity,"
        case "over":
            return "over"
        case "fraction":
            above, below = (" ".join(_token(part, comma) for part in tokens) for tokens in token.parts)
            simple = len(token.parts[0]) == 1 and len(token.parts[1]) == 1
            return f"{above} over {below}" if simple else f"the fraction {above}, over {below}, end of fraction,"
        case "root":
            return f"the square root of {' '.join(_token(part, comma) for part in token.parts[0])}, end of root,"
        case "square":
            return f"{' '.join(_token(part, comma) for part in token.parts[0])} squared"
