"""The commands, one file a verb."""
