"""A job as it stands on the screens: like a job file, but it may still be without a panel."""

import datetime as dt
from collections.abc import Mapping
from typing import Annotated, Any, TypeVar

from pydantic import Field, ValidationError

from prepadvisor.cases.colour import STAGES_IF_UNKNOWN
from prepadvisor.files.edit import changed_table, values_of_job
from prepadvisor.files.three_way import both_changed
from prepadvisor.records.base import Record
from prepadvisor.records.fault import own_words
from prepadvisor.records.job import FORMAT, Check, Colour, Job, JobHead, Outcome, Panel

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
        return cls(
            job=JobHead(number=number, by=by, date=date, format=FORMAT),
            colour=Colour(stages=STAGES_IF_UNKNOWN),
        )

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
    says = own_words(first)
    return f"{where.replace('_', ' ')}: {says[:1].lower()}{says[1:]}"


def bare(job: OpenJob) -> OpenJob:
    """Return a job without its log."""
    return job.model_copy(update={"check": (), "outcome": ()}) if job.check or job.outcome else job


def can_rebase(base: OpenJob, changed: OpenJob, onto: OpenJob) -> bool:
    """Say whether what differs between two jobs can be put onto a third without undoing its own changes."""
    return not both_changed(values_of_job(base), values_of_job(changed), values_of_job(onto))


def rebased(base: OpenJob, changed: OpenJob, onto: OpenJob) -> OpenJob:
    """Return a job with what differs between two others put onto it.

    Raises:
        RefusedError: the same was changed in it otherwise.
    """
    before, after = values_of_job(base), values_of_job(changed)
    if both_changed(before, after, values_of_job(onto)):
        raise RefusedError("somebody else changed the same of this job meanwhile: change it by hand")
    return OpenJob.model_validate(changed_table(values_of_job(onto), before, after))
