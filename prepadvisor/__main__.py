"""`python -m prepadvisor` is the same as the command."""

from prepadvisor.cli.main import entry

entry()
