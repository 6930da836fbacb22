"""Reads what people write: job files, and the standards of a shop.

Looked up on first use, so that whoever needs only a folder's name or a lock does not load the rule engine.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from prepadvisor.files.house_files import load_house, load_standards
    from prepadvisor.files.job_file import job_of_text, load_job

__all__ = ["job_of_text", "load_house", "load_job", "load_standards"]

_HOMES = {
    "job_of_text": "prepadvisor.files.job_file",
    "load_house": "prepadvisor.files.house_files",
    "load_job": "prepadvisor.files.job_file",
    "load_standards": "prepadvisor.files.house_files",
}


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module 'prepadvisor.files' has no attribute {name!r}")
