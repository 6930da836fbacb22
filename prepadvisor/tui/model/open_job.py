"""A job as it stands on the screens: like a job file, but it may still be without a panel."""

import datetime as dt
from collections.abc import Mapping
from typing import Annotated, Any, TypeVar

from pydantic import Field, ValidationError

from prepadvisor.cases.colour import STAGES_IF_UNKNOWN
from prepadvisor.records.base import Record
from prepadvisor.records.job import Check, Colour, Job, JobHead, Outcome, Panel

R = TypeVar("R", bound=Record)


class RefusedError(Exception):
    """An edit cannot be made; the message tells a person why and what to do instead."""


class OpenJob(Job):
    """A job on the screens. Without a panel it cannot be saved or advised on yet."""

    panel: Annotated[tuple[Panel, ...], Field(max_length=200)] = ()

    @classmethod
    def of(cls, job: Job) -> "OpenJob":
        """Return a job as an open job."""
        return cls(job=job.job, colour=job.colour, panel=job.panel, check=job.check, outcome=job.outcome)

    @classmethod
    def new(cls, number: str, by: str = "", date: dt.date | None = None) -> "OpenJob":
        """Return a job that has only a number, and the stages that it is judged by until they are said."""
        return cls(job=JobHead(number=number, by=by, date=date), colour=Colour(stages=STAGES_IF_UNKNOWN))

    def is_logged(self, panel_id: str, part_id: str = "") -> bool:
        """Say whether the check-off has an entry for a panel, or for one of its lines or patches."""
        entries: list[Check | Outcome] = [*self.check, *self.outcome]
        return any(entry.panel == panel_id and part_id in {"", entry.feature} for entry in entries)

    def panel_at(self, panel_id: str) -> Panel | None:
        """Return the panel of an id, or None."""
        return next((panel for panel in self.panel if panel.id == panel_id), None)


def revised(record: R, changes: Mapping[str, Any]) -> R:
    """Return a record with some fields changed, checked as a file would be.

    Raises:
        RefusedError: in one sentence, for a value the field cannot take.
    """
    try:
        return type(record).model_validate({**dict(record), **changes})
    except ValidationError as error:
        raise RefusedError(refusal(error)) from error


def refusal(error: ValidationError) -> str:
    """Return a validation error as one sentence in shop words."""
    first = error.errors()[0]
    where = next((str(part) for part in reversed(first["loc"]) if isinstance(part, str)), "value")
    says = first["msg"].removeprefix("Value error, ")
    return f"{where.replace('_', ' ')}: {says[:1].lower()}{says[1:]}"
