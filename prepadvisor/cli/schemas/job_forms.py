"""The forms of what the commands for jobs and test panels print as JSON, each key with a sentence."""

from typing import Final

from prepadvisor.cli.schemas.json_types import (
    A_COUNT,
    A_NUMBER,
    A_NUMBER_OR_NULL,
    A_TEXT,
    A_YES,
    ANYTHING,
    DISCS_FORM,
    JsonForm,
)

_EVERY: Final = (["string", "number", "boolean", "array", "object", "null"], "a fact of it")
_FITTED: Final = {
    "name": (A_TEXT, "threshold_arcsec, depth_per_grain.TOOL, bed_set_solids, flake_um.COLOUR"),
    "value": (A_NUMBER, "most likely value"),
    "low": (A_NUMBER, "low end of the 90 % interval"),
    "high": (A_NUMBER, "high end of the 90 % interval"),
    "before": (A_NUMBER, "the number in force"),
    "rows": (A_COUNT, "rows that bear on it"),
    "before_low": (A_NUMBER, "low end of what was believed before"),
    "before_high": (A_NUMBER, "high end of what was believed before"),
}
_NEXT: Final = {
    "flake": (A_TEXT, "flake class"),
    "tool": (A_TEXT, "tool to sand with"),
    "grade": (A_TEXT, "grade, on the shop's shelf"),
    "coats": (A_COUNT, "coats of wet bed"),
    "gain": (A_NUMBER, "expected information about the shop's decisions, in nat a decision"),
    "says": (A_TEXT, "the reason in words"),
    "because": ({"*": _EVERY}, "the reason as facts"),
}
_FIXED: Final = {
    "tool": (A_TEXT, "tool or pad"),
    "exponent": (A_NUMBER, "e of T / k^e"),
    "value": (A_NUMBER, "T / k^e"),
    "low": (A_NUMBER, "low end of its 90 % interval"),
    "high": (A_NUMBER, "high end of its 90 % interval"),
    "grain_um": (A_NUMBER, "grain whose line is seen half of the time, in um"),
    "grain_low_um": (A_NUMBER, "low end of its 90 % interval"),
    "grain_high_um": (A_NUMBER, "high end of its 90 % interval"),
    "flake": (A_TEXT, "in which flake"),
    "narrower": (A_NUMBER, "how many times narrower than T alone"),
    "says": (A_TEXT, "in words"),
}
_RATE: Final = {
    "factor": (A_TEXT, "what the places have in common: flake, tool, grade, rule and so on"),
    "value": (A_TEXT, "which of it"),
    "places": (A_COUNT, "places reported on"),
    "seen": (A_COUNT, "of these with lines seen"),
    "share": (A_NUMBER, "seen / places"),
    "low": (A_NUMBER, "low end of its 95 % interval"),
    "high": (A_NUMBER, "high end of its 95 % interval"),
    "jobs": (A_COUNT, "jobs that they are of"),
    "worth": (A_NUMBER, "independent places that carry as much"),
    "predicted": (A_NUMBER_OR_NULL, "mean risk by the line model; null without any"),
    "judged": (A_COUNT, "places that the line model has something to say of"),
}
_REPORTED: Final = {
    "job": (A_TEXT, "the job's number"),
    "place": (A_TEXT, "panel/feature"),
    "flake": (A_TEXT, "flake class"),
    "hand": (A_TEXT, "scuff ahead of a machine, or not recorded"),
    "tool": (A_TEXT, "tool of the last touch, or not recorded"),
    "grade": (A_TEXT, "grade of the last touch, or not recorded"),
    "coats": (A_TEXT, "coats of wet bed as logged, or not recorded"),
    "reach": (A_TEXT, "hand only or machine"),
    "in_sight": (A_YES, "whether any of it can be seen from outside"),
    "seen": (A_YES, "whether lines were seen"),
    "note": (A_TEXT, "the report's note"),
    "rules": ([(A_TEXT, "a rule's id")], "the rules that decided there"),
    "zone": (A_TEXT, "the strictest zone it lies in, or not known"),
    "cleared": (A_YES, "whether the job ever was clear to mask"),
    "risk": (A_NUMBER_OR_NULL, "what the line model predicts for what was done; null where it says nothing"),
    "colour": (A_TEXT, "the colour's name"),
}
_COUNTED: Final = {"places": (A_COUNT, "how many"), "seen": (A_COUNT, "of these with lines seen")}
_SCORED: Final = ["object", "null"]

JOB_FORMS: Final[dict[str, tuple[str, JsonForm]]] = {
    "gate": (
        "what `gate --json` prints, one line a job",
        {
            "clear": (A_YES, "whether nothing holds"),
            "stage": (A_TEXT, "the stage that is worked on"),
            "holds": (
                [
                    {
                        "place": (A_TEXT, "panel/feature, or the panel"),
                        "kind": (A_TEXT, "which kind of hold"),
                        "why": (A_TEXT, "what holds"),
                        "mend": (A_TEXT, "what mends it"),
                    }
                ],
                "what holds",
            ),
            "found": ([{"*": (ANYTHING, "what was found there")}], "what looks found and is not mended"),
            "told": ([(A_TEXT, "a remark")], "what is told and holds nothing"),
            "expires": (["string", "null"], "until when clear counts"),
            "job": (A_TEXT, "the job's number"),
            "file": (A_TEXT, "its file"),
        },
    ),
    "lines": (
        "what `lines --json` prints",
        {
            "flake": (
                {
                    "class": (A_TEXT, "flake class"),
                    "d50_um": (A_NUMBER, "median diameter by area, µm"),
                    "log_sd": (A_NUMBER, "spread of its logarithm"),
                    "tilt_deg": (A_NUMBER, "spread of tilt, degrees"),
                },
                "the flake it is about",
            ),
            "zone": (A_TEXT, "fade or colour"),
            "set_solids": (A_NUMBER, "of the wet bed"),
            "risk_limit": (A_NUMBER_OR_NULL, "the risk that rules allow"),
            "rows": (
                [
                    {
                        "tool": (A_TEXT, "the tool"),
                        "grade": (A_TEXT, "the grade"),
                        "coats": (A_COUNT, "coats of wet bed"),
                        "arcsec": (A_NUMBER, "line strength in arcseconds"),
                        "risk": (A_NUMBER, "risk that it shows, 0 to 1"),
                    }
                ],
                "every tool with every grade",
            ),
        },
    ),
    "why": (
        "what `why --json` prints",
        {
            "short": ([(A_TEXT, "a line")], "what is done there and what decides it, in ten lines"),
            "because": (
                [
                    {
                        "spot": (A_TEXT, "id of the spot it is about"),
                        "kind": (A_TEXT, "rule, or what the line model said: estimate, silence"),
                        "output": (A_TEXT, "the answer's name"),
                        "value": (ANYTHING, "the answer"),
                        "rule": (A_TEXT, "id of the rule; line-model for the line model"),
                        "layer": (A_TEXT, "the layer it stands in"),
                        "file": (A_TEXT, "its file, empty for the line model"),
                        "line": (A_COUNT, "its line there; 0 for the line model"),
                        "says": (A_TEXT, "what it says"),
                        "source": (A_TEXT, "its source, or how it is known"),
                    }
                ],
                "every reason behind every answer there",
            ),
            "sections": (
                [{"title": (A_TEXT, "what it is about"), "lines": ([(A_TEXT, "a line")], "what is said")}],
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
                        "path": (A_TEXT, "the file"),
                        "number": (A_TEXT, "the job's number"),
                        "vehicle": (A_TEXT, "the vehicle"),
                        "colour": (A_TEXT, "the colour"),
                        "clear": (A_YES, "whether nothing holds"),
                        "stage": (A_TEXT, "the stage that is worked on"),
                        "next": (A_TEXT, "what is to do next"),
                        "by": (A_TEXT, "who worked on it last"),
                        "age_h": (A_NUMBER_OR_NULL, "hours since"),
                        "mix_ml": (A_COUNT, "wet bed to mix, ml"),
                        "minutes": (A_NUMBER, "minutes of work"),
                        "error": (A_TEXT, "why it could not be read, else empty"),
                    }
                ],
                "every job of the folder",
            ),
            "sums": (
                {
                    "mix_ml": (A_COUNT, "wet bed, ml"),
                    "minutes": (A_NUMBER, "minutes"),
                    "powder": (A_COUNT, "times guide coat goes on"),
                    "discs": (DISCS_FORM, "discs by grade"),
                },
                "the sums of the cards",
            ),
        },
    ),
    "fit": (
        "what `fit --json` prints",
        {
            "numbers": ([_FITTED], "every number of the fit; rows 0 stay as they are"),
            "rows": (A_COUNT, "rows in all, outcomes and wet looks too"),
            "next": ([_NEXT], "panels to spray next, in order"),
            "scatter": (_FITTED, "how one panel scatters about the threshold, in ln A"),
            "kinds": ({"*": (A_COUNT, "rows of this kind")}, "test panels, outcomes, wet looks"),
            "panels": (A_COUNT, "different panels"),
            "judges": (A_COUNT, "judges named"),
            "fixed": ([_FIXED], "what the data fix of threshold and depth together"),
            "told": ([{"kind": (A_TEXT, "what is told"), "says": (A_TEXT, "in words"), "*": _EVERY}], "told"),
            "calibration": (
                {"before": (_SCORED, "by the numbers in force"), "after": (_SCORED, "fitted, left out")},
                "how well lines are predicted",
            ),
            "check": (["object", "null"], "whether rows agree with the numbers in force, with --check"),
            "jobs": (["object", "null"], "what changes on the shop's own jobs"),
            "written": ([(A_TEXT, "a file")], "files written, with --out"),
        },
    ),
    "flakes": (
        "what `flakes --json` prints",
        {
            "flakes": (A_COUNT, "how many were measured"),
            "d50_um": (A_NUMBER, "median diameter by area, in um"),
            "low": (A_NUMBER, "low end of its 90 % interval"),
            "high": (A_NUMBER, "high end of its 90 % interval"),
            "log_sd": (A_NUMBER, "standard deviation of ln diameter, by area"),
            "log_sd_low": (A_NUMBER, "low end of its 90 % interval"),
            "log_sd_high": (A_NUMBER, "high end of its 90 % interval"),
            "class": (A_TEXT, "the class whose size is nearest"),
            "finest_class": (A_TEXT, "the finest class that the interval reaches into"),
            "on_45um_sieve": (A_NUMBER, "part by area above 45 um"),
            "told": ([(A_TEXT, "a sentence")], "what to know of it"),
        },
    ),
    "outcomes": (
        "what `outcomes --json` prints",
        {
            "files": (A_COUNT, "job files read"),
            "without_report": (A_COUNT, "jobs that nobody reported on"),
            "rates": ([_RATE], "how often lines were seen, by what the places have in common"),
            "hidden": (_COUNTED, "places that nobody can see, left out of the rates"),
            "never_cleared": (
                _COUNTED,
                "places of jobs that never were clear to mask, left out of the rates",
            ),
            "failed": ([_REPORTED], "every place with lines seen"),
            "unreadable": (
                [{"file": (A_TEXT, "the file"), "why": (A_TEXT, "its first fault")}],
                "files that could not be read",
            ),
        },
    ),
    "colour-records": (
        "what `colours --json` prints",
        {
            "colours": (
                [
                    {
                        "book": (A_TEXT, "the word jobs call it by"),
                        "name": (A_TEXT, "its name"),
                        "code": (A_TEXT, "the shop's own or the maker's code"),
                        "flake": (A_TEXT, "flake class, or unknown"),
                        "flake_um": (A_NUMBER_OR_NULL, "measured size, in um"),
                        "tilt_deg": (A_NUMBER_OR_NULL, "measured spread of tilt, in degrees"),
                        "log_sd": (A_NUMBER_OR_NULL, "measured spread of ln diameter"),
                        "stages": (["integer", "null"], "2 or 3"),
                        "tone": (["string", "null"], "light, mid or dark"),
                        "notes": (A_TEXT, "for bed and blend"),
                        "sealed_by": (A_TEXT, "the lead who stands for it, else empty"),
                        "sealed_on": (["string", "null"], "the day it was sealed"),
                        "record": (
                            {
                                "panels": (A_COUNT, "test panels read"),
                                "show": (A_COUNT, "how many of them show a line"),
                                "barely": (A_COUNT, "how many barely do"),
                                "reports": (A_COUNT, "places of jobs reported on"),
                                "came_back": (A_COUNT, "at how many of them lines were seen"),
                                "wet_looks": (A_COUNT, "looks at a wet coat"),
                                "wet_lines": (A_COUNT, "how many of them found lines"),
                            },
                            "what the shop's own panels and jobs have of it",
                        ),
                    }
                ],
                "the colours of the book",
            ),
        },
    ),
    "times": (
        "what `times --json` prints",
        {
            "kinds": (
                [
                    {
                        "do": (A_TEXT, "clean, scuff, powder, sand, look or wipe"),
                        "on": (A_TEXT, "the kind of line scuffed, the surface sanded; else empty"),
                        "bouts": (A_COUNT, "bouts of work that it was in"),
                        "planned": (A_NUMBER, "planned minutes"),
                        "real": (A_NUMBER, "minutes that the log shows"),
                        "ratio": (A_NUMBER, "real for each planned one"),
                        "low": (A_NUMBER, "a quarter of the bouts had less than this ratio"),
                        "high": (A_NUMBER, "a quarter had more"),
                    }
                ],
                "how each kind of work went",
            ),
            "rates": (
                [
                    {
                        "name": (A_TEXT, "its name in the shop file"),
                        "before": (A_NUMBER, "the rate in force"),
                        "after": (A_NUMBER, "the rate that would have planned it right"),
                        "bouts": (A_COUNT, "bouts that bear on it"),
                    }
                ],
                "the shop's rates by its own times",
            ),
            "written": ([(A_TEXT, "a file")], "files that were written"),
        },
    ),
}
