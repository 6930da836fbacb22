"""Tells a paint shop how to prepare a blend panel so that no scratch shows through a fine metallic colour.

The public face: `load_job`, `load_house`, `load_standards`, `advise`, `write_card`. They are looked up on
first use, so that `prepadvisor --version` starts without loading the model.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from prepadvisor.version import __version__

if TYPE_CHECKING:
    from prepadvisor.cards import write_card
    from prepadvisor.files import load_house, load_job, load_standards
    from prepadvisor.planning import advise

__all__ = ["__version__", "advise", "load_house", "load_job", "load_standards", "write_card"]

_HOMES = {
    "advise": "prepadvisor.planning",
    "load_house": "prepadvisor.files",
    "load_job": "prepadvisor.files",
    "load_standards": "prepadvisor.files",
    "write_card": "prepadvisor.cards",
}


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module 'prepadvisor' has no attribute {name!r}")
