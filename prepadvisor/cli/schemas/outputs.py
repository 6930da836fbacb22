"""The forms of what commands print as JSON, each key with a sentence; from them come their JSON Schemas.

A form is a dict of keys (all of them there, unless the key ends in "?"; "*" stands for any key), a list of
one form, or a pair of JSON type and sentence. A pair of a form and a sentence describes the form as well.
"""

from typing import Any, Final

from prepadvisor.cases.facts import CATEGORY, FACTS, NUMBER
from prepadvisor.cli.replay_rows import COLUMNS as REPLAY_COLUMNS
from prepadvisor.cli.schemas.sentences import fact_says
from prepadvisor.cli.spot_rows import COLUMNS as SPOT_COLUMNS
from prepadvisor.standards.outputs import OUTPUTS

JsonForm = Any

_TEXT: Final = "string"
_NUMBER: Final = "number"
_COUNT: Final = "integer"
_YES: Final = "boolean"
_MAYBE: Final = ["number", "null"]
_ANY: Final = ["string", "number", "boolean", "null"]

_FACTS: Final = {f"{fact}?": (["string", "number", "boolean", "array"], fact_says(fact)) for fact in FACTS}
_CASE: Final = {f"{fact}?": (_ANY, fact_says(fact)) for fact in FACTS}
_DIFFERENCE: Final = {
    "output": (_TEXT, "the answer that differs"),
    "before": (_ANY, "what it was; null for no bound, and for a text that was not there"),
    "after": (_ANY, "what it is; null likewise"),
}
_CAUSE: Final = {
    "rule": (_TEXT, "the rule behind it"),
    "file": (_TEXT, "where to look: of a rule that went, what set it aside"),
    "line": (_COUNT, "its line, 0 where there is none"),
    "by": (_TEXT, "new, changed, replaced, withdrawn or gone"),
    "says": (_TEXT, "what that entry says"),
}
_CHANGE: Final = {
    "direction": (_TEXT, "held, released, laxer, stricter or words: what it means for a painter"),
    "differences": ([_DIFFERENCE], "what differs"),
    "facts": (_FACTS, "the cases, as a rule's when has them; an empty object is every case"),
    "cases": (_COUNT, "how many cases that a card can meet"),
    "causes": ([_CAUSE], "the rules behind it"),
}
_DATA: Final = {
    "file": (_TEXT, "shop.toml, constants.toml or panels.toml"),
    "key": (_TEXT, "the key that differs"),
    "before": (["string", "null"], "what it was"),
    "after": (["string", "null"], "what it is"),
}
_PAIR: Final = {"before": (_NUMBER, "under the standards in force"), "after": (_NUMBER, "under the draft")}
_DISCS: Final = {"*": (_COUNT, "discs of this grade")}
_SUMS: Final = {
    "minutes": (_PAIR, "minutes of work"),
    "ml": (_PAIR, "wet bed to mix, in ml"),
    "discs": ({"before": (_DISCS, "in force"), "after": (_DISCS, "draft")}, "discs by grade"),
    "money?": (
        {**_PAIR, "currency": (_TEXT, "what it counts in")},
        "at the shop's rates, where it states any",
    ),
}
_WAYS: Final = {"*": (_COUNT, "places that change in this way")}
_UNREADABLE: Final = [{"file": (_TEXT, "the file"), "why": (_TEXT, "what is wrong with it")}]


_TABLE: Final[dict[str, JsonForm]] = {
    **{fact: (["string", "null"], f"{fact_says(fact)} Joined by |, null for any.") for fact in CATEGORY},
    **{
        f"{fact}_{part}": (kind, f"{fact_says(fact)} {says}")
        for fact in NUMBER
        for part, kind, says in (
            ("from", _MAYBE, "The least, included; null for none."),
            ("below", _MAYBE, "The end, excluded; null for none."),
            ("unknown", ["string"], "yes: only where nobody measured; no: only where somebody did; any."),
        )
    },
    **{
        name: form
        for output in OUTPUTS.values()
        for name, form in (
            (output.name, (_ANY, f"{output.says} null where none is set or nobody reads it.")),
            (f"{output.name}_rule", (["string", "null"], "The rules that say so, joined by |.")),
        )
    },
}

_EVERY: Final = (["string", "number", "boolean", "array", "object", "null"], "a fact of it")
_FITTED: Final = {
    "name": (_TEXT, "threshold_arcsec, depth_per_grain.TOOL, bed_set_solids, flake_um.COLOUR"),
    "value": (_NUMBER, "most likely value"),
    "low": (_NUMBER, "low end of the 90 % interval"),
    "high": (_NUMBER, "high end of the 90 % interval"),
    "before": (_NUMBER, "the number in force"),
    "rows": (_COUNT, "rows that bear on it"),
    "before_low": (_NUMBER, "low end of what was believed before"),
    "before_high": (_NUMBER, "high end of what was believed before"),
}
_NEXT: Final = {
    "flake": (_TEXT, "flake class"),
    "tool": (_TEXT, "tool to sand with"),
    "grade": (_TEXT, "grade, on the shop's shelf"),
    "coats": (_COUNT, "coats of wet bed"),
    "gain": (_NUMBER, "expected information about the shop's decisions, in nat a decision"),
    "says": (_TEXT, "the reason in words"),
    "because": ({"*": _EVERY}, "the reason as facts"),
}
_FIXED: Final = {
    "tool": (_TEXT, "tool or pad"),
    "exponent": (_NUMBER, "e of T / k^e"),
    "value": (_NUMBER, "T / k^e"),
    "low": (_NUMBER, "low end of its 90 % interval"),
    "high": (_NUMBER, "high end of its 90 % interval"),
    "grain_um": (_NUMBER, "grain whose line is seen half of the time, in um"),
    "grain_low_um": (_NUMBER, "low end of its 90 % interval"),
    "grain_high_um": (_NUMBER, "high end of its 90 % interval"),
    "flake": (_TEXT, "in which flake"),
    "narrower": (_NUMBER, "how many times narrower than T alone"),
    "says": (_TEXT, "in words"),
}
_SCORED: Final = ["object", "null"]

FORMS: Final[dict[str, tuple[str, JsonForm]]] = {
    "check": (
        "what `standards check --json` prints",
        {
            "findings": (
                [
                    {
                        "kind": (_TEXT, "what kind of flaw it is"),
                        "rules": ([(_TEXT, "a rule's id")], "the rules it is about"),
                        "facts": (_FACTS, "the largest box of cases it holds in"),
                        "says": (_TEXT, "what is wrong"),
                        "file": (_TEXT, "where to begin mending, empty where no line is at fault"),
                        "line": (_COUNT, "its line, 0 where no line is at fault"),
                        "mend": (_TEXT, "what mends it"),
                        "shadows": ([(_TEXT, "a rule's id")], "the rules that shadow a dead one"),
                        "cases": (_COUNT, "how many cases have it"),
                        "paste": (_TEXT, "lines that mend the house's rule, empty where none are known"),
                    }
                ],
                "every flaw, gravest first",
            ),
            "cells": (_COUNT, "all possible cases"),
            "living": (_COUNT, "cases that a card answers"),
            "house": (
                [
                    {
                        "rule": (_TEXT, "the rule, or the one withdrawn"),
                        "file": (_TEXT, "its file"),
                        "line": (_COUNT, "its line"),
                        "does": (_TEXT, "tightens, loosens, both, nothing or words"),
                        "says": (_TEXT, "what it really does, in a sentence"),
                        "case": (_CASE, "one case to picture; empty where it does nothing"),
                    }
                ],
                "what each rule or withdrawal above the base does",
            ),
            "loosened": (
                [{"layer": (_TEXT, "the layer that is laxer"), **_CHANGE, "case": (_CASE, "one to picture")}],
                "every case that a layer makes laxer than those below it",
            ),
        },
    ),
    "compare": (
        "what `standards compare --json` prints",
        {
            "changes": ([_CHANGE], "what changes, gravest first"),
            "cases": (_COUNT, "cases that change at all"),
            "cells": (_COUNT, "all possible cases"),
            "living": (_COUNT, "cases that a card can meet under either"),
            "untold": (_COUNT, "single changes in no group that is told"),
            "is_whole": (_YES, "false: cases is a lower bound"),
            "data": ([_DATA], "what differs beside the rules"),
            "jobs?": (
                {
                    "jobs": (_COUNT, "jobs looked at"),
                    "spots": (_COUNT, "their spots"),
                    "changed": (_COUNT, "spots decided otherwise"),
                    "differences": (
                        [
                            {
                                "rule": (_TEXT, "the stricter rule"),
                                **_DIFFERENCE,
                                "direction": (_TEXT, "as of a change"),
                                "spots": (_COUNT, "how many"),
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
                [{name: (_ANY, f"the column {name} of the CSV form") for name in REPLAY_COLUMNS}],
                "every changed place and job",
            ),
            "files": (_COUNT, "files looked at"),
            "jobs": (
                {
                    "read": (_COUNT, "jobs read"),
                    "changed": (_COUNT, "jobs that change"),
                    "held_otherwise": (_COUNT, "jobs with a place held under one only"),
                },
                "how many jobs",
            ),
            "places": ({"all": (_COUNT, "all"), "changed": (_COUNT, "changed")}, "how many places"),
            "ways": (_WAYS, "in which ways places change"),
            "rules": (
                [
                    {
                        "rule": (_TEXT, "the rule, empty for another shop file"),
                        "file": (_TEXT, "its file"),
                        "line": (_COUNT, "its line"),
                        "how": (_TEXT, "new: it decides now; gone: it no longer does"),
                        "places": (_COUNT, "places"),
                        "jobs": (_COUNT, "jobs"),
                        "minutes": (_NUMBER, "more minutes, those of held places left out"),
                        "ways": (_WAYS, "in which ways"),
                    }
                ],
                "by rule, holds first, then what gets laxer",
            ),
            "largest": (
                [
                    {
                        "job": (_TEXT, "the file"),
                        "places": (_COUNT, "changed places"),
                        "minutes": (_NUMBER, "more minutes"),
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
            "job": (_TEXT, "the job's number"),
            "date": (["string", "null"], "the job's date"),
            "in_force": (_YES, "whether every layer was in force then"),
            "layers": (
                [
                    {
                        "layer": (_TEXT, "the layer"),
                        "version": (_TEXT, "its version on the card"),
                        "digest": (_TEXT, "its digest on the card"),
                        "was": (_TEXT, "what became of it"),
                        "version_now": (["string", "null"], "its version now"),
                        "since": (["string", "null"], "from when that content counted"),
                        "until": (["string", "null"], "until when"),
                        "approved_by": (_TEXT, "who approved it"),
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
                name: (_ANY, fact_says(name) if name in FACTS else f"{name.replace('_', ' ')} of the spot")
                for name in SPOT_COLUMNS
            }
        ],
    ),
    "gate": (
        "what `gate --json` prints, one line a job",
        {
            "clear": (_YES, "whether nothing holds"),
            "stage": (_TEXT, "the stage that is worked on"),
            "holds": (
                [
                    {
                        "place": (_TEXT, "panel/feature, or the panel"),
                        "kind": (_TEXT, "which kind of hold"),
                        "why": (_TEXT, "what holds"),
                        "mend": (_TEXT, "what mends it"),
                    }
                ],
                "what holds",
            ),
            "found": ([{"*": (_ANY, "what was found there")}], "what looks found and is not mended"),
            "told": ([(_TEXT, "a remark")], "what is told and holds nothing"),
            "expires": (["string", "null"], "until when clear counts"),
            "job": (_TEXT, "the job's number"),
            "file": (_TEXT, "its file"),
        },
    ),
    "lines": (
        "what `lines --json` prints",
        {
            "flake": (
                {
                    "class": (_TEXT, "flake class"),
                    "d50_um": (_NUMBER, "median diameter by area, µm"),
                    "log_sd": (_NUMBER, "spread of its logarithm"),
                    "tilt_deg": (_NUMBER, "spread of tilt, degrees"),
                },
                "the flake it is about",
            ),
            "zone": (_TEXT, "fade or colour"),
            "set_solids": (_NUMBER, "of the wet bed"),
            "risk_limit": (_MAYBE, "the risk that rules allow"),
            "rows": (
                [
                    {
                        "tool": (_TEXT, "the tool"),
                        "grade": (_TEXT, "the grade"),
                        "coats": (_COUNT, "coats of wet bed"),
                        "arcsec": (_NUMBER, "line strength in arcseconds"),
                        "risk": (_NUMBER, "risk that it shows, 0 to 1"),
                    }
                ],
                "every tool with every grade",
            ),
        },
    ),
    "why": (
        "what `why --json` prints",
        {
            "short": ([(_TEXT, "a line")], "what is done there and what decides it, in ten lines"),
            "because": (
                [
                    {
                        "spot": (_TEXT, "id of the spot it is about"),
                        "kind": (_TEXT, "rule, or what the line model said: estimate, silence"),
                        "output": (_TEXT, "the answer's name"),
                        "value": (_ANY, "the answer"),
                        "rule": (_TEXT, "id of the rule; line-model for the line model"),
                        "layer": (_TEXT, "the layer it stands in"),
                        "file": (_TEXT, "its file, empty for the line model"),
                        "line": (_COUNT, "its line there; 0 for the line model"),
                        "says": (_TEXT, "what it says"),
                        "source": (_TEXT, "its source, or how it is known"),
                    }
                ],
                "every reason behind every answer there",
            ),
            "sections": (
                [{"title": (_TEXT, "what it is about"), "lines": ([(_TEXT, "a line")], "what is said")}],
                "what is behind every number of a place",
            ),
        },
    ),
    "day": (
        "what `day --to json` writes",
        {
            "jobs": (
                [
                    {
                        "path": (_TEXT, "the file"),
                        "number": (_TEXT, "the job's number"),
                        "vehicle": (_TEXT, "the vehicle"),
                        "colour": (_TEXT, "the colour"),
                        "clear": (_YES, "whether nothing holds"),
                        "stage": (_TEXT, "the stage that is worked on"),
                        "next": (_TEXT, "what is to do next"),
                        "by": (_TEXT, "who worked on it last"),
                        "age_h": (_MAYBE, "hours since"),
                        "mix_ml": (_COUNT, "wet bed to mix, ml"),
                        "minutes": (_NUMBER, "minutes of work"),
                        "error": (_TEXT, "why it could not be read, else empty"),
                    }
                ],
                "every job of the folder",
            ),
            "sums": (
                {
                    "mix_ml": (_COUNT, "wet bed, ml"),
                    "minutes": (_NUMBER, "minutes"),
                    "powder": (_COUNT, "times guide coat goes on"),
                    "discs": (_DISCS, "discs by grade"),
                },
                "the sums of the cards",
            ),
        },
    ),
    "fit": (
        "what `fit --json` prints",
        {
            "numbers": ([_FITTED], "every number of the fit; rows 0 stay as they are"),
            "rows": (_COUNT, "rows in all, outcomes and wet looks too"),
            "next": ([_NEXT], "panels to spray next, in order"),
            "scatter": (_FITTED, "how one panel scatters about the threshold, in ln A"),
            "kinds": ({"*": (_COUNT, "rows of this kind")}, "test panels, outcomes, wet looks"),
            "panels": (_COUNT, "different panels"),
            "judges": (_COUNT, "judges named"),
            "fixed": ([_FIXED], "what the data fix of threshold and depth together"),
            "told": ([{"kind": (_TEXT, "what is told"), "says": (_TEXT, "in words"), "*": _EVERY}], "told"),
            "calibration": (
                {"before": (_SCORED, "by the numbers in force"), "after": (_SCORED, "fitted, left out")},
                "how well lines are predicted",
            ),
            "check": (["object", "null"], "whether rows agree with the numbers in force, with --check"),
            "jobs": (["object", "null"], "what changes on the shop's own jobs"),
            "written": ([(_TEXT, "a file")], "files written, with --out"),
        },
    ),
    "flakes": (
        "what `flakes --json` prints",
        {
            "flakes": (_COUNT, "how many were measured"),
            "d50_um": (_NUMBER, "median diameter by area, in um"),
            "low": (_NUMBER, "low end of its 90 % interval"),
            "high": (_NUMBER, "high end of its 90 % interval"),
            "log_sd": (_NUMBER, "standard deviation of ln diameter, by area"),
            "log_sd_low": (_NUMBER, "low end of its 90 % interval"),
            "log_sd_high": (_NUMBER, "high end of its 90 % interval"),
            "class": (_TEXT, "the class whose size is nearest"),
            "finest_class": (_TEXT, "the finest class that the interval reaches into"),
            "on_45um_sieve": (_NUMBER, "part by area above 45 um"),
            "told": ([(_TEXT, "a sentence")], "what to know of it"),
        },
    ),
    "times": (
        "what `times --json` prints",
        {
            "kinds": (
                [
                    {
                        "do": (_TEXT, "clean, scuff, powder, sand, look or wipe"),
                        "on": (_TEXT, "the kind of line scuffed, the surface sanded; else empty"),
                        "bouts": (_COUNT, "bouts of work that it was in"),
                        "planned": (_NUMBER, "planned minutes"),
                        "real": (_NUMBER, "minutes that the log shows"),
                        "ratio": (_NUMBER, "real for each planned one"),
                        "low": (_NUMBER, "a quarter of the bouts had less than this ratio"),
                        "high": (_NUMBER, "a quarter had more"),
                    }
                ],
                "how each kind of work went",
            ),
            "rates": (
                [
                    {
                        "name": (_TEXT, "its name in the shop file"),
                        "before": (_NUMBER, "the rate in force"),
                        "after": (_NUMBER, "the rate that would have planned it right"),
                        "bouts": (_COUNT, "bouts that bear on it"),
                    }
                ],
                "the shop's rates by its own times",
            ),
            "written": ([(_TEXT, "a file")], "files that were written"),
        },
    ),
}
"""What can be asked for, with what it is and its form."""


def output_schema(name: str) -> dict[str, Any]:
    """Return the JSON Schema of what a command prints."""
    return _schema(FORMS[name][1])


def _schema(form: JsonForm) -> dict[str, Any]:
    if isinstance(form, list):
        return {"type": "array", "items": _schema(form[0])}
    if isinstance(form, tuple):
        inner, says = form
        plain = isinstance(inner, str) or (
            isinstance(inner, list) and all(isinstance(one, str) for one in inner)
        )
        return {**({"type": inner} if plain else _schema(inner)), "description": says}
    anything = form.get("*")
    return {
        "type": "object",
        "properties": {key.removesuffix("?"): _schema(part) for key, part in form.items() if key != "*"},
        "required": [key for key in form if not key.endswith("?") and key != "*"],
        "additionalProperties": False if anything is None else _schema(anything),
    }
