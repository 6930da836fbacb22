"""Files in and out: TOML with positions, atomic saving, locks, the journal, where things are."""
