"""Changes of the draft: a rule as a form, a grade finer, done without; the draft made live or thrown away."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from prepadvisor.records import BadInputError
from prepadvisor.standards import BASE, Rule
from prepadvisor.tui.dialogs import AskYes, Choice, ask_choice, ask_text
from prepadvisor.tui.model import SaidLine, Session
from prepadvisor.tui.screens.view import View
from prepadvisor.tui.screens.wishes import FaultsFound, FreshWanted
from prepadvisor.tui.widgets import Rows

if TYPE_CHECKING:
    from prepadvisor.standards import House
    from prepadvisor.tui.model import ExampleForm, HouseForm, LeadDesk, RuleForm

_BASE_RULE = "A rule of the base: what shall the shop's own do?"
_IN_DRAFT = "√ {} is in the draft ({}); A checks it, J shows it on the shop's jobs"

_EXAMPLE_KEPT = "√ the worked case is in the draft ({}); A tells when it comes out otherwise"


class Drafting(View):
    """A view over the lead's desk in which the draft is changed."""

    def __init__(self) -> None:
        """Start without a desk."""
        super().__init__()
        self._session: Session | None = None
        self._desk: LeadDesk | None = None

    def show_rule(self, rule_id: str) -> None:
        """Go to one rule."""

    def _tell(self, said: list[SaidLine]) -> None:
        """Show what was asked for."""

    def _again(self, told: str) -> None:
        """Show everything anew, and say what was done."""

    def action_edit_rule(self) -> None:
        """Open the rule under the arrow as a form; one of the base as a rule of the shop's own."""
        from prepadvisor.tui.model import beside, form_of

        rule, desk = self._rule, self._desk
        if rule is None or desk is None or self._is_other():
            return
        if rule.layer != BASE and Path(rule.file).name in self._own_files:
            self._open_form(form_of(rule))
            return
        ids, file = self._ids, desk.draft.file_for(Path(rule.file).name)
        choices = [
            ("beside", "Tighten it: both count, the stricter one decides"),
            ("instead", "Stand in its place: every card then names it"),
        ]
        ask_choice(
            self, _BASE_RULE, [Choice(*each) for each in choices],
            lambda how: self._open_form(beside(rule, ids, file, replaces=how == "instead")),
        )  # fmt: skip

    def action_finer(self) -> None:
        """Open a rule one grade finer than the one under the arrow as a form."""
        from prepadvisor.standards import NoGradeError
        from prepadvisor.tui.model import finer

        rule, desk = self._rule, self._desk
        if rule is None or desk is None or self._is_other():
            return
        try:
            file = desk.draft.file_for(Path(rule.file).name)
            self._open_form(finer(rule, self._house.shop.shelf, self._ids, file))
        except NoGradeError as error:
            self.say(str(error), refused=True)

    def action_write_rule(self) -> None:
        """Open an empty form."""
        from prepadvisor.tui.model import blank

        if self._desk is not None and not self._is_other():
            self._open_form(blank(self._ids, self._desk.draft.file_for("")))

    def action_examples(self) -> None:
        """Keep a case of the rule under the arrow as an example, or change one of the shop's own."""
        from prepadvisor.tui.model import example_says, kept_case

        rule, desk = self._rule, self._desk
        if desk is None or self._is_other():
            return
        own = desk.own_examples()
        choices = [Choice(str(at), example_says(form.given, form.expect)) for at, form in enumerate(own)]
        if rule is not None:
            choices.insert(0, Choice("keep", f"+ keep a case of {rule.id}"))

        def chosen(which: str) -> None:
            if which != "keep":
                self._open_example(own[int(which)])
            elif rule is not None:
                file = desk.draft.file_for(Path(rule.file).name)
                self._open_example(kept_case(rule, self._house, file))

        ask_choice(self, "Worked cases: which?", choices, chosen)

    def _open_example(self, form: "ExampleForm") -> None:
        from prepadvisor.tui.dialogs import ExampleDialog

        desk = self._desk
        if desk is None:
            return

        def answered(made: "tuple[ExampleForm, bool] | None") -> None:
            if made is not None:
                told = (
                    "the worked case is out of the draft" if made[1] else _EXAMPLE_KEPT.format(made[0].file)
                )
                self._change(lambda: desk.save_example(made[0], out=made[1]), told)

        self.app.push_screen(ExampleDialog(form, self._house), answered)

    def action_shop(self) -> None:
        """Ask which: the shop file or the line model's numbers, each as a form over the draft."""
        from prepadvisor.tui.model import constants_form, shop_form

        forms = {"shop": shop_form, "model": constants_form}
        choices = [
            Choice("shop", "The shop: shelf, tools, pads, times, costs"),
            Choice("model", "The line model: its numbers, each with how it is known"),
        ]
        ask_choice(
            self, "The shop's own files: which?", choices, lambda which: self._open_file(forms[which]())
        )

    def _open_file(self, form: "HouseForm") -> None:
        from prepadvisor.tui.dialogs import HouseDialog

        desk = self._desk
        if desk is None or self._is_other():
            return

        def left(changed: bool | None) -> None:
            if changed:
                self._again(
                    f"√ {form.file} is changed in the draft; A checks it, J shows it on the shop's jobs"
                )

        self.app.push_screen(HouseDialog(desk, form), left)

    def action_do_without(self) -> None:
        """Take a rule of the shop's own out, or withdraw one of the base with a reason."""
        rule, desk = self._rule, self._desk
        if rule is None or desk is None or self._is_other():
            return
        if rule.layer != BASE and Path(rule.file).name in self._own_files:

            def answered(yes: bool | None) -> None:
                if yes:
                    self._change(lambda: desk.remove(rule), f"{rule.id} is out of the draft")

            question = AskYes(
                f"Take {rule.id} out of the draft?", "It counts until M makes the draft live.", "Out"
            )
            self.app.push_screen(question, answered)
            return
        ask_text(
            self, f"Why does the shop do without {rule.id}? It stands on every card", "",
            lambda why: self._change(lambda: desk.withdraw(rule.id, why), f"draft without {rule.id}"),
            fault_of=lambda text: "" if text else "a reason in words is needed",
        )  # fmt: skip

    def action_draft(self) -> None:
        """Show the draft on the open job, try another folder, or throw the draft away."""
        desk = self._desk
        if desk is None:
            return
        choices = [Choice("folder", "Try another folder as the draft")]
        if desk.has_draft:
            choices.insert(0, Choice("show", "Show what it changes on the open job"))
            choices.append(Choice("away", "Put it away" if desk.other else "Throw it away"))
        ask_choice(self, "The draft", choices, self._draft_asked)

    def _draft_asked(self, what: str) -> None:
        desk = self._desk
        if desk is None:
            return
        if what == "show":
            self._show_draft()
        elif what == "folder":
            ask_text(self, "Folder of the draft", "", self.draft_named)
        elif desk.other:
            desk.other = ""
            self._again("the draft is put away; its folder stays as it is")
        else:

            def answered(yes: bool | None) -> None:
                if yes:
                    self._change(desk.draft.throw_away, "the draft is thrown away")

            self.app.push_screen(
                AskYes("Throw the whole draft away?", "What is in force stays.", "Away"), answered
            )

    def draft_named(self, folder: str) -> None:
        """Take another folder as the draft, and show what it changes on the open job."""
        if self._desk is None:
            return
        before, self._desk.other = self._desk.other, folder
        try:
            self._desk.house()
        except BadInputError as error:
            self._desk.other = before
            self.post_message(FaultsFound("This draft has faults", error))
            return
        self._again("")
        self._show_draft()

    def _show_draft(self) -> None:
        from prepadvisor.tui.model import draft_words

        session, desk = self._session, self._desk
        if session is None or desk is None or self._has_no_draft():
            return
        if session.advice is None:
            self._tell([SaidLine("open a job with a panel first: a draft is tried on it", "warn")])
            return
        self._tell(draft_words(desk.effect(session.job, session.advice)))

    def action_make_live(self) -> None:
        """Ask, then make the draft live."""
        desk = self._desk
        if desk is None or self._has_no_draft() or self._is_other():
            return
        if desk.is_demo:
            self.say("a demo: nothing is written; open a job of the shop's own first", refused=True)
            return
        checked = desk.checked(self._house)
        errors = sum(finding.is_error for finding in checked.audit.findings)
        files = ", ".join(desk.draft.changed()) or "nothing"
        more = f"Changed: {files}. To mend, by the check: {errors or 'nothing'}. Files before stay as NAME~."

        def answered(yes: bool | None) -> None:
            if yes:
                self._change(desk.draft.make_live, "")
                self.post_message(FreshWanted(asked=True, folders=(*desk.draft.below, str(desk.draft.live))))

        self.app.push_screen(AskYes(f"Make the draft live in {desk.draft.live}?", more, "Live"), answered)

    def _open_form(self, form: "RuleForm") -> None:
        from prepadvisor.tui.dialogs import RuleDialog

        desk = self._desk
        if desk is None:
            return

        def answered(made: "RuleForm | None") -> None:
            if made is not None and made.is_changed:
                told = (
                    f"√ {made.id} is in the draft ({made.file}); A checks it, J shows it on the shop's jobs"
                )
                self._change(lambda: desk.save(made), told)
                self.show_rule(made.id)

        self.app.push_screen(RuleDialog(form, desk.preview, self._house), answered)

    def _change(self, make: Callable[[], object], told: str) -> None:
        try:
            make()
        except BadInputError as error:
            self.post_message(FaultsFound("The draft is as it was", error))
            return
        self._again(told)

    def _is_other(self) -> bool:
        if self._desk is not None and self._desk.other:
            self.say("another folder is tried as draft: D puts it away first", refused=True)
            return True
        return False

    def _has_no_draft(self) -> bool:
        if self._desk is None or not self._desk.has_draft:
            self.say("there is no draft yet: Enter, G, W or S begins one", refused=True)
            return True
        return False

    @property
    def _house(self) -> "House":
        """The draft's house where there is one that can be read, else the one in force."""
        assert self._desk is not None  # noqa: S101 - set before anything is shown
        try:
            return self._desk.house()
        except BadInputError as error:
            self.say(f"the draft cannot be read: {error.faults[0]}", refused=True)
            return self._desk.live

    @property
    def _rule(self) -> Rule | None:
        current = self.query_one("#rules", Rows).current
        return next((each for each in self._house.engine.rules if each.id == current), None)

    @property
    def _ids(self) -> list[str]:
        engine = self._house.engine
        return [each.id for each in (*engine.rules, *engine.set_aside)]

    @property
    def _own_files(self) -> set[str]:
        """The rule files of the folder that the draft is of; a rule of a layer below is not edited here."""
        desk = self._desk
        if desk is None:
            return set()
        folder = desk.draft.path if desk.draft.is_there else desk.draft.live
        return {path.name for path in folder.glob("*.toml")} if folder.is_dir() else set()
