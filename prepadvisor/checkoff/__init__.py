"""The check-off of a job and the gate before masking."""
