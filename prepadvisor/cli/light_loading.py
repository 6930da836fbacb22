"""Puts off what packages make of their classes and texts while they load, until it is asked for.

A start loads a hundred data classes with 364 methods, of which it calls few. Nothing is left out: a method of
a data class is compiled at its first call, a module that was put off loads when something of it is wanted.
Where Python or numpy is built otherwise than known here, as from Python 3.13 on, it stays as it is.
"""

import dataclasses
import sys
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from importlib.machinery import ModuleSpec
from inspect import Signature, signature
from pathlib import Path
from types import MethodType, ModuleType
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from importlib.abc import Loader
else:
    Loader = object  # the module of the real one loads seven others

_MAKES: Final = "_create_fn"
"""What `dataclasses` compiles a method with, up to Python 3.12: 22 ms of a start of 390."""


def load_light() -> None:
    """Put off what can be, for what is loaded from now on. Done twice it changes nothing."""
    make = getattr(dataclasses, _MAKES, None)
    if make is not None and not isinstance(make, _Later):
        setattr(dataclasses, _MAKES, _Later(make))
    if not any(isinstance(finder, _PutOff) for finder in sys.meta_path):
        sys.meta_path.insert(0, _PutOff())


# Data classes: each method stands as what it is made from, and is compiled when it is called first.


class _Later:
    """Makes methods that are compiled later, with what compiles them."""

    def __init__(self, make: Callable[..., Callable[..., Any]]) -> None:
        self._make = make

    def __call__(self, name: str, *words: Any, **named: Any) -> "LateMethod":
        return LateMethod(name, lambda: self._make(name, *words, **named))


class LateMethod:
    """A method that is compiled at its first call, and then stands in its class in its own place."""

    def __init__(self, name: str, make: Callable[[], Callable[..., Any]]) -> None:
        """Keep how it is made."""
        self.__name__ = name
        self._make = make
        self._made: Callable[..., Any] | None = None

    @property
    def made(self) -> Callable[..., Any]:
        """The method itself."""
        if self._made is None:
            self._made = self._make()
        return self._made

    @property
    def __signature__(self) -> Signature:
        """What it is called with."""
        return signature(self.made)

    def __get__(self, one: object, _class: type | None = None) -> Any:
        """Return it bound to an object, as a function is."""
        return self if one is None else MethodType(self, one)

    def __call__(self, *words: Any, **named: Any) -> Any:
        """Call it, and stand aside from then on."""
        made = self.made
        for each in type(words[0]).__mro__ if words else ():
            if vars(each).get(self.__name__) is self:
                made.__qualname__ = f"{each.__qualname__}.{self.__name__}"
                setattr(each, self.__name__, made)
        return made(*words, **named)


# Modules.


class LoadedWhenAsked(ModuleType):
    """Stands for a module of which others import what they hardly ever use."""

    def __getattr__(self, name: str) -> Any:
        """Return what does not stand here from the real module, which is loaded for it."""
        if name.startswith("__"):  # asked by the import system itself
            raise AttributeError(name)
        return getattr(_real(self.__name__), name)


def _real(name: str) -> ModuleType:
    """Return a module itself, and put it off no longer."""
    _PUT_OFF.pop(name, None)
    if isinstance(sys.modules.get(name), LoadedWhenAsked):
        del sys.modules[name]
    return import_module(name)


class _PutOff(Loader):
    """Finds the modules that are put off, and makes what stands for them."""

    def find_spec(self, name: str, path: Sequence[str] | None, _target: object = None) -> ModuleSpec | None:
        """Say whether a module is one of them."""
        if name not in _PUT_OFF:
            return None
        spec = ModuleSpec(name, self)
        if _PUT_OFF[name]:  # a package, as far as others take something from it
            spec.submodule_search_locations = [
                str(Path(each, name.rpartition(".")[2])) for each in path or ()
            ]
        return spec

    def create_module(self, spec: ModuleSpec) -> ModuleType:
        """Make what stands for it."""
        return LoadedWhenAsked(spec.name)

    def exec_module(self, module: ModuleType) -> None:
        """Give it what others take from it at once."""
        vars(module).update(_PUT_OFF[module.__name__])


def _entry_points(**asked: Any) -> Any:
    return _real(_METADATA).entry_points(**asked)


_METADATA: Final = "importlib.metadata"
_PUT_OFF: Final[dict[str, Mapping[str, Any]]] = {
    _METADATA: {"entry_points": _entry_points},
    "numpy._core._add_newdocs": {},
    "numpy._core._add_newdocs_scalars": {},
}
"""Modules with what is taken from them while others load.

Nobody plugs anything into the records, and looking for plug-ins reads the metadata of all that is installed.
numpy writes the docstrings of what it has in C, which nobody reads here: 6 ms of 172 that a bare app takes.
"""
