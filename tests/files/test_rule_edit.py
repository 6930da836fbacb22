"""Single rules changed in a rule file: comments, order and spelling of all else stay."""

import pytest
import tomli

from prepadvisor.files import NotEditedError, with_more, with_rule_changed, without_rule

TEXT = """\
# Our shop, kept by the lead.
[standards]
name = "Ours"
version = "1"

# hand work
[[rule]]
id = "ours-hand"            # asked by the painters
says = "Very fine flake: hand with P1000."
when = { flake = ["very-fine", "vapour"], zone = [ "colour", "fade" ] }   # old habit
set = { hand_coarsest = "P1000" }
source = "house"

# the other one
[[rule]]
id = "ours-film"
says = "Thin film: no hard pad."
source = "house"
[rule.when]
film_um = "< 90"   # by gauge
[rule.set]
machine = "interface-pad"
"""


def test_only_what_changes_is_touched() -> None:
    """One answer and one more condition: every other line is the same, comments and all."""
    changed = with_rule_changed(
        TEXT, "ours-hand", {"set": {"hand_coarsest": "P1200"}, "when": {"reach": "machine"}}
    )
    expected = TEXT.replace('"fade" ] }', '"fade" ], reach = "machine"}').replace('"P1000" }', '"P1200" }')
    assert changed == expected


def test_a_rule_with_tables_of_its_own_is_changed_key_by_key() -> None:
    """A condition goes, an answer comes; the comment of the one that stays is there."""
    changed = with_rule_changed(
        TEXT, "ours-film", {"when": {"film_um": "< 100", "reach": "machine"}, "set": {"machine": "never"}}
    )
    rule = tomli.loads(changed)["rule"][1]
    assert rule["when"] == {"film_um": "< 100", "reach": "machine"}
    assert rule["set"] == {"machine": "never"}
    assert "# by gauge" in changed
    gone = with_rule_changed(TEXT, "ours-hand", {"when": {"zone": None}})
    assert tomli.loads(gone)["rule"][0]["when"] == {"flake": ["very-fine", "vapour"]}


def test_a_rule_is_taken_out_and_another_put_in() -> None:
    """The rest stays; a file that has no rule yet gets its head."""
    less = without_rule(TEXT, "ours-hand")
    assert [rule["id"] for rule in tomli.loads(less)["rule"]] == ["ours-film"]
    assert "# Our shop, kept by the lead." in less
    entry = '[[rule]]\nid = "more"\nsays = "x"\nset = { wet_bed = "advised" }\nsource = "house"\n'
    assert [rule["id"] for rule in tomli.loads(with_more(TEXT, entry))["rule"]][-1] == "more"
    assert tomli.loads(with_more("", entry))["standards"]["version"] == "1"


def test_a_rule_that_is_not_there_is_refused() -> None:
    """Nothing is written for a name that no rule has."""
    with pytest.raises(NotEditedError, match="no single rule"):
        with_rule_changed(TEXT, "another", {"says": "x"})
