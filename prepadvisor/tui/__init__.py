"""The terminal screens; the only place that imports textual."""
