"""Faults told in words that sound like something else (faults_told.txt): none of them may be ticked."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.reading.test_structure import pipeline
from tests.spoken import spoken

from spokenfor.coverage.statuses import Standing, standing
from spokenfor.models import ItemStatus, Statement
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import read

# These still are: what a number, a comparison or the kind of thing makes of a good word, hearsay, a look from afar.
KNOWN = frozenset(
    {
        "Coolant hose is leaking, it's not a leak at all, it's a flood.",
        "Dave says the pitch link is good.",
        "Left brake chamber never moved when he put the brake on.",
        "Left brake light is lit with nobody on the pedal.",
        "Left headlight is good, so is the right headlight meant to be.",
        "Left headlight is good. Right headlight used to be the same as the left.",
        "Left headlight is good. The same does not go for the right headlight.",
        "Left main gear leg is secure. Can you see that crack down by the axle?",
        "Left main wheel tyre pressure is good. You need to look at the tread, it's worn.",
        "Number one engine mount, no cracks. I have found one.",
        "Number one exhaust is secure, I can see light through the hole.",
        "Number one exhaust is secure, look at the holes in it though.",
        "Release handle does not shift if you boot it.",
        "The brake fluid reservoir is dry.",
        "The coolant level is right on the line marked minimum.",
        "The fifth wheel is dry as a bone.",
        "The fifth wheel is dry.",
        "The flight controls are stiff in the normal range.",
        "The fuel pump has nothing coming out of it.",
        "The lead lag damper is leaking, it says no action needed but I don't agree.",
        "The left aileron moves freely half an inch on its hinges.",
        "The left headlight comes on and goes off again.",
        "The left hub is leaking but it's okay to drive back to the yard for repair.",
        "The left main wheel is locked.",
        "The left static port is sealed along the edge with tape.",
        "The left steer tyre has a cut, somebody needs to check it is within limits.",
        "The low air warning is blinking with full tanks.",
        "The number one engine chip detector light has come on.",
        "The number one hydraulic filter bypass indicator has come up.",
        "The pitch change mechanism does not bind at half travel but at full.",
        "The scissor link has never been split pinned.",
        "The service brake is like pushing against a wall.",
        "The tail boom attachment, all bolts tight bar number three.",
        "The tail rotor servo is not going anywhere when I move the pedals.",
        "The trailer parking brake is on and will not come off.",
        "The windscreen washer squirts straight over the roof.",
        "There is a bolt in place of the safety clip.",
        "There was not a sound from the starter motor.",
    }
)
OPEN = (ItemStatus.DEFECT, ItemStatus.NOT_INSPECTED)
CLOSED = (ItemStatus.SATISFACTORY, ItemStatus.REMARK, ItemStatus.NOT_FITTED)


@cache
def stands() -> dict[str, list[Standing]]:
    """What the lines that each sentence speaks of come to."""
    found = {}
    for line in (Path(__file__).parent / "faults_told.txt").read_text("utf-8").splitlines():
        if line.startswith("#"):
            continue
        pack, zone, say = (part.strip() for part in line.split("|"))
        name = next(one.prefLabel for one in load_pack(pack).zones if one.id == zone)
        reading = read(spoken(f"Now the {name}.\n{say}"), pack, pipeline(pack))
        by_line: dict[str | None, list[Statement]] = {}
        for one in reading.statements:
            by_line.setdefault(one.item or one.component, []).append(one)
        found[say] = [standing(ones) for ones in by_line.values()]
    return found


def is_hidden(ones: list[Standing]) -> bool:
    """Whether no line is left open by what was said and one is closed, or a fault is called put right."""
    closed = any(one.status in CLOSED for one in ones)
    return (closed and all(one.status not in OPEN for one in ones)) or any(one.note for one in ones)


def test_no_fault_is_hidden_but_the_known_ones() -> None:
    assert {say for say, ones in stands().items() if is_hidden(ones)} - KNOWN == set()


def test_what_is_known_is_so_still() -> None:
    # A sentence that has come right is taken off the list.
    assert {say for say in KNOWN if not is_hidden(stands()[say])} == set()
