"""What `python3 web` and `python3 tests` are made of: set-up, build, server. Standard library only."""
