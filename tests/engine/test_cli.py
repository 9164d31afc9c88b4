"""The `steelyard` command: what it prints, the shape of its JSON, and its exit codes."""

import json
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest
from steelyard import __version__, cli, document
from steelyard.model import Body, Couple, Force, Guess, Sketch, Support

ROOT = Path(__file__).resolve().parents[2]
GANGWAY = str(ROOT / "scenarios" / "gangway.json")
BAR = Body("bar1", "bar", "plank", (0.0, 0.0), 0.0, length_m=4.0)


@pytest.fixture
def saved(tmp_path):
    """Writes a sketch to a file and gives its name."""

    def save(sketch: Sketch) -> str:
        path = tmp_path / "sketch.json"
        path.write_text(document.write(sketch), encoding="utf-8")
        return str(path)

    return save


def answer(capsys, *arguments: str) -> dict:
    assert cli.main(["solve", *arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_json_answer_has_both_verdicts_and_the_pivot(capsys):
    data = answer(capsys, GANGWAY)
    verdict = (data["balance"]["kind"], data["supports"]["kind"], data["supports"]["degree"])
    assert verdict == ("balanced", "determinate", 0)
    assert (data["pivot_m"], data["pivot_name"], data["body"]) == ([0.0, 0.0], "A", "gangway")


def test_gangway_is_solved_on_the_command_line(capsys):
    forces = {force["id"]: force for force in answer(capsys, GANGWAY)["forces"]}
    assert forces["hoist"]["size_n"] == pytest.approx(2146.1, abs=0.05)
    assert forces["hoist"]["arm_m"] == pytest.approx(3.039, abs=0.0005)
    assert forces["hinge"]["size_n"] == pytest.approx(1489.8, abs=0.05)
    assert forces["hinge"]["direction_deg"] == pytest.approx(14.47, abs=0.005)
    assert (forces["hinge"]["role"], forces["hinge"]["by"], forces["hinge"]["on"]) == ("unknown", "hinge", "gangway")


def test_pivot_option_moves_the_pivot_also_to_negative_places(capsys):
    data = answer(capsys, GANGWAY, "--pivot", "-1,2.5")
    assert data["pivot_m"] == [-1.0, 2.5]
    weight = data["forces"][0]
    assert weight["torque_n_m"] == pytest.approx(weight["fy_n"] * weight["arm_m"])


def test_what_statics_does_not_fix_is_null(capsys, saved):
    held = tuple(Support(f"pin{x:.0f}", "pin", "bar1", (x, 0.0), "R") for x in (0.0, 4.0))
    load = Force("load1", "bar1", (1.0, 0.0), "F", size_n=80.0)
    data = answer(capsys, saved(Sketch(bodies=(BAR,), supports=held, loads=(load,))))
    pin = data["forces"][1]
    assert (data["supports"]["kind"], data["supports"]["degree"]) == ("indeterminate", 1)
    assert (pin["fx_n"], pin["size_n"], pin["direction_deg"]) == (None, None, None)
    assert pin["fy_n"] == pytest.approx(60.0)
    assert set(data["residual"].values()) == {None}


def test_letters_leave_the_kind_of_balance_null(capsys, saved):
    data = answer(capsys, saved(Sketch(bodies=(BAR,), loads=(Force("load1", "bar1", (1.0, 0.0), "F"),))))
    assert data["balance"]["kind"] is None
    assert data["supports"]["kind"] == "none"
    assert data["forces"][0]["size_n"] is None


def test_guess_has_an_entry_of_its_own_and_a_couple_no_direction(capsys, saved):
    wall = Support("wall", "fixed", "bar1", (0.0, 0.0), "R", couple_guess=Guess(couple_n_m=150.0))
    load = Force("load1", "bar1", (4.0, 0.0), "F", size_n=50.0)
    data = answer(capsys, saved(Sketch(bodies=(BAR,), supports=(wall,), loads=(load,))))
    roles = [(force["id"], force["role"], force["couple_n_m"]) for force in data["forces"]]
    assert roles[2:] == [("wall-couple", "unknown", pytest.approx(200.0)), ("wall-couple", "guess", 150.0)]
    assert data["forces"][2]["direction_deg"] is None
    assert data["residual"]["torque_n_m"] == pytest.approx(-50.0)
    assert data["balance"]["kind"] == "unbalanced"


def test_table_is_aligned_and_ends_with_the_two_verdicts(capsys):
    assert cli.main(["solve", GANGWAY]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Gangway at half tide"
    assert lines[1].startswith("pivot A at (0\u00a0m")
    assert lines[-2] == "Balanced."
    assert "statically determinate" in lines[-1]
    assert lines[2] == "positive: along x, along y, counterclockwise"
    head, rows = lines[4], lines[5:-3]
    assert len(rows) == 5
    for column in ("size", "arm", "torque"):
        end = head.index(column) + len(column)
        assert all(len(row) <= end or row[end] == " " for row in rows)
    assert "2146\u00a0N" in next(row for row in rows if row.startswith("T"))


def test_table_of_guesses_and_couples_is_printed(capsys, saved):
    wall = Support(
        "wall", "fixed", "bar1", (0.0, 0.0), "R", guess=Guess(50.0, 90.0), couple_guess=Guess(couple_n_m=9.0)
    )
    twist = Couple("twist", "bar1", (0.0, 0.0), "C", couple_n_m=3.0)
    assert cli.main(["solve", saved(Sketch(bodies=(BAR,), supports=(wall,), loads=(twist,)))]) == 0
    printed = capsys.readouterr().out
    assert printed.count("guess") == 2
    assert "Not balanced: too much to" not in printed.splitlines()[0]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "not JSON"),
        ("[]", "must be an object"),
        ('{"format": "steelyard-sketch", "version": 1, "title": "t", "bodies": [{"id": 3}]}', "bodies[0]"),
    ],
)
def test_bad_file_ends_with_two_and_says_where(capsys, tmp_path, text, said):
    path = tmp_path / "bad.json"
    path.write_text(text, encoding="utf-8")
    assert cli.main(["solve", str(path)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert str(path) in captured.err
    assert said in captured.err


def test_missing_and_binary_files_end_with_two(capsys, tmp_path):
    assert cli.main(["solve", str(tmp_path / "none.json")]) == 2
    assert "cannot be read" in capsys.readouterr().err
    binary = tmp_path / "binary.json"
    binary.write_bytes(b"\xff\xfe\x00")
    assert cli.main(["solve", str(binary)]) == 2
    assert "not text in UTF-8" in capsys.readouterr().err


def test_empty_sketch_says_what_to_draw(capsys, saved):
    assert cli.main(["solve", saved(Sketch())]) == 2
    assert "Draw a bar first." in capsys.readouterr().err


@pytest.mark.parametrize("pivot", ["1", "1,2,3", "a,b", "nan,0", "1e99,0"])
def test_pivot_that_is_no_point_is_refused(capsys, pivot):
    with pytest.raises(SystemExit) as stopped:
        cli.main(["solve", GANGWAY, "--pivot", pivot])
    assert stopped.value.code == 2
    assert "must be two numbers in metres" in capsys.readouterr().err


def test_version_is_printed(capsys):
    with pytest.raises(SystemExit) as stopped:
        cli.main(["--version"])
    assert stopped.value.code == 0
    assert capsys.readouterr().out == f"steelyard {__version__}\n"


@pytest.mark.parametrize("view", ["extended", "set-up"])
def test_draw_writes_a_picture(capsys, tmp_path, view):
    out = tmp_path / "out.svg"
    assert cli.main(["draw", GANGWAY, "--view", view, "-o", str(out)]) == 0
    root = ElementTree.fromstring(out.read_text(encoding="utf-8"))
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert len(list(root.iter())) > 20


def test_picture_that_cannot_be_written_ends_with_two(capsys, tmp_path):
    assert cli.main(["draw", GANGWAY, "-o", str(tmp_path / "no" / "out.svg")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_sketch_is_read_from_standard_input_in_a_process_of_its_own():
    sketch = document.write(Sketch(bodies=(BAR,), loads=(Force("load1", "bar1", (1.0, 0.0), "F", size_n=2.0),)))
    done = subprocess.run(
        [sys.executable, "-m", "steelyard.cli", "solve", "-"],
        input=sketch.encode(),
        capture_output=True,
        env={"PYTHONPATH": str(ROOT / "engine"), "PYTHONUTF8": "1", "PYTHONIOENCODING": "ascii"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "Not balanced: too much downwards" in done.stdout.decode()
    assert "−" in done.stdout.decode()


def test_problem_is_stated_and_an_empty_sheet_has_none(capsys, saved):
    assert cli.main(["problem", GANGWAY]) == 0
    said = capsys.readouterr().out
    assert said.startswith("A uniform gangway") and said.endswith("Which way does the hinge push?\n")
    assert cli.main(["problem", saved(Sketch())]) == 2
    assert "Draw a bar first" in capsys.readouterr().err
