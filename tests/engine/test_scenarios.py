"""The shelf: every scenario is sound, asks something, and gives the answers its formulas promise.

Each expected value is checked twice: against the engine, and against a plain numpy solution written here from
the file alone, which shares no code with the engine.
"""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import linprog
from steelyard import document, shelf
from steelyard.errors import SteelyardError
from steelyard.kinetics.release import release
from steelyard.statics import analyse
from steelyard.statics.pivot import pivot_point
from steelyard.statics.reach import reaches
from steelyard.working.argue import argue

FOLDER = Path(__file__).resolve().parents[2] / "scenarios"
FILES = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.json"))}
# The files give six figures: half a unit in the sixth.
SIX_FIGURES = 5e-6
# Scenarios whose sizes are letters only promise senses: they are tried with sizes drawn at random.
LETTERS = {"jib"}
# Scenarios that do not stand still: they promise how the body starts to move when it is let go.
MOVING = {"dropped-plank"}
# Scenarios with more unknowns than statics can tell.
OPEN = {"propped-flap", "rough-hull"}
# What they promise instead of a value: the least or the greatest over all admissible answers.
RANGED = {"least_fy_n": -1.0, "greatest_fy_n": 1.0}
CAUTIONED = {
    "jib",
    "gangway",
    "davit",
    "plank",
    "ladder",
    "barrow",
    "hatch",
    "bascule",
    "mast",
    "heel-raise",
    "windy-hatch",
    "rough-foot",
    "heeling-pontoon",
    "porthole",
    "dropped-plank",
    "trestle",
    "derrick",
    "hatch-block",
    "rough-hull",
}


def direction(angle_deg):
    return np.array([math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))])


class Plain:
    """The bodies of a scenario, solved by numpy: columns of unit wrenches about the world origin, three rows a body."""

    def __init__(self, sketch, drawn=None):
        """`drawn` gives a size to each force known as a letter only."""
        self.drawn = drawn
        self.bodies = {body["id"]: body for body in sketch["bodies"]}
        self.rows = {each: 3 * index for index, each in enumerate(self.bodies)}
        self.sketch = sketch
        self.g = sketch["settings"]["g_m_s2"]
        self.above = sketch["settings"].get("seen_from") == "above"
        self.columns, self.names, self.wrenches = [], [], []
        self.applied = np.zeros(3 * len(self.bodies))
        for body in self.bodies.values():
            self._weight(body)
        for load in sketch.get("loads", []):
            self._load(load)
        for support in sketch.get("supports", []):
            self._support(support)
        self.matrix = np.array(self.columns).T
        self.rank = np.linalg.matrix_rank(self.matrix)
        self.values, *_ = np.linalg.lstsq(self.matrix, -self.applied, rcond=None)

    def world(self, body_id, place):
        body = self.bodies[body_id]
        turned = math.radians(body["angle_deg"])
        c, s = math.cos(turned), math.sin(turned)
        x, y = body["origin_m"]
        return np.array([x + c * place[0] - s * place[1], y + s * place[0] + c * place[1]])

    def _apply(self, body_id, wrench):
        row = self.rows[body_id]
        self.applied[row : row + 3] += wrench

    @staticmethod
    def wrench(point, force):
        return np.array([force[0], force[1], point[0] * force[1] - point[1] * force[0]])

    def _weight(self, body):
        mass = body.get("mass_kg", 0.0)
        if body["kind"] == "bar":
            centre = np.array([body["length_m"] / 2, 0.0])
        elif body["kind"] == "plate":
            corners, round_holes = np.array(body["points_m"]), body.get("round_holes")
            centre = self._middle_of_strips(corners, round_holes) if round_holes else self._centroid(corners)
        else:
            ends = np.array(body["points_m"])
            lengths = np.hypot(*(ends[1:] - ends[:-1]).T)
            centre = ((ends[1:] + ends[:-1]) / 2 * lengths[:, None]).sum(axis=0) / lengths.sum()
        weight = self.drawn() if body.get("weight_symbol_only") else mass * self.g
        if not self.above:
            self._apply(body["id"], self.wrench(self.world(body["id"], centre), np.array([0.0, -weight])))

    @staticmethod
    def _centroid(corners):
        """Of a polygon, by Green's theorem."""
        x, y = corners.T
        next_x, next_y = np.roll(corners, -1, axis=0).T
        parts = x * next_y - next_x * y
        return np.array([((x + next_x) * parts).sum(), ((y + next_y) * parts).sum()]) / (3.0 * parts.sum())

    def _contact(self, support, point):
        """A normal, friction along the surface where it is rough, and over a face the torque of the normal's place."""
        along = direction(support.get("normal_deg", 90.0))
        if "face_m" in support:
            far = self.world(support["body"], support["face_m"])
            x, y = (far - point) / np.hypot(*(far - point))
            square = np.array([-y, x])
            along = square if square @ along > 0.0 else -square
        found = [(support["id"], self.wrench(point, along))]
        if "face_m" in support:
            found.append((support["id"], np.array([0.0, 0.0, 1.0])))
        if "mu" in support:
            found.append((f"{support['id']}-friction", self.wrench(point, np.array([along[1], -along[0]]))))
        for name, wrench in found:
            self._unknown(
                name, (support["body"], wrench), *[(each, -wrench) for each in [support.get("other")] if each]
            )

    @staticmethod
    def _middle_of_strips(corners, round_holes, strips=400_000):
        """The centroid of a rectangle along its axes with round holes: cut into strips, one way and then the other."""
        centre = []
        for across, along in ((0, 1), (1, 0)):
            low, high = corners.min(axis=0), corners.max(axis=0)
            step = (high[across] - low[across]) / strips
            at = low[across] + (np.arange(strips) + 0.5) * step
            wide = np.full(strips, high[along] - low[along])
            for hole in round_holes:
                off = at - hole["centre_m"][across]
                wide -= 2.0 * np.sqrt(np.maximum(0.0, hole["radius_m"] ** 2 - off**2))
            centre.append((at * wide).sum() / wide.sum())
        return np.array(centre)

    def _unknown(self, name, *acting):
        """One unknown: the bodies it acts on, each with its unit wrench there; the first names the answer."""
        column = np.zeros(3 * len(self.bodies))
        for body_id, wrench in acting:
            column[self.rows[body_id] : self.rows[body_id] + 3] += wrench
        self.names.append(name)
        self.columns.append(column)
        self.wrenches.append(acting[0][1])

    def _spread(self, load, parts=2000):
        """Many small forces, each at the middle of its part: exact for the sum, to a millionth for the torque."""
        start, end = self.world(load["body"], load["start_m"]), self.world(load["body"], load["end_m"])
        way = end - start
        acts = np.array([0.0, -1.0]) if load.get("acts") == "down" else np.array([way[1], -way[0]]) / np.hypot(*way)
        for share in (np.arange(parts) + 0.5) / parts:
            size = load["start_n_per_m"] + share * (load["end_n_per_m"] - load["start_n_per_m"])
            self._apply(load["body"], self.wrench(start + share * way, size * np.hypot(*way) / parts * acts))

    def _load(self, load):
        if load["kind"] == "spread":
            self._spread(load)
            return
        body = load["body"]
        point = self.world(body, load["place_m"])
        if load["kind"] == "couple":
            assert load["role"] == "unknown"
            self._unknown(load["id"], (body, np.array([0.0, 0.0, 1.0])))
        elif load["kind"] == "thing":
            weight = load["mass_kg"] * self.g if "mass_kg" in load else self.drawn()
            self._apply(body, self.wrench(point, np.array([0.0, -weight])))
        elif load.get("role", "known") == "known":
            self._apply(body, self.wrench(point, load["size_n"] * direction(load.get("direction_deg", 270.0))))
        elif load["sought"] == "size and direction" if "sought" in load else False:
            for force in np.eye(2):
                self._unknown(load["id"], (body, self.wrench(point, force)))
        else:
            self._unknown(load["id"], (body, self.wrench(point, direction(load["direction_deg"]))))

    def _support(self, support):
        name, body, other = support["id"], support["body"], support.get("other")
        point = self.world(body, support["place_m"])
        if support["kind"] in ("rope", "strut"):
            far = np.array(support["anchor_m"]) if other is None else self.world(other, support["anchor_m"])
            over = np.array(support["over_m"]) if "over_m" in support else None
            ends = [(body, point, far if over is None else over)]
            if other is not None:
                ends.append((other, far, point if over is None else over))
            acting = [(each, self.wrench(at, (to - at) / np.hypot(*(to - at)))) for each, at, to in ends]
            self._unknown(name, *acting)
            return
        if support["kind"] == "contact":
            self._contact(support, point)
            return
        forces = np.eye(2) if support["kind"] in ("pin", "fixed") else [direction(support.get("normal_deg", 90.0))]
        wrenches = [(name, self.wrench(point, force)) for force in forces]
        if support["kind"] == "fixed":
            wrenches.append((f"{name}-couple", np.array([0.0, 0.0, 1.0])))
        for each, wrench in wrenches:
            self._unknown(each, (body, wrench), *([(other, -wrench)] if other is not None else []))

    def place_m(self, force):
        """How far from the beginning of its face a normal acts: its torque about there over its size."""
        support = next(one for one in self.sketch["supports"] if one["id"] == force)
        start = self.world(support["body"], support["place_m"])
        own = [index for index, name in enumerate(self.names) if name == force]
        wrench = sum(self.values[index] * self.wrenches[index] for index in own)
        return abs(wrench[2] - (start[0] * wrench[1] - start[1] * wrench[0])) / math.hypot(wrench[0], wrench[1])

    def end_of_range(self, force, sense):
        """The least or greatest part along y of a force, by HiGHS over all that contacts and friction allow."""
        supports = [each for each in self.sketch["supports"] if each["kind"] == "contact"]
        above = []
        for each in supports:
            normal, rubbing = (self.names.index(name) for name in (each["id"], f"{each['id']}-friction"))
            for way in (1.0, -1.0):
                row = np.zeros(len(self.names))
                row[rubbing], row[normal] = way, -each["mu"]
                above.append(row)
        pushing = {each["id"] for each in supports}
        limits = [(0.0, None) if name in pushing else (None, None) for name in self.names]
        up = np.array(
            [column[1] if name == force else 0.0 for name, column in zip(self.names, self.columns, strict=True)]
        )
        found = linprog(-sense * up, A_ub=above, b_ub=np.zeros(len(above)), A_eq=self.matrix, b_eq=-self.applied,
                        bounds=limits)  # fmt: skip
        assert found.status == 0
        return up @ found.x

    def start(self, force, quantity):
        """As it is let go from rest: masses times accelerations from all forces, none along what the supports hold."""
        (body,) = self.bodies.values()
        mass, length = body["mass_kg"], body["length_m"]
        centre = self.world(body["id"], [length / 2, 0.0])
        to_centre = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [centre[1], -centre[0], 1.0]])
        held = to_centre @ self.matrix
        masses = np.diag([mass, mass, mass * length**2 / 12])
        count = held.shape[1]
        whole = np.block([[masses, -held], [held.T, np.zeros((count, count))]])
        solved = np.linalg.solve(whole, np.concatenate([to_centre @ self.applied, np.zeros(count)]))
        if quantity == "start_alpha_rad_s2":
            return solved[2]
        own = [index for index, name in enumerate(self.names) if name == force]
        return sum(solved[3 + index] * held[1, index] for index in own)

    def quantity(self, force, quantity, about):
        if quantity.startswith("start_"):
            return self.start(force, quantity)
        if quantity in RANGED:
            return self.end_of_range(force, RANGED[quantity])
        if quantity == "degree":
            return len(self.names) - self.rank
        own = [index for index, name in enumerate(self.names) if name == force]
        wrench = sum(self.values[index] * self.wrenches[index] for index in own)
        size = math.hypot(wrench[0], wrench[1])
        if quantity == "place_m":
            return self.place_m(force)
        if quantity == "share":
            return size / self.quantity(force.removesuffix("-friction"), "size_n", about)
        if quantity == "arm_m":
            torque = wrench[2] - (about[0] * wrench[1] - about[1] * wrench[0])
            return abs(torque) / size
        return {
            "size_n": size,
            "direction_deg": math.degrees(math.atan2(wrench[1], wrench[0])) % 360.0,
            "fx_n": wrench[0],
            "fy_n": wrench[1],
            "couple_n_m": wrench[2],
            "along_n": self.values[own[0]],
        }[quantity]


def engine_quantity(sketch, force, quantity):
    if quantity in RANGED:
        reach = next(each for each in reaches(sketch) if (each.force, each.part) == (force, "size"))
        up = analyse(sketch).reading(force).force.along[1]
        return (reach.greatest if RANGED[quantity] * up > 0.0 else reach.least).value * up
    """The answer for a force, read on the body that it is drawn on."""
    if quantity == "start_alpha_rad_s2":
        return release(sketch).alpha_rad_s2
    if quantity == "start_fy_n":
        return next(each.vector[1] for each in release(sketch).held if each.force.id == force)
    analyses = [analyse(sketch, bodies=(body.id,)) for body in sketch.bodies]
    if quantity == "degree":
        return analyses[0].supports.degree
    acting = [each for each in analyses if any(reading.force.id == force for reading in each.readings)]
    assert len(acting) == 1
    reading = acting[0].reading(force)
    if quantity in ("fx_n", "fy_n"):
        part = 0 if quantity == "fx_n" else 1
        assert reading.component_fixed[part] or reading.fixed
        return 0.0 if reading.vector is None else reading.vector[part]
    return {
        "size_n": lambda: reading.size_n,
        "direction_deg": lambda: reading.direction_deg,
        "arm_m": lambda: reading.turning.arm_m,
        "couple_n_m": lambda: reading.couple_n_m,
        "along_n": lambda: np.dot(reading.vector, reading.force.along),
        "place_m": lambda: math.dist(reading.force.point, reading.force.face[0]),
        "share": lambda: reading.size_n / acting[0].reading(reading.force.normal).size_n,
    }[quantity]()


PROMISES = [(slug, index) for slug, entry in FILES.items() for index in range(len(entry["expected"]))]
EXPECTED = [promise for promise in PROMISES if promise[0] not in LETTERS]
SENSES = [promise for promise in PROMISES if promise[0] in LETTERS]


@pytest.mark.parametrize(("slug", "index"), SENSES)
def test_promised_sense_holds_whatever_the_sizes_and_is_what_the_argument_says(slug, index):
    entry = FILES[slug]
    expected = entry["expected"][index]
    part = ("sense_x", "sense_y").index(expected["quantity"])
    random = np.random.default_rng(3)
    for _ in range(50):
        plain = Plain(entry["sketch"], lambda: random.lognormal(0.0, 2.0))
        assert np.sign(plain.quantity(expected["force"], ("fx_n", "fy_n")[part], None)) == expected["value"]
    sketch = shelf.load(slug)
    stage = argue(sketch, analyse(sketch), expected["force"]).stages[part]
    drawn = analyse(sketch).reading(expected["force"]).force.along[part]
    assert (stage.verdict, stage.sign * drawn) == ("certain", expected["value"])


@pytest.mark.parametrize(("slug", "index"), EXPECTED)
def test_promised_answer_is_what_numpy_and_the_engine_find(slug, index):
    entry = FILES[slug]
    expected = entry["expected"][index]
    sketch = shelf.load(slug)
    plain = Plain(entry["sketch"])
    scale = np.abs(plain.applied).max()
    close = pytest.approx(expected["value"], rel=SIX_FIGURES, abs=1e-9 * scale)
    assert plain.quantity(expected["force"], expected["quantity"], pivot_point(sketch)) == close
    assert engine_quantity(sketch, expected["force"], expected["quantity"]) == close


@pytest.mark.parametrize("slug", MOVING)
def test_scenario_that_does_not_stand_still_is_free_to_move(slug):
    analysis = analyse(shelf.load(slug))
    assert (analysis.supports.kind, analysis.supports.balanced_as_it_stands) == ("mechanism", False)
    assert not release(shelf.load(slug)).at_rest


@pytest.mark.parametrize("slug", [slug for slug in FILES if slug not in MOVING])
def test_scenario_stands_still_with_one_answer_unless_it_is_about_having_more(slug):
    analysis = analyse(shelf.load(slug))
    assert analysis.balance.kind == ("open" if slug in LETTERS else "balanced")
    assert analysis.supports.kind == ("indeterminate" if slug in OPEN else "determinate")
    assert analysis.supports.near == ""
    plain = Plain(FILES[slug]["sketch"], lambda: 700.0)
    assert plain.rank == 3 * len(plain.bodies)
    assert np.allclose(plain.matrix @ plain.values, -plain.applied, rtol=0, atol=1e-9 * np.abs(plain.applied).max())


@pytest.mark.parametrize("slug", FILES)
def test_scenario_has_a_title_a_question_a_first_task_and_formulas(slug):
    entry = FILES[slug]
    sketch = shelf.load(slug)
    assert entry["slug"] == slug
    assert sketch.title and sketch.question.endswith("?") and entry["task"].endswith((".", "?"))
    assert sketch.answers == "kept"
    assert all(expected["formula"] and expected["what"] for expected in entry["expected"])
    assert bool(sketch.caution) == (slug in CAUTIONED)


@pytest.mark.parametrize("slug", FILES)
def test_scenario_reads_the_same_after_writing(slug):
    sketch = shelf.load(slug)
    assert document.read(document.write(sketch)) == sketch
    assert document.to_data(sketch) == FILES[slug]["sketch"]


def test_pivot_is_away_from_the_hinge_in_about_half_of_them():
    away = 0
    for slug in FILES:
        sketch = shelf.load(slug)
        assert sketch.pivot is not None
        if all(sketch.pivot.tied_to != one.id for one in sketch.supports if one.kind in ("pin", "fixed")):
            away += 1
    assert len(FILES) * 0.4 <= away <= len(FILES) * 0.65


def test_shelf_opens_on_the_gangway():
    slugs = [entry.slug for entry in shelf.listing()]
    assert slugs[0] == "gangway"
    assert len(slugs) == len(FILES) >= 10
    assert sorted(slugs) == sorted(FILES)


def test_gangway_gives_its_known_answers():
    """T, R and its direction and the arm of T, to the figures given with the scenario."""
    analysis = analyse(shelf.load("gangway"))
    hoist, hinge = analysis.reading("hoist"), analysis.reading("hinge")
    assert round(hoist.size_n, 1) == 2146.1
    assert round(hinge.size_n, 1) == 1489.8
    assert round(hinge.direction_deg, 2) == 14.47
    assert round(hoist.turning.arm_m, 3) == 3.039


def test_scenario_that_is_not_on_the_shelf_is_named():
    with pytest.raises(SteelyardError, match='got "galleon"'):
        shelf.load("galleon")
