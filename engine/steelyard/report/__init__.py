"""Answers a reviewer can check: as data for programs, as aligned text, and the system of equations behind them."""
