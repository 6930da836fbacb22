"""Edits of a job file keep what a person wrote, and read back as they were meant."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import tomli

from prepadvisor.files import demo_jobs_dir, edited, new_text, values_of_job
from prepadvisor.records import Colour, Done, Feature, Job, Panel

DEMO_JOBS = sorted(demo_jobs_dir().glob("*.toml"))


def _job(text: str) -> Job:
    return Job.model_validate(tomli.loads(text))


def _with(job: Job, number: int = 0, **changes: Any) -> Job:
    panels = list(job.panel)
    panels[number] = panels[number].model_copy(update=changes)
    return job.model_copy(update={"panel": tuple(panels)})


def _copy(panel: Panel) -> Panel:
    return panel.model_copy(update={"id": "one-more"})


CHANGES: dict[str, Callable[[Job], Job]] = {
    "nothing": lambda job: job,
    "another flake": lambda job: job.model_copy(
        update={"colour": Colour(name='5" [x]', flake="vapour", stages=3)}
    ),
    "no colour": lambda job: job.model_copy(update={"colour": Colour()}),
    "another size": lambda job: _with(job, length_mm=1234.5, height_mm=678.0),
    "first line gone": lambda job: _with(job, feature=job.panel[0].feature[1:]),
    "no lines": lambda job: _with(job, feature=()),
    "lines turned round": lambda job: _with(job, feature=job.panel[0].feature[::-1]),
    "patches gone": lambda job: _with(job, patch=()),
    "now stated": lambda job: _with(job, now=Done(tool="da", grade="P320")),
    "now gone": lambda job: _with(job, now=None),
    "one panel more": lambda job: job.model_copy(update={"panel": (*job.panel, _copy(job.panel[0]))}),
    "one panel in front": lambda job: job.model_copy(update={"panel": (_copy(job.panel[0]), *job.panel)}),
    "only the last panel": lambda job: job.model_copy(update={"panel": job.panel[-1:]}),
    "readings": lambda job: _with(job, film_um=(101.0, 99.5)),
}


@pytest.mark.parametrize("path", DEMO_JOBS, ids=lambda path: path.stem)
@pytest.mark.parametrize("change", CHANGES)
def test_an_edit_reads_back_as_it_was_meant(path: Path, change: str) -> None:
    """Every demo job through every kind of change."""
    text = path.read_text(encoding="utf-8")
    before = _job(text)
    after = Job.model_validate(CHANGES[change](before).model_dump())
    assert values_of_job(_job(edited(text, before, after))) == values_of_job(after)


@pytest.mark.parametrize("path", DEMO_JOBS, ids=lambda path: path.stem)
def test_a_changed_number_changes_its_line_alone(path: Path) -> None:
    """Every comment and every other line stays."""
    text = path.read_text(encoding="utf-8")
    before = _job(text)
    new = edited(text, before, _with(before, length_mm=before.panel[0].length_mm + 1))
    old_lines, new_lines = text.splitlines(), new.splitlines()
    assert len(old_lines) == len(new_lines)
    assert sum(old != now for old, now in zip(old_lines, new_lines, strict=True)) == 1


def test_a_start_value_that_is_written_out_stays_written_out() -> None:
    """The start value next = "base" says what is meant anyway; nobody asked to take it away."""
    path = demo_jobs_dir() / "very-fine-door-and-wing.toml"
    text = path.read_text(encoding="utf-8")
    before = _job(text)
    assert 'next = "base"' in edited(text, before, _with(before, number=1, length_mm=1101.0))


def test_lines_filled_in_from_an_outline_are_not_written_out() -> None:
    """The job as loaded has its outline's lines; what did not change is not put into the file."""
    text = (
        '[job]\nnumber = "1"\n\n[[panel]]\nid = "a"\nkind = "roof"\nrole = "repair"\n'
        'surface = "aged-clear"\nlength_mm = 1000\nheight_mm = 900\n'
    )
    line = {"id": "E1", "kind": "edge", "path": [[0, 0], [1, 0]]}
    bare = _job(text)
    filled = _with(bare, feature=(Feature.model_validate(line),))
    assert "feature" not in edited(text, filled, _with(filled, length_mm=1001.0))


def test_the_log_is_never_touched() -> None:
    """It is only ever added to."""
    text = (
        '[job]\nnumber = "1"\n[[panel]]\nid = "a"\nkind = "roof"\nrole = "repair"\nsurface = "aged-clear"\n'
        "length_mm = 1000\nheight_mm = 900\n"
        '[[check]]\nat = 2026-03-02T09:40:00Z # early\nby = "K"\npanel = "a"\n'
        'feature = "panel"\nstep = "wiped"\n'
    )
    before = _job(text)
    new = edited(text, before, _with(before.model_copy(update={"check": ()}), length_mm=1001.0))
    assert new.endswith(text[text.index("[[check]]") :])


def test_a_new_job_gets_a_text_that_reads_back() -> None:
    """Without start values."""
    job = _job(DEMO_JOBS[0].read_text(encoding="utf-8"))
    assert values_of_job(_job(new_text(job))) == values_of_job(job)


def test_many_panels_are_edited_as_few_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each in its own part of the text, byte for byte as if all of it were parsed, and no other touched."""
    job = _job(DEMO_JOBS[0].read_text(encoding="utf-8"))
    many = job.model_copy(
        update={"panel": tuple(job.panel[0].model_copy(update={"id": f"p{at}"}) for at in range(9))}
    )
    text = new_text(many).replace("[[panel]]", "# ahead\n[[panel]]  # here") + "\n# the end\n"
    after = _with(_with(many, 3, length_mm=1234.5, feature=()), 8, colour_mm=33.0)
    in_parts = edited(text, many, after)
    monkeypatch.setattr("prepadvisor.files.disk.edit._PARTED_FROM", 99)
    assert in_parts == edited(text, many, after)
    assert tomli.loads(in_parts) == values_of_job(after)
    assert in_parts.count("# ahead\n[[panel]]  # here") == 9
