"""Sentences written blind to tempt the reading into a wrong tick (tempting.txt): none is ticked but those that are
known to be, and most are read rightly."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.reading.labelled_sentences import Labelled, got
from tests.reading.test_structure import pipeline

# Ticked wrongly, and known to be: what the sample looks like, a colour on the wrong side, "not by a long way", a
# correction of the thing itself in mid sentence, a fault of one part told of another...
KNOWN = frozenset(
    {
        "Are both headlights on, mate? He says left yes, right no.",
        "Baggage door more or less shuts, it springs open if I lean on the skin.",
        "Battery, starter motor, fuel pump, that last one's dry and rigid.",
        "Bees are said to love a static port in August. I have looked straight into the "
        "left one with the torch, and there is one walled up in there with mud.",
        "Cabin door shuts, latches and locks, everything but opens again.",
        "Engine oil's on the mark, coolant isn't, not by a long way.",
        "Fuel drain, half the sample is a clear bubble sitting at the bottom under the blue.",
        "Gauges, everything reads but the fuel.",
        "Left tailplane skin is smooth and tight everywhere but for one scratch near the "
        "tip that has not gone through the paint. It is nothing to bother about, but I "
        "put it on record.",
        "Nav light's on and it shows red on this side.",
        "Number one starter generator, brushes are long, mounting is tight, cables are "
        "secure. All of that is good except for one terminal boot that is burnt right "
        "through.",
        "Oil cooler on the right looks lovely from the front, fins straight and clean. "
        "Reach round behind it and your fingers come back black with fresh oil from the "
        "lower union.",
        "Oil level, it barely wets the end of the dipstick.",
        "On this fleet number two manifold is known for weeping at the lower plug. You "
        "wipe it and wait and see whether it comes back, and on this one it does come "
        "back, fast.",
        "Right front indicator is cracked, scrub that, I am facing the cab and so it is "
        "on my right but it is the left indicator of the vehicle. Left front indicator "
        "has a cracked lens.",
        "Six propeller bolts and five of them are wire locked, the other one has nothing on it.",
        "Strobe, the switch is on and I'm looking at dark glass.",
        "The carburettor is tight on its flange and the throttle arm has its split pin. "
        "There is a fuel stain below the bowl which is wet, and it comes back when I wipe"
        " it.",
        "The front bumper's solid other than the left end, that flaps about.",
        "The left wing leading edge is smooth and clean from the root as far as the "
        "strut, and then just outboard of it there is a dent deep enough to lay a finger "
        "in.",
        "The nose gear actuator has no leaks and is quite, hang on, I take that back. "
        "There is fresh red fluid along the bottom of it which I had not seen from the "
        "other side.",
        "The red air line is chafed where it lies on the deck plate, no, pardon me, not "
        "the red one, the yellow one, and the red line next to it is unmarked.",
        "The right pitot cover is off and stowed, sorry, I am on the other side of the "
        "nose now, so that is the left pitot cover which is off and stowed.",
        "On the right end plate every screw is tight and the skin is sound. The paint has"
        " a small chip at the trailing edge, no more than cosmetic, and I have noted it.",
        "This owner never bought a carbon monoxide detector, and there is none stuck on "
        "the panel or anywhere else in here. The sheet does not ask for one, so carry on.",
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
