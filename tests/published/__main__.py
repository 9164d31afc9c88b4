"""Prints every published case with its source, the printed figures and the computed ones side by side.

Words given on the command line choose cases by name or source. Ends with 1 when a figure is missed.
"""

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
for folder in (HERE, HERE.parents[1] / "engine"):
    sys.path.insert(0, str(folder))

from table import main  # noqa: E402 - the path above must be set first

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
