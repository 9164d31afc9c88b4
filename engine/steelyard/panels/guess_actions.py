"""What can be done with a guess or about a minus: buttons as data, each with its command."""

from __future__ import annotations

from ..statics.reading import ForceReading
from ..statics.stretching import CLOSES, share
from ..units import write_quantity
from ..working.argue import Argument
from ..working.both_ways import both_ways
from ..working.data import Data, sentence_data
from ..working.desk import Desk, Options
from ..working.expression import Symbol
from ..working.phrases import Piece
from .answers import may_be_drawn
from .guess_sums import can_be_found, is_kept, left_over, others_sought, sum_symbol


def said(desk: Desk, *pieces: Piece) -> list[Data]:
    """A sentence as the page builds it."""
    return sentence_data(desk.voice.say(*pieces))


def command(key: str, label: list[Data], command: str, args: dict[str, object], *, moves: bool = False) -> Data:
    """A button: the command it gives; `moves`: the arrow is seen moving there (the command takes a `share`)."""
    data: Data = {"key": key, "label": label, "command": command, "args": args}
    if moves:
        data["moves"] = True
    return data


def actions(desk: Desk, reading: ForceReading, found: Argument, preview: bool) -> list[Data]:
    """What can be done next: turn the guess, then stretch it; its answer; both ways of drawing it; away with it."""
    force_id, sketch = found.force, desk.voice.sketch
    offers: list[Data] = []
    if found.turn is not None or found.turn_couple is not None:
        offers.append(command("turn", said(desk, "Turn it"), "turn", {"id": force_id}, moves=True))
    else:
        offers += _stretches(desk, reading)
    if sketch.answers == "kept" and reading.fixed:
        told = force_id in sketch.told
        label = "Keep the answer back" if told else "Show the answer"
        offers.append(command("tell", said(desk, label), "tell", {"id": force_id, "on": not told}))
    two_way = next((stage.part for stage in found.stages if not desk.parts[stage.part].one_way), "")
    if two_way and (preview or both_ways(sketch, desk.analysis, two_way, options=Options(symbols_only=True))):
        offers.append({"key": "both", "label": said(desk, "Other way round"), "show": {"both": two_way}})
    offers.append(command("drop", said(desk, "Remove my guess"), "guess", {"id": force_id, "on": False}))
    return offers


def _stretches(desk: Desk, reading: ForceReading) -> list[Data]:
    """The sums a guess can close by its size alone, as far as a reader can know.

    Those in which nothing else is to be found come first; while answers are kept back they come alone.
    """
    force = reading.force
    others = {closes: others_sought(desk, force.id, closes) for closes in CLOSES}
    rows = sorted(CLOSES, key=lambda closes: others[closes])
    offers: list[Data] = []
    least = 0
    for closes in rows:
        own = share(force, closes, desk.analysis)
        left = left_over(desk, closes)
        if own == 0.0 or (left is None and not can_be_found(desk, closes)):
            continue
        # Closed already, or left open by the others on the side where the guess does not act.
        if left is not None and (left == 0.0 or (own - left) * own <= 0.0):
            continue
        if offers and others[closes] > least and is_kept(desk, force.id):
            break
        least = others[closes]
        label = said(desk, "Stretch it until ", sum_symbol(desk, closes), " closes")
        args: dict[str, object] = {"id": force.id, "closes": closes}
        offers.append(command(f"stretch-{closes}", label, "stretch", args, moves=True))
    return offers


def minus(desk: Desk, reading: ForceReading) -> Data | None:
    """What a minus means: the other way from the arrow as drawn; for a one-way force, no balance like this."""
    voice, force = desk.voice, reading.force
    letter = desk.letters.force(force.id)
    if reading.cannot:
        return {
            "headline": said(desk, "No balance like this"),
            "lead": [said(desk, letter, f" would have to do what it cannot: {reading.cannot}.")],
            "actions": [],
        }
    drawn: list[tuple[Symbol, float, str]] = []
    if force.along is None and reading.against_drawn and reading.couple_n_m is not None:
        drawn.append((letter, reading.couple_n_m, "couple"))
    elif force.sought == "size" and reading.against_drawn and reading.size_n is not None:
        drawn.append((letter, reading.size_n, "force"))
    elif force.sought == "size and direction":
        for which, against, value in zip("xy", reading.against_components, reading.components_n, strict=True):
            if against and value is not None:
                drawn.append((voice.symbol(f"{force.id}.{which}"), value, "force"))
    if not drawn:
        return None
    words: list[Piece] = []
    for place, (symbol, value, kind) in enumerate(drawn):
        size = write_quantity(-abs(value), "couple" if kind == "couple" else "force", voice.settings)
        words += [" and " if place else "", symbol, f" = {size}"]
    many = len(drawn) > 1
    reason = (
        "Minus: they act the other way from the arrows as drawn. Same sizes, same physics."
        if many
        else "Minus: it acts the other way from the arrow as drawn. Same size, same physics."
    )
    args: dict[str, object] = {"id": force.entity, "key": "as_answered", "text": "true"}
    draw = [command("as-answered", said(desk, "Draw it this way"), "set", args)]
    actions = draw if may_be_drawn(voice.sketch, reading) else []
    return {"headline": said(desk, *words), "lead": [said(desk, reason)], "actions": actions}
