"""Every equation of every working holds, in numbers as kept, in digits as shown, and in symbols."""

import math

import pytest
import sympy
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sketch_bank import BANK
from steelyard import statics
from steelyard.working import expression as ex
from steelyard.working.data import as_data
from steelyard.working.desk import Options
from steelyard.working.figures import digits
from steelyard.working.latex import equation_latex
from steelyard.working.layout import ROW_PX, rows, width
from steelyard.working.markdown import equation_markdown
from steelyard.working.mathml import equation_rows, equation_whole
from steelyard.working.spoken import equation_spoken
from steelyard.working.steps import work
from strategies import sketches
from trees import neutral, read_latex, read_mathml, to_sympy, value
from working_cases import SKETCHES, WAYS, Matrix

CORE = {"math", "mrow", "mi", "mn", "mo", "mfrac", "msub", "msup", "msqrt", "mtext"}


def spread(node, values) -> float:
    """The size of the largest terms in an expression: what rounding is measured against."""
    match node:
        case ex.Symbol():
            return abs(values[node])
        case ex.Number():
            return abs(node.value)
        case ex.Sum():
            return math.fsum(spread(term, values) for _, term in node.terms)
        case ex.Product():
            return math.prod(spread(factor, values) for factor in node.factors)
        case ex.Quotient():
            below = abs(ex.evaluate(node.below, values))
            return spread(node.above, values) * spread(node.below, values) / below / below
        case ex.Function():
            return max(1.0, abs(ex.evaluate(node, values)))
        case ex.Square():
            return spread(node.of, values) ** 2
        case _:
            return spread(node.of, values)


def check_numbers_put_back(working) -> int:
    """Both sides of each equation agree to 1e-9 of its terms; returns how many were checked."""
    checked = 0
    for step in working.steps:
        values = {symbol: known.value for symbol, known in step.known.items()}
        left = None
        for line in step.lines:
            equation = line.equation
            if any(symbol not in values for side in ex.sides(equation) for symbol in ex.free_symbols(side)):
                continue
            left = equation.left if equation.left is not None else left
            assert left is not None
            found = ex.evaluate(left, values), ex.evaluate(equation.right, values)
            # A line of numbers is judged by the sizes of the symbols behind it, a rounding to zero by its sum.
            scale = spread(left, values) + spread(equation.right, values)
            if line.kind == "value" and found[1] == 0.0:
                others = [
                    spread(other.equation.right, values)
                    for other in step.lines
                    if other.kind != "value" and not set(ex.free_symbols(other.equation.right)) - set(values)
                ]
                scale = max([scale, *others])
            assert abs(found[0] - found[1]) <= 1e-9 * scale, (step.title.text, equation_latex(equation), found)
            checked += 1
    return checked


def check_digits_shown(working) -> int:
    """The digits of each line, worked as a calculator would, land on the digits of its value."""
    checked = 0
    for step in working.steps:
        printed = None
        terms = 0.0
        for line in step.lines:
            if line.kind in ("solved", "equation", "sum", "given"):
                printed = None
            if line.kind == "numbers":
                printed = read_latex(equation_latex(line.equation))[1]
                terms = spread(line.equation.right, {})
            if line.kind == "value" and printed is not None:
                shown = read_latex(equation_latex(line.equation))[1][1]
                figures = len(shown.lstrip("-").replace(".", "").lstrip("0"))
                result = value(printed)
                if float(shown) == 0.0:
                    assert abs(result) <= 0.5 * 10.0**-2 * terms, (equation_latex(line.equation), result)
                else:
                    # Zeros at the end of a whole number may or may not be figures: the coarsest reading must hold.
                    bare = len(shown.lstrip("-").replace(".", "").strip("0")) if "." not in shown else figures
                    candidates = {float(digits(result, count)) for count in range(max(bare, 1), figures + 1)}
                    assert float(shown) in candidates, (equation_latex(line.equation), result, shown)
                checked += 1
    return checked


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", SKETCHES)
def test_numbers_put_back_balance_every_equation_and_the_digits_shown_give_the_result_shown(name, way):
    sketch = SKETCHES[name]
    working = work(sketch, statics.analyse(sketch), options=WAYS[way])
    check_numbers_put_back(working)
    check_digits_shown(working)


def check_way(sketch, options):
    working = work(sketch, statics.analyse(sketch), options=options)
    check_numbers_put_back(working)
    check_digits_shown(working)


# The settings of random sketches choose the form of torques, of sums, the units and the axes.
@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(sketches())
def test_random_sketches_balance_too(sketch):
    for options in (Options(), WAYS["own pivot"]):
        check_way(sketch, options)


@pytest.mark.slow
@settings(max_examples=2500, deadline=None, suppress_health_check=list(HealthCheck))
@given(sketches(), st.booleans())
def test_thousands_of_random_sketches_balance_too(sketch, own_pivot):
    check_way(sketch, WAYS["own pivot"] if own_pivot else Options())


def in_numbers(sketch) -> bool:
    """Whether every unknown has one value, and every size is a number."""
    analysis = statics.analyse(sketch)
    held = analysis.supports.kind in ("determinate", "impossible") and analysis.supports.degree == 0
    return held and None not in Matrix(analysis).known_sizes


SOLVED = [name for name, sketch in SKETCHES.items() if in_numbers(sketch)]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("name", SOLVED)
def test_values_found_are_the_ones_numpy_finds(name, way):
    sketch = SKETCHES[name]
    analysis = statics.analyse(sketch)
    matrix = Matrix(analysis)
    steps = work(sketch, analysis, options=WAYS[way]).steps
    expected, _ = matrix.solve(matrix.known_sizes)
    scale = max([1.0, *(abs(size) for size in matrix.known_sizes)])
    factors = {"m": 1.0, "ft": 0.3048, "N": 1.0, "N m": 1.0, "lbf": 4.4482216152605, "lbf ft": 4.4482216152605 * 0.3048}
    found = {}
    for step in steps:
        values = [line.equation.right for line in step.lines if line.kind == "value" and step.finds]
        if step.finds and step.finds[0].endswith(".place") and not values:
            # Nothing presses on the face, so it presses nowhere.
            assert found[step.finds[0].removesuffix(".place")] == 0.0
            assert expected.pop(step.finds[0]) == pytest.approx(0.0, abs=1e-9 * scale)
            continue
        for key, number in zip(step.finds, values, strict=True):
            found[key] = number.value * factors[number.unit]
    # A place on a face is a length: times the normal it is the torque that the equations hold.
    for key in [key for key in found if key.endswith(".place")]:
        found[key] *= found[key.removesuffix(".place")]
    for vanished in set(found) - set(expected):
        assert found.pop(vanished) == 0.0
    assert set(found) == set(expected)
    for key, number in found.items():
        tolerance = 1e-9 * scale * max(1.0, abs(expected[key]) / scale) * 1e3 * max(1.0, matrix.lever)
        assert number == pytest.approx(expected[key], abs=tolerance, rel=1e-6), key


@pytest.mark.parametrize("way", ["arms", "r across, two-sided", "coordinates"])
@pytest.mark.parametrize("name", BANK)
def test_latex_and_mathml_carry_the_same_tree(name, way):
    sketch = BANK[name]
    for step in work(sketch, statics.analyse(sketch), options=WAYS[way]).steps:
        for line in step.lines:
            equation = line.equation
            tree = (None if equation.left is None else neutral(equation.left), neutral(equation.right))
            assert read_latex(equation_latex(equation)) == tree
            assert read_mathml(equation_whole(equation, comma=True)) == tree
            assert equation_spoken(equation) and equation_markdown(equation).count("$") == 2


@pytest.mark.parametrize("name", BANK)
def test_rows_fit_a_phone_and_together_say_the_equation(name):
    sketch = BANK[name]
    for step in work(sketch, statics.analyse(sketch)).steps:
        for line in step.lines:
            assert all(width(row) <= ROW_PX for row in rows(line.equation))
            joined = read_mathml(equation_rows(line.equation))
            if not ex.free_symbols(line.equation.right):
                whole = value(neutral(line.equation.right))
                assert value(joined[1]) == pytest.approx(whole, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("name", BANK)
def test_data_for_the_page_is_plain_and_uses_only_mathml_core(name):
    def tags(node):
        yield node[0]
        for child in node[2]:
            if isinstance(child, list):
                yield from tags(child)

    sketch = BANK[name]
    data = as_data(work(sketch, statics.analyse(sketch)))
    ids = {reading.force.id for reading in statics.analyse(sketch).readings}
    for step in data["steps"]:
        for line in step["lines"]:
            assert line["text"] and set(line["forces"]) <= ids
            for row in line["rows"]:
                assert set(tags(row)) <= CORE
        for runs in (step["title"], *step["why"], *step["remarks"]):
            assert all(run["role"] in ("word", "symbol", "sub") and run["text"] for run in runs)


@pytest.mark.parametrize("way", ["arms", "coordinates", "own pivot"])
@pytest.mark.parametrize("name", BANK)
def test_solved_forms_are_what_sympy_solves(name, way):
    sketch = BANK[name]
    for step in work(sketch, statics.analyse(sketch), options=WAYS[way]).steps:
        equations = [line.equation for line in step.lines if line.kind == "equation"]
        solved = [line.equation for line in step.lines if line.kind == "solved"]
        if step.kind not in ("sum", "together") or not solved:
            continue
        unknown = [to_sympy(equation.left) for equation in solved]
        system = [to_sympy(equation.left) - to_sympy(equation.right) for equation in equations]
        answers = sympy.solve(system, unknown, dict=True)
        assert len(answers) == 1
        for equation, symbol in zip(solved, unknown, strict=True):
            ours = to_sympy(equation.right).subs(answers[0])
            assert sympy.simplify(ours - answers[0][symbol]) == 0
