"""Named tuples as `typing` makes them, in a twentieth of the time.

A command that prints a card makes 140 classes of them at every start. `typing.NamedTuple` compiles a
constructor for each class and checks every annotation; here a constructor is compiled once for each number of
fields, and each class gets a copy with the names of its own. All else is the same: `_fields`,
`_field_defaults`, `_make`, `_replace`, `_asdict`, matching, pickling, equality with a tuple.

For the files that a card, the gate or the first picture of the screens loads, which take it at the door of
`records`, beside `Record`; in others, which make a few classes when someone waits for more than that,
`typing.NamedTuple` does.
"""

import sys
from typing import TYPE_CHECKING

__all__ = ["NamedTuple"]

if TYPE_CHECKING or sys.version_info >= (3, 14):
    # the type checker knows the original, and from 3.14 annotations are not read while a class is made
    from typing import NamedTuple
else:
    from _collections import _tuplegetter
    from functools import cache
    from types import FunctionType

    @cache
    def _constructor(count):
        names = "".join(f", a{at}" for at in range(count))
        return eval(f"lambda _cls{names}: new(_cls, ({names[2:]}{',' * (count == 1)}))").__code__  # noqa: S307

    _GLOBALS = {"new": tuple.__new__, "__builtins__": {}, "__name__": "namedtuple"}

    def _made(cls, /, values):
        found = tuple.__new__(cls, values)
        if len(found) != len(cls._fields):
            raise TypeError(f"Expected {len(cls._fields)} arguments, got {len(found)}")
        return found

    def _replaced(self, /, **values):
        found = self._make(map(values.pop, self._fields, self))
        if values:
            raise ValueError(f"Got unexpected field names: {list(values)!r}")
        return found

    def _shown(self):
        facts = ", ".join(f"{name}={value!r}" for name, value in zip(self._fields, self, strict=True))
        return f"{type(self).__name__}({facts})"

    def _as_dict(self):
        return dict(zip(self._fields, self, strict=True))

    def _as_arguments(self):
        return tuple(self)

    class _Making(type):
        """Makes the class statement of a named tuple one of a plain subclass of `tuple`."""

        def __new__(mcs, name, bases, space):
            if bases == ():
                return super().__new__(mcs, name, (), space)
            fields = tuple(space.get("__annotations__", ()))
            defaults = {field: space[field] for field in fields if field in space}
            if fields[len(fields) - len(defaults) :] != tuple(defaults):
                raise TypeError(f"{name}: a field without a default follows one with a default")
            code = _constructor(len(fields)).replace(
                co_varnames=("_cls", *fields), co_name="__new__", co_qualname=f"{name}.__new__"
            )
            new = FunctionType(code, _GLOBALS, "__new__", tuple(defaults.values()))
            space |= {field: _tuplegetter(at, None) for at, field in enumerate(fields)}
            space |= {
                "__slots__": (),
                "_fields": fields,
                "_field_defaults": defaults,
                "__match_args__": fields,
                "__new__": new,
                "_make": classmethod(_made),
                "_replace": _replaced,
                "__replace__": _replaced,
                "_asdict": _as_dict,
                "__getnewargs__": _as_arguments,
            }
            space.setdefault("__repr__", _shown)
            return type(name, (tuple, *bases[1:]), space)

    class _Pattern(metaclass=_Making):
        """What a class statement is given as its first base."""

    class NamedTuple:
        """The base to name in a class statement; no class has it among its bases afterwards."""

        def __mro_entries__(self, _bases):
            return (_Pattern,)

    NamedTuple = NamedTuple()
