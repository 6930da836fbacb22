"""Why: what stands behind the numbers of a place or a panel, and the sheet for training."""
