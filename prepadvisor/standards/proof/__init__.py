"""What is proven of standards over all cases: gaps, collisions, promises, dead rules, shelf, changes."""
