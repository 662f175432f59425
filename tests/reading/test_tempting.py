"""Sentences written blind to tempt the reading into a wrong tick (tempting.txt): none is ticked but those that are
known to be, and most are read rightly."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.reading.labelled_sentences import Labelled, got
from tests.reading.test_structure import pipeline

# Ticked wrongly, and known to be: what the sample looks like, a colour on the wrong side, "not by a long way"...
KNOWN = frozenset(
    {
        "Are both headlights on, mate? He says left yes, right no.",
        "Six propeller bolts and five of them are wire locked, the other one has nothing on it.",
        "Gauges, everything reads but the fuel.",
        "The front bumper's solid other than the left end, that flaps about.",
        "Cabin door shuts, latches and locks, everything but opens again.",
        "Strobe, the switch is on and I'm looking at dark glass.",
        "Nav light's on and it shows red on this side.",
        "Fuel drain, half the sample is a clear bubble sitting at the bottom under the blue.",
        "Oil level, it barely wets the end of the dipstick.",
        "Baggage door more or less shuts, it springs open if I lean on the skin.",
        "Engine oil's on the mark, coolant isn't, not by a long way.",
        "Battery, starter motor, fuel pump, that last one's dry and rigid.",
    }
)


@cache
def read() -> list[tuple[str, str, str]]:
    """What was said of which line, what should stand there, what does."""
    found = []
    lines = (Path(__file__).parent / "tempting.txt").read_text("utf-8").splitlines()
    for line in lines:
        if line.startswith("#"):
            continue
        pack, zone, say, item, verdict = (part.strip() for part in line.split("|"))
        entry = Labelled(pack=pack, zone=zone, say=say, kind="tempting", items={})
        stands = got(entry, pipeline(pack)).items.get(f"{zone}.{item}", "-")
        found.append((say, verdict, stands))
    return found


def test_no_sentence_is_ticked_wrongly_but_the_known_ones() -> None:
    good = ("satisfactory", "by_reference")
    ticked = {
        say for say, verdict, stands in read() if stands == "satisfactory" and verdict not in good
    }
    assert ticked - KNOWN == set()


def test_most_are_read_rightly_and_the_plain_ones_are_ticked() -> None:
    right = sum(verdict == stands for _, verdict, stands in read())
    plain = [stands for _, verdict, stands in read() if verdict == "satisfactory"]
    assert right / len(read()) > 0.75
    assert plain.count("satisfactory") / len(plain) > 0.75
