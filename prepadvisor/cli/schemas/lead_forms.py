"""The forms of what the tools for house standards print as JSON, each key with a sentence."""

from typing import Final

from prepadvisor.cases import CATEGORY, FACTS, NUMBER
from prepadvisor.cli.lead.replay_worker import COLUMNS as REPLAY_COLUMNS
from prepadvisor.cli.lead.spot_rows import COLUMNS as SPOT_COLUMNS
from prepadvisor.cli.schemas.json_types import (
    A_COUNT,
    A_NUMBER,
    A_NUMBER_OR_NULL,
    A_TEXT,
    A_YES,
    ANYTHING,
    CASE_FORM,
    DISCS_FORM,
    FACTS_FORM,
    JsonForm,
)
from prepadvisor.cli.schemas.sentences import fact_says
from prepadvisor.standards import OUTPUTS

_DIFFERENCE: Final = {
    "output": (A_TEXT, "the answer that differs"),
    "before": (ANYTHING, "what it was; null for no bound, and for a text that was not there"),
    "after": (ANYTHING, "what it is; null likewise"),
}
_CAUSE: Final = {
    "rule": (A_TEXT, "the rule behind it"),
    "file": (A_TEXT, "where to look: of a rule that went, what set it aside"),
    "line": (A_COUNT, "its line, 0 where there is none"),
    "by": (A_TEXT, "new, changed, replaced, withdrawn or gone"),
    "says": (A_TEXT, "what that entry says"),
}
_CHANGE: Final = {
    "direction": (A_TEXT, "held, released, laxer, stricter or words: what it means for a painter"),
    "differences": ([_DIFFERENCE], "what differs"),
    "facts": (FACTS_FORM, "the cases, as a rule's when has them; an empty object is every case"),
    "cases": (A_COUNT, "how many cases that a card can meet"),
    "causes": ([_CAUSE], "the rules behind it"),
}
_DATA: Final = {
    "file": (A_TEXT, "shop.toml, constants.toml or panels.toml"),
    "key": (A_TEXT, "the key that differs"),
    "before": (["string", "null"], "what it was"),
    "after": (["string", "null"], "what it is"),
}
_PAIR: Final = {"before": (A_NUMBER, "under the standards in force"), "after": (A_NUMBER, "under the draft")}
_SUMS: Final = {
    "minutes": (_PAIR, "minutes of work"),
    "ml": (_PAIR, "wet bed to mix, in ml"),
    "discs": ({"before": (DISCS_FORM, "in force"), "after": (DISCS_FORM, "draft")}, "discs by grade"),
    "money?": (
        {**_PAIR, "currency": (A_TEXT, "what it counts in")},
        "at the shop's rates, where it states any",
    ),
}
_WAYS: Final = {"*": (A_COUNT, "places that change in this way")}
_UNREADABLE: Final = [{"file": (A_TEXT, "the file"), "why": (A_TEXT, "what is wrong with it")}]
_TABLE: Final[dict[str, JsonForm]] = {
    **{fact: (["string", "null"], f"{fact_says(fact)} Joined by |, null for any.") for fact in CATEGORY},
    **{
        f"{fact}_{part}": (kind, f"{fact_says(fact)} {says}")
        for fact in NUMBER
        for part, kind, says in (
            ("from", A_NUMBER_OR_NULL, "The least, included; null for none."),
            ("below", A_NUMBER_OR_NULL, "The end, excluded; null for none."),
            ("unknown", ["string"], "yes: only where nobody measured; no: only where somebody did; any."),
        )
    },
    **{
        name: form
        for output in OUTPUTS.values()
        for name, form in (
            (output.name, (ANYTHING, f"{output.says} null where none is set or nobody reads it.")),
            (f"{output.name}_rule", (["string", "null"], "The rules that say so, joined by |.")),
        )
    },
}

LEAD_FORMS: Final[dict[str, tuple[str, JsonForm]]] = {
    "check": (
        "what `standards check --json` prints",
        {
            "findings": (
                [
                    {
                        "kind": (A_TEXT, "what kind of flaw it is"),
                        "rules": ([(A_TEXT, "a rule's id")], "the rules it is about"),
                        "facts": (FACTS_FORM, "the largest box of cases it holds in"),
                        "says": (A_TEXT, "what is wrong"),
                        "file": (A_TEXT, "where to begin mending, empty where no line is at fault"),
                        "line": (A_COUNT, "its line, 0 where no line is at fault"),
                        "mend": (A_TEXT, "what mends it"),
                        "shadows": ([(A_TEXT, "a rule's id")], "the rules that shadow a dead one"),
                        "cases": (A_COUNT, "how many cases have it"),
                        "paste": (A_TEXT, "lines that mend the house's rule, empty where none are known"),
                    }
                ],
                "every flaw, gravest first",
            ),
            "cells": (A_COUNT, "all possible cases"),
            "living": (A_COUNT, "cases that a card answers"),
            "not_judged": ([(A_TEXT, "a sentence")], "what was not judged because it would take too long"),
            "living_is_exact": (A_YES, "no: too intricate to count, there are at most so many"),
            "house": (
                [
                    {
                        "rule": (A_TEXT, "the rule, or the one withdrawn"),
                        "file": (A_TEXT, "its file"),
                        "line": (A_COUNT, "its line"),
                        "does": (A_TEXT, "tightens, loosens, both, nothing or words"),
                        "says": (A_TEXT, "what it really does, in a sentence"),
                        "case": (CASE_FORM, "one case to picture; empty where it does nothing"),
                    }
                ],
                "what each rule or withdrawal above the base does",
            ),
            "loosened": (
                [
                    {
                        "layer": (A_TEXT, "the layer that is laxer"),
                        **_CHANGE,
                        "case": (CASE_FORM, "one to picture"),
                    }
                ],
                "every case that a layer makes laxer than those below it",
            ),
        },
    ),
    "compare": (
        "what `standards compare --json` prints",
        {
            "changes": ([_CHANGE], "what changes, gravest first"),
            "cases": (A_COUNT, "cases that change at all"),
            "cells": (A_COUNT, "all possible cases"),
            "living": (A_COUNT, "cases that a card can meet under either"),
            "untold": (A_COUNT, "single changes in no group that is told"),
            "is_whole": (A_YES, "false: cases is a lower bound"),
            "data": ([_DATA], "what differs beside the rules"),
            "warnings": (
                [(A_TEXT, "a sentence")],
                "what to know before trusting it, such as one version twice",
            ),
            "jobs?": (
                {
                    "jobs": (A_COUNT, "jobs looked at"),
                    "spots": (A_COUNT, "their spots"),
                    "changed": (A_COUNT, "spots decided otherwise"),
                    "differences": (
                        [
                            {
                                "rule": (A_TEXT, "the stricter rule"),
                                **_DIFFERENCE,
                                "direction": (A_TEXT, "as of a change"),
                                "spots": (A_COUNT, "how many"),
                            }
                        ],
                        "what differs in them",
                    ),
                },
                "counted over the jobs given",
            ),
        },
    ),
    "replay": (
        "what `standards replay --json` prints",
        {
            "changes": (
                [{name: (ANYTHING, f"the column {name} of the CSV form") for name in REPLAY_COLUMNS}],
                "every changed place and job",
            ),
            "files": (A_COUNT, "files looked at"),
            "jobs": (
                {
                    "read": (A_COUNT, "jobs read"),
                    "changed": (A_COUNT, "jobs that change"),
                    "held_otherwise": (A_COUNT, "jobs with a place held under one only"),
                },
                "how many jobs",
            ),
            "places": ({"all": (A_COUNT, "all"), "changed": (A_COUNT, "changed")}, "how many places"),
            "ways": (_WAYS, "in which ways places change"),
            "rules": (
                [
                    {
                        "rule": (A_TEXT, "the rule, empty for another shop file"),
                        "file": (A_TEXT, "its file"),
                        "line": (A_COUNT, "its line"),
                        "how": (A_TEXT, "new: it decides now; gone: it no longer does"),
                        "places": (A_COUNT, "places"),
                        "jobs": (A_COUNT, "jobs"),
                        "minutes": (A_NUMBER, "more minutes, those of held places left out"),
                        "ways": (_WAYS, "in which ways"),
                    }
                ],
                "by rule, holds first, then what gets laxer",
            ),
            "largest": (
                [
                    {
                        "job": (A_TEXT, "the file"),
                        "places": (A_COUNT, "changed places"),
                        "minutes": (A_NUMBER, "more minutes"),
                    }
                ],
                "the jobs that change most",
            ),
            **_SUMS,
            "held": (_SUMS, "the sums of jobs with a place held under one only; not in the others"),
            "data": ([_DATA], "what differs beside the rules"),
            "unreadable": (_UNREADABLE, "files that could not be read"),
        },
    ),
    "verify": (
        "what `standards verify --json` prints, one line a card",
        {
            "job": (A_TEXT, "the job's number"),
            "date": (["string", "null"], "the job's date"),
            "in_force": (A_YES, "whether every layer was in force then"),
            "layers": (
                [
                    {
                        "layer": (A_TEXT, "the layer"),
                        "version": (A_TEXT, "its version on the card"),
                        "digest": (A_TEXT, "its digest on the card"),
                        "was": (A_TEXT, "what became of it"),
                        "version_now": (["string", "null"], "its version now"),
                        "since": (["string", "null"], "from when that content counted"),
                        "until": (["string", "null"], "until when"),
                        "approved_by": (A_TEXT, "who approved it"),
                    }
                ],
                "each layer the card rests on",
            ),
        },
    ),
    "table": ("what `standards table --to json` writes: a list of rows", [_TABLE]),
    "spots": (
        "what `standards table --spots JOBS --to json` writes: a list of rows",
        [
            {
                name: (
                    ANYTHING,
                    fact_says(name) if name in FACTS else f"{name.replace('_', ' ')} of the spot",
                )
                for name in SPOT_COLUMNS
            }
        ],
    ),
}
