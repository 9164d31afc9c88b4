"""Replies say again only what changed: a record like the one the page holds already is sent as its id alone."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

Data = dict[str, Any]
PICTURES = ("picture", "strips")


@dataclass(frozen=True, slots=True)
class Sent:
    """The records of the last state sent, by picture and id, and the `seq` it was sent under."""

    seq: int | float | str | None = None
    records: dict[str, dict[str, Data]] = field(default_factory=dict)

    def after(self, reply: Data) -> Sent:
        """What the page will hold once it has this whole reply."""
        held = {name: {record["id"]: record for record in reply[name]["records"]} for name in PICTURES}
        return Sent(reply["seq"], held)

    def shortened(self, reply: Data, base: object) -> Data:
        """The reply for a page that holds the reply `base`; whole when that is not the one sent last."""
        if base is None or base != self.seq:
            return reply
        short = dict(reply)
        for name in PICTURES:
            held = self.records.get(name, {})
            records = [
                record["id"] if held.get(record["id"]) == record else record for record in reply[name]["records"]
            ]
            short[name] = {**reply[name], "records": records}
        return short
