"""What an installed Steelyard carries, against what lies in the tree."""

import tomllib
from pathlib import Path

ENGINE = "engine/steelyard"
NOT_PACKAGES = {"__pycache__"}


def test_every_package_of_the_engine_and_the_scenarios_are_installed(root: Path) -> None:
    settings = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]
    folders = {path.name for path in (root / ENGINE).iterdir() if path.is_dir() and path.name not in NOT_PACKAGES}
    assert set(settings["packages"]) == {"steelyard", "steelyard.scenarios", *(f"steelyard.{name}" for name in folders)}
    assert (root / settings["package-dir"]["steelyard.scenarios"] / "gangway.json").is_file()
    assert settings["package-data"]["steelyard.scenarios"] == ["*.json"]
