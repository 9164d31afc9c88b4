"""Reads printed mathematics back into one neutral tree, to compare what LaTeX and MathML say.

Nodes: ("sum", ((sign, node), ...)), ("product", (node, ...)), ("quotient", above, below), ("minus", node),
("function", name, node), ("square", node), ("root", node), ("symbol", base, index), ("number", text, unit).
"""

from __future__ import annotations

import math
import re

import sympy
from steelyard.working import expression as ex

LATEX_UNITS = {
    r"\newton": "N", r"\metre": "m", r"\newton\metre": "N m", r"\kilogram": "kg", r"\lbf": "lbf", r"\foot": "ft",
    r"\metre\per\second\squared": "m/s2", r"\lbf\foot": "lbf ft",
    r"\newton\per\metre": "N/m", r"\lbf\per\foot": "lbf/ft",
}  # fmt: skip
MATHML_UNITS = {
    "N": "N",
    "m": "m",
    "N·m": "N m",
    "kg": "kg",
    "lbf": "lbf",
    "ft": "ft",
    "m/s²": "m/s2",
    "lbf·ft": "lbf ft",
    "N/m": "N/m",
    "lbf/ft": "lbf/ft",
    "°": "deg",
}
GREEK = {r"\alpha": "α", r"\beta": "β", r"\gamma": "γ", r"\theta": "θ", r"\mu": "μ", r"\tau": "τ", r"\varphi": "φ",
         r"\Sigma": "Σ", r"\ell": "ℓ", r"\psi": "ψ", r"\xi": "ξ", r"\eta": "η", r"\rho": "ρ", r"\chi": "χ"}  # fmt: skip


def neutral(node):
    """The engine's own tree as a neutral one."""
    match node:
        case ex.Symbol():
            return ("symbol", node.base, node.index)
        case ex.Number():
            return ("number", node.text, node.unit)
        case ex.Sum():
            return ("sum", tuple((sign, neutral(term)) for sign, term in node.terms))
        case ex.Product():
            return ("product", tuple(neutral(factor) for factor in node.factors))
        case ex.Quotient():
            return ("quotient", neutral(node.above), neutral(node.below))
        case ex.Negation():
            return ("minus", neutral(node.of))
        case ex.Function():
            return ("function", node.name, neutral(node.argument))
        case ex.Square():
            return ("square", neutral(node.of))
        case ex.Root():
            return ("root", neutral(node.of))


def value(tree) -> float:
    """What a calculator makes of a tree of printed numbers, angles in degrees."""
    kind, *rest = tree
    match kind:
        case "number":
            return float(rest[0])
        case "sum":
            return math.fsum(sign * value(term) for sign, term in rest[0])
        case "product":
            return math.prod(value(factor) for factor in rest[0])
        case "quotient":
            return value(rest[0]) / value(rest[1])
        case "minus":
            return -value(rest[0])
        case "function":
            if rest[0] == "arctan":
                return math.degrees(math.atan(value(rest[1])))
            return getattr(math, rest[0])(math.radians(value(rest[1])))
        case "square":
            return value(rest[0]) ** 2
        case "root":
            return math.sqrt(value(rest[0]))
    raise AssertionError(f"{kind} has no value")


class _Reader:
    """Recursive descent over tokens: ("op", text), ("open",), ("close",), ("node", tree), ("name", text)."""

    def __init__(self, tokens):
        self.tokens = list(tokens)
        self.at = 0

    def peek(self):
        return self.tokens[self.at] if self.at < len(self.tokens) else ("end", "")

    def take(self):
        self.at += 1
        return self.tokens[self.at - 1]

    def equation(self):
        left = None if self.peek() == ("op", "=") else self.sum()
        assert self.take() == ("op", "=")
        right = self.sum()
        assert self.peek()[0] == "end", self.tokens[self.at :]
        return left, right

    def sum(self):
        terms = []
        sign = 1
        if self.peek() == ("op", "-"):
            self.take()
            sign = -1
        terms.append((sign, self.fraction()))
        while self.peek() in (("op", "+"), ("op", "-")):
            sign = 1 if self.take()[1] == "+" else -1
            terms.append((sign, self.fraction()))
        if len(terms) == 1:
            return terms[0][1] if terms[0][0] > 0 else ("minus", terms[0][1])
        return ("sum", tuple(terms))

    def fraction(self):
        above = self.product()
        if self.peek() == ("op", "/"):
            self.take()
            return ("quotient", above, self.product())
        return above

    def product(self):
        factors = [self.factor()]
        while self.peek() == ("op", "*"):
            self.take()
            factors.append(self.factor())
        return factors[0] if len(factors) == 1 else ("product", tuple(factors))

    def factor(self):
        kind, *rest = self.take()
        if kind == "open":
            inner = self.sum()
            assert self.take()[0] == "close"
            return inner
        if kind == "name":
            return ("function", rest[0], self.factor())
        assert kind == "node", (kind, rest)
        return rest[0]


def read_mathml(node):
    """A `math` element, or several that are rows of one equation, as (left, right)."""
    rows = node if node and isinstance(node[0], list) else [node]
    tokens = [token for row in rows for token in _mathml_tokens(row[2][0][2])]
    return _Reader(tokens).equation()


def _mathml_tokens(children):
    operators = {"+": "+", "−": "-", "·": "*", "\u2062": "*", "=": "=", "∕": "/"}
    for tag, _attributes, inside in children:
        if tag == "mo":
            if inside[0] in "()":
                yield ("open",) if inside[0] == "(" else ("close",)
            else:
                yield ("op", operators[inside[0]])
        elif tag == "mi" and inside[0] in ("cos", "sin", "tan", "arctan"):
            yield ("name", inside[0])
        else:
            yield ("node", _mathml_node(tag, inside))


def _mathml_node(tag, inside):
    if tag == "mi":
        return ("symbol", inside[0], "")
    if tag == "msub":
        return ("symbol", inside[0][2][0], inside[1][2][0])
    if tag == "mn":
        return ("number", _digits(inside[0]), "")
    if tag == "mrow":  # a number, with its unit
        unit = MATHML_UNITS[inside[1][2][0].lstrip("\u00a0")] if len(inside) > 1 else ""
        return ("number", _digits(inside[0][2][0]), unit)
    if tag == "mfrac":
        return ("quotient", *(_Reader(_mathml_tokens(part[2])).sum() for part in inside))
    if tag == "msqrt":
        return ("root", _Reader(_mathml_tokens(inside[0][2])).sum())
    if tag == "msup":
        return ("square", _Reader(_mathml_tokens(inside[0][2])).sum())
    raise AssertionError(tag)


def _digits(text):
    return text.replace("−", "-").replace("\u2009", "").replace(",", ".")


def read_latex(text):
    """One equation of LaTeX as (left, right)."""
    return _Reader(_latex_tokens(text)).equation()


def _latex_tokens(text):
    at = 0
    while at < len(text):
        rest = text[at:]
        if rest[0] == " ":
            at += 1
        elif rest.startswith(r"\left("):
            yield ("open",)
            at += 6
        elif rest.startswith(r"\right)"):
            yield ("close",)
            at += 7
        elif rest.startswith(r"\cdot"):
            yield ("op", "*")
            at += 5
        elif rest.startswith(r"\,"):
            yield ("op", "*")
            at += 2
        elif rest[0] in "+-=/":
            yield ("op", rest[0])
            at += 1
        elif name := re.match(r"\\(cos|sin|tan|arctan)\b", rest):
            yield ("name", name.group(1))
            at += name.end()
        elif rest.startswith((r"\frac", r"\sqrt", r"\qty", r"\num", r"\ang")):
            command = re.match(r"\\[a-z]+", rest).group()
            at += len(command)
            arguments = []
            for _ in range(2 if command in (r"\frac", r"\qty") else 1):
                inner, at = _group(text, at)
                arguments.append(inner)
            yield ("node", _latex_node(command, arguments))
        elif rest[0] == "{":  # a base with its square
            inner, at = _group(text, at)
            assert text[at:].startswith("^{2}")
            at += 4
            yield ("node", ("square", _Reader(_latex_tokens(inner)).sum()))
        else:
            found = re.match(r"((?:\\mathit\{[^}]*\}|\\[A-Za-z]+ ?|[A-Za-z])+)(_\{((?:[^{}]|\{[^{}]*\})*)\})?", rest)
            base = re.sub(r"\\mathit\{([^}]*)\}", r"\1", found.group(1))
            index = re.sub(r"\\(?:mathrm|text)\{([^}]*)\}", r"\1", found.group(3) or "")
            yield ("node", ("symbol", _letters(base), _letters(index)))
            at += found.end()


def _letters(text):
    for command, letter in GREEK.items():
        text = text.replace(command, letter)
    return text.replace(" ", "")


def _group(text, at):
    assert text[at] == "{"
    depth = 0
    for end in range(at, len(text)):
        depth += (text[end] == "{") - (text[end] == "}")
        if depth == 0:
            return text[at + 1 : end], end + 1
    raise AssertionError(text)


def _latex_node(command, arguments):
    if command == r"\frac":
        return ("quotient", *(_Reader(_latex_tokens(part)).sum() for part in arguments))
    if command == r"\sqrt":
        return ("root", _Reader(_latex_tokens(arguments[0])).sum())
    if command == r"\ang":
        return ("number", arguments[0], "deg")
    return ("number", arguments[0], LATEX_UNITS[arguments[1]] if len(arguments) > 1 else "")


def to_sympy(node: ex.Expression) -> sympy.Expr:
    """The same expression for sympy."""
    match node:
        case ex.Symbol():
            return sympy.Symbol(f"{node.base}_{node.index}", real=True)
        case ex.Number():
            return sympy.nsimplify(node.text)
        case ex.Sum():
            return sympy.Add(*(sign * to_sympy(term) for sign, term in node.terms))
        case ex.Product():
            return sympy.Mul(*(to_sympy(factor) for factor in node.factors))
        case ex.Quotient():
            return to_sympy(node.above) / to_sympy(node.below)
        case ex.Negation():
            return -to_sympy(node.of)
        case ex.Function():
            return getattr(sympy, node.name)(to_sympy(node.argument))
    raise AssertionError(node)
