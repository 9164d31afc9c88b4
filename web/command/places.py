"""Where things are: the checkout, and the two git-ignored folders the commands fill."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
WEB = ROOT / "web"
ENGINE = ROOT / "engine"
SCENARIOS = ROOT / "scenarios"
ENVIRONMENT = ROOT / ".venv"
CACHE = ROOT / ".build"
