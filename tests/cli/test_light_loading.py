"""What is put off while packages load is there once it is asked for, the same as if it had not been."""

import dataclasses
import inspect
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import FrozenInstanceError, dataclass, field

import pytest

from prepadvisor.cli.light_loading import LateMethod, load_light


@pytest.fixture
def light() -> Iterator[None]:
    """Load lightly, and put everything back as Python has it."""
    make, finders = vars(dataclasses).get("_create_fn"), list(sys.meta_path)
    load_light()
    yield
    if make is not None:
        setattr(dataclasses, "_create_fn", make)  # noqa: B010 - no public name
    sys.meta_path[:] = finders


def classes() -> tuple[type, type, type]:
    """Return classes of data of the three sorts that packages make: plain, ordered, frozen with slots."""

    @dataclass
    class Plain:
        name: str
        parts: list[int] = field(default_factory=list)

        def __post_init__(self) -> None:
            self.name = self.name.upper()

    @dataclass(order=True)
    class Ordered(Plain):
        at: int = 3

    @dataclass(frozen=True, slots=True)
    class Frozen:
        x: int
        y: int = 2

    return Plain, Ordered, Frozen


def seen() -> list[object]:
    """Return what can be seen of data classes made now."""
    plain, ordered, frozen = classes()
    one, same, other = ordered("a", [1]), ordered("A", [1]), ordered("b", at=1)
    with pytest.raises(FrozenInstanceError) as refused:
        frozen(1).x = 5
    with pytest.raises(FrozenInstanceError) as kept:
        del frozen(1).y
    with pytest.raises(TypeError) as lacking:
        frozen()
    return [
        repr(plain("a")).rpartition(".")[2], repr(frozen(1)).rpartition(".")[2], one == same, one == other,
        one < other, hash(frozen(1, 2)) == hash(frozen(1)),
        frozen(1) == frozen(1, 3),
        {frozen(1), frozen(1, 2)} == {frozen(1)}, dataclasses.replace(frozen(1), y=7).y, str(refused.value),
        str(kept.value), str(lacking.value).rpartition(".")[2], str(inspect.signature(ordered)),
        str(ordered.__doc__),
        vars(frozen)["__init__"].__name__, one.__eq__(3) is NotImplemented, plain.__hash__ is None,
    ]  # fmt: skip


@pytest.mark.usefixtures("light")
def test_late_data_classes_do_what_early_ones_do() -> None:
    """Each method of a data class gives what Python's own gives: made, shown, compared, hashed, refused."""
    late = seen()
    setattr(dataclasses, "_create_fn", getattr(dataclasses._create_fn, "_make", dataclasses._create_fn))  # type: ignore[attr-defined]  # noqa: B010
    assert late == seen()


@pytest.mark.skipif(sys.version_info >= (3, 13), reason="from 3.13 on Python compiles a class at one go")
@pytest.mark.usefixtures("light")
def test_a_late_method_stands_aside_after_its_first_call() -> None:
    """The method itself takes its place, so that nothing stands between from then on."""
    *_, frozen = classes()
    assert isinstance(vars(frozen)["__init__"], LateMethod)
    frozen(1)
    assert inspect.isfunction(vars(frozen)["__init__"])
    assert vars(frozen)["__init__"].__qualname__.endswith("Frozen.__init__")


def test_modules_put_off_load_when_something_of_them_is_wanted() -> None:
    """The metadata of packages is there when it is asked for, and numpy works, in a fresh interpreter."""
    code = """
from prepadvisor.cli.light_loading import load_light
load_light(); load_light()
import sys, numpy, pydantic
assert "email.message" not in sys.modules
assert issubclass(numpy.linalg.LinAlgError, ValueError)
import importlib.metadata
assert importlib.metadata.version("pydantic") == pydantic.VERSION
assert list(importlib.metadata.entry_points(group="nothing such")) == []
assert float(numpy.linalg.det(numpy.eye(2))) == 1.0
"""
    subprocess.run([sys.executable, "-c", code], check=True)
