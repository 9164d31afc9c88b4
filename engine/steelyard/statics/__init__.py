"""Equilibrium of rigid bodies: what forces act, whether they balance, what the supports can do."""
