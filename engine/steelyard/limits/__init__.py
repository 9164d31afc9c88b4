"""Limits: at which values of one number what statics says changes."""
