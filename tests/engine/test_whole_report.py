"""Joined bodies at the doors: the answer in its schema, the equations in words, and what the commands take."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest
from jsonschema import Draft202012Validator
from steelyard import cli, document
from steelyard.kinetics.motion import motion
from steelyard.kinetics.release import release
from steelyard.model import Body, Force, Sketch, Support, Thing
from steelyard.report.answer import answer_data
from steelyard.report.explain import explain
from steelyard.report.release import release_data
from steelyard.statics import analyse, kept_back
from steelyard.statics.equilibrium import analyse_with

SCHEMA = json.loads((Path(document.__file__).parents[1] / "answer.schema.json").read_text(encoding="utf-8"))

JETTY = Sketch(
    title="Jetty in two lengths",
    bodies=(
        Body("long", "bar", "long beam", (0.0, 0.0), 0.0, length_m=6.0),
        Body("short", "bar", "short beam", (6.0, 0.0), 0.0, length_m=4.0, weight_n=120.0),
    ),
    supports=(
        Support("edge", "pin", "long", (0.0, 0.0), "A"),
        Support("post", "roller", "long", (4.0, 0.0), "B", two_way=True),
        Support("joint", "pin", "long", (6.0, 0.0), "C", other="short"),
        Support("end", "roller", "short", (4.0, 0.0), "D"),
    ),
    loads=(Thing("man", "short", (1.0, 0.0), "N", "man", 80.0), Force("load", "long", (1.0, 0.0), "P", size_n=500.0)),
)
LOOSE = Sketch(bodies=JETTY.bodies, supports=JETTY.supports[:3], loads=JETTY.loads)
LETTER = Sketch(bodies=JETTY.bodies, supports=JETTY.supports, loads=(Thing("man", "short", (1.0, 0.0), "N", "man"),))


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "jetty.json"
    path.write_text(document.write(JETTY), encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("sketch", [JETTY, LOOSE, LETTER], ids=["held", "loose", "letter"])
@pytest.mark.parametrize("system", [("long",), ("short", "man"), ("long", "short")])
def test_answer_fits_the_schema_whatever_is_taken_as_one(sketch, system):
    answer = answer_data(sketch, analyse(sketch, bodies=system))
    Draft202012Validator(SCHEMA).validate(json.loads(json.dumps(answer, allow_nan=False)))
    assert (answer["bodies"], answer["things"]) == (
        [each for each in ("long", "short") if each in system], ["man"] * ("man" in system),
    )  # fmt: skip


def test_equations_in_the_answer_have_the_answers_values_as_numpys_only_solution():
    whole = answer_data(JETTY, analyse(JETTY))["whole"]
    matrix, applied = np.zeros((6, len(whole["unknowns"]))), np.zeros(6)
    for index, body in enumerate(whole["equations"]):
        applied[3 * index : 3 * index + 3] = body["applied"]
        for term in body["wrenches"]:
            matrix[3 * index : 3 * index + 3, term["unknown"]] = term["wrench"]
    values = np.linalg.solve(matrix, -applied)
    assert values == pytest.approx([each["value"] for each in whole["unknowns"]], abs=1e-9)
    joint = [each for each in whole["unknowns"] if each["force"] == "joint"]
    assert [each["bodies"] for each in joint] == [["long", "short"]] * 2


def test_explanation_prints_the_equations_body_by_body_and_they_close():
    said = explain(JETTY, analyse(JETTY, bodies=("short",))).replace("−", "-").replace("\u2009", "")
    values = {
        name: float(number)
        for name, number in re.findall(r"^  (\w+) = (-?[\d.]+)", said.split("Their values")[1], re.MULTILINE)
    }
    equations = re.findall(r"^  Σ\S+: (.*) = 0$", said, re.MULTILINE)
    assert len(equations) == 6
    for equation in equations:
        total = 0.0
        for sign, number, name in re.findall(r"(^-?|[+-] ?)([\d.]+) (\S+)", equation):
            factor = -1.0 if "-" in sign else 1.0
            total += factor * float(number) * values.get(name, 1.0)
        assert total == pytest.approx(0.0, abs=0.05)
    assert "The rank of all: 6" in said


def test_system_on_the_command_line_is_what_the_table_speaks_of(file, capsys):
    assert cli.main(["solve", file, "--system", "short,man"]) == 0
    said = capsys.readouterr().out
    assert "gravity by Earth on man" in said and "pin by long beam on short beam" in said
    assert cli.main(["solve", file, "--json", "--system", "long,short"]) == 0
    forces = {force["id"] for force in json.loads(capsys.readouterr().out)["forces"]}
    assert forces == {"short-weight", "man", "load", "edge", "post", "end"}
    assert cli.main(["solve", file, "--system", "mast"]) == 2
    assert "mast" in capsys.readouterr().err


def test_limits_on_the_command_line_reach_a_reaction_of_another_body(file, capsys):
    # D = 120/2 + W·x/4: 300 N needs x = 4·240/(80·9.81).
    asked = ["limits", file, "man.place_m[0]", "0", "4", "--system", "long", "--where", "end=300 N", "--json"]
    assert cli.main(asked) == 0
    assert json.loads(capsys.readouterr().out)["values"] == [pytest.approx(4.0 * 240.0 / (80.0 * 9.81), rel=1e-9)]


def test_letter_on_another_body_leaves_the_balance_of_this_one_open():
    analysis = analyse(LETTER, bodies=("long",))
    assert analysis.reading("joint").vector is None
    assert (analysis.balance.kind, "N" in analysis.balance.sentence) == ("open", True)
    assert kept_back(analysis).balance.kind == "open"


def test_force_is_answered_in_the_system_it_acts_on_else_on_its_own_body():
    isolated = Sketch(**{**{key: getattr(JETTY, key) for key in ("bodies", "supports", "loads")},
                         "isolated": ("long", "short")})  # fmt: skip
    assert analyse_with(isolated, "post", "long").bodies == ("long", "short")
    assert analyse_with(isolated, "joint", "long").bodies == ("long",)
    assert analyse_with(JETTY, "end", "short").bodies == ("short",)


def test_rope_over_a_pulley_with_both_of_its_bodies_is_one_column_and_no_condition():
    beam = Body("beam", "bar", "beam", (0.0, 0.0), 0.0, length_m=4.0, weight_n=300.0)
    weight = Body("weight", "bar", "weight", (3.5, 1.0), 0.0, length_m=1.0, weight_n=150.0)
    hinge = Support("hinge", "pin", "beam", (0.0, 0.0), "A")
    rope = Support(
        "rope", "rope", "beam", (4.0, 0.0), "T", anchor_m=(0.5, 0.0), other="weight", over_m=(4.0, 6.0)
    )  # fmt: skip
    sketch = Sketch(bodies=(beam, weight), supports=(hinge, rope))
    analysis = analyse(sketch, bodies=("beam", "weight"))
    said = explain(sketch, analysis)
    assert "slip" not in said
    assert "Cannot be negative: T." in said
    (column,) = [each for each in answer_data(sketch, analysis)["system"]["unknowns"] if each["symbol"] == "T"]
    assert column["wrench"] == pytest.approx([0.0, 2.0, 8.0])


def test_motion_in_the_answer_is_of_the_body_asked_for():
    answer = answer_data(LOOSE, analyse(LOOSE, bodies=("short",)))
    let_go = release(LOOSE, "short")
    own = release_data(LOOSE, let_go, motion(LOOSE, let_go, body_id="short"))
    assert answer["release"] == own
    assert own["motion"] is not None
    other = release(LOOSE, "long")
    told = release_data(LOOSE, other, motion(LOOSE, other, body_id="long"))
    assert told["motion"]["poses"] != own["motion"]["poses"]
    assert told["motion"]["bodies"] == own["motion"]["bodies"]  # both go together, whichever is asked for
