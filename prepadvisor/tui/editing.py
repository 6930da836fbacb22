"""Changes of the open job, as the views ask for them: made, told, kept, taken back, saved."""

import time
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

from textual import on

from prepadvisor.checkoff import Wanted
from prepadvisor.tui.dialogs.ask import AskYes
from prepadvisor.tui.ending import CarefulApp
from prepadvisor.tui.keys import AS_BUILT, Keys
from prepadvisor.tui.model import RefusedError, Session, TypedNumber, job_title, logging
from prepadvisor.tui.screens.opening import Opening
from prepadvisor.tui.screens.view import View

if TYPE_CHECKING:
    from prepadvisor.records import Check

LOOK_SECONDS: Final = 1.0
"""So often the file is looked at for what others saved; that reads no file as long as nothing changed."""

REST_SECONDS: Final = 20.0
"""So long an entry can be taken back by its step; then it goes to the file, and is struck there."""

GATE_EVERY: Final = 10
"""Every so many looks the gate is asked whether it ran out."""


class EditingApp(CarefulApp):
    """An app that makes the changes its views ask for, and shows each view what then stands."""

    _looks = 0
    _typed = TypedNumber()
    keys: Keys = AS_BUILT
    """The keys that a person gave things to do."""

    @property
    def view(self) -> View | None:
        """The view that is on; None where it is the opening or a dialog."""
        return self.screen if isinstance(self.screen, View) else None

    @on(View.Shown)
    def serve(self) -> None:
        """Tell the view that is on what to show."""
        view, session = self.view, self.desk.session
        if view is None or session is None:
            return
        view.show(session)
        view.show_frame(job_title(session.job), self.desk.state_words(), session.undo_name, self.keys)
        if view.focused is None:
            view.set_focus(view.query(view.first_focus()).first())

    @on(View.Edited)
    def _edited(self, event: View.Edited) -> None:
        session = self.desk.session
        if session is None:
            return
        try:
            session.do(event.name, event.make(session.job), event.merge)
        except RefusedError as error:
            self.say(str(error), refused=True)
            if event.again is not None:
                event.again(str(error))
            return
        self.say("; ".join(session.trouble), refused=True)
        if event.then is not None:
            event.then()
        self.serve()
        self.call_after_refresh(self._keep)

    def watch_file(self) -> None:
        """Look at the file again and again for what others saved, and at the clock for what ran out."""
        self.set_interval(LOOK_SECONDS, self.look_at_file)

    def look_at_file(self) -> None:
        """Take over what others saved, and show it; a gate that ran out is shown as it is now.

        Entries that rested for a while go to the file by themselves: others need them.
        """
        before = self.desk.revision
        told = self.desk.look()
        if self.desk.rested(REST_SECONDS):
            told = "; ".join(word for word in (told, self.desk.save()) if word)
            self.serve()
        self._looks += 1
        turned = self._looks % GATE_EVERY == 0 and self.desk.gate_turned()
        if self.desk.revision != before or turned:
            self.serve()
        if told:
            self.say(told)

    def _keep(self) -> None:
        if told := self.desk.keep():
            self.say(told, refused=True)

    @on(View.Selected)
    def _selected(self, event: View.Selected) -> None:
        if self.desk.session is not None:
            self.desk.session.select(event.panel_id, event.part_id)
            self.serve()

    @on(View.Digit)
    def _digit_typed(self, event: View.Digit) -> None:
        """Select the line or patch of the selected panel that has the number typed."""
        from prepadvisor.tui.model import place_numbers

        session = self.desk.session
        if session is None or session.panel is None:
            return
        parts = {number: part for part, number in place_numbers(session).items()} | {"0": "face"}
        self._typed = self._typed.typed(event.digit, time.monotonic(), parts)
        if self._typed.digits in parts:
            session.select(session.panel_id, parts[self._typed.digits])
            self.serve()
        else:
            self.say(f"no line {self._typed.digits} on this panel", refused=True)

    def say(self, words: str, refused: bool = False) -> None:
        """Show words on the screen that is on."""
        if isinstance(self.screen, View | Opening):
            self.screen.say(words, refused)

    def action_undo(self) -> None:
        """Take the last change back."""
        session, view = self.desk.session, self.view
        if view is not None and view.no_undo:
            self.say(view.no_undo)
        elif session is not None:
            self._step("Undone", session.undo)
            if session.to_strike:
                self._ask_strike(session, session.to_strike)

    def _ask_strike(self, session: Session, entries: Sequence["Check"]) -> None:
        """Ask whether entries that stand in the file are struck there; nothing ever deletes them."""

        def answered(yes: bool | None) -> None:
            if not yes:
                return
            wanted = [
                Wanted(
                    f"{each.panel}/{each.feature}", "struck", session.initials or each.by,
                    note="a slip of the key", of=each.id,
                )
                for each in entries
            ]  # fmt: skip
            self._edited(View.Edited("struck from the log", logging(session, wanted)))

        last = entries[-1]
        count = f"{len(entries)} entries" if len(entries) > 1 else f"{last.feature} {last.step}"
        more = "They stay readable in the file and count no more. Without a strike they stand as they are."
        question = f"In the file's log already: {count}. Strike it?"
        self.push_screen(AskYes(question, more, yes="Strike"), answered)

    def action_redo(self) -> None:
        """Bring back what was undone last."""
        if self.view is not None and self.view.no_undo:
            self.say(self.view.no_undo)
        elif self.desk.session is not None:
            self._step("Done again", self.desk.session.redo)

    def _step(self, what: str, step: Callable[[], str]) -> None:
        try:
            name = step()
        except RefusedError as error:
            self.say(str(error), refused=True)
            return
        self.serve()
        self.call_after_refresh(self._keep)
        self.say(f"{what}: {name}" if name else "nothing to take back or bring back")

    def action_save(self) -> None:
        """Save now."""
        told = self.desk.save()
        self.serve()
        self.say(told or "Saved", refused=bool(told))
