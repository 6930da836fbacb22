"""Undo and redo of the open job."""

from prepadvisor.tui.model import History, OpenJob, with_colour


def _flaked(flake: str) -> OpenJob:
    return with_colour(OpenJob.new("1"), flake=flake)


def test_undo_brings_the_job_before_and_names_the_change() -> None:
    """The undo key says what it will take back, and takes back exactly that."""
    history = History(OpenJob.new("1"))
    history.do("flake fine", _flaked("fine"))
    assert history.undo_name == "flake fine"
    change = history.undo()
    assert change is not None
    assert change.name == "flake fine"
    assert history.job == OpenJob.new("1")
    assert history.redo_name == "flake fine"


def test_redo_brings_it_back() -> None:
    """What was taken back can be had again."""
    history = History(OpenJob.new("1"))
    history.do("flake fine", _flaked("fine"))
    history.undo()
    change = history.redo()
    assert change is not None
    assert change.name == "flake fine"
    assert history.job == _flaked("fine")


def test_a_new_change_forgets_what_was_taken_back() -> None:
    """After undo and another change there is nothing to redo."""
    history = History(OpenJob.new("1"))
    history.do("flake fine", _flaked("fine"))
    history.undo()
    history.do("flake coarse", _flaked("coarse"))
    assert history.redo() is None


def test_presses_on_the_same_border_are_one_step() -> None:
    """Ten presses of an arrow are taken back at once."""
    history = History(OpenJob.new("1"))
    history.do("border", _flaked("fine"), merge="border")
    history.do("border", _flaked("coarse"), merge="border")
    change = history.undo()
    assert change is not None
    assert change.name == "border"
    assert history.job == OpenJob.new("1")


def test_a_merge_does_not_reach_over_another_change() -> None:
    """A change between two moves of a border keeps them apart."""
    history = History(OpenJob.new("1"))
    history.do("border", _flaked("fine"), merge="border")
    history.do("flake", _flaked("solid"))
    history.do("border", _flaked("coarse"), merge="border")
    history.undo()
    assert history.job == _flaked("solid")


def test_undo_of_nothing_is_harmless() -> None:
    """An empty stack answers with no name."""
    assert History(OpenJob.new("1")).undo() is None
