"""Views of a sketch lowered to one flat display list, which every painter shares."""
