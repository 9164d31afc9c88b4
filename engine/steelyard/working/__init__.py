"""The written working: steps as data, from isolating the body to the answer in a sentence."""
