"""Times, dates, quantities and statuses as they are said to people."""

import pytest

from spokenfor.models import ItemStatus, Quantity, Result
from spokenfor.reporting.wording import (
    STATUS_WORDS,
    clock,
    day_and_time,
    duration,
    listed,
    plain,
    quantity_words,
    status_words,
)


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(0, "0:00"), (9.99, "0:09"), (61, "1:01"), (3599.9, "59:59"), (3600, "1:00:00")],
)
def test_a_time_is_the_second_it_lies_in(seconds: float, said: str):
    assert clock(seconds) == said


@pytest.mark.parametrize(("seconds", "said"), [(0, "0:00"), (0.2, "0:01"), (42, "0:42")])
def test_a_short_unheard_stretch_is_never_nothing(seconds: float, said: str):
    assert duration(seconds) == said


@pytest.mark.parametrize(
    ("started", "said"),
    [
        ("2025-05-03T07:41:00+00:00", "3 May 2025, 07:41 UTC"),
        ("2025-05-03T07:41:00Z", "3 May 2025, 07:41 UTC"),
        ("2025-05-03T09:41:00+02:00", "3 May 2025, 07:41 UTC"),
        ("last Tuesday", "last Tuesday"),
    ],
)
def test_dates(started: str, said: str):
    assert day_and_time(started) == said


@pytest.mark.parametrize(
    ("quantity", "said"),
    [
        (Quantity(text="two", value=2, unit=""), '2 ("two")'),
        (Quantity(text="5 mm", value=5, unit="mm"), "5 mm"),
        (
            Quantity(text="5 mm", value=5, unit="mm", limit="at most 6 mm", within=True),
            "5 mm, against at most 6 mm: within it",
        ),
        (
            Quantity(text="5 mm", value=5, unit="mm", limit="at most 2 mm", within=False),
            "5 mm, against at most 2 mm: beyond it",
        ),
        (
            Quantity(text="5 mm", value=5, unit="mm", limit="a limit of another unit"),
            "5 mm, against a limit of another unit",
        ),
    ],
)
def test_quantities_with_their_limit(quantity: Quantity, said: str):
    assert quantity_words(quantity) == said


def test_every_status_has_words():
    assert set(STATUS_WORDS) == set(ItemStatus)
    assert len(set(STATUS_WORDS.values())) == len(ItemStatus)


def test_by_reference_never_reads_as_a_plain_result(result: Result):
    item = result.items[0]
    for status in ItemStatus:
        item.status, item.by_reference = status, True
        assert "by reference" in status_words(item)
        assert status_words(item) not in STATUS_WORDS.values()


@pytest.mark.parametrize(
    ("name", "said"),
    [("main-gearbox", "main gearbox"), ("No. 1", "No. 1"), ("O-ring", "O-ring")],
)
def test_identifiers_are_said_in_words(name: str, said: str):
    assert plain(name) == said


@pytest.mark.parametrize(
    ("names", "said"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_lists(names: list[str], said: str):
    assert listed(names) == said
