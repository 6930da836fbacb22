"""What a lead edits, as pure records: rules, worked cases, promises, and what a draft of them would do."""
