"""The forms of what commands print as JSON; from them come their JSON Schemas."""

from typing import TYPE_CHECKING, Any, Final

from prepadvisor.cli.schemas.job_forms import JOB_FORMS
from prepadvisor.cli.schemas.lead_forms import LEAD_FORMS

if TYPE_CHECKING:
    from prepadvisor.cli.schemas.json_types import JsonForm

FORMS: Final[dict[str, tuple[str, "JsonForm"]]] = LEAD_FORMS | JOB_FORMS
"""What can be asked for, with what it is and its form."""


def output_schema(name: str) -> dict[str, Any]:
    """Return the JSON Schema of what a command prints."""
    return _schema(FORMS[name][1])


def _schema(form: "JsonForm") -> dict[str, Any]:
    if isinstance(form, list):
        return {"type": "array", "items": _schema(form[0])}
    if isinstance(form, tuple):
        inner, says = form
        plain = isinstance(inner, str) or (
            isinstance(inner, list) and all(isinstance(one, str) for one in inner)
        )
        return {**({"type": inner} if plain else _schema(inner)), "description": says}
    anything = form.get("*")
    return {
        "type": "object",
        "properties": {key.removesuffix("?"): _schema(part) for key, part in form.items() if key != "*"},
        "required": [key for key in form if not key.endswith("?") and key != "*"],
        "additionalProperties": False if anything is None else _schema(anything),
    }
