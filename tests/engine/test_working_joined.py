"""Workings of joined bodies: every equation, value and sentence against numpy, every plan against brute force.

The equations of all bodies are assembled here once more, from the forces as isolated: three rows a body, one column for
an unknown and its partner on the other body.
"""

import itertools
import math

import numpy as np
import pytest
import sympy
from joined_bank import JOINED
from steelyard import statics
from steelyard.working.desk import Options
from steelyard.working.expression import free_symbols
from steelyard.working.latex import equation_latex
from steelyard.working.mathml import equation_whole
from steelyard.working.reading import read
from steelyard.working.steps import work
from steelyard.working.systems import joined
from steelyard.working.systems_plan import plan_systems
from test_working_equations import check_digits_shown, check_numbers_put_back
from test_working_facts import small
from trees import neutral, read_latex, read_mathml, to_sympy
from working_cases import WAYS, Matrix

CHOICES = [
    (name, chosen)
    for name, sketch in JOINED.items()
    for chosen in [*((body.id,) for body in sketch.bodies), tuple(body.id for body in sketch.bodies)]
]
FACTORS = {"N": 1.0, "N m": 1.0, "m": 1.0, "ft": 0.3048, "lbf": 4.4482216152605, "lbf ft": 4.4482216152605 * 0.3048}


def front(key):
    """The key an unknown has on the first of the two bodies it acts on."""
    force, dot, part = key.partition(".")
    return force.removesuffix("-back") + dot + part


class Whole:
    """All equations of all bodies at once."""

    def __init__(self, sketch):
        self.parts = [Matrix(statics.analyse(sketch, bodies=(body.id,))) for body in sketch.bodies]
        self.keys = list(dict.fromkeys(front(key) for part in self.parts for key in part.keys))
        self.matrix = np.zeros((3 * len(self.parts), len(self.keys)))
        self.known = np.zeros(3 * len(self.parts))
        self.lettered = any(None in part.known_sizes for part in self.parts)
        for index, part in enumerate(self.parts):
            rows = slice(3 * index, 3 * index + 3)
            for key, column in zip(part.keys, part.columns, strict=True):
                self.matrix[rows, self.keys.index(front(key))] += column * np.array([1.0, 1.0, part.lever])
            for column, size in zip(part.known_columns, part.known_sizes, strict=True):
                self.known[rows] += column * (1.0 if size is None else size) * np.array([1.0, 1.0, part.lever])
        laws = [(front(f), front(n), mu) for part in self.parts for f, n, mu in part.laws if not f.endswith("-back")]
        if laws and np.linalg.matrix_rank(self.matrix, tol=1e-9) < len(self.keys):
            rows = np.zeros((len(laws), len(self.keys)))
            for row, (friction, normal, mu) in zip(rows, laws, strict=True):
                row[self.keys.index(friction)], row[self.keys.index(normal)] = 1.0, -mu
            self.matrix, self.known = np.vstack([self.matrix, rows]), np.append(self.known, np.zeros(len(laws)))

    @property
    def settled(self):
        """Whether every unknown has one value."""
        return np.linalg.matrix_rank(self.matrix, tol=1e-9) == len(self.keys)

    def solve(self):
        """Each unknown by its key, and what is left over."""
        values = np.linalg.lstsq(self.matrix, -self.known, rcond=None)[0]
        return dict(zip(self.keys, values, strict=True)), float(np.linalg.norm(self.matrix @ values + self.known))


@pytest.mark.parametrize("way", [*WAYS, "symbols"])
@pytest.mark.parametrize(("name", "chosen"), CHOICES)
def test_numbers_put_back_balance_every_equation_and_the_digits_shown_give_the_result_shown(name, chosen, way):
    sketch = JOINED[name]
    options = Options(symbols_only=True) if way == "symbols" else WAYS[way]
    working = work(sketch, statics.analyse(sketch, bodies=chosen), options=options)
    check_numbers_put_back(working)
    check_digits_shown(working)


def one_answer(sketch):
    """Whether every unknown has one value in numbers, and the sums close."""
    whole = Whole(sketch)
    return whole.settled and not whole.lettered and whole.solve()[1] <= 1e-6


SOLVED = [(name, chosen) for name, chosen in CHOICES if one_answer(JOINED[name])]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("name", "chosen"), SOLVED)
def test_values_found_are_the_ones_numpy_finds_for_all_bodies_at_once(name, chosen, way):
    sketch = JOINED[name]
    solution, _ = Whole(sketch).solve()
    analysis = statics.analyse(sketch, bodies=chosen)
    found = {}
    for step in work(sketch, analysis, options=WAYS[way]).steps:
        values = [line.equation.right for line in step.lines if line.kind == "value" and step.finds]
        for key, number in zip(step.finds, values, strict=True):
            found[front(key)] = number.value * FACTORS[number.unit]
    wanted = {front(key) for key in Matrix(analysis).keys}
    scale = max(map(abs, solution.values()))
    for key, value in found.items():
        if key.endswith(".place"):
            value *= found[key.removesuffix(".place")]
        if f"{key}.x" in solution:  # along the line of a two-force member
            expected = math.hypot(solution[f"{key}.x"], solution[f"{key}.y"])
            value = abs(value)
            wanted = wanted - {f"{key}.x", f"{key}.y"} | {key}
        else:
            expected = solution[key]
        assert value == pytest.approx(expected, rel=1e-6, abs=1e-8 * scale), key
    assert wanted <= set(found)


def facts(step):
    return [each.fact for each in (*step.why, *step.remarks) if each.fact is not None]


@pytest.mark.parametrize("way", ["arms", "own pivot", "own order"])
@pytest.mark.parametrize(("name", "chosen"), CHOICES)
def test_what_is_said_of_each_system_is_so(name, chosen, way):
    sketch = JOINED[name]
    whole = Whole(sketch)
    solution, _ = whole.solve()
    analysis = statics.analyse(sketch, bodies=chosen)
    systems = {system.bodies: Matrix(system.analysis) for system in reversed(joined(sketch, analysis).systems)}
    failing = analysis.supports.failing
    isolated, known = chosen, set()
    for step in work(sketch, analysis, options=WAYS[way]).steps[1:]:
        isolated = step.bodies or isolated
        matrix = systems[isolated]
        for fact in facts(step):
            data = fact.data
            match fact.kind:
                case "drops":
                    for key, wrench in matrix.wrenches.items():
                        if wrench[:2].any() and f"{key}-back" not in matrix.wrenches and not key.endswith("-back"):
                            assert small(matrix, key, data["point"], data["axis"]) == (key in data["keys"])
                case "left":
                    assert all(not small(matrix, key, data["point"], data["axis"]) for key in data["keys"])
                    assert not {front(key) for key in data["keys"]} & known
                case "third-law":
                    for key in data["keys"]:
                        assert front(key) in known
                        on = [part.wrenches[each] for part in systems.values() for each in part.wrenches
                              if front(each) == front(key)]  # fmt: skip
                        assert any(np.allclose(one[:2], -two[:2]) for one, two in itertools.combinations(on, 2))
                case "internal":
                    inside = {support.id: support for support in sketch.supports}
                    for support_id in data["supports"]:
                        assert inside[support_id].body in data["bodies"] and inside[support_id].other in data["bodies"]
                        assert not {support_id, f"{support_id}.x", f"{support_id}-back"} & set(matrix.wrenches)
                case "member":
                    one, two = (np.array([solution[f"{each}.x"], solution[f"{each}.y"]]) for each in data["forces"])
                    along = np.array(data["along"])
                    if whole.settled and not whole.lettered:
                        assert np.linalg.norm(one) == pytest.approx(np.linalg.norm(two), rel=1e-6)
                        assert abs(np.cross([*one, 0.0], [*along, 0.0])[2]) < 1e-6 * max(1.0, np.linalg.norm(one))
                case "sign" if whole.settled and not whole.lettered and front(data["part"]) in solution:
                    value = solution[front(data["part"])]
                    scale = max(map(abs, solution.values()))
                    assert abs(value) <= 1e-7 * scale or np.sign(value) == data["sign"]
                case "not-separated":
                    assert data["degree"] == len(whole.keys) - np.linalg.matrix_rank(whole.matrix, tol=1e-9) > 0
                case "impossible":
                    assert data["failing"] == failing
        known |= {front(key) for key in step.finds}


def brute_sums(sketch, analysis):
    """For every system, the unknowns left by torques about each place worth naming and by sums along each line."""
    for system in joined(sketch, analysis).systems:
        matrix = Matrix(system.analysis)
        forces = [key for key in matrix.keys if matrix.wrenches[key][:2].any() and key not in matrix.spread]
        points = [np.array(reading.force.face[0] if reading.force.face and not reading.force.about_to else
                           reading.force.point) for reading in system.analysis.readings]  # fmt: skip
        home = points[[reading.force.role for reading in system.analysis.readings].index("unknown")]
        for one, two in itertools.combinations(forces, 2):
            rows = np.array([[matrix.wrenches[key][1], -matrix.wrenches[key][0]] for key in (one, two)])
            if abs(np.linalg.det(rows)) > 1e-9:
                where = np.linalg.solve(rows, [matrix.wrenches[key][2] * matrix.lever for key in (one, two)])
                if np.linalg.norm(where - home) <= 20.0 * matrix.lever:
                    points.append(where)
        axes = [np.array(system.analysis.x_axis), np.array(system.analysis.y_axis)]
        axes += [np.array([-matrix.wrenches[key][1], matrix.wrenches[key][0]]) for key in forces]
        for point in points:
            span = matrix.lever + np.linalg.norm(point)
            yield left_by(matrix, lambda key, at=point, on=matrix: on.share(key, point=at), 1e-8 * span) | {
                front(key) for key in matrix.spread
            }
        for axis in axes:
            yield left_by(matrix, lambda key, along=axis, on=matrix: on.share(key, axis=along), 1e-8)


def left_by(matrix, share, least):
    """The unknowns whose terms, both of a rope over a pulley together, are not nothing."""
    total = {}
    for key in matrix.keys:
        total[front(key)] = total.get(front(key), 0.0) + share(key)
    return frozenset(key for key, value in total.items() if abs(value) > least)


def fewest_steps(sums, target, start=frozenset()):
    """The fewest equations with one new unknown each that lead to a set of unknowns; None where none do."""
    sums = {frozenset(each) for each in sums}
    level, seen, count = {frozenset(start)}, {frozenset(start)}, 0
    while level:
        if any(target <= found for found in level):
            return count
        level = {
            found | (each - found) for found in level for each in sums if len(each - found) == 1
        } - seen  # fmt: skip
        seen |= level
        count += 1
    return None


@pytest.mark.parametrize(("name", "chosen"), CHOICES)
def test_plan_is_the_shortest_chain_through_all_systems_by_brute_force(name, chosen):
    sketch = JOINED[name]
    analysis = statics.analyse(sketch, bodies=chosen)
    whole = joined(sketch, analysis)
    made = plan_systems(whole)
    target = frozenset(whole.systems[0].keys.values())
    sums = list(brute_sums(sketch, analysis))
    sums += [frozenset((law.force, law.of)) for law in whole.laws if law.kind == "member"]
    fewest = fewest_steps(sums, target)
    if fewest is None:
        sums += [frozenset((law.force, law.of)) for law in whole.laws if law.kind == "slip"]
        fewest = fewest_steps(sums, target) if any(law.kind == "slip" for law in whole.laws) else None
    alone = all(move.partner is None and not move.together for move in made.moves)
    if fewest is not None:
        assert alone and made.unfound == () and len(made.moves) == fewest
    elif Whole(sketch).settled:
        assert not alone and made.unfound == ()
    # The order can be worked: each equation leaves only what it finds.
    found = set()
    for move in made.moves:
        if move.system >= 0 and move.finds and not move.together and move.partner is None:
            keys = whole.systems[move.system].keys
            assert {keys[key] for key in move.advice.left} - found == {keys[key] for key in move.finds}
        found |= {front(key) for key in move.finds}


def test_the_bank_meets_pairs_several_at_once_members_and_third_laws():
    kinds, met = set(), set()
    for name, chosen in CHOICES:
        sketch = JOINED[name]
        for step in work(sketch, statics.analyse(sketch, bodies=chosen)).steps:
            kinds.add(step.kind)
            met |= {fact.kind for fact in facts(step)}
    assert {"isolate", "replace", "sum", "together", "several", "combine", "friction", "check", "theorem"} <= kinds
    assert {"third-law", "internal", "member", "not-separated", "joined-free", "several", "friction", "place"} <= met


@pytest.mark.parametrize("chosen", [("left",), ("right",)])
def test_arch_in_letters_is_what_sympy_solves(chosen):
    """Every equation shown, of whatever system, together: sympy's only solution is the one written down."""
    sketch = JOINED["three-hinged arch, in letters"]
    steps = [step for step in work(sketch, statics.analyse(sketch, bodies=chosen)).steps if step.kind == "sum"]
    equations = [line.equation for step in steps for line in step.lines if line.kind == "equation"]
    solved = [line.equation for step in steps for line in step.lines if line.kind == "solved"]
    unknown = [to_sympy(equation.left) for equation in solved]
    answers = sympy.solve([to_sympy(e.left) - to_sympy(e.right) for e in equations], unknown, dict=True)
    assert len(answers) == 1 and len(unknown) == 4
    for equation, symbol in zip(solved, unknown, strict=True):
        assert sympy.simplify(to_sympy(equation.right).subs(answers[0]) - answers[0][symbol]) == 0


@pytest.mark.parametrize(("name", "chosen"), CHOICES)
def test_latex_and_mathml_carry_the_same_tree(name, chosen):
    sketch = JOINED[name]
    for step in work(sketch, statics.analyse(sketch, bodies=chosen)).steps:
        for line in step.lines:
            tree = tuple(None if side is None else neutral(side) for side in (line.equation.left, line.equation.right))
            assert read_latex(equation_latex(line.equation)) == tree == read_mathml(equation_whole(line.equation))


@pytest.mark.parametrize(("name", "chosen"), CHOICES)
def test_a_symbol_means_one_thing_in_all_equations_of_a_step(name, chosen):
    sketch = JOINED[name]
    worth = {}
    for step in work(sketch, statics.analyse(sketch, bodies=chosen)).steps:
        sides = [side for line in step.lines for side in (line.equation.left, line.equation.right) if side is not None]
        for symbol in {symbol for side in sides for symbol in free_symbols(side)}:
            if symbol in step.known and symbol.base in ("A", "B", "C", "T", "W", "N", "D", "S", "U", "V", "P"):
                assert worth.setdefault(symbol, step.known[symbol].value) == step.known[symbol].value


def test_ranges_of_rough_feet_are_those_of_a_scan():
    """A rope and two rough feet leave one force free: scanned in 200 000 steps, with what rope and feet allow."""
    sketch = JOINED["trestle with a rope, on rough feet"]
    whole = Whole(sketch)
    start = np.linalg.lstsq(whole.matrix, -whole.known, rcond=None)[0]
    free = np.linalg.svd(whole.matrix)[2][-1]
    values = dict(zip(whole.keys, start[:, None] + free[:, None] * np.linspace(-5000, 5000, 200_001), strict=True))
    allowed = values["tie"] >= 0.0
    for foot in ("a", "b"):
        allowed &= (values[foot] >= 0.0) & (np.abs(values[f"{foot}-friction"]) <= 0.4 * values[foot])
    said = {}
    for step in work(sketch, statics.analyse(sketch, bodies=("left",))).steps:
        said |= {fact.data["part"]: fact.data for fact in facts(step) if fact.kind == "range"}
    assert {"a-friction", "crown.x"} <= set(said)
    for key, data in said.items():
        seen = values[key][allowed]
        assert (data["least"], data["most"]) == pytest.approx((seen.min(), seen.max()), abs=0.06)


def test_reading_step_by_step_reveals_a_joint_on_both_bodies():
    sketch = JOINED["three-hinged arch"]
    analysis = statics.analyse(sketch, bodies=("right",))
    whole = read(sketch, analysis, Options(), "sums", 1000)
    assert {"crown.x", "crown.y", "crown-back.x", "crown-back.y"} <= whole.finds
    first = read(sketch, analysis, Options(), "sums", 1)
    assert not first.finds
