"""Replies say again only what changed: a record like the one the page holds already is sent as its id alone."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from ..panels.steps import PanelSteps
from ..picture.record import Record

Data = dict[str, Any]
PICTURES = ("picture", "strips")


@dataclass(frozen=True, slots=True)
class Sent:
    """The records of the last state sent, by picture and id, its reasoning, and the `seq` it was sent under."""

    seq: int | float | str | None = None
    records: dict[str, dict[str, Record]] = field(default_factory=dict)
    reasoning: Data = field(default_factory=dict)

    def after(self, reply: Data) -> Sent:
        """What the page will hold once it has this whole reply."""
        held = {name: {record.id: record for record in reply[name]["records"]} for name in PICTURES}
        return Sent(reply["seq"], held, reply["panels"].get("reasoning") or {})

    def written(self, reply: Data, base: object) -> Data:
        """The reply as data for a page that holds the reply `base`; whole when that is not the one sent last."""
        known = base is not None and base == self.seq
        short = dict(reply)
        for name in PICTURES:
            held = self.records.get(name, {}) if known else {}
            records = [
                # What has not moved is mostly the very same record, drawn once and kept.
                record.id if (old := held.get(record.id)) is record or old == record else record.as_data()
                for record in reply[name]["records"]
            ]
            short[name] = {**reply[name], "records": records}
        panels = reply["panels"]
        if panels.get("reasoning") is not None:
            held_reasoning = self.reasoning if known and reply["preview"] else {}
            short["panels"] = {**panels, "reasoning": _written(panels["reasoning"], held_reasoning, reply["preview"])}
        return short


def _written(reasoning: Data, held: Data, preview: bool) -> Data:
    """What of the reasoning the page does not hold; what has settled is said in full, for it is heard as well."""
    short = {
        name: part for name, part in reasoning.items() if name != "working" and (name not in held or part != held[name])
    }
    working = short["working"] = reasoning["working"]
    if working is not None:
        steps: PanelSteps = working["steps"]
        known: PanelSteps | None = (held.get("working") or {}).get("steps")
        short["working"] = {**working, "steps": steps.since(known) if preview else steps.whole()}
    return short
