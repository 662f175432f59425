"""What is report.html: one page, no network, that shows the sound behind every line?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from functools import cache
from typing import Any

from jinja2 import Environment

from spokenfor.models import FlaggedReading, Result, Transcript
from spokenfor.reporting.environment import environment, report_style, static_text, with_printing
from spokenfor.reporting.gaps import (
    bottom_line,
    by_zone,
    listen_first,
    not_covered,
    tally,
    unheard_seconds,
    without_finding,
    zones_in_order,
)
from spokenfor.reporting.heard_lines import heard_lines
from spokenfor.reporting.labels import Labels
from spokenfor.reporting.lines import Lines, findings_in_order, flagged_in_order
from spokenfor.reporting.policy import policy_hash
from spokenfor.reporting.review_shown import ReviewShown
from spokenfor.reporting.sound_quality import sound_lines
from spokenfor.reporting.thumbnails import CLOCK_WORDS, Picture, photo_lines
from spokenfor.reporting.timeline import Timeline
from spokenfor.reporting.walk_order import out_of_order
from spokenfor.reporting.walk_strip import walk_strip
from spokenfor.reporting.wording import (
    READING_WORDS,
    REASON_WORDS,
    day_and_time,
)


def report_html(
    result: Result,
    transcript: Transcript,
    sound: Mapping[int, str],
    pictures: Mapping[str, Picture] | None = None,
    review: ReviewShown | None = None,
) -> str:
    """Render the page. `sound` gives the address of each recording that can be played, `pictures` what can be
    shown of each photo, by id. With `review` the result is the reviewed one, and what people decided stands
    first and beside each line."""
    style = report_style()
    script = with_printing(static_text("page.js"))
    contents = page_contents(result, transcript, sound)
    contents["photos"] = photo_lines(result, pictures or {}, Timeline(result.recordings, sound))
    if review is not None:
        contents |= _reviewed(result, review)
    return (
        _environment()
        .get_template("report.html")
        .render(
            contents,
            style=style,
            script=script,
            style_hash=policy_hash(style),
            script_hash=policy_hash(script),
        )
    )


def _reviewed(result: Result, review: ReviewShown) -> dict[str, Any]:
    """What a review changes on the page."""
    return {
        "review": review,
        "made_by_person": without_finding(result),
        "decided": review.by_subject,
        "settled": review.settled,
        "listen_first": [one for one in listen_first(result) if one.id not in review.settled],
    }


@cache
def _environment() -> Environment:
    return environment()


def page_contents(
    result: Result, transcript: Transcript, sound: Mapping[int, str]
) -> dict[str, Any]:
    """What the templates of a report show, by the names that they use; `sound` as in report_html."""
    timeline = Timeline(result.recordings, sound)
    lines, labels = Lines(result, timeline), Labels(result)
    missing, zones = not_covered(result), zones_in_order(result)
    return {
        "result": result,
        "inspection": result.inspection,
        "started": day_and_time(result.inspection.started),
        "length": timeline.total,
        "bottom": bottom_line(result),
        "tally": tally(missing),
        "item": lines.item,
        "zones": zones,
        "out_of_order": out_of_order(zones),
        "visits": {zone.id: list(map(timeline.passage, zone.visits)) for zone in result.zones},
        "not_covered": by_zone(result, missing, required=True),
        "not_required": by_zone(result, not_covered(result, required=False), required=False),
        "findings": [lines.finding(*one) for one in enumerate(findings_in_order(result))],
        "flagged": [lines.flagged(one) for one in flagged_in_order(result)],
        "readings": _readings(result),
        "sheet": by_zone(result, result.items),
        "stray": lines.stray(),
        "strip": walk_strip(result, timeline),
        "repairs": [(one, timeline.passage(one.evidence)) for one in result.repairs],
        "unheard": [
            (
                timeline.passage(one),
                one,
                REASON_WORDS[one.reason],
                list(map(labels.zone, one.zones)),
            )
            for one in result.unheard
        ],
        "unheard_seconds": unheard_seconds(result),
        "heard": heard_lines(transcript, result, timeline),
        "sound": sound,
        "sound_lines": sound_lines(result.recordings, timeline),
        "listen_first": listen_first(result),
        "photos": [],
        "clock_words": CLOCK_WORDS,
        "review": None,
        "made_by_person": [],
        "decided": {},
        "settled": frozenset(),
    }


def _readings(result: Result) -> list[tuple[str, str, int]]:
    counts = Counter(one.reading for one in result.flagged_words)
    return [
        (reading.value, READING_WORDS[reading], counts[reading])
        for reading in FlaggedReading
        if counts[reading]
    ]
