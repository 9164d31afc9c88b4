"""Text typed into a field, read as what the field holds; complaints name the field."""

from __future__ import annotations

from dataclasses import dataclass

from ..document.table import Field
from ..document.values import nearest_name, read_text
from ..errors import SteelyardError
from ..model import Settings
from ..units import Kind, read_with_note, write_exact
from .change import fail

_ON = ("true", "on", "yes", "1")
_OFF = ("false", "off", "no", "0")


@dataclass(slots=True)
class Typed:
    """One field being set: `where` names it in complaints, `note` gathers what should be said about it."""

    where: str
    text: str
    settings: Settings
    note: str = ""

    def quantity(
        self, kind: Kind, *, least: float | None = None, above: float | None = None, most: float | None = None
    ) -> float:
        """A number in stored units; raises `SteelyardError` outside its bounds."""
        found = read_with_note(self.text, kind, self.settings, where=self.where)
        if (least is not None and found.value < least) or (above is not None and found.value <= above):
            wanted = "more than zero" if above is not None else "zero or more"
            fail(
                "range", self.where, f'`{self.where}` must be {wanted}: got "{self.text}".', "Enter it without a minus."
            )
        if most is not None and found.value > most:
            wanted = write_exact(most, kind, self.settings)
            message = f'`{self.where}` must be at most {wanted}: got "{self.text}".'
            fail("range", self.where, message, "Enter a smaller number.")
        self.note = self.note or found.note
        return found.value

    def maybe(self, kind: Kind, *, least: float | None = None) -> float | None:
        """A number, or None when the field was emptied."""
        return self.quantity(kind, least=least) if self.text.strip() else None

    def switch(self) -> bool:
        """On or off."""
        word = self.text.strip().lower()
        if word not in (*_ON, *_OFF):
            fail(
                "switch",
                self.where,
                f'`{self.where}` must be true or false: got "{self.text[:40]}".',
                "Write one of them.",
            )
        return word in _ON

    def words(self, longest: int, *, filled: bool = False) -> str:
        """Text without spaces at its ends."""
        field = Field(self.where, "text", "", longest=longest, filled=filled)
        try:
            return read_text(self.text.strip(), self.where, field)
        except SteelyardError as problem:
            raise SteelyardError("edit.text", self.where, problem.message, problem.hint) from None

    def choice(self, options: tuple[str, ...]) -> str:
        """One of a few words."""
        word = self.text.strip()
        if word not in options:
            near = nearest_name(word, options)
            hint = f'Did you mean "{near}"?' if near else f"Choose one of {', '.join(options)}."
            fail("choice", self.where, f'`{self.where}` must be one of {", ".join(options)}: got "{word[:40]}".', hint)
        return word


def no_such_field(where: str, name: str) -> None:
    """Raise the complaint about a key its thing does not have."""
    fail("key", where, f"`{where}` is not a field of {name}.", "Choose another field.")
