"""Promises of the house on the lead's desk: made by a few choices, and taken out again."""

from typing import TYPE_CHECKING

from prepadvisor.tui.dialogs import AskYes, Choice, ask_choice, ask_text
from prepadvisor.tui.screens.drafting import Drafting

if TYPE_CHECKING:
    from prepadvisor.records import OutputName

_KEPT = "√ the promise is in the draft ({}); A tells whether it holds"


class Promising(Drafting):
    """A view in which promises of the house are made and taken out."""

    def action_promises(self) -> None:
        """Make a promise, or take one of the shop's own out."""
        desk = self._desk
        if desk is None or self._is_other():
            return
        own = desk.own_promises()
        choices = [Choice("make", "+ make a promise that must hold over all cases")]
        choices += [Choice(str(at), str(each.raw.get("says", ""))) for at, each in enumerate(own)]

        def chosen(which: str) -> None:
            if which == "make":
                self._ask_output()
                return
            promise = own[int(which)]

            def answered(yes: bool | None) -> None:
                if yes:
                    self._change(lambda: desk.drop_promise(promise), "the promise is out of the draft")

            words = str(promise.raw.get("says", ""))
            self.app.push_screen(AskYes("Take this promise out of the draft?", words, "Out"), answered)

        ask_choice(self, "Promises: which?", choices, chosen)

    def _ask_output(self) -> None:
        from prepadvisor.tui.model import promised_outputs

        outputs = promised_outputs()
        by_name = {str(name): name for name in outputs}
        choices = [Choice(str(name), label) for name, label in outputs.items()]
        ask_choice(
            self, "What is never laxer?", choices, lambda name: self._ask_along(by_name[name])
        )  # fmt: skip

    def _ask_along(self, output: "OutputName") -> None:
        from prepadvisor.tui.model import promised_facts

        choices = [Choice(fact, says) for fact, says in promised_facts().items()]
        ask_choice(
            self, "Of two cases that differ only in one fact: which?", choices,
            lambda fact: self._ask_where(output, fact),
        )  # fmt: skip

    def _ask_where(self, output: "OutputName", fact: str) -> None:
        from prepadvisor.tui.model import promised_where

        choices = [Choice(where, says) for where, says in promised_where(fact).items()]
        ask_choice(self, "Where is it kept?", choices, lambda where: self._ask_words(output, fact, where))

    def _ask_words(self, output: "OutputName", fact: str, where: str) -> None:
        from prepadvisor.tui.model import promise_entry, usual_words

        desk = self._desk
        if desk is None:
            return

        def said(says: str) -> None:
            file = desk.draft.file_for("")
            entry = promise_entry(says, output, fact, where)
            self._change(lambda: desk.save_promise(entry), _KEPT.format(file))

        ask_text(
            self, "In a sentence, as the check tells it", usual_words(output, fact, where), said,
            fault_of=lambda text: "" if text else "a promise says in words what must hold",
        )  # fmt: skip
