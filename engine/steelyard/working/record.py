"""What a working is made of: steps, lines and sentences as data. No computation, no layout.

Every sentence may carry the fact it states, so that a test, or a marker, can derive it again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from ..geometry import Point, Vector
from .expression import Equation, Symbol
from .figures import Known

RunRole = Literal["word", "symbol", "sub"]
StepKind = Literal[
    "isolate", "replace", "sum", "together", "several", "combine", "limit", "friction", "check", "answer", "theorem"
]
LineKind = Literal["given", "equation", "solved", "numbers", "value", "sum", "comparison"]


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a sentence; `of` is the force it names, for lighting. `italic`: an index that names a quantity."""

    text: str
    role: RunRole = "word"
    of: str = ""
    italic: bool = False


@dataclass(frozen=True, slots=True)
class Fact:
    """A statement as data. `kind` says which; `data` holds ids, keys, points and numbers."""

    kind: str
    data: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Sentence:
    """Styled words, and the fact they state (None for plain guidance)."""

    runs: tuple[Run, ...]
    fact: Fact | None = None

    @property
    def text(self) -> str:
        """The words alone; an index follows its letter directly."""
        return "".join(run.text for run in self.runs)


@dataclass(frozen=True, slots=True)
class Sense:
    """The positive sense of a sum, drawn as an icon: an axis at an angle, or a turning sense (+1 counterclockwise).

    `words` say the same: "up and to the right", "clockwise".
    """

    kind: Literal["axis", "turn"]
    angle_deg: float = 0.0
    turn: int = 0
    words: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of mathematics. `underlined`: a result, double underlined."""

    kind: LineKind
    equation: Equation
    underlined: bool = False


@dataclass(frozen=True, slots=True)
class Contact:
    """What touches the body at one place, what it can stop, and the parts it leaves on the free body."""

    entity: str
    forces: tuple[str, ...]
    stops: tuple[str, ...]
    sentence: Sentence


@dataclass(frozen=True, slots=True)
class Step:
    """One step: a title, why this one, lines, and what they say.

    `known` is what every symbol of the lines is worth, in display units (symbols without a value are
    letters). `point` or `axis` say about which point or along which axis is summed; `finds` the keys found.
    `bodies` is the system it is about, where there are several.
    """

    kind: StepKind
    title: Sentence
    why: tuple[Sentence, ...] = ()
    sense: Sense | None = None
    lines: tuple[Line, ...] = ()
    remarks: tuple[Sentence, ...] = ()
    point: Point | None = None
    axis: Vector | None = None
    finds: tuple[str, ...] = ()
    contacts: tuple[Contact, ...] = ()
    known: Mapping[Symbol, Known] = field(default_factory=dict)
    bodies: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Working:
    """A worked solution. `comma`: decimals are written with a comma."""

    body: str
    steps: tuple[Step, ...]
    comma: bool = False
    symbols_only: bool = False
