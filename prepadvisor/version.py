"""The version of the program, apart from the package's face, which names the rooms above."""

__version__ = "0.1.0"
