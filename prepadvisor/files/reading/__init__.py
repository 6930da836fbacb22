"""Text into data: bounds, positions, every fault at once with its line, in shop words."""
