"""The views of the program, one a file."""
