"""The open job as pure records: edits with names, undo, selection and what-if. Never imports textual."""
