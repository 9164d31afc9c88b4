"""What the steps of one working share: words, letters, options, and the values found so far."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..geometry import Point
from ..model import Sketch, TorqueForm
from ..statics import advice as advising
from ..statics.advice import Advice, Part
from ..statics.reading import Analysis
from ..statics.signs import Reason, Settled
from .expression import Expression, Symbol, evaluate
from .figures import Known, display
from .laws import Law, laws_of, with_laws
from .letters import Letters, letters_for
from .phrases import Piece, Voice
from .planner import OrderItem
from .record import Sense, Sentence
from .terms import Balance, Term, Writer


@dataclass(frozen=True, slots=True)
class Options:
    """How a working is written; words, figures, units and positive senses come from the sketch's settings.

    `torque_form` and `two_sided` override the settings of the same name. `symbols_only`: no numbers.
    `first_pivot` and `order`: the user's own (see `planner.plan`).
    """

    torque_form: TorqueForm | None = None
    two_sided: bool | None = None
    symbols_only: bool = False
    first_pivot: Point | None = None
    order: tuple[OrderItem, ...] | None = None


class Desk:
    """Everything the steps of one working share: words, letters, and the values found so far."""

    def __init__(
        self,
        sketch: Sketch,
        analysis: Analysis,
        options: Options,
        *,
        bodies: tuple[str, ...] = (),
        letters: Letters | None = None,
        values: dict[Symbol, Known] | None = None,
        solved: dict[Symbol, Expression] | None = None,
    ) -> None:
        """`bodies` to `solved` are for one of several systems whose workings belong together."""
        self.analysis = analysis
        self.options = options
        self.bodies = bodies or analysis.bodies
        self.letters = letters or letters_for(sketch, analysis)
        self.display = display(sketch.settings)
        self.voice = Voice(sketch, analysis, self.letters, self.display, self.bodies)
        self.parts: dict[str, Part] = {part.key: part for part in advising.parts(analysis)}
        settings = sketch.settings
        self.two_sided = settings.two_sided if options.two_sided is None else options.two_sided
        form = options.torque_form or settings.torque_form
        positive = settings.counterclockwise_positive
        self.writer = Writer(self.letters, self.display, form, positive, analysis.lever_m, analysis.x_axis)
        self.values: dict[Symbol, Known] = {} if values is None else values
        for part in self.parts.values():
            # In symbols only, every size is a letter.
            if part.size is not None and not options.symbols_only:
                self.values[self.letters.part(part)] = Known(
                    part.size * self.display.factor(self.unit(part)), self.unit(part)
                )
        self.laws: tuple[Law, ...] = laws_of(reading.force for reading in analysis.readings)
        for law in self.laws:
            if law.mu is not None and not options.symbols_only:
                self.values[self.letters.rough(law.force)] = Known(law.mu, "")
        # What each unknown was found to be, in symbols.
        self.solved: dict[Symbol, Expression] = {} if solved is None else solved
        self.settled: dict[str, Settled] = {}
        self.reasons: dict[str, Reason] = {}

    def unit(self, part: Part) -> str:
        """The display unit of a part."""
        if part.which == "place":
            return self.display.length
        return self.display.torque if part.which == "couple" else self.display.force

    def balance(self, advice: Advice, laws: Sequence[Law] = ()) -> Balance:
        """The equation an advice stands for, with what some laws say put in."""
        every = tuple(self.parts.values())
        if advice.point is not None:
            balance = self.writer.torques(every, advice.point)
        else:
            assert advice.along is not None
            balance = self.writer.forces(every, advice.along)
        return with_laws(balance, laws, self.letters) if laws else balance

    def sense(self, balance: Balance) -> Sense:
        """The positive sense of a balance, for the icon beside it."""
        if balance.axis is None:
            turn = 1 if self.writer.counterclockwise_positive else -1
            return Sense("turn", turn=turn, words=self.voice.turn(turn))
        angle_deg = math.degrees(math.atan2(balance.axis[1], balance.axis[0]))
        return Sense("axis", angle_deg=angle_deg, words=self.voice.points(balance.axis))

    def length_factor(self, balance: Balance, key: str) -> float:
        """Shares of forces in torques are metres, shown in display units; couples and sums of forces have none."""
        return self.display.per_metre if balance.point is not None and self.parts[key].along is not None else 1.0

    def worth(self, balance: Balance, term: Term, known: Mapping[Symbol, Known]) -> float:
        """How large a term is, in the unit of its sum; its symbol must have a value."""
        if self.parts[term.part].which == "place":
            return abs(evaluate(term.written, {symbol: each.value for symbol, each in known.items()}))
        return abs(term.share) * self.length_factor(balance, term.part) * abs(known[term.symbol].value)

    def known(self, *balances: Balance) -> dict[Symbol, Known]:
        """What the symbols of some balances are worth, as far as known."""
        merged = dict(self.values)
        for balance in balances:
            merged.update(balance.known)
        return merged


def title_of(desk: Desk, advice: Advice, before: str = "") -> Sentence:
    """ "Torques about A", "Forces along x", with words before it."""
    if advice.point is not None:
        word = _begin(f"{desk.voice.settings.turning_word}s", before)
        return desk.voice.say(f"{before}{word} about ", *desk.voice.where(advice))
    assert advice.along is not None
    axis: list[Piece] = desk.voice.axis_words(advice.along, advice)
    word = _begin("forces", before)
    return desk.voice.say(f"{before}{word} along ", *axis)


def _begin(word: str, before: str) -> str:
    return word if before else word.capitalize()
