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
    """The records of the last state sent, by picture and id, its working's steps, and the `seq` it was sent under."""

    seq: int | float | str | None = None
    records: dict[str, dict[str, Record]] = field(default_factory=dict)
    steps: PanelSteps | None = None

    def after(self, reply: Data) -> Sent:
        """What the page will hold once it has this whole reply."""
        held = {name: {record.id: record for record in reply[name]["records"]} for name in PICTURES}
        return Sent(reply["seq"], held, _steps(reply))

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
        steps = _steps(reply)
        if steps is not None:
            # What has settled is said in full: a preview leaves out what is only heard.
            written = steps.since(self.steps if known else None) if reply["preview"] else steps.whole()
            panels = reply["panels"]
            reasoning = panels["reasoning"]
            working = {**reasoning["working"], "steps": written}
            short["panels"] = {**panels, "reasoning": {**reasoning, "working": working}}
        return short


def _steps(reply: Data) -> PanelSteps | None:
    reasoning = reply["panels"].get("reasoning")
    working = None if reasoning is None else reasoning["working"]
    return None if working is None else working["steps"]
