"""Equilibrium of rigid bodies: what forces act, whether they balance, what the supports can do."""

from .equilibrium import analyse
from .kept import kept_back

__all__ = ["analyse", "kept_back"]
