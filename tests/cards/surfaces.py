"""Every surface that answers a question, asked of one job: where any two differ, that is said."""

import dataclasses
import datetime as dt
import json
import re
from collections.abc import Iterator, Sequence
from html import unescape
from pathlib import Path
from typing import Any, Final

from prepadvisor.cards import write_card
from prepadvisor.cards.day import job_line
from prepadvisor.cards.explain.ask import because, short
from prepadvisor.cards.sheet.build import card_sheet
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import CardSheet, PlaceRow
from prepadvisor.checkoff import EntryRefusedError, Wanted, due, gate, log_entries
from prepadvisor.cli.gate_of import gate_of
from prepadvisor.cli.lines_sheet import LinesAsked, sheet_of
from prepadvisor.planning import advise, job_differences, spot_plans
from prepadvisor.records import AREA_KINDS, FLAKES, RANK, Advice, Job, Place, Task
from prepadvisor.records.gate import Gate, PlanHolds
from prepadvisor.standards import House
from prepadvisor.tui.model import OpenJob, Session
from prepadvisor.tui.model import gate_of as screen_gate
from prepadvisor.tui.model.answers import answer, four_answers
from prepadvisor.tui.model.gate_view import next_words, where_words
from prepadvisor.tui.model.panel_edits import with_colour
from prepadvisor.tui.model.says import panel_answer
from prepadvisor.tui.model.what_if import WhatIf, changes
from prepadvisor.wording import FLAKE, Words, advice_json, due_says, mend_says, minutes
from prepadvisor.wording.gate import gate_why
from tests.checkoff.shopfloor import Shopfloor, commands

RANKED: Final = {flake: number for number, flake in enumerate(FLAKES)}
NOW: Final = dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)
_METRIC: Final = re.compile(r"\d ?(mm|cm|m2|m²|µm|um|ml|l)\b")
_IMPERIAL: Final = re.compile(r"(?<![P\d])\d[\d.]* ?(in(?! (full|fade|clear))|mil|mils|sq ft|fl oz|ft)\b")
_BOTH: Final = re.compile(r"\(\d+ ml\)")
"""What is mixed stands in both units on an imperial card: cups have one scale or the other."""
_TAGS: Final = re.compile(r"<style.*?</style>|<svg.*?</svg>|<[^>]+>", re.DOTALL)


class Asking:
    """One job with what each surface is asked with."""

    def __init__(self, job: Job, house: House) -> None:
        """Advise once; everybody else must say the same."""
        self.job = job
        self.house = house
        self.advice: Advice = advise(job, house)
        self.gate: Gate = gate(job, self.advice, house, NOW)
        self.words = Words(self.advice)
        self.data: dict[str, Any] = json.loads(advice_json(self.advice))
        self.sheet: CardSheet = card_sheet(Papers(job, self.advice, house))
        self.text = str(write_card(job, self.advice, house))
        self.held = {self.words.place_id(hold.spot) for hold in self.advice.holds}

    def faults(self) -> Iterator[str]:
        """Give every disagreement."""
        yield from self._card()
        yield from self._pages()
        yield from self._why()
        yield from self._lines()
        yield from self._gate()
        yield from self._log()
        yield from self._cut_too_coarse()
        yield from self._worked()
        yield from self._day()
        yield from self._standards()
        yield from self._screens()
        yield from self._what_if()
        yield from self._units()

    def _tasks(self, place: str) -> list[Task]:
        work = self.advice.work
        return [task for task in work.tasks if task.place == place and task.stage == work.stage]

    def _card(self) -> Iterator[str]:
        """Text and sheet against the tasks of the JSON: grades, coats, minutes, what is held."""
        tasks: list[dict[str, Any]] = self.data["work"]["tasks"]
        stage = self.data["work"]["stages"][0]["id"] if self.data["work"]["stages"] else "paint"
        for panel in self.sheet.panels:
            told = next(each for each in self.data["panels"] if each["id"] == panel.id)
            if panel.rows and stage == "paint" and told["wet_bed"]["need"] != "no":
                coats = f"{told['wet_bed']['coats']} coat"
                if not panel.answers[3].big.startswith(coats):
                    yield f"{panel.id}: bed {panel.answers[3].big} on the card, {coats} in JSON"
            for row in panel.rows:
                own = [task for task in tasks if task["place"] == row.place and task["stage"] == stage]
                yield from self._row(row, own)
        held = {place for note in self.sheet.holds for place in map(self.words.place_id, note.spots)}
        if held != {self.words.place_id(hold["spot"]) for hold in self.data["holds"]}:
            yield f"held on the card {held}, in JSON {self.data['holds']}"
        took = sum(task["minutes"] for task in tasks if task["stage"] == stage)
        if f"TIME  prep {minutes(took)}" not in " ".join(self.text.split("\n")).replace("\n", " "):
            yield f"the card's time is not {minutes(took)}"
        if FLAKE[self.data["job"]["flake"]] not in " ".join(self.text.split()):
            yield f"the card does not say {self.data['job']['flake']}"
        took = sum(task["minutes"] for task in tasks)
        if abs(took - self.data["minutes"]) > 1e-6 * max(1.0, took):
            yield f"tasks take {took}, the job {self.data['minutes']}"

    def _row(self, row: PlaceRow, own: list[dict[str, Any]]) -> Iterator[str]:
        shown = [
            line
            for line in self.text.splitlines()
            if line.startswith(f" {row.number} ") and f" {row.hand}" in line and f" {row.machine}" in line
        ]
        if not shown:
            yield f"{row.place}: no line of the text has {row.number}, {row.hand}, {row.machine}"
        grades = {task["grade"] for task in own if task["do"] in {"sand", "scuff"}}
        if not {row.hand, row.machine} - {"-", "STOP"} <= grades:
            yield f"{row.place}: {row.hand} and {row.machine} on the card, tasks of {grades}"
        if (row.place in self.held) != row.stop:
            yield f"{row.place}: stop {row.stop}, held {row.place in self.held}"
        if (row.place in self.held) and own:
            yield f"{row.place}: held, with tasks"

    def _pages(self) -> Iterator[str]:
        """The page against the text, word by word, for what stands on rows, top and end."""
        page = _TAGS.sub(" ", str(write_card(self.job, self.advice, self.house, to="html")))
        squeezed = "".join(unescape(page).split())
        for says in (
            *(f"{row.hand}{'*' * row.hand_or_finer}" for panel in self.sheet.panels for row in panel.rows),
            *(note.why for note in self.sheet.holds),
            *(fact.says for fact in self.sheet.materials),
            *(drill.says for panel in self.sheet.panels for drill in panel.drills),
            *(way for choice in self.sheet.choices for way in choice.ways),
        ):
            if "".join(says.split()) not in squeezed:
                yield f"not on the page: {says}"

    def _why(self) -> Iterator[str]:
        """Why, in brief and as data, against the JSON's spots."""
        spots = {spot["id"]: spot for spot in self.data["spots"]}
        for place in self.data["places"]:
            if place["kind"] == "face" and len(place["spots"]) == 0:
                continue
            for spot in place["spots"]:
                said = "\n".join(short(self.job, self.advice, self.house, spot))
                finish = spots[spot]["finish"]
                if finish and f"grade {finish['chosen']} " not in said:
                    yield f"{spot}: {finish['chosen']} in JSON, why says {said}"
                held = any(hold["spot"] in {spot, place["id"]} for hold in self.data["holds"])
                if (finish is None or held) != any(line.startswith("  STOP") for line in said.splitlines()):
                    yield f"{spot}: finish {finish}, why says {said}"
            told = because(self.job, self.advice, self.house, place["id"])
            rules = [(each["output"], each["rule"]) for each in told]
            wanted = [(r["output"], r["rule"]) for spot in place["spots"] for r in spots[spot]["because"]]
            if rules != wanted:
                yield f"{place['id']}: why as data has {rules}, JSON {wanted}"

    def _lines(self) -> Iterator[str]:
        """The lines table, for the flake as judged, against each spot's estimate."""
        judged = self.house.on(self.job).judged(self.job.colour)
        if judged.flake != self.data["job"]["flake"]:
            yield f"judged {judged.flake}, JSON {self.data['job']['flake']}"
        numbers = judged.standing, judged.measured
        for spot in self.data["spots"]:
            if not spot["line"] or not spot["finish"] or any(any(each) for each in numbers if each):
                continue
            coats = spot["wet_bed"]["coats"] if spot["wet_bed"]["need"] == "required" else 0
            asked = LinesAsked(judged.flake, spot["zone"], coats, None, None, None)
            chosen = (spot["finish"]["tool"], spot["finish"]["chosen"])
            row = next(r for r in sheet_of(asked, self.house).rows if (r.tool, r.grade) == chosen)
            if (row.arcsec, row.risk) != (spot["line"]["arcsec"], spot["line"]["risk"]):
                yield f"{spot['id']}: lines say {row}, the card {spot['line']}"

    def _gate(self) -> Iterator[str]:
        """The gate's plan, stage and holds against the advice."""
        work = self.gate.work
        if [(t.id, t.grade, t.minutes) for t in work.tasks] != [
            (t["id"], t["grade"], t["minutes"]) for t in self.data["work"]["tasks"]
        ]:
            yield "the gate works by another plan than the card"
        planned = {hold.place for hold in self.gate.holds if isinstance(hold.fact, PlanHolds)}
        places = {self.words.place_id(hold.spot).rstrip("/") for hold in self.advice.holds}
        if planned != {place for place in places if _staged(self.advice, place)}:
            yield f"the gate holds {planned} by the plan, the card {places}"
        if self.advice.holds and self.gate.clear:
            yield "clear, with holds on the card"

    def _log(self) -> Iterator[str]:
        """What a step of the plan tells to log is taken as it stands."""
        for step in self.advice.work.steps:
            if step.stage != self.advice.work.stage:
                continue
            for where, done, *rest in step.log[:2]:
                how: dict[str, Any] = {
                    key[2:]: value for key, value in zip(rest[::2], rest[1::2], strict=True)
                }
                wanted = Wanted(where, done, by="K. M.", **how)
                try:
                    log_entries(self.job, self.advice, wanted, NOW, self.house)
                except EntryRefusedError as error:
                    yield f"{where} {done} {rest} is refused: {error.faults}"

    def _worked(self) -> Iterator[str]:
        """With part of the work logged, one scuff of it too coarse, all that show a gate show one gate."""
        floor = Shopfloor(self.job, self.house)
        if not self.advice.work.tasks:
            return
        some = commands(self.advice)
        floor.run(some[: len(some) * 2 // 3])
        coarse = [each for each in self.advice.work.tasks if each.do == "scuff" and each.range]
        shelf = sorted(self.house.shop.shelf, key=RANK.__getitem__)
        for task in coarse[:1]:
            below = [each for each in shelf if task.range and RANK[each] < RANK[task.range[0]]]
            if below and task.stage == self.advice.work.stage:
                floor.put(task.place, "scuffed", tool=task.tool or "", grade=below[-1])
        now, job = floor.now + dt.timedelta(minutes=5), floor.job
        shown, advice = gate_of(job, self.house, now)
        words = Words(advice)
        following = due(shown) if shown.holds else None
        first = due_says(following, words) if following else ""
        day = job_line(Path("job.toml"), lambda _path: job, self.house, now)
        if (day.clear, day.next) != (shown.clear, first):
            yield f"worked: the gate says {shown.clear}, {first}; the day {day.clear}, {day.next}"
        session = Session(OpenJob.of(job), self.house, advise, clock=lambda: now)
        screen = screen_gate(session)
        if screen is None or (screen.gate.holds, screen.gate.found) != (shown.holds, shown.found):
            yield "worked: the screens hold something else than the gate"
        elif following and not next_words(session, screen).startswith(
            f"NEXT, {where_words(session, following.place)}:"
        ):
            yield f"worked: next on the screens {next_words(session, screen)}, by the gate {first}"
        papers = Papers(job, advice, self.house, shown)
        sheet = card_sheet(papers)
        if [(each.where, each.mend) for each in sheet.found] != [
            (words.where(each.place), mend_says(each.mend, words)) for each in shown.found
        ]:
            yield f"worked: found on the card {sheet.found}, by the gate {shown.found}"
        states = {task.id: task.state for task in shown.work.tasks}
        for row in (row for panel in sheet.panels for row in panel.rows):
            boxes = {row.scuffed, row.powder, row.sanded, row.look} - {"none"}
            if boxes - {states[task] for task in row.tasks} - {"open"}:
                yield f"worked: {row.place} has boxes {boxes}, its tasks {[states[t] for t in row.tasks]}"

    def _cut_too_coarse(self) -> Iterator[str]:
        """A cut logged coarser than its range holds there, and the mend names the grade of the card."""
        shelf = sorted(self.house.shop.shelf, key=RANK.__getitem__)
        for task in self.advice.work.tasks:
            coarser = [each for each in shelf if task.range and RANK[each] < RANK[task.range[0]]]
            if task.do != "scuff" or not coarser or task.stage != self.advice.work.stage:
                continue
            wanted = Wanted(
                task.place, "scuffed", by="K. M.", tool=task.tool or "", grade=coarser[-1], at=NOW
            )
            (entry,) = log_entries(self.job, self.advice, wanted, NOW, self.house)
            job = self.job.model_copy(update={"check": (*self.job.check, entry)})
            held = [
                hold
                for hold in gate(job, self.advice, self.house, NOW).holds
                if hold.place == task.place and hold.fact.kind in {"cut-too-coarse", "too-early"}
            ]
            says = [mend_says(hold.mend, self.words) for hold in held]
            if not says or not any(str(task.grade) in each or "lead" in each for each in says):
                yield f"{task.id}: {coarser[-1]} for {task.grade} is mended by {says}"
            return

    def _day(self) -> Iterator[str]:
        """A line of the day against JSON and gate."""
        day = job_line(Path("job.toml"), lambda _path: self.job, self.house, NOW)
        own = (day.mix_ml, day.minutes, dict(day.discs), day.held, day.clear, day.stage)
        other = (
            self.data["mix_ml"],
            self.data["minutes"],
            self.data["discs"],
            bool(self.data["holds"]),
            self.gate.clear,
            self.gate.stage,
        )
        if own != other:
            yield f"the day says {own}, card and gate {other}"
        following = due(self.gate) if self.gate.holds else None
        if day.next != (due_says(following, self.words) if following else ""):
            yield f"the day's next is {day.next}, the gate's {following}"

    def _standards(self) -> Iterator[str]:
        """Each spot's answers against the standards' own decision; a house against itself."""
        spots = {spot.id: spot for spot in self.advice.spots}
        for plan in spot_plans(self.job, self.house):
            spot = spots.get(plan.spot.id)
            if spot is None:
                continue
            decided = self.house.on(self.job).engine.decide(plan.case)
            if plan.spot.because != spot.because:
                yield f"{spot.id}: the standards say {plan.spot.because}, the card {spot.because}"
            if spot.risk_limit != decided.risk_limit:
                yield f"{spot.id}: risk allowed {spot.risk_limit}, by the standards {decided.risk_limit}"
        found = job_differences([self.job], self.house, self.house)
        if found.changed:
            yield f"a house differs from itself: {found}"

    def _screens(self) -> Iterator[str]:
        """The screens' four answers and panel line against card and JSON."""
        units = self.words.units
        sheet_rows: dict[str, PlaceRow] = {}
        for first in (row for panel in self.sheet.panels for row in panel.rows):
            sheet_rows.setdefault(first.place, first)
        for place in self.advice.places:
            hand, last, powder, wet = four_answers(self.advice, place)
            if last.big != (place.finish or "STOP"):
                yield f"{place.id}: screen {last.big}, JSON {place.finish}"
            coats = f"{place.wet_bed.coats} coat" if place.wet_bed.need != "no" else "no"
            if not wet.big.startswith(coats):
                yield f"{place.id}: screen {wet.big}, JSON {place.wet_bed}"
            row = sheet_rows.get(place.id)
            own = self._tasks(place.id)
            if row and not row.stop and len(self.advice.work.stages) == 1:
                yield from self._same_as_row(place, row, (hand.big, last.big, powder.big), own)
            for spot in self.advice.spots:
                if spot.id in place.spots:
                    said = " ".join(line.text for line in answer(self.advice, place, spot, units))
                    if spot.finish and f"taken {spot.finish.chosen}" not in said:
                        yield f"{spot.id}: screen says {said}"
                    if (place.id in self.held) != ("HOLD" in said):
                        yield f"{spot.id}: held {place.id in self.held}, screen says {said}"
        for panel in self.advice.panels:
            if panel.face and panel.face not in panel_answer(panel):
                yield f"{panel.id}: {panel_answer(panel)}"

    def _same_as_row(
        self, place: Place, row: PlaceRow, shown: Sequence[str], own: list[Task]
    ) -> Iterator[str]:
        hand, last, powder = shown
        card_last = row.hand if row.machine == "-" else row.machine
        if last != card_last and not place.split and any(task.do in {"sand", "scuff"} for task in own):
            yield f"{place.id}: screen {last}, card {card_last}"
        if place.kind not in AREA_KINDS and row.machine != "-" and hand != row.hand:
            yield f"{place.id}: screen by hand {hand}, card {row.hand}"
        if (powder != "no") != any(task.do == "powder" for task in own):
            yield f"{place.id}: screen powder {powder}, card {row.powder}"

    def _what_if(self) -> Iterator[str]:
        """A trial is the advice on the job so changed; no trial is the job's own."""
        session = Session(OpenJob.of(self.job), self.house, advise, clock=lambda: NOW)
        if session.advice is None or advice_json(session.advice) != advice_json(self.advice):
            yield "the screens' advice differs from the card's"
            return
        trials = WhatIf(session, lambda _job, _house, advice, _coats: advice)
        flakes = [flake for flake in FLAKES[1:] if RANKED[flake] > RANKED[self.advice.job.flake]]
        if flakes and self.advice.job.stages == 2:
            trials.finer_flake(1)
            finer = with_colour(session.job, flake=flakes[0], flake_um=None, tilt_deg=None, log_sd=None)
            tried = trials.advice
            if tried is None or advice_json(tried) != advice_json(advise(finer, self.house)):
                yield f"what-if with {flakes[0]} flake is not the advice on it"
            trials.clear()
        trials.other_pad()
        swapped = self.house.shop.finishing_tool == "da-soft"
        shop = self.house.shop.model_copy(update={"finishing_tool": "da" if swapped else "da-soft"})
        own = advise(self.job, dataclasses.replace(self.house, shop=shop))
        if trials.advice is None or advice_json(trials.advice) != advice_json(own):
            yield "what-if with the other pad is not the advice with that pad"
        for place in self.advice.places:
            if changes(self.advice, session.advice, place.id):
                yield f"{place.id}: changes without a trial"

    def _units(self) -> Iterator[str]:
        """No surface mixes units; a rule's own sentence is its writer's, and stays as written."""
        words, imperial = self.words, self.words.units.imperial
        house = f"HOUSE: {' '.join(self.sheet.house)}"  # keys of files, which are metric
        wrong = _METRIC if imperial else _IMPERIAL
        told = {
            each.says for spot in self.advice.spots for each in spot.because if isinstance(each.says, str)
        }
        said = [
            *self.text.splitlines(),
            *(f"{gate_why(hold.fact, words)} {mend_says(hold.mend, words)}" for hold in self.gate.holds),
            *(
                line.text
                for place in self.advice.places
                for spot in self.advice.spots
                if spot.id in place.spots
                for line in answer(self.advice, place, spot, words.units)
            ),
        ]
        for line in said:
            plain = "" if line.strip() in house else _BOTH.sub("", line)
            if wrong.search(plain) and not any(line.strip(" -") in rule or rule in line for rule in told):
                yield f"{'imperial' if imperial else 'metric'} job: {line}"


def _staged(advice: Advice, place: str) -> bool:
    """Say whether a place, or its panel, is one of the job's."""
    return bool(place) and bool(advice.panels)
