"""The program's named tuples are held against those of `typing`."""

import inspect
import pickle
import subprocess
import sys
import typing
from typing import Any

import pytest

from prepadvisor import named
from prepadvisor.records import Fault


class Ours(named.NamedTuple):
    """Two facts."""

    size_mm: float
    name: str = "edge"

    @property
    def doubled(self) -> float:
        """Twice the size."""
        return 2 * self.size_mm


class Theirs(typing.NamedTuple):
    """Two facts."""

    size_mm: float
    name: str = "edge"


def test_a_named_tuple_does_what_that_of_typing_does() -> None:
    """The standard library's own is the reference."""
    made: Any
    for made in (Ours, Theirs):
        one = made(3.0)
        assert one == (3.0, "edge") == made(name="edge", size_mm=3.0)
        assert (one.size_mm, one.name, one[1]) == (3.0, "edge", "edge")
        assert repr(one) == f"{made.__name__}(size_mm=3.0, name='edge')"
        assert one._replace(size_mm=4.0) == made(4.0)
        assert one._asdict() == {"size_mm": 3.0, "name": "edge"}
        assert made._make([1.0, "a"]) == made(1.0, "a")
        assert made._fields == made.__match_args__ == ("size_mm", "name")
        assert made._field_defaults == {"name": "edge"}
        assert made.__bases__ == (tuple,)
        assert typing.get_type_hints(made) == {"size_mm": float, "name": str}
        assert list(inspect.signature(made).parameters) == ["size_mm", "name"]
        assert made.__doc__ == "Two facts."
        assert not hasattr(one, "__dict__")
        assert type(pickle.loads(pickle.dumps(one))) is made  # noqa: S301 - our own bytes
        assert hash(one) == hash((3.0, "edge"))
    assert Ours(3.0).doubled == 6.0


@pytest.mark.parametrize("made", [Ours, Theirs])
def test_wrong_fields_are_refused_as_typing_refuses_them(made: Any) -> None:
    """Too few, too many, unknown; a field is never set."""
    for wrong in (made, lambda: made(1.0, "a", 2), lambda: made(1.0, colour="a")):
        with pytest.raises(TypeError):
            wrong()
    with pytest.raises(TypeError, match="Expected 2 arguments, got 1"):
        made._make([1.0])
    with pytest.raises(ValueError, match="unexpected field names"):
        made(1.0)._replace(colour="red")
    with pytest.raises(AttributeError):
        made(1.0).name = "arch"


def test_a_field_without_a_default_behind_one_with_a_default_is_refused() -> None:
    """While the class is made."""
    text = "class Wrong(NamedTuple):\n    a: int = 1\n    b: int\n"
    for module in (named, typing):
        with pytest.raises(TypeError, match="default"):
            exec(text, {"NamedTuple": module.NamedTuple, "__name__": "wrong"})  # noqa: S102 - our own text


def test_a_named_tuple_of_the_program_is_pickled_by_its_name() -> None:
    """Worker processes of a replay hand them back."""
    one = Fault("a.toml", 1, 2, "says", "mend")
    code = f"import pickle; print(pickle.loads({pickle.dumps(one)!r}).mend)"
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout == "mend\n"
