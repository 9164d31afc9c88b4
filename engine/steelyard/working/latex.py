"""Equations as LaTeX, with siunitx v3 for every number: \\qty, \\ang and \\num."""

from __future__ import annotations

from .expression import Equation, Expression, Number, Symbol
from .figures import UNITS
from .layout import Token, expression_line, line, rows

_GREEK = {
    "α": r"\alpha", "β": r"\beta", "γ": r"\gamma", "δ": r"\delta", "ε": r"\epsilon", "ζ": r"\zeta", "η": r"\eta",
    "θ": r"\theta", "κ": r"\kappa", "λ": r"\lambda", "μ": r"\mu", "ν": r"\nu", "ξ": r"\xi", "π": r"\pi",
    "ρ": r"\rho", "σ": r"\sigma", "τ": r"\tau", "φ": r"\varphi", "χ": r"\chi", "ψ": r"\psi", "ω": r"\omega",
    "Γ": r"\Gamma", "Δ": r"\Delta", "Θ": r"\Theta", "Λ": r"\Lambda", "Ξ": r"\Xi", "Π": r"\Pi", "Σ": r"\Sigma",
    "Φ": r"\Phi", "Ψ": r"\Psi", "Ω": r"\Omega", "ℓ": r"\ell", "⊥": r"\perp",
}  # fmt: skip
_SPECIAL = {
    "\\": r"\textbackslash{}", "{": r"\{", "}": r"\}", "$": r"\$", "&": r"\&", "#": r"\#", "%": r"\%", "_": r"\_",
    "^": r"\textasciicircum{}", "~": r"\textasciitilde{}",
    "\u00a0": "~", "\u2009": r"\,", "−": "$-$", "·": r"$\cdot$", "°": r"\textdegree{}", "Σ": r"$\Sigma$",
    "→": r"$\rightarrow$", "↑": r"$\uparrow$", "↓": r"$\downarrow$", "←": r"$\leftarrow$",
    "↺": r"$\circlearrowleft$", "↻": r"$\circlearrowright$", "≈": r"$\approx$",
}  # fmt: skip
# A page of A4 or Letter with usual margins holds about this much at the panel's own scale.
PAGE_PX = 620.0


def equation_latex(equation: Equation) -> str:
    """An equation as one line of LaTeX, without math delimiters."""
    return _line(line(equation))


def equation_display(equation: Equation) -> str:
    """An equation as display mathematics, broken where it would not fit a printed page."""
    broken = rows(equation, PAGE_PX)
    if len(broken) == 1:
        return f"\\[ {_line(broken[0])} \\]"
    body = " \\\\\n".join(f"  & {_line(row)}" for row in broken)
    return f"\\begin{{align*}}\n{body}\n\\end{{align*}}"


def expression_latex(expression: Expression) -> str:
    """An expression as LaTeX, without math delimiters."""
    return _line(expression_line(expression))


def symbol_latex(symbol: Symbol) -> str:
    """A symbol: italic base, index italic when it names a quantity, else upright."""
    base = _letters(symbol.base)
    if len(symbol.base) > 1 and symbol.base.isascii():
        base = rf"\mathit{{{base}}}"
    if not symbol.index:
        return base
    index = _letters(symbol.index)
    if not symbol.italic_index:
        index = rf"\mathrm{{{index}}}"
    return f"{base}_{{{index}}}"


def number_latex(number: Number) -> str:
    """A number with its unit, for siunitx."""
    if number.unit == "deg":
        return rf"\ang{{{number.text}}}"
    if not number.unit:
        return rf"\num{{{number.text}}}"
    return rf"\qty{{{number.text}}}{{{UNITS[number.unit].latex}}}"


def escape(text: str) -> str:
    """Words as LaTeX text, safe whatever the user typed."""
    return "".join(_SPECIAL.get(char, f"${_GREEK[char]}$" if char in _GREEK else char) for char in text)


def _letters(text: str) -> str:
    out = []
    for char in text:
        if char in _GREEK:
            out.append(_GREEK[char] + " ")
        elif char.isalnum() or char in ",/'":
            out.append(char)
        else:
            out.append(rf"\text{{{escape(char)}}}")
    return "".join(out).strip()


def _line(tokens: tuple[Token, ...]) -> str:
    return " ".join(piece for piece in (_token(token) for token in tokens) if piece)


def _token(token: Token) -> str:
    match token.kind:
        case "symbol":
            assert isinstance(token.leaf, Symbol)
            return symbol_latex(token.leaf)
        case "number":
            assert isinstance(token.leaf, Number)
            return number_latex(token.leaf)
        case "name":
            return rf"\{token.text}"
        case "plus":
            return "+"
        case "minus" | "negative":
            return "-"
        case "dot":
            return r"\cdot"
        case "beside":
            return r"\,"
        case "equals":
            return "="
        case "open":
            return r"\left("
        case "close":
            return r"\right)"
        case "over":
            return "/"
        case "fraction":
            return rf"\frac{{{_line(token.parts[0])}}}{{{_line(token.parts[1])}}}"
        case "root":
            return rf"\sqrt{{{_line(token.parts[0])}}}"
        case "square":
            return rf"{{{_line(token.parts[0])}}}^{{2}}"
