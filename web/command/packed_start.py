"""Imported in the browser to load the engine without compiling the methods of its dataclasses again.

`dataclasses` writes a source text for every class and compiles it at each start, 40 % of the time the engine takes to
load. `CODES` beside this module holds what this very interpreter made of each text when the site was built; a text
that is not among them is compiled as ever.
"""

import builtins
import dataclasses
import marshal

CODES = "dataclass-codes"


def _code_of_every_text() -> dict:
    return marshal.loads(__loader__.get_data(__file__.rpartition("/")[0] + "/" + CODES))


def load() -> None:
    """Import the engine's door."""
    codes = _code_of_every_text()

    def execute(text, *namespaces):
        builtins.exec(codes.get(text, text), *namespaces)

    # A module's own name is found before the builtin of that name.
    dataclasses.exec = execute
    try:
        import steelyard.bridge  # noqa: F401
    finally:
        del dataclasses.exec


load()
