"""The session: the one mutable thing. It holds the open sketch, its history, the hand, and how it is looked at."""

from __future__ import annotations

from .state import Memory, Session

__all__ = ["Memory", "Session"]
