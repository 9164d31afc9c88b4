"""The one error that leaves the engine: what went wrong, where, and what to do about it."""

from __future__ import annotations


class SteelyardError(Exception):
    """A complaint the user can act on.

    Attributes
    ----------
    code: a stable word for programs, e.g. ``"document.type"``.
    where: the JSON path or entity id concerned, e.g. ``"loads[2].size_n"``; may be empty.
    message: one sentence, ``"`loads[2].size_n` must be a number: got "12O0"."``
    hint: what to do next, one sentence; may be empty.
    """

    def __init__(self, code: str, where: str, message: str, hint: str = "") -> None:
        super().__init__(f"{message} {hint}".strip())
        self.code = code
        self.where = where
        self.message = message
        self.hint = hint

    def as_data(self) -> dict[str, str]:
        """The error as it crosses the door to the page."""
        return {"code": self.code, "where": self.where, "message": self.message, "hint": self.hint}
