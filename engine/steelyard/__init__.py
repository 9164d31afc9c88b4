"""Steelyard: a rigid-body equilibrium engine and extended free-body-diagram sketcher."""

__version__ = "0.1.0"
