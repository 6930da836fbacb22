"""The lead's desk: the house in force, the draft beside it, what the draft finds and changes. No widget."""

import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import tomli

from prepadvisor.files import (
    HouseDraft,
    NotEditedError,
    changed_unsaid,
    load_house,
    load_job,
    stale_schemas,
    state_dir,
    strays,
    with_example,
    with_more,
    with_rule_changed,
    without_rule,
)
from prepadvisor.planning import BothWays, JobDifference, advise, difference
from prepadvisor.records import Advice, BadInputError, Fault, Job, NotAGradeError
from prepadvisor.standards import (
    Audit,
    Audited,
    Doing,
    Finding,
    House,
    Loosening,
    audit_house,
    doings,
    loosenings,
    quoted,
)
from prepadvisor.tui.model.open_job import RefusedError

if TYPE_CHECKING:
    from prepadvisor.records import OutputName
    from prepadvisor.standards import Rule
    from prepadvisor.tui.model.lead.example_form import ExampleForm
    from prepadvisor.tui.model.lead.promises import OwnPromise
    from prepadvisor.tui.model.lead.rule_form import RuleForm


class Checked(NamedTuple):
    """A house as its check sees it: findings, what each of its rules does, what got laxer."""

    house: House
    audit: Audit
    doings: tuple[Doing, ...]
    laxer: tuple[Loosening, ...]

    def doing(self, rule_id: str) -> Doing | None:
        """Return what a rule of the house does; None for one of the base."""
        return next((each for each in self.doings if each.rule == rule_id), None)


class Preview(NamedTuple):
    """What a rule being written would do: why it cannot be read, or its doing and the new findings."""

    faults: tuple[str, ...] = ()
    doing: Doing | None = None
    findings: tuple[Finding, ...] = ()


class Effect(NamedTuple):
    """What the draft changes on one job: the difference with both advices, or why it is not known."""

    path: Path
    name: str
    found: JobDifference | None = None
    before: Advice | None = None
    after: Advice | None = None
    fault: str = ""


class LeadDesk:
    """The standards in force and the lead's draft of them.

    Args:
        live: the house in force.
        folder: where a first house folder is made.
        is_demo: the draft is kept aside and never made live.
    """

    def __init__(self, live: House, folder: Path, is_demo: bool = False) -> None:
        """Find the draft that is there, if one is."""
        self.live = live
        self.is_demo = is_demo
        self.draft = HouseDraft(live.folders, folder, state_dir() / "demo" if is_demo else None)
        if is_demo and self.draft.is_there:  # what was tried on an earlier demo
            self.draft.throw_away()
        self.other = ""
        self._checked: dict[str, Checked] = {}

    def house(self) -> House:
        """Return the draft's house where there is a draft, else the one in force.

        Raises:
            BadInputError: with every fault of the draft.
        """
        if self.other:
            return load_house(self.other)
        return load_house(*self.draft.folders) if self.draft.is_there else self.live

    @property
    def has_draft(self) -> bool:
        """Whether a draft stands beside what is in force."""
        return bool(self.other) or self.draft.is_there

    def checked(self, house: House) -> Checked:
        """Return the check of a house; it is kept as long as the house is the same."""
        known = self._checked.get(house.digest)
        if known is None or known.house is not house:
            audited = Audited(house.engine)
            layers = [layer for layer in house.used.layers if layer.layer != "base"]
            more = [
                *strays(house.folders),
                *stale_schemas(house.folders, house.kinds),
                *chain.from_iterable(map(changed_unsaid, house.folders, layers)),
            ]
            known = Checked(
                house,
                audit_house(house, audited).with_more(more),
                tuple(doings(audited, house.shop.shelf)),
                tuple(loosenings(house.engine)),
            )
            self._checked = dict(list(self._checked.items())[-3:]) | {house.digest: known}
        return known

    def preview(self, form: "RuleForm") -> Preview:
        """Return what a rule being written would do, with nothing written to the draft."""
        if lack := form.missing():
            return Preview((lack,))
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place) / self.draft.path.name
            try:
                self.draft.copy_to(folder)
                file = folder / form.file
                text = file.read_text(encoding="utf-8-sig") if file.exists() else ""
                file.write_text(self._written(text, form), encoding="utf-8")
                house = load_house(*self.draft.below, folder)
            except BadInputError as error:
                return Preview(tuple(_told(fault) for fault in error.faults))
            except (OSError, NotEditedError, UnicodeDecodeError) as error:
                return Preview((str(error),))
            checked = self.checked(house)
        before = {(each.kind, each.says) for each in self.checked(self.house()).audit.findings}
        new = tuple(
            each
            for each in checked.audit.findings
            if form.id in each.rules or (each.kind, each.says) not in before
        )
        return Preview((), checked.doing(form.id), new)

    def save(self, form: "RuleForm") -> str:
        """Put a rule into the draft, and return its file; comments of the file stay.

        Raises:
            BadInputError: with why it cannot be.
        """
        if lack := form.missing():
            raise BadInputError([Fault(form.file, 0, 0, lack)])
        return self._change(form.file, lambda text: self._written(text, form))

    def remove(self, rule: "Rule") -> str:
        """Take a rule of the house out of the draft, and return its file. Raises BadInputError as `save`."""
        return self._change(Path(rule.file).name, lambda text: without_rule(text, rule.id))

    def withdraw(self, rule_id: str, because: str) -> str:
        """Do without a rule of a layer below, and return the file. Raises BadInputError as `save`."""
        entry = f"[[withdraw]]\nrule = {quoted(rule_id)}\nbecause = {quoted(because)}\n"
        return self._change(self.draft.file_for(""), lambda text: with_more(text, entry))

    def own_examples(self) -> list["ExampleForm"]:
        """Return the worked cases of the folder that the draft is of, as its files have them."""
        from prepadvisor.tui.model.lead.example_form import form_of_example

        folder = self.draft.path if self.draft.is_there else self.draft.live
        found = []
        for example in self.house().engine.examples:
            path = folder / Path(example.file).name
            if example.layer != "base" and path.is_file():
                raws = tomli.loads(path.read_text(encoding="utf-8-sig")).get("example", ())
                found += [
                    form_of_example(example, raw)
                    for raw in raws
                    if _states(raw, example.given, example.expect)
                ][:1]
        return found

    def save_example(self, form: "ExampleForm", *, out: bool = False) -> str:
        """Put a worked case into the draft, or take it out. Raises BadInputError as `save`."""
        now = None if out else form.values()
        return self._change(form.file, lambda text: with_example(text, form.was, now))

    def own_promises(self) -> "list[OwnPromise]":
        """Return the promises of the folder that the draft is of, as its files have them."""
        from prepadvisor.tui.model.lead.promises import OwnPromise

        folder = self.draft.path if self.draft.is_there else self.draft.live
        files = sorted(
            {Path(each.file).name for each in self.house().engine.promises if each.layer != "base"}
        )
        return [
            OwnPromise(file, raw)
            for file in files
            if (folder / file).is_file()
            for raw in tomli.loads(self.own_text(file)).get("promise", ())
        ]

    def save_promise(self, entry: Mapping[str, object]) -> str:
        """Put a promise into the draft, and return its file. Raises BadInputError as `save`."""
        return self._change(self.draft.file_for(""), lambda text: with_example(text, None, entry, "promise"))

    def drop_promise(self, own: "OwnPromise") -> str:
        """Take a promise out of the draft. Raises BadInputError as `save`."""
        return self._change(own.file, lambda text: with_example(text, own.raw, None, "promise"))

    def own_text(self, file: str) -> str:
        """Return a file of the house as the draft has it, else as it is live; empty where none is."""
        path = (self.draft.path if self.draft.is_there else self.draft.live) / file
        return path.read_text(encoding="utf-8-sig") if path.is_file() else ""

    def change_file(self, file: str, make: Callable[[str], str]) -> str:
        """Change a file of the draft; returns why that cannot be, empty where it is done."""
        try:
            self._change(file, make)
        except (RefusedError, NotAGradeError) as error:
            return str(error)
        except BadInputError as error:
            return _told(error.faults[0])
        return ""

    def effects(self, paths: Sequence[Path]) -> Iterator[Effect]:
        """Yield what the draft changes on each job, one after the other. Raises BadInputError as `house`."""
        after = self.house()
        both = BothWays(self.live, after)
        redrawn = self.live.outlines != after.outlines
        for path in paths:
            try:
                job = load_job(path, self.live)
                pair = both.advise(job, load_job(path, after) if redrawn else None)
            except BadInputError as error:
                yield Effect(path, path.name, fault=str(error.faults[0]))
                continue
            name = "  ".join(part for part in (job.job.number, job.colour.name) if part)
            yield Effect(path, name or path.stem, difference(*pair, self.live.shop.rates), *pair)

    def effect(self, job: Job, before: Advice) -> Effect:
        """Return what the draft changes on a job that is open, advised on by what is in force."""
        after = advise(job, self.house(), seek_offers=False)
        name = "  ".join(part for part in (job.job.number, job.colour.name) if part)
        found = difference(before, after, self.live.shop.rates)
        return Effect(Path(), name, found, before, after)

    def _change(self, file: str, make: Callable[[str], str]) -> str:
        """Change a file of the draft; what the program cannot read then is not written."""
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place) / self.draft.path.name
            self.draft.copy_to(folder)
            path = folder / file
            try:
                text = make(path.read_text(encoding="utf-8-sig") if path.exists() else "")
            except (NotEditedError, UnicodeDecodeError) as error:
                raise BadInputError([Fault(file, 0, 0, str(error), "change it in an editor")]) from error
            path.write_text(text, encoding="utf-8")
            load_house(*self.draft.below, folder)
        self.draft.change(file, make)
        return file

    @staticmethod
    def _written(text: str, form: "RuleForm") -> str:
        if form.is_new:
            return with_more(text, form.text())
        return with_rule_changed(text, form.was, form.changes())


def _states(
    raw: Mapping[str, Any], given: Mapping[str, object], expect: "Mapping[OutputName, object]"
) -> bool:
    """Say whether an entry of a file is this example."""
    return (
        raw.get("given", {}).keys() == given.keys()
        and raw["expect"].keys() == expect.keys()
        and all(str(given[fact]) == str(value) for fact, value in raw.get("given", {}).items())
    )


def _told(fault: Fault) -> str:
    return f"{fault.says}; {fault.mend}" if fault.mend else fault.says
