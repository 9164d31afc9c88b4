"""Guesses for unknowns: made, dropped, turned by one step of the argument, stretched until a sum closes."""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import angle_of
from ..model import Couple, Force, Guess, Sketch, Support
from ..statics.advice import ends_of
from ..statics.argument import judge
from ..statics.argument import turned as turned_guess
from ..statics.equilibrium import analyse_with
from ..statics.reading import Analysis
from ..statics.stretching import CLOSES, Refusal, factor
from .change import Change, fail, find, line_of, put, tidy
from .unknowns import Unknown, guess_of, part_of, symbol_of, with_guess


def started(sketch: Sketch, force_id: str) -> Change:
    """A guess beside an unknown: of a usual size, on its line or upwards; the one it has, when there is one."""
    entity = _unknown(sketch, force_id)
    guess = guess_of(entity, force_id)
    if guess is None:
        turns = isinstance(entity, Couple) or part_of(entity, force_id) == "couple"
        guess = Guess(couple_n_m=_usual_size(sketch)) if turns else _straight(sketch, entity, force_id)
    return Change(_with(sketch, entity, force_id, guess), f"Guess {symbol_of(entity, force_id)}")


def dropped(sketch: Sketch, force_id: str) -> Change:
    """The unknown without its guess."""
    entity = _unknown(sketch, force_id)
    return Change(_with(sketch, entity, force_id, None), f"Drop the guess of {symbol_of(entity, force_id)}")


def told(sketch: Sketch, force_id: str, on: bool) -> Change:
    """The answer of one unknown shown, or kept back again, while the others are kept back."""
    entity = _unknown(sketch, force_id)
    others = tuple(each for each in sketch.told if each != force_id)
    label = f"{'Show' if on else 'Keep back'} {symbol_of(entity, force_id)}"
    return Change(replace(sketch, told=(*others, force_id) if on else others), label)


def turned(sketch: Sketch, force_id: str, share: float = 1.0) -> Change:
    """The guess turned by the next step of the argument, or part of the way (`share` from 0 to 1).

    Raises `SteelyardError` without a guess, and where nothing certain is left to turn.
    """
    entity, guess, analysis = _ready(sketch, force_id)
    vector, couple = turned_guess(analysis, judge(analysis, force_id, ends_of(sketch, analysis)))
    letter = symbol_of(entity, force_id)
    if vector is None and couple is None:
        fail("turned", force_id, f"{letter} acts the way it must, as far as that is certain.", "Stretch it instead.")
    if vector is None:
        after = Guess(couple_n_m=couple or 0.0)
    else:
        size = math.hypot(*vector)
        # Turning keeps the size to the last digit.
        size = guess.size_n if abs(size - guess.size_n) <= 1e-9 * size else tidy(size)
        after = Guess(size, tidy(angle_of(vector)) if size else guess.direction_deg)
    on_line = not isinstance(entity, Couple) and line_of(sketch, entity, force_id) is not None
    return Change(_with(sketch, entity, force_id, _between(guess, after, share, on_line)), f"Turn {letter}")


def stretched(sketch: Sketch, force_id: str, closes: str, share: float = 1.0) -> Change:
    """The guess stretched, its direction kept, until one sum closes: "x", "y" or "turning" about the pivot.

    The other forces stand as known, guessed, else as balance needs them. Raises `SteelyardError` without a
    guess, and where no size closes the sum.
    """
    entity, guess, analysis = _ready(sketch, force_id)
    row = next((each for each in CLOSES if each == closes), None)
    if row is None:
        fail(
            "args", "closes", f'`closes` must be one of {", ".join(CLOSES)}: got "{closes[:20]}".', "Send one of them."
        )
    letter = symbol_of(entity, force_id)
    by = factor(analysis, force_id, row)
    if isinstance(by, str):
        fail("stretch", force_id, *_refusal(by, letter, row, sketch))
    after = Guess(guess.size_n * by, guess.direction_deg, guess.couple_n_m * by)
    return Change(_with(sketch, entity, force_id, _between(guess, after, share, False)), f"Stretch {letter}")


def _refusal(why: Refusal, letter: str, closes: str, sketch: Sketch) -> tuple[str, str]:
    """Why no stretching closes a sum, and what to do."""
    settings = sketch.settings
    place = f"about the {settings.pivot_word}" if closes == "turning" else f"along {closes}"
    if why == "no-term":
        return f"{letter} has no part {place}, so its size does not matter there.", "Close another sum."
    if why == "other-way":
        return f"Longer or shorter, {letter} does not close it: {place} it would have to act the other way.", "Turn it."
    if why == "not-needed":
        return f"The sum {place} closes without {letter}.", "Close another sum."
    return f"Something else {place} has no single size, so nothing says where the sum closes.", "Guess that as well."


def _between(before: Guess, after: Guess, share: float, on_line: bool) -> Guess:
    """A guess part of the way: it swings the shorter way round, or along its line through nothing."""
    if share >= 1.0:
        return after
    couple = before.couple_n_m + share * (after.couple_n_m - before.couple_n_m)
    turn = (after.direction_deg - before.direction_deg + 180.0) % 360.0 - 180.0
    if on_line and abs(turn) > 90.0:
        along = before.size_n - share * (before.size_n + after.size_n)
        return Guess(abs(along), before.direction_deg if along >= 0.0 else after.direction_deg)
    size = before.size_n + share * (after.size_n - before.size_n)
    return Guess(size, tidy((before.direction_deg + share * turn) % 360.0), couple)


def _ready(sketch: Sketch, force_id: str) -> tuple[Unknown, Guess, Analysis]:
    entity = _unknown(sketch, force_id)
    guess = guess_of(entity, force_id)
    if guess is None:
        letter = symbol_of(entity, force_id)
        fail("no-guess", force_id, f"There is no guess for {letter} yet.", f"Drag the head of {letter} to draw one.")
    return entity, guess, analyse_with(sketch, force_id, entity.body)


def _unknown(sketch: Sketch, force_id: str) -> Unknown:
    entity = find(sketch, force_id)
    if not isinstance(entity, Support | Force | Couple) or (not isinstance(entity, Support) and entity.role == "known"):
        fail("guess", force_id, "Only an unknown can be guessed.", "Select an unknown force.")
    if part_of(entity, force_id) is None:
        fail("guess", force_id, f'There is no force called "{force_id[:40]}".', "Select an unknown force.")
    return entity


def _with(sketch: Sketch, entity: Unknown, force_id: str, guess: Guess | None) -> Sketch:
    return put(sketch, with_guess(entity, force_id, guess))


def _usual_size(sketch: Sketch) -> float:
    """A guess to begin with: the largest known size there is, so that its arrow can be seen and held."""
    known = [load.size_n for load in sketch.loads if isinstance(load, Force) and load.size_n]
    known += [body.total_mass_kg * sketch.settings.g_m_s2 for body in sketch.bodies if body.total_mass_kg]
    return float(f"{max(known, default=100.0):.1g}")


def _straight(sketch: Sketch, entity: Unknown, force_id: str) -> Guess:
    line = None if isinstance(entity, Couple) else line_of(sketch, entity, force_id)
    return Guess(size_n=_usual_size(sketch), direction_deg=90.0 if line is None else line)
