"""The forces in the order they are laid head to tail, for the line of buttons that changes it."""

from __future__ import annotations

from ..edit.ordering import ordinal
from ..model import Sketch
from ..picture.text import plain
from ..statics.chain import chain
from ..statics.reading import Analysis
from .words import symbol_runs


def chain_panel(sketch: Sketch, analysis: Analysis) -> dict[str, object]:
    """`{forces: [{id, symbol, role, spoken}]}` in the order of the chain; `role` says how it is drawn there."""
    return {
        "forces": [
            {
                "id": link.id,
                "symbol": symbol_runs(link.reading.force.symbol),
                "role": "guess" if link.reading.force.guess is not None else link.reading.force.role,
                "spoken": f"{plain(link.reading.force.symbol)}, {ordinal(place + 1)} in the chain"
                + (", without a size yet" if link.vector is None else ""),
            }
            for place, link in enumerate(chain(sketch, analysis))
        ]
    }
