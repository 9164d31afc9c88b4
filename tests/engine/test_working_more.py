"""Two pivots side by side, both drawn senses, whole documents, and the words of the settings."""

import json
import shutil
import subprocess
from dataclasses import replace

import pytest
from sketch_bank import BANK
from steelyard import statics
from steelyard.model import Guess
from steelyard.statics.advice import advice
from steelyard.working.argue import argue
from steelyard.working.both_ways import both_ways
from steelyard.working.data import advice_data, argument_data, both_ways_data, two_pivots_data
from steelyard.working.desk import Desk, Options
from steelyard.working.export import latex_document, markdown
from steelyard.working.expression import (
    Negation,
    Number,
    Quotient,
    Sum,
    Symbol,
    evaluate,
    free_symbols,
    product,
    sine,
    substitute,
)
from steelyard.working.figures import Known, digits, local, put_in, shortest
from steelyard.working.steps import work
from steelyard.working.theorem_words import theorem_sentences
from steelyard.working.two_pivots import two_pivots
from test_working_equations import check_digits_shown, check_numbers_put_back
from working_cases import Matrix


class Steps:
    """Loose steps, to be checked like a working."""

    def __init__(self, *steps):
        self.steps = tuple(step for step in steps if step is not None)


SOLVED = [name for name, sketch in BANK.items() if statics.analyse(sketch).supports.kind == "determinate"
          and None not in Matrix(statics.analyse(sketch)).known_sizes]  # fmt: skip


@pytest.mark.parametrize("name", SOLVED)
def test_with_balance_both_pivots_close_term_by_term_differently(name):
    analysis = statics.analyse(BANK[name])
    compared = two_pivots(BANK[name], analysis, (1.25, 3.5), (-2.0, 0.75))
    assert compared is not None and compared.change is None
    check_numbers_put_back(Steps(compared.first, compared.second))
    assert compared.sentence.fact.data["values"] == (0.0, 0.0)


def test_without_balance_the_sum_changes_by_the_moment_of_the_force_left_over():
    sketch = BANK["pin and rope"]
    sketch = replace(sketch, supports=(replace(sketch.supports[0], guess=Guess(500.0, 120.0)), sketch.supports[1]))
    compared = two_pivots(sketch, statics.analyse(sketch), (0.0, 0.0), (3.0, 1.0))
    assert compared.change is not None and "changes from point to point" in compared.sentence.text
    check_numbers_put_back(Steps(compared.first, compared.second, compared.change))
    check_digits_shown(Steps(compared.first, compared.second, compared.change))
    first, second = compared.sentence.fact.data["values"]
    fx, fy = compared.sentence.fact.data["force"]
    assert second == pytest.approx(first + (0.0 - 3.0) * fy - (0.0 - 1.0) * fx)


def test_a_couple_alone_is_the_same_about_every_point():
    sketch = BANK["couple between pin and roller"]
    sketch = replace(sketch, supports=())
    compared = two_pivots(sketch, statics.analyse(sketch), (0.0, 0.0), (3.0, 1.0))
    assert compared.sentence.fact.data["values"] == (300.0, 300.0)
    assert "the same about every point" in compared.sentence.text


@pytest.mark.parametrize("name", SOLVED)
def test_drawn_both_ways_gives_the_same_size_with_the_opposite_sign(name):
    sketch = BANK[name]
    analysis = statics.analyse(sketch)
    for key, one_way in zip(Matrix(analysis).keys, Matrix(analysis).one_way, strict=True):
        both = both_ways(sketch, analysis, key)
        if one_way:
            assert both is None
            continue
        if both is None:
            continue  # found together with another
        check_numbers_put_back(Steps(both.as_drawn, both.other_way))
        value, other = (
            next(line.equation.right.value for line in step.lines if line.kind == "value")
            for step in (both.as_drawn, both.other_way)
        )
        assert value == pytest.approx(-other, rel=1e-12)


def test_documents_carry_every_equation_and_escape_what_users_type():
    sketch = BANK["pin and rope"]
    sketch = replace(sketch, bodies=(replace(sketch.bodies[0], name="plank_50% & {co}"),))
    working = work(sketch, statics.analyse(sketch))
    document, text = latex_document(working), markdown(working)
    assert r"plank\_50\% \& \{co\}" in document and r"plank\_50" in text
    assert document.count(r"\begin{") == document.count(r"\end{")
    assert r"\qty{1177.2}{\newton}" in document and r"1177.2\,\mathrm{N}" in text


COMPILED = (
    "pin and rope, sloping bar",
    "nearly parallel struts",
    "clockwise positive, moments, comma",
    "feet and pounds",
    "a force named like an arm",
    "names with indices",
)


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("pdflatex") is None, reason="no LaTeX here to compile with")
@pytest.mark.parametrize("name", COMPILED)
def test_latex_compiles(name, tmp_path):
    source = latex_document(work(BANK[name], statics.analyse(BANK[name])))
    (tmp_path / "working.tex").write_text(source, encoding="utf-8")
    command = ["pdflatex", "-interaction=nonstopmode", "-halt-on-error", "working.tex"]
    run = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, timeout=120, check=False)
    assert run.returncode == 0, run.stdout[-2000:]


def test_settings_words_and_senses_reach_every_line():
    sketch = BANK["clockwise positive, moments, comma"]
    working = work(sketch, statics.analyse(sketch))
    text = " ".join(sentence.text for step in working.steps for sentence in (step.title, *step.why, *step.remarks))
    assert "Moments about A" in text and "torque" not in text.lower() and "counterclockwise" not in text
    turning = [step.sense.turn for step in working.steps if step.sense is not None and step.sense.kind == "turn"]
    assert set(turning) == {-1}
    assert working.comma and "," in text
    first = next(step for step in working.steps if step.kind == "sum")
    # Clockwise positive: the weight's term leads with plus, the rope's with minus.
    assert [sign for sign, _ in first.lines[0].equation.left.terms] == [-1, 1, 1]


def test_two_sided_sums_have_only_plus_signs():
    sketch = BANK["pin and rope, sloping bar"]
    for step in work(sketch, statics.analyse(sketch), options=Options(two_sided=True)).steps:
        for line in step.lines:
            if line.kind == "equation":
                for side in (line.equation.left, line.equation.right):
                    assert not isinstance(side, Negation)
                    assert not isinstance(side, Sum) or all(sign > 0 for sign, _ in side.terms)


def test_forms_of_a_torque_are_numerically_equal():
    sketch = BANK["pin and rope, sloping bar"]
    analysis = statics.analyse(sketch)
    answers = []
    for form in ("arm", "square", "components"):
        steps = work(sketch, analysis, options=Options(torque_form=form)).steps
        answers.append([line.equation.right.value for step in steps for line in step.lines if line.underlined])
    assert answers[0] == pytest.approx(answers[1], rel=1e-12) and answers[0] == pytest.approx(answers[2], rel=1e-12)


def test_rounding_is_to_significant_figures_halves_away_from_zero():
    assert [digits(v, 3) for v in (1176.75, 0.0012345, -2.5, 99.95, 1.0, 0.0, 123456.0)] == [
        "1180", "0.00123", "-2.50", "100", "1.00", "0", "123000",
    ]  # fmt: skip
    assert digits(2.5, 1) == "3" and digits(-0.25, 1) == "-0.3"
    assert shortest(9.80665, 4) == "9.80665" and shortest(1 / 3, 4) == "0.3333" and shortest(5.2, 4) == "5.2"
    assert local("-12345.6", comma=True) == "−12\u2009345,6" and local("1234.5", comma=False) == "1234.5"


def test_numbers_put_in_have_enough_figures_for_the_result():
    """7.5 − 7.46 to three figures needs more figures than three: found by working the printed line."""
    a, b = Symbol("a"), Symbol("b")
    worked = put_in(Sum(((1, a), (-1, b))), {a: Known(22.5 / 3.0001, "m"), b: Known(7.4600123, "m")}, "m", 3)
    assert digits(evaluate(worked.numbers, printed=True), 3) == worked.result.text


def test_expressions_evaluate_substitute_and_list_their_symbols():
    force, arm, angle = Symbol("F"), Symbol("d"), Symbol("θ")
    node = Quotient(product(force, arm, sine(angle)), Sum(((1, arm), (-1, Number(1.0, "1", "m")))))
    assert free_symbols(node) == (force, arm, angle)
    assert evaluate(node, {force: 6.0, arm: 3.0, angle: 30.0}) == pytest.approx(4.5)
    put = substitute(node, {force: Number(6.0, "6", "N"), arm: Number(3.0, "3", "m"), angle: Number(30.0, "30", "deg")})
    assert free_symbols(put) == () and evaluate(put, printed=True) == pytest.approx(4.5)
    assert evaluate(Negation(force), {force: 2.0}) == -2.0
    with pytest.raises(KeyError):
        evaluate(node, {})


def test_everything_for_the_page_is_json():
    for sketch in BANK.values():
        analysis = statics.analyse(sketch)
        desk = Desk(sketch, analysis, Options())
        json.dumps([advice_data(each, desk.voice) for each in advice(analysis)])
        assert all(sentence.text for sentence in theorem_sentences(sketch, analysis))
        for support in sketch.supports:
            json.dumps(argument_data(argue(sketch, analysis, support.id)))
        compared = two_pivots(sketch, analysis, (0.0, 0.0), (1.0, 1.0))
        if compared is not None:
            json.dumps(two_pivots_data(compared))
        for key in Matrix(analysis).keys:
            both = both_ways(sketch, analysis, key)
            if both is not None:
                json.dumps(both_ways_data(both))


def test_impossible_and_unheld_sketches_are_argued_with_a_caution():
    for name, said in (("rope that would have to push", "no balance"), ("one pin only", "whatever this force is")):
        argument = argue(BANK[name], statics.analyse(BANK[name]), "hinge")
        assert argument.caution is not None and said in argument.caution.text
    assert argue(BANK["pin and rope"], statics.analyse(BANK["pin and rope"]), "hinge").caution is None
