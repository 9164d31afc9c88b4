"""The LaTeX of every working, held to a small strict grammar: what LaTeX would stop at is found without LaTeX.

Commands and environments are those of amsmath, amssymb, textcomp and siunitx (version 3: \\qty, \\ang, \\num) that the
preamble loads. Where LaTeX is installed, one document with all of it is compiled as well.
"""

import re
import shutil
import subprocess
from dataclasses import replace

import pytest
from joined_bank import JOINED
from steelyard import statics
from steelyard.working import export
from steelyard.working.desk import Options
from steelyard.working.steps import work
from working_cases import SKETCHES


def _words(text):
    return text.split()


GREEK = _words("""alpha beta gamma delta epsilon zeta eta theta kappa lambda mu nu xi pi rho sigma tau varphi chi psi
omega Gamma Delta Theta Lambda Xi Pi Sigma Phi Psi Omega ell perp""")
SIGNS = _words("""cdot left right bigl bigr circlearrowleft circlearrowright rightarrow leftarrow uparrow downarrow
sqrt frac sin cos tan arctan mathrm mathit text""")
QUANTITIES = ["qty", "ang", "num"]
WORDS = _words("textbackslash textasciicircum textasciitilde textdegree item begin end sisetup DeclareSIUnit")
KNOWN = {*GREEK, *SIGNS, *QUANTITIES, *WORDS, "subsection"}
UNITS = {"newton", "metre", "kilogram", "second", "per", "squared", "lbf", "lb", "foot", "degree"}
ENVIRONMENTS = {"align*", "itemize"}
NUMBER = re.compile(r"-?\d+(\.\d+)?")
PIECE = re.compile(
    r"(?P<command>\\[A-Za-z]+)|(?P<row>\\\\)|(?P<sign>\\.)|(?P<open>\{)|(?P<close>\})|(?P<dollar>\$)|(?P<amp>&)"
    r"|(?P<other>[^\\{}$&])",
    re.DOTALL,
)


class Checker:
    """Reads a body once, keeping what is open; every complaint is an assertion."""

    def __init__(self, source):
        assert source.isascii(), sorted({char for char in source if not char.isascii()})
        self.pieces = [(each.lastgroup, each.group(), each.start()) for each in PIECE.finditer(source)]
        assert "".join(text for _, text, _ in self.pieces) == source
        self.source, self.at = source, 0
        self.open, self.met = [], set()

    def near(self):
        place = self.pieces[min(self.at, len(self.pieces) - 1)][2]
        return self.source[max(0, place - 60) : place + 40]

    def argument(self):
        """The text between braces that comes next."""
        assert self.pieces[self.at][0] == "open", self.near()
        start, depth = self.at, 0
        while True:
            kind = self.pieces[self.at][0]
            depth += (kind == "open") - (kind == "close")
            self.at += 1
            if depth == 0:
                return "".join(text for _, text, _ in self.pieces[start + 1 : self.at - 1])

    def mathematics(self):
        return any(each in ("$", "\\[", "align*") for each in self.open)

    def run(self):
        while self.at < len(self.pieces):
            kind, text, _ = self.pieces[self.at]
            self.at += 1
            getattr(self, f"on_{kind}")(text)
        assert not self.open, self.open
        return self.met

    def close(self, *wanted):
        assert self.open and self.open.pop() in wanted, self.near()

    def on_open(self, _):
        self.open.append("{")

    def on_close(self, _):
        self.close("{")

    def on_dollar(self, _):
        if "$" in self.open:
            self.close("$")
        else:
            assert not self.mathematics(), self.near()
            self.open.append("$")

    def on_amp(self, _):
        assert self.open and self.open[-1] == "align*", self.near()

    def on_row(self, _):
        # What opens on a row of an alignment closes on it: \left without its \right stops LaTeX.
        assert self.open and self.open[-1] == "align*", self.near()

    def on_other(self, text):
        assert text not in "_^" or self.mathematics(), self.near()
        assert text not in "#%~" or text == "~", self.near()

    def on_sign(self, text):
        if text == "\\[":
            assert not self.open, self.near()
            self.open.append("\\[")
        elif text == "\\]":
            self.close("\\[")
        else:
            assert text in ("\\,", "\\{", "\\}", "\\$", "\\&", "\\#", "\\%", "\\_"), self.near()

    def on_command(self, text):
        name = text[1:]
        assert name in KNOWN, (name, self.near())
        self.met.add(name)
        assert name not in (*GREEK, *SIGNS) or self.mathematics(), (name, self.near())
        if name in QUANTITIES:
            assert self.mathematics() and NUMBER.fullmatch(self.argument()), self.near()
            if name == "qty":
                units = self.argument()
                assert re.fullmatch(r"(\\[a-z]+)+", units) and set(units.split("\\")[1:]) <= UNITS, units
        elif name == "sisetup":
            assert self.argument() == "output-decimal-marker={,}", self.near()
        elif name == "DeclareSIUnit":
            assert self.pieces[self.at][1][1:] in UNITS, self.near()
            self.at += 1
            assert self.argument() in ("lbf", "ft"), self.near()
        elif name == "begin":
            environment = self.argument()
            assert environment in ENVIRONMENTS and not self.open, self.near()
            self.open.append(environment)
        elif name == "end":
            self.close(self.argument())
        elif name in ("left", "bigl"):
            assert self.pieces[self.at][1] == "(", self.near()
            if name == "left":
                self.open.append("left")
        elif name in ("right", "bigr"):
            assert self.pieces[self.at][1] == ")", self.near()
            if name == "right":
                self.close("left")


def variants(sketch):
    """The sketch with settings that write every letter, unit, form of torque, kind of sum and slanting axis."""
    held = sketch.settings
    yield replace(held, two_sided=True, arm_letter="r⊥")
    yield replace(held, torque_form="square")
    yield replace(held, units="us", axes_deg=33.0, torque_form="components", counterclockwise_positive=False)
    yield replace(held, arm_letter="ℓ", turning_word="moment", decimal_comma=True, axes_along=sketch.bodies[0].id)


def bodies():
    """The LaTeX of every sketch, each in one of the variants, with numbers and in symbols."""
    for index, (name, sketch) in enumerate({**SKETCHES, **JOINED}.items()):
        chosen = replace(sketch, settings=list(variants(sketch))[index % 4])
        analysis = statics.analyse(chosen)
        for symbols in (False, True):
            yield name, export.latex_body(work(chosen, analysis, options=Options(symbols_only=symbols)))


def test_every_working_is_sound_latex_of_known_commands():
    met = set()
    for name, source in bodies():
        try:
            met |= Checker(source).run()
        except AssertionError as problem:
            raise AssertionError(f"{name}: {problem}") from problem
    # The grammar was put to use: broken rows, quantities, roots, senses.
    assert {"qty", "ang", "num", "bigl", "left", "sqrt", "frac", "circlearrowleft", "circlearrowright", "perp", "ell",
            "theta", "varphi", "subsection", "item"} <= met  # fmt: skip


@pytest.mark.parametrize(
    "broken",
    [
        r"\[ \left( a \]", r"\[ \frac{a}{b \]", r"\SI{3}{\newton}", r"\[ \qty{1,5}{\newton} \]",
        r"\[ \qty{3}{\joule} \]", r"a_b", "$a",
        "\\begin{align*}\n & \\left( a \\\\ b \\right)\n\\end{align*}", r"\begin{itemize}", "10 %",
        r"\[ \ang{3}} \]", "τ",
    ],
)  # fmt: skip
def test_the_grammar_refuses_what_latex_would(broken):
    with pytest.raises(AssertionError):
        Checker(broken).run()


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("pdflatex") is None, reason="no LaTeX here to compile with")
def test_all_of_it_compiles_as_one_document(tmp_path):
    chosen = [source for index, (_, source) in enumerate(bodies()) if index % 7 == 0]
    preamble, end = export.latex_document(work(*_first())).split("\\begin{document}")[0], "\n\\end{document}\n"
    (tmp_path / "all.tex").write_text(preamble + "\\begin{document}\n" + "\n\n".join(chosen) + end, encoding="utf-8")
    command = ["pdflatex", "-interaction=nonstopmode", "-halt-on-error", "all.tex"]
    run = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False)
    assert run.returncode == 0, run.stdout[-2000:]


def _first():
    sketch = next(iter(SKETCHES.values()))
    return sketch, statics.analyse(sketch)
