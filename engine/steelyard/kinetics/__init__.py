"""Letting go: how bodies start to move, and a short motion from rest."""
