"""Changes to a sketch: commands as pure functions, gestures, snapping and history."""
