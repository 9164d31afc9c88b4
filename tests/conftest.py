"""What every test may use: where things are, what `python3 tests` has set up, and how random examples are chosen."""

import json
import random
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import is_hypothesis_test, settings

ROOT = Path(__file__).resolve().parents[1]
SEED = 20_260_317
RANDOM_SEED = random.SystemRandom().randrange(1 << 30)

# Tests run with plain pytest too, once `python3 tests` has set things up.
for folder in (ROOT / "web", ROOT / "engine"):
    if str(folder) not in sys.path:
        sys.path.insert(0, str(folder))

# One commit gets one answer: the examples of a property are the same in every run. New ones are looked for on purpose,
# with `--explore`, and what is found is pinned as an example or a test of its own.
settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("explore", derandomize=False, deadline=None, print_blob=True)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--explore",
        type=int,
        default=0,
        metavar="TIMES",
        help="look for new examples: run each property so many times, each time with other random examples",
    )
    parser.addoption("--outcome", metavar="FILE", help="write down what the run came to: {passed, failed} as JSON")


def pytest_configure(config: pytest.Config) -> None:
    if config.getoption("--explore"):
        settings.load_profile("explore")
    elif not config.getoption("--hypothesis-profile", None):
        settings.load_profile("same")


@pytest.fixture(scope="session")
def exploration(request: pytest.FixtureRequest) -> int:
    """Which round of `--explore` this is."""
    return int(request.param)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    rounds = metafunc.config.getoption("--explore")
    if rounds > 1 and is_hypothesis_test(metafunc.function):
        metafunc.fixturenames.append("exploration")
        metafunc.parametrize("exploration", range(rounds), indirect=True, scope="session")


@pytest.fixture(scope="session")
def seed(request: pytest.FixtureRequest) -> int:
    """What random deeds of a test begin with: the same in every run, another one with `--explore`."""
    return RANDOM_SEED if request.config.getoption("--explore") else SEED


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    file = config.getoption("--outcome")
    if file:
        stats = terminalreporter.stats
        failed = [report.nodeid for kind in ("error", "failed") for report in stats.get(kind, [])]
        outcome = {"passed": len(stats.get("passed", [])), "failed": failed}
        Path(file).write_text(json.dumps(outcome), encoding="utf-8")


@pytest.fixture(scope="session")
def root() -> Path:
    """The checkout."""
    return ROOT


@pytest.fixture(scope="session")
def setting() -> dict[str, Any]:
    """What the set-up found: `browser`, `axe`, `tsc`, `node`."""
    file = ROOT / ".build" / "for-the-tests.json"
    if not file.exists():
        pytest.fail("Nothing is set up. Run `python3 tests` once.")
    return dict(json.loads(file.read_text(encoding="utf-8")))
