"""The numeric model, one physical topic a file; pure functions over numpy arrays, no file is read."""
