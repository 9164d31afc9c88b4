"""`python3 web` as a person meets it: it starts, says where it is, and says plainly what is missing."""

import ast
import contextlib
import os
import re
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from command import browser, environment, main, node, packages, server, site, testing
from command.places import ENGINE, WEB
from command.say import Missing, run

ADDRESS = re.compile(r"http://127\.0\.0\.1:(\d+)/")


@contextlib.contextmanager
def started(root: Path, *arguments: str) -> Iterator[tuple[int, list[str]]]:
    """`python web …` until it says where it is: (port, lines so far). Ended afterwards."""
    process = subprocess.Popen(
        [sys.executable, root / "web", "--no-open", *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    lines: list[str] = []
    try:
        assert process.stdout is not None
        for line in process.stdout:
            lines.append(line)
            if "Steelyard is at" in line:
                break
        found = ADDRESS.search(lines[-1]) if lines else None
        assert found, "".join(lines)
        yield int(found.group(1)), lines
    finally:
        process.kill()
        process.wait()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind((server.HOST, 0))
        return int(probe.getsockname()[1])


@pytest.mark.usefixtures("built_site")
def test_it_serves_the_built_site_and_a_second_one_finds_the_first(root: Path) -> None:
    with started(root, "--port", str(free_port())) as (port, _):
        with urllib.request.urlopen(f"http://{server.HOST}:{port}/") as answer:
            assert f"v/{site.identity()}/" in answer.read().decode()
        second = subprocess.run(
            [sys.executable, root / "web", "--no-open", "--port", str(port)],
            capture_output=True,
            text=True,
            check=False,
        )
        assert second.returncode == 0
        assert second.stdout.strip() == f"Steelyard is already served from this folder: http://127.0.0.1:{port}/"


@pytest.mark.usefixtures("built_site")
def test_a_port_taken_by_another_program_is_named_and_the_next_one_taken_with_a_warning(root: Path) -> None:
    with socket.socket() as other:
        other.bind((server.HOST, 0))
        other.listen()
        taken = other.getsockname()[1]
        with started(root, "--port", str(taken)) as (port, lines):
            assert port > taken
            assert f"Port {taken} is taken by another program; trying {taken + 1}.\n" in lines
            assert any("kept under another are not shown here" in line for line in lines)


@pytest.mark.parametrize("command", ["web", "tests"])
@pytest.mark.parametrize("version", [(2, 7, 18), (3, 10, 4)])
def test_an_old_python_is_told_which_one_is_needed(root: Path, command: str, version: tuple[int, ...]) -> None:
    pretend = f"import sys, runpy; sys.version_info = {version}; runpy.run_path({command!r}, run_name='__main__')"
    ended = subprocess.run([sys.executable, "-c", pretend], cwd=root, capture_output=True, text=True, check=False)
    said = f"Steelyard needs Python 3.11 or later; this is Python {version[0]}.{version[1]}.\n"
    assert (ended.returncode, ended.stderr) == (3, said)


@pytest.mark.parametrize("command", ["web", "tests"])
def test_what_says_so_is_written_in_words_that_old_pythons_read(root: Path, command: str) -> None:
    source = (root / command / "__main__.py").read_text(encoding="utf-8")
    tree = ast.parse(source, feature_version=(3, 4))
    newer = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.Match, ast.AsyncFunctionDef)
    assert not [node for node in ast.walk(tree) if isinstance(node, newer)]
    source.encode("ascii")  # Python 2 reads no other letter without a declaration


def test_a_missing_thing_ends_in_a_sentence_and_exit_code_3(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def without_anything(extras: tuple[str, ...] = ()) -> Path:
        raise Missing("There is no such thing. Fetch one.")

    monkeypatch.setattr(environment, "ensure", without_anything)
    assert main.main(["--no-open"]) == 3
    assert capsys.readouterr().err == "There is no such thing. Fetch one.\n"


def test_a_folder_that_holds_something_else_is_not_built_over(
    root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "thesis.txt").write_text("years of work", encoding="utf-8")
    assert main.main(["build", "--out", str(tmp_path)]) == 3
    assert "is not empty and holds no site. Name an empty or a new folder." in capsys.readouterr().err
    assert [file.name for file in tmp_path.iterdir()] == ["thesis.txt"]


def test_without_any_pip_the_system_package_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(environment, "_has_pip", lambda python: False)
    with pytest.raises(Missing, match=r"neither pip nor .*ensurepip.*python3-venv"):
        environment.pip_install(Path(sys.executable), ["svgwrite"], doing="")


def test_a_python_without_ensurepip_still_gets_an_environment(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def run_without_ensurepip(arguments: list[object], **words: object) -> str:
        if "--without-pip" not in arguments:
            raise Missing("ensurepip is not available")
        return run([str(argument) for argument in arguments], doing="", otherwise="")

    monkeypatch.setattr(environment, "run", run_without_ensurepip)
    environment.make(tmp_path / "place")
    python = environment.python_of(tmp_path / "place")
    assert subprocess.run([python, "-c", "print(6 * 7)"], capture_output=True, text=True, check=True).stdout == "42\n"


def test_when_npm_fails_its_last_words_are_shown(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(packages, "CACHE", tmp_path)
    failing = (sys.executable, "-c", "import sys; sys.exit('network is unreachable')")
    with pytest.raises(Missing) as missing:
        packages.ensure({"something": "1.0.0"}, node.Node((sys.executable,), failing), folder="npm")
    said = str(missing.value)
    assert said.startswith("npm could not fetch what is needed. It uses your own npm settings; is the network there?")
    assert said.endswith("network is unreachable")


def test_a_package_that_is_not_the_pinned_one_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(packages, "CACHE", tmp_path)
    monkeypatch.setattr(packages, "SHA256", {"something/file.js": "0" * 64})
    forge = "import pathlib; p = pathlib.Path('node_modules/something'); p.mkdir(parents=True); (p / 'file.js').touch()"
    with pytest.raises(Missing, match=r"something/file\.js as npm delivered it is not the file"):
        packages.ensure({"something": "1"}, node.Node((sys.executable,), (sys.executable, "-c", forge)), folder="npm")


def test_a_browser_that_is_named_but_not_there_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(browser.VARIABLE, "/nowhere/chromium")
    with pytest.raises(Missing, match="STEELYARD_TEST_BROWSER names /nowhere/chromium, and there is no such file"):
        browser.ensure(Path(sys.executable))


def test_both_halves_of_the_tests_run_and_the_end_says_what_each_came_to(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    halves = (("The first", ("tests/nowhere",), False), ("The second", ("tests/engine/test_packaging.py",), False))
    monkeypatch.setattr(testing, "PARTS", halves)
    surroundings = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ENGINE), str(WEB)])}
    code = testing._run_all(Path(sys.executable), surroundings)
    first, second = (line for line in capsys.readouterr().out.splitlines() if " passed, " in line)
    assert code == 4, "pytest's own code for a folder that is not there"
    assert re.fullmatch(r"The first: 0 passed, 0 failed in \d+ s; pytest ended with code 4\.", first)
    assert re.fullmatch(r"The second: [1-9]\d* passed, 0 failed in \d+ s\.", second)


def test_what_failed_is_named_at_the_end() -> None:
    outcome = testing.Outcome("The page", 1, 61.4, 234, ["tests/web/test_boot.py::test_it"])
    assert str(outcome) == "The page: 234 passed, 1 failed in 61 s.\n  FAILED tests/web/test_boot.py::test_it"


@pytest.mark.slow
def test_a_fresh_copy_in_a_folder_with_a_space_and_an_accent_builds_without_node_on_path(
    root: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "bras de levier été"
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=root,
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    for name in filter(None, listed.split("\0")):
        if (root / name).is_file():
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            (copy / name).write_bytes((root / name).read_bytes())
    nothing_on_path = {**os.environ, "PATH": str(tmp_path / "empty"), "PYTHONPATH": ""}
    # The Python under the test's own environment, as a person's system Python would be.
    python = Path(sys.base_prefix) / ("python.exe" if os.name == "nt" else f"bin/python{sys.version_info[0]}")
    built = subprocess.run(
        [python, "web", "build", "--out", "le site"],
        cwd=copy,
        env=nothing_on_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stdout + built.stderr
    assert "Fetching Node through pip" in built.stdout
    (build,) = (copy / "le site" / "v").iterdir()
    assert f"v/{build.name}/" in (copy / "le site" / "index.html").read_text(encoding="utf-8")
    with started(copy, "--port", str(free_port())) as (_, lines):
        assert len(lines) == 1, "the second start has nothing left to do"
