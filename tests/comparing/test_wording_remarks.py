"""What was said of an item, and the habit that a trainer hears in it."""

from __future__ import annotations

import pytest
from tests.comparing.made_walks import said, walk
from tests.spoken import spoken

from spokenfor.comparing.sheet import common_sheet
from spokenfor.comparing.walks import Walk
from spokenfor.comparing.wording_remarks import aspect_counts, wording_remarks
from spokenfor.models import Statement, Verdict


def remarks(made: Walk) -> list[tuple[str, str]]:
    return [(one.habit.value, one.thing) for one in wording_remarks(common_sheet([made]), made)]


@pytest.mark.parametrize(
    ("line", "habit"),
    [
        ("nose | cone (condition) | named | This is the cone.", "named"),
        ("nose | cone (condition) | looked_for | Checking for cracks.", "looked_for"),
        ("nose | cone (condition) | by_reference | Same as the other.", "by_reference"),
        ("nose | cone (condition) | satisfactory | The cone looks good.", "vague_praise"),
        ("nose | cone (condition) | satisfactory | Cone, all right.", "vague_praise"),
        ("nose | cone (condition+) | satisfactory | Good, no cracks.", None),
        ("nose | cone (condition) | satisfactory | The door slides freely.", None),
        ("nose | cone | satisfactory | The cone is good.", None),
        ("nose | cone (condition) | defect | It's no good, it is cracked.", None),
        ("nose | cone (condition) | not_mentioned |", None),
    ],
)
def test_habit_of_a_line(line: str, habit: str | None) -> None:
    assert remarks(walk("A", line)) == ([(habit, "cone")] if habit else [])


def test_a_result_of_nothing_named() -> None:
    made = walk("A", "nose | cone | not_mentioned |")
    made.result.statements.append(
        Statement(
            id="s9",
            item=None,
            component=None,
            position=None,
            zone=None,
            verdict=Verdict.SATISFACTORY,
            evidence=said("Secure.", 40, 41),
            confidence=0.9,
        )
    )
    assert remarks(made) == [("no_component", "A result")]


def test_praise_of_nothing_is_heard_in_the_transcript() -> None:
    from dataclasses import replace

    transcript = spoken("Good morning. Nose cone is secure.\nAll good here.\nOkay, next zone.")
    made = replace(walk("A", "nose | cone | not_mentioned |"), transcript=transcript)
    (remark,) = wording_remarks(common_sheet([made]), made)
    assert (remark.habit.value, remark.said.text) == ("vague_praise", "All good here.")
    assert remark.advice == "Say what is good about it."
    # Where something was said of a part in the same breath, it is praise of that part.
    start, end = remark.said.start, remark.said.end
    covering = Statement(
        id="s9",
        item=None,
        component="battery",
        position=None,
        zone=None,
        verdict=Verdict.SATISFACTORY,
        evidence=said("All good here.", start, end),
        confidence=0.9,
    )
    made.result.statements.append(covering)
    assert wording_remarks(common_sheet([made]), made) == []


def test_advice_names_what_the_sheet_asks_for() -> None:
    made = walk("A", "nose | cone (condition security) | named | This is the cone.")
    (remark,) = wording_remarks(common_sheet([made]), made)
    assert remark.advice == (
        "Name it, then say what you found. The sheet asks for condition and security."
    )


def test_unsaid_aspects_are_counted_where_a_result_was_given() -> None:
    made = walk(
        "A",
        "nose | cone (condition+ security) | satisfactory | Clean.",
        "nose | battery (condition security) | satisfactory | Charged.",
        "nose | light (condition) | named | The light.",
        "nose | net (condition) | not_fitted | No net.",
        "nose | door (condition) | by_reference | Same.",
    )
    counts = [
        (one.name, one.stated, one.asked, one.unsaid)
        for one in aspect_counts(common_sheet([made]), made)
    ]
    assert counts == [("security", 0, 2, ["cone", "battery"]), ("condition", 1, 2, ["battery"])]
