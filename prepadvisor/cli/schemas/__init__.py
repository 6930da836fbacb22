"""What a JSON Schema says of each key: sentences for files, and the forms of what commands write as JSON."""
