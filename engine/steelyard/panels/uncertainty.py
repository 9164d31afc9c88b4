"""How sure the reactions are: each with its half-width and what matters most, and fields for the half-widths."""

from __future__ import annotations

from functools import lru_cache

from .. import document
from ..document.paths import Entity, Number
from ..edit.change import acts_for
from ..edit.set_half_width import HALF_WIDTH
from ..model import Settings, Sketch
from ..picture.text import plain
from ..statics.giving_way import listed
from ..statics.reading import Analysis
from ..statics.uncertainty import Spread, Uncertainty, uncertainty
from ..units import Kind, write_exact, write_quantity
from .item import Item, quantity
from .words import NUMBER_WORDS, symbol_runs

Data = dict[str, object]

# With more half-widths the worst case over all of them takes too long for a page that answers at once.
MOST_AT_ONCE = 6

_KINDS: dict[str, Kind] = {"size": "force", "direction": "angle", "couple": "couple"}
_HINT = "Give a measured number of the selected thing a half-width: how far it may be off, either way."
_SELECT = "Select a thing to say how far its measured numbers may be off."
# Beside a field, where a thing is reads "at 4 m".
_WORDS = {**NUMBER_WORDS, "place_m": "at"}


def uncertainty_panel(
    sketch: Sketch, analysis: Analysis | None, selected: str | None, *, preview: bool = False
) -> Data | None:
    """The section "How sure?"; None on an empty sheet, and while answers are kept back.

    The worst case over all half-widths at once is left open in a `preview`: it takes many solves.
    """
    if analysis is None or sketch.answers == "kept":
        return None
    worst = len(sketch.half_widths) <= MOST_AT_ONCE
    quick = preview or not worst
    found = uncertainty(sketch, bodies=analysis.system, worst=False) if quick else _worst(sketch, analysis.system)
    entity = _entity(sketch, selected)
    if entity is None:
        numbers: tuple[Number, ...] = (document.gravity(sketch),)
    else:
        numbers = tuple(number for number in document.numbers_of(entity) if _offered(sketch, entity, number))
    hint = "" if found is not None and found.spreads else _SELECT if entity is None else _HINT
    return {
        "rows": [] if found is None else _rows(sketch, found, waiting=preview and worst),
        "said": "" if found is None else _said(sketch, found),
        "hint": hint,
        "of": "" if entity is None else entity.id,
        "fields": [_field(sketch, number) for number in numbers],
    }


@lru_cache(maxsize=2)
def _worst(sketch: Sketch, system: tuple[str, ...]) -> Uncertainty | None:
    """Only a saving of work: what is selected or shown changes nothing of it."""
    return uncertainty(sketch, bodies=system)


def _said(sketch: Sketch, found: Uncertainty) -> str:
    """Why there is nothing to say, or what may stop holding within the half-widths."""
    if found.trouble or not found.may_fail:
        return found.trouble
    forces = {each.force: plain(each.symbol) for each in found.spreads}
    failing = listed([forces.get(each, each) for each in found.may_fail])
    return f"Within these half-widths there may be no balance: {failing} would have to do what it cannot."


def _entity(sketch: Sketch, selected: str | None) -> Entity | None:
    every: tuple[Entity, ...] = (*sketch.bodies, *sketch.supports, *sketch.loads)
    return next((entity for entity in every if selected is not None and acts_for(entity, selected)), None)


# Places on a body: along a bar one number, elsewhere two.
_ALONG = ("place_m", "start_m", "end_m", "face_m")


def _offered(sketch: Sketch, entity: Entity, number: Number) -> bool:
    """A few numbers a thing: not where the whole figure lies, nor how far off a bar, nor every corner."""
    if number.key not in _WORDS:
        return False
    if number.key not in _ALONG or number.place == (0,):
        return True
    return not any(body.id == getattr(entity, "body", "") and body.kind == "bar" for body in sketch.bodies)


def _field(sketch: Sketch, number: Number) -> Item:
    settings = sketch.settings
    width = next((each.half_width for each in sketch.half_widths if each.path == number.path), None)
    axis = f" {'xy'[number.place[-1]]}" if number.place and number.key not in _ALONG else ""
    word = "g" if number.of == "settings" else _WORDS[number.key] + axis
    label = f"{word} {write_exact(number.value, number.kind, settings)} ±"
    spoken = f"half-width of {document.words_for(sketch, number)}"
    return quantity(HALF_WIDTH + number.path, label, width, number.kind, settings, spoken=spoken)


def _rows(sketch: Sketch, found: Uncertainty, *, waiting: bool) -> list[Data]:
    words = {number.path: document.words_for(sketch, number) for number in found.inputs}
    both = {spread.force for spread in found.spreads if spread.quantity == "direction"}
    return [
        _row(spread, words, sketch.settings, spread.force in both, waiting=waiting)
        for spread in found.spreads
        if spread.quantity in _KINDS
    ]


def _row(spread: Spread, words: dict[str, str], settings: Settings, both: bool, *, waiting: bool) -> Data:
    kind = _KINDS[spread.quantity]
    value = write_quantity(spread.value, kind, settings)
    width = write_quantity(spread.half_width, kind, settings, figures=2)
    most = f"most from {words[spread.most]}" if spread.most else "from none of these"
    return {
        "key": f"{spread.force}.{spread.quantity}",
        "of": spread.force,
        "symbol": symbol_runs(spread.symbol),
        "note": "direction" if spread.quantity == "direction" else "size" if both else "",
        "value": f"{value} ± {width}",
        "most": most,
        "worst": "at worst …" if waiting else _at_worst(spread, kind, settings),
    }


def _at_worst(spread: Spread, kind: Kind, settings: Settings) -> str:
    """The least and the greatest while all measured numbers range over their half-widths at once."""
    if spread.extent is None:
        return ""
    least, greatest = (write_quantity(end, kind, settings) for end in (spread.extent.least, spread.extent.greatest))
    about = "" if spread.extent.least_sure and spread.extent.greatest_sure else "about "
    return f"at worst {about}{least} to {greatest}"
