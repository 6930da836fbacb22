"""Text, page, PDF and JSON of one card hold the same facts."""

import io
import json
import re
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

import html5lib
import pypdf
import pytest

from prepadvisor.cards import write_card
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import CardSheet
from prepadvisor.files import demo_jobs_dir, load_house, load_job
from prepadvisor.planning import advise
from prepadvisor.records import Advice
from prepadvisor.wording import advice_json

DEMO_JOBS = [
    path
    for path in sorted(demo_jobs_dir().glob("*.toml"))
    if path.stem
    in {"very-fine-door-and-wing", "plastic-bumper", "imperial-display", "edge-scuffed-too-coarse"}
]
each_demo_job = pytest.mark.parametrize("path", DEMO_JOBS, ids=lambda path: path.stem)
_NOT_PRINTED = {
    "spots",
    "places",
    "place",
    "feature",
    "kind",
    "need",
    "id",
    "box",
    "scuffed",
    "powder",
    "sanded",
}
_NOT_PRINTED |= {"look", "tasks"}


def facts(record: Any) -> list[str]:
    """Return every string of a sheet that is for a person; ids and states of boxes are not."""
    if isinstance(record, str):
        return [record]
    if not isinstance(record, tuple):
        return []
    if not hasattr(record, "_fields"):
        return [fact for item in record for fact in facts(item)]
    found = []
    for name in record._fields:
        value = getattr(record, name)
        if name not in _NOT_PRINTED or (name == "powder" and isinstance(value, tuple)):
            found += facts(value)
    return found


def squeezed(text: str) -> str:
    """Leave out white space, case, signs of layout, and write µ in one way."""
    return "".join(text.split()).casefold()


class Forms(NamedTuple):
    """One card: what it was made from, and the text that each form shows, squeezed."""

    advice: Advice
    sheet: CardSheet
    shown: dict[str, str]


@lru_cache
def forms(path: Path) -> Forms:
    """Write a demo job's card in all printed forms."""
    house = load_house()
    job = load_job(str(path), house)
    advice = advise(job, house)
    page = re.sub(r"base64,[^)]*", "base64,", str(write_card(job, advice, house, to="html")))
    body = html5lib.HTMLParser(strict=True).parse(page).find("{http://www.w3.org/1999/xhtml}body")
    printed = write_card(job, advice, house, to="pdf")
    assert isinstance(printed, bytes)
    reader = pypdf.PdfReader(io.BytesIO(printed))
    shown = {
        "text": squeezed(str(write_card(job, advice, house))),
        "html": squeezed("".join(body.itertext())),
        "pdf": squeezed("".join(page.extract_text() for page in reader.pages)),
    }
    return Forms(advice, card_sheet(Papers(job, advice, house)), shown)


@each_demo_job
def test_every_fact_of_the_sheet_stands_on_page_and_pdf(path: Path) -> None:
    """One by one, so that a missing fact is named with its form; text has tests of its own."""
    card = forms(path)
    wanted = {squeezed(fact).rstrip(".") for fact in facts(card.sheet) if fact.strip()}
    assert len(wanted) > 60
    pages = {form: card.shown[form] for form in ("html", "pdf")}
    assert [(form, fact) for form, text in pages.items() for fact in sorted(wanted) if fact not in text] == []


@each_demo_job
def test_every_row_stands_whole_on_page_and_pdf(path: Path) -> None:
    """Number, place, zones and both grades one after another, with their signs."""
    card = forms(path)
    rows = [
        f"{row.number}{row.name}{row.zones}"
        f"{row.hand}{'*' if row.hand_or_finer else ''}{row.machine}{row.mark}"
        for panel in card.sheet.panels
        for row in panel.rows
    ]
    for form in ("html", "pdf"):
        assert [row for row in rows if squeezed(row) not in card.shown[form]] == [], form


@each_demo_job
def test_the_facts_of_the_advice_stand_in_every_form(path: Path) -> None:
    """What the JSON form says: holds with their mend, discs, what to mix, the grade of every place."""
    card = forms(path)
    advice = card.advice
    written = json.loads(advice_json(advice))
    wanted = [squeezed(hold[key]) for hold in written["holds"] for key in ("why", "mend")]
    wanted += [squeezed(f"{grade} {count}") for grade, count in advice.discs.items()]
    mixed = advice.mix_ml and card.sheet.clear == "CLEAR TO MASK"
    wanted += [squeezed(f"{advice.mix_ml} ml")] if mixed else []
    for form, text in card.shown.items():
        assert [fact for fact in wanted if fact not in text] == [], form
    rows = {row.place: row for panel in card.sheet.panels for row in panel.rows}
    for place in advice.places:
        if place.id in rows and place.finish and not place.split and not rows[place.id].stop:
            assert place.finish in {rows[place.id].hand, rows[place.id].machine}


@each_demo_job
def test_every_hold_stands_on_top_of_every_form(path: Path) -> None:
    """Before the ticks before sanding."""
    card = forms(path)
    held = json.loads(advice_json(card.advice))["holds"]
    for form, text in card.shown.items():
        top = text.split("beforesanding")[0]
        assert [hold for hold in held if squeezed(hold["why"]) not in top] == [], form
