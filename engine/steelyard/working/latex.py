"""Equations as LaTeX, with siunitx v3 for every number: \\qty, \\ang and \\num."""

from __future__ import annotations

from .expression import Equation, Expression, Number, Symbol
from .figures import UNITS
from .layout import expression_line, line, rows
from .tex import Hand, written

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
    "\u00a0": "~", "\u2009": r"\,", "−": "$-$", "·": r"$\cdot$", "°": r"\textdegree{}", "²": "$^2$", "Σ": r"$\Sigma$",
    "→": r"$\rightarrow$", "↑": r"$\uparrow$", "↓": r"$\downarrow$", "←": r"$\leftarrow$",
    "↺": r"$\circlearrowleft$", "↻": r"$\circlearrowright$", "≈": r"$\approx$",
}  # fmt: skip
# A page of A4 or Letter with usual margins holds about this much at the panel's own scale.
PAGE_PX = 560.0


def equation_latex(equation: Equation) -> str:
    """An equation as one line of LaTeX, without math delimiters."""
    return written(line(equation), _HAND)


def equation_display(equation: Equation) -> str:
    """An equation as display mathematics, broken where it would not fit a printed page."""
    broken = rows(equation, PAGE_PX)
    if len(broken) == 1:
        return f"\\[ {written(broken[0], _HAND)} \\]"
    body = " \\\\\n".join(f"  & {written(row, _BROKEN)}" for row in broken)
    return f"\\begin{{align*}}\n{body}\n\\end{{align*}}"


def expression_latex(expression: Expression) -> str:
    """An expression as LaTeX, without math delimiters."""
    return written(expression_line(expression), _HAND)


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


# Brackets that grow with what they hold must close on the row they open on; these may close on another.
_BROKEN = Hand(symbol_latex, number_latex, (r"\bigl(", r"\bigr)"), "^{2}")
_HAND = Hand(symbol_latex, number_latex, (r"\left(", r"\right)"), "^{2}")
