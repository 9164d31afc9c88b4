"""A whole working as a LaTeX document and as Markdown."""

from __future__ import annotations

from . import latex
from .expression import Symbol
from .markdown import equation_markdown, symbol_markdown
from .markdown import escape as escape_markdown
from .record import Run, Sentence, Step, Working

_PREAMBLE = r"""\documentclass{article}
\usepackage[utf8]{inputenc}
\usepackage[T1]{fontenc}
\usepackage{textcomp}
\usepackage{amsmath}
\usepackage{amssymb}
\usepackage{siunitx}
\sisetup{per-mode=symbol, inter-unit-product=\ensuremath{{}\cdot{}}}
\begin{document}
"""

_COMMAS = r"\sisetup{output-decimal-marker={,}}"
# Units siunitx does not know.
_UNITS = {"lbf": r"\DeclareSIUnit\lbf{lbf}", "foot": r"\DeclareSIUnit\foot{ft}"}


def latex_document(working: Working) -> str:
    """A complete article that compiles with siunitx v3."""
    return _PREAMBLE + latex_body(working) + "\n\\end{document}\n"


def latex_body(working: Working) -> str:
    """The steps alone, for pasting into a document that loads amsmath, amssymb and siunitx.

    Numbers keep their points, as siunitx reads them; commas, and units it does not know, are set at the start.
    """
    blocks: list[str] = []
    for step in working.steps:
        blocks.append(f"\\subsection*{{{_latex_words(step.title)}{_positive(step)}}}")
        blocks.extend(_latex_words(each) for each in step.why)
        if step.contacts:
            items = "\n".join(f"  \\item {_latex_words(contact.sentence)}" for contact in step.contacts)
            blocks.append(f"\\begin{{itemize}}\n{items}\n\\end{{itemize}}")
        blocks.extend(latex.equation_display(line.equation) for line in step.lines)
        blocks.extend(_latex_words(each) for each in step.remarks)
    body = "\n\n".join(blocks)
    before = [_COMMAS] if working.comma else []
    before += [declared for unit, declared in _UNITS.items() if f"\\{unit}" in body]
    return "\n".join([*before, body])


def markdown(working: Working) -> str:
    """The working as Markdown with dollar-delimited TeX."""
    blocks = []
    for number, step in enumerate(working.steps, 1):
        blocks.append(f"### {number}. {_markdown_words(step.title)}{_positive(step)}")
        blocks.extend(_markdown_step(step, comma=working.comma))
    return "\n\n".join(blocks) + "\n"


def _markdown_step(step: Step, *, comma: bool) -> list[str]:
    blocks = [_markdown_words(each) for each in step.why]
    if step.contacts:
        blocks.append("\n".join(f"- {_markdown_words(contact.sentence)}" for contact in step.contacts))
    blocks.extend(equation_markdown(line.equation, comma=comma) for line in step.lines)
    blocks.extend(_markdown_words(each) for each in step.remarks)
    return blocks


_WAYS: dict[float, str] = {
    0.0: r"\rightarrow", 90.0: r"\uparrow", 180.0: r"\leftarrow", -90.0: r"\downarrow", -180.0: r"\leftarrow",
}  # fmt: skip


def _positive(step: Step) -> str:
    """The positive sense of a sum, to stand beside its title: an arrow, or words where the axis slants."""
    if step.sense is None or step.kind == "isolate":
        return ""
    if step.sense.kind == "turn":
        sign = r"\circlearrowleft" if step.sense.turn > 0 else r"\circlearrowright"
        return f" (${sign} +$)"
    sign = _WAYS.get(round(step.sense.angle_deg, 9), "")
    return f" (${sign} +$)" if sign else f" (+ {step.sense.words})"


def _pieces(sentence: Sentence) -> list[str | Symbol]:
    """Words and symbols, an index joined to its letter again."""
    pieces: list[str | Symbol] = []
    runs = list(sentence.runs)
    for index, run in enumerate(runs):
        if run.role == "symbol":
            below = runs[index + 1] if index + 1 < len(runs) else Run("")
            index_text = below.text if below.role == "sub" else ""
            pieces.append(Symbol(run.text, index_text, run.of, below.italic))
        elif run.role == "word":
            pieces.append(run.text)
    return pieces


def _latex_words(sentence: Sentence) -> str:
    return "".join(
        latex.escape(piece) if isinstance(piece, str) else f"${latex.symbol_latex(piece)}$"
        for piece in _pieces(sentence)
    )


def _markdown_words(sentence: Sentence) -> str:
    return "".join(
        escape_markdown(piece) if isinstance(piece, str) else symbol_markdown(piece) for piece in _pieces(sentence)
    )
