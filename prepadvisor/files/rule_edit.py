"""Changes, adds and takes out single rules of a rule file; all else stays as a person wrote it."""

from collections.abc import Mapping
from typing import Any

import tomli

HEAD = """\
[standards]
name = "Our standards"
version = "1"
"""
"""How a rule file begins that is made for a first rule."""


class NotEditedError(ValueError):
    """A rule file that is laid out so that a rule in it cannot be changed without losing something."""


def with_rule_changed(text: str, rule_id: str, changes: Mapping[str, object]) -> str:
    """Return a rule file's text with some keys of one rule changed; a key that is None is taken out.

    Args:
        text: the file as it is.
        rule_id: the rule's id, which itself may be among the changes.
        changes: the new values, as plain data; of `when` and `set` those that change, None for one that
            is gone.

    Raises:
        NotEditedError: there is no such rule, or it cannot be changed and the rest be kept.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    meant = tomli.loads(text)
    _change(_found(meant, "rule", "id", rule_id), changes)
    try:
        document = tomlkit.parse(text)
        _change(_found(document, "rule", "id", rule_id), changes)
        written = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError, AttributeError, ValueError) as error:
        raise NotEditedError(f"the rule {rule_id} cannot be changed here: {error}") from error
    return _checked(written, meant, rule_id)


def without_rule(text: str, rule_id: str) -> str:
    """Return a rule file's text without one of its rules. Raises NotEditedError as `with_rule_changed`."""
    return _without(text, "rule", "id", rule_id)


def with_example(
    text: str, was: Mapping[str, object] | None, now: Mapping[str, object] | None, table: str = "example"
) -> str:
    """Return a rule file's text with one worked case changed, added (`was` None) or taken out (`now` None).

    `table` is the kind of entry: a promise is changed in the same way.

    Raises:
        NotEditedError: there is no single such case, or the rest cannot be kept.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    if was is None:
        lines = [f"{key} = {tomlkit.item(_inline(each)).as_string()}" for key, each in (now or {}).items()]
        return with_more(text, "\n".join([f"[[{table}]]", *lines]))
    meant = tomli.loads(text)
    places = [at for at, each in enumerate(meant.get(table, ())) if each == was]
    if len(places) != 1:
        raise NotEditedError(f"this {table} stands in the file no more, or twice")
    try:
        document = tomlkit.parse(text)
        for data in (meant, document):
            entries: Any = data[table]
            if now is not None:
                _change(entries[places[0]], {**dict.fromkeys(was), **now})
                continue
            del entries[places[0]]
            if not entries:
                del data[table]
        written = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError, AttributeError, ValueError) as error:
        raise NotEditedError(f"this {table} cannot be changed here: {error}") from error
    return _checked(written, meant, f"the {table}")


def with_more(text: str, entry: str) -> str:
    """Return a rule file's text with one more entry, given as text, at its end."""
    before = text.rstrip() or HEAD.rstrip()
    return f"{before}\n\n{entry.rstrip()}\n"


def _without(text: str, table: str, key: str, value: str) -> str:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    meant = tomli.loads(text)
    meant[table].remove(_found(meant, table, key, value))
    if not meant[table]:
        del meant[table]
    try:
        document = tomlkit.parse(text)
        entries: Any = document[table]
        del entries[next(at for at, each in enumerate(entries) if each.get(key) == value)]
        if not entries:
            del document[table]
        written = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError, AttributeError, ValueError) as error:
        raise NotEditedError(f"{value} cannot be taken out here: {error}") from error
    return _checked(written, meant, value)


def _found(data: Any, table: str, key: str, value: str) -> Any:
    entries = data.get(table)
    found = [each for each in entries or () if each.get(key) == value]
    if len(found) != 1:
        raise NotEditedError(f"there is no single {table} {value} in this file")
    return found[0]


def _change(rule: Any, changes: Mapping[str, object]) -> None:
    """Change a rule, plain or parsed with its comments; conditions and answers in it one by one."""
    for key, value in changes.items():
        there = rule.get(key)
        if isinstance(value, Mapping) and isinstance(there, dict) and "not" not in value:
            _change(there, value)
        elif value is None:
            rule.pop(key, None)
        elif there != value:
            rule[key] = _inline(value)


def _inline(value: object) -> Any:
    """Return plain data with every table in it written on one line."""
    import tomlkit

    if isinstance(value, Mapping):
        table = tomlkit.inline_table()
        for key, each in value.items():
            if each is not None:
                table[key] = _inline(each)
        return table
    return value


def _checked(written: str, meant: dict[str, Any], what: str) -> str:
    if tomli.loads(written) != tomli.loads(_as_toml(meant)):
        raise NotEditedError(f"{what} stands in the file in a way that cannot be changed here")
    return written


def _as_toml(data: dict[str, Any]) -> str:
    import tomli_w

    return tomli_w.dumps(data)
