"""What do the pages of a comparison and of feedback look like? One file each, no network."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import Environment
from markupsafe import Markup

from spokenfor import CAUTIONS
from spokenfor.comparing.clip_list import ClipList
from spokenfor.comparing.comparison import Comparison
from spokenfor.comparing.drawings import lanes, progress_plot, slopes
from spokenfor.comparing.feedback import feedback
from spokenfor.comparing.progress import Person
from spokenfor.comparing.sound_address import Sound, no_sound
from spokenfor.comparing.wording_remarks import HABIT_WORDS
from spokenfor.reporting.environment import environment, report_style, with_printing
from spokenfor.reporting.policy import policy_hash
from spokenfor.reporting.wording import plain


def comparison_html(
    comparison: Comparison, sound: Sound = no_sound, reports: Mapping[str, str] | None = None
) -> str:
    """The page of a comparison. `sound` gives the address of a passage's sound, `reports` that of each walk's
    report by its mark."""
    return _page(
        "comparison.html",
        comparison_main(comparison, sound, reports),
        warnings=comparison.cautions(comparison.walks),
        comparison=comparison,
    )


def feedback_html(comparison: Comparison, person: Person, sound: Sound = no_sound) -> str:
    """The page of feedback for one person, to be read on a phone or printed."""
    walk = person.walks[-1]
    shown = [walk, *([comparison.reference] if comparison.reference else [])]
    return _page(
        "feedback.html",
        feedback_main(comparison, person, sound),
        warnings=comparison.cautions(shown),
        walk=walk,
    )


def comparison_main(
    comparison: Comparison, sound: Sound = no_sound, reports: Mapping[str, str] | None = None
) -> Markup:
    """What stands in the main part of the page, without its heading: for pages of the workbench, which give
    it `compared_style`, `compared_script` and a policy of their own."""
    values = {
        "habits": HABIT_WORDS,
        "lanes": lanes(comparison),
        "slopes": [slopes(comparison, walk.mark) for walk in comparison.walks],
        "plot": progress_plot(comparison),
        "aspects": _aspects(comparison),
        "reports": reports or {},
    }
    return _main("comparison_main.html", comparison, sound, values)


def feedback_main(comparison: Comparison, person: Person, sound: Sound = no_sound) -> Markup:
    """The main part of the page of feedback, as `comparison_main`."""
    told = feedback(comparison, person)
    values = {
        "told": told,
        "plot": progress_plot(comparison) if len(person.walks) > 1 else None,
        "slope": slopes(comparison, told.walk.mark),
    }
    return _main("feedback_main.html", comparison, sound, values)


@cache
def compared_style() -> str:
    """The style sheet that the main parts need besides page.css of the report."""
    return _own_text("compared.css")


@cache
def compared_script() -> str:
    """The script that plays clips; without it their links lead to the sound itself."""
    return with_printing(_own_text("clips.js"))


def _main(template: str, comparison: Comparison, sound: Sound, values: dict[str, Any]) -> Markup:
    return Markup(
        _environment()
        .get_template(template)
        .render(comparison=comparison, clips=ClipList(sound), **values)
    )


def _page(template: str, main: Markup, **values: Any) -> str:
    style = report_style() + compared_style()
    script = compared_script()
    return (
        _environment()
        .get_template(template)
        .render(
            main=main,
            cautions=CAUTIONS,
            style=Markup(style),
            script=Markup(script),
            style_hash=policy_hash(style),
            script_hash=policy_hash(script),
            **values,
        )
    )


def _aspects(comparison: Comparison) -> list[tuple[str, dict[str, str]]]:
    """For each aspect and walk: stated how often of how many; most asked first."""
    counts = {mark: {one.name: one for one in found} for mark, found in comparison.aspects.items()}
    asked: dict[str, int] = {}
    for found in counts.values():
        for name, one in found.items():
            asked[name] = asked.get(name, 0) + one.asked
    return [
        (
            name,
            {
                mark: f"{found[name].stated} of {found[name].asked}"
                if name in found
                else "no result"
                for mark, found in counts.items()
            },
        )
        for name in sorted(asked, key=lambda one: (-asked[one], one))
    ]


@cache
def _environment() -> Environment:
    made = environment("spokenfor.comparing")
    made.filters["plain"] = plain
    return made


def _own_text(name: str) -> str:
    return files("spokenfor.comparing").joinpath("templates", name).read_text(encoding="utf-8")
