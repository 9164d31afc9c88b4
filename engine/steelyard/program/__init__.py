"""Linear programs of statics: is there an admissible answer, and how far do the admissible answers reach."""

from .answers import Bound, End, Outcome, Program, Range, feasible, ranges

__all__ = ["Bound", "End", "Outcome", "Program", "Range", "feasible", "ranges"]
