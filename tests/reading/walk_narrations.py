"""Whole narrations with the zone of each sentence, and how the walk of one is found, for test_walk*.py."""

from __future__ import annotations

from functools import lru_cache

from audio_samples.script import Script
from spacy.language import Language
from spacy.tokens import Doc
from tests.spoken import PACK, spoken

from spokenfor.models import Transcript
from spokenfor.reading.heard_doc import transcript_doc
from spokenfor.reading.pipeline import COMPONENTS, build
from spokenfor.reading.walk import Walk
from spokenfor.samples import samples_folder

SCRIPTS = sorted((samples_folder() / "scripts").glob("*.yaml"))


@lru_cache(maxsize=4)
def pipeline(pack: str) -> Language:
    return build(pack)


def walked(text: str, pack: str = PACK) -> Doc:
    """The Doc of a narration, up to the walk."""
    nlp = pipeline(pack)
    doc = transcript_doc(nlp.vocab, spoken(text))
    for name in COMPONENTS[: COMPONENTS.index("spokenfor_walk") + 1]:
        doc = nlp.get_pipe(name)(doc)
    return doc


def walk_of(pack: str = PACK) -> Walk:
    found = pipeline(pack).get_pipe("spokenfor_walk")
    assert isinstance(found, Walk)
    return found


def zones_of(text: str, pack: str = PACK) -> list[str]:
    """The zone of each sentence as written: reading joins short ones ("Skid. Firm.")."""
    zones, doc = walk_of(pack).zones, walked(text, pack)
    return [
        zones[index]
        for sentence, index in zip(doc.sents, doc._.walk, strict=True)
        for _ in range(sum(token.text in ".?!" for token in sentence))
    ]


def written(script: Script) -> tuple[Transcript, list[str]]:
    """The words of a script as a transcript, a sentence a segment, and the true zone of each segment."""
    parts, zones = [], []
    for number, name in enumerate(script.recordings):
        stays = script.recordings[name]
        lines = [line for stay in stays for one in stay.says for line in one.sentences]
        zones += [stay.zone for stay in stays for one in stay.says for _ in one.sentences]
        part = spoken("\n".join(lines))
        for segment in part.segments:
            segment.recording = number
        parts.append(part)
    whole = parts[0].model_copy(
        update={
            "recordings": [part.recordings[0] for part in parts],
            "segments": [segment for part in parts for segment in part.segments],
            "ledger": [],
        }
    )
    return whole, zones


# Each line is a zone and what is said in it, sentence by sentence.
NARRATIONS = {
    "there and back": """
        nose: Starting at the nose. Nose cone is good. Landing light is good. Battery is secure.
        nose-gear: Nose gear next. Tyre is good. Oleo, dry.
        left-main-gear: Left main gear. Tyre is good. Brake is dry.
        nose-gear: Back to the nose gear, I forgot something. Shimmy damper, no leaks. Torque link is tight.
        left-main-gear: And left main gear again. Oleo, dry. Downlock is engaged.
        number-one-engine: Number one engine. Intake is clear. Oil level is good.
    """,
    "nothing announced": """
        nose: Nose cone is good. Chin windows are clean. Landing light is secure.
        nose-gear: Nose tyre is good. Shimmy damper is dry. Nose oleo, no leaks.
        left-cabin-side: Cockpit door is good. Cabin door slides.
        left-cabin-side: Static port is clear. Fuel filler cap is on.
        left-main-gear: Main tyre is good. Brake is dry. Main oleo is dry.
        number-one-engine: Cowling catches are flush. Intake is clear. Starter generator is secure.
        hydraulics: Hydraulic pumps are dry. Servos are dry. Reservoirs are good.
    """,
    "a thing seen from elsewhere": """
        rotor-head: Up at the rotor head. Mast is good. Swashplate is good.
        rotor-head: From up here the landing light looks fine by the way. Pitch links are tight.
        rotor-head: Lead lag dampers, no leaks. Blade roots are good.
        tail-boom-left: Down the tail boom. Driveshaft covers are latched. Hanger bearings are free.
    """,
    "talk in between": """
        left-main-gear: Left main gear. Tyre is good. Wheel is good.
        left-main-gear: Hello, yes, I'm on the machine. No, tell him after lunch. Two sugars. Thanks.
        left-main-gear: Where was I. Brake is dry. Downlock is engaged.
        number-one-engine: Up to the number one engine. Intake is clear.
    """,
    "one side and then the other": """
        number-one-engine: Left engine. Cowling is good.
        number-one-engine: Catches are flush. Fuel filter is dry. Exhaust is good.
        number-two-engine: Right engine. Cowling is good.
        number-two-engine: Catches are flush. Fuel filter is dry. Exhaust is good.
        left-main-gear: Left main gear. Tyre. Brake. Oleo.
        right-main-gear: Right main gear. Tyre. Brake. Oleo.
    """,
    "words that only look like a side": """
        number-one-engine: Left engine. Intake is clear.
        number-one-engine: Oil level is right at the mark. Oil cooler, no leaks.
        number-one-engine: Right, fuel control is dry.
        number-one-engine: Two mil left on the chip plug. Starter generator is tight.
        number-one-engine: Right so the exhaust is good. Drain is right through. Fire bottle is secure.
    """,
    "places only spoken of": """
        number-two-engine: Number two engine. Same story as number one engine.
        number-two-engine: Intake is clear. Catches are flush.
        number-two-engine: The leak I had on the number one engine isn't here.
        number-two-engine: Fuel filter is dry. Exhaust is good.
        tail-rotor: At the tail rotor. Blades are good. Pitch change links, no play.
        tail-rotor: I'll come back to the baggage bay later. Tail skid is good. Fin is straight.
        baggage-bay: Okay, baggage bay. Door latches. Net is in.
    """,
    "a place phrase in a longer name": """
        nose-gear: Nose gear. Nose tyre is good.
        nose-gear: Having a look at the nose oleo, no leaks. Torque link is secure.
    """,
    "few words": """
        nose-gear: Down by the nose gear. Tyre looks fine.
        nose-gear: Strut, dry. Scissors are tight. Gear doors are closed.
        nose: Actually I skipped the nose compartment door. It's latched. Battery's in there, secure.
        left-cabin-side: Along the left side. Door slides.
        left-cabin-side: Handle's flush. Window's clean. Aerial underneath is secure.
        left-main-gear: Main wheel. Brake line. Nice and dry. Bit of a scrape on the tyre but fine.
        number-one-engine: Cowling open. Mounts look good. Starter generator. Igniters. Harness is clipped.
        main-gearbox: Up on the deck. Gearbox is dry. Oil level between the marks. Rotor brake.
        rotor-head: Mast. Pitch links. Dampers. All tight. Blades look good from here.
        tail-boom-left: Down the tail boom. Hanger bearings. Couplings. Covers on.
        tail-rotor: Tail rotor gearbox. Chip detector. Hub. Blades. Skid.
        tail-boom-right: Other side of the tail boom. Skin is good.
        baggage-bay: Baggage bay. Net's in. Floor's clean.
        right-main-gear: Tyre on the right main gear. Brake. Oleo.
        right-cabin-side: Up the right side. Cabin door. Cockpit door. Static port.
        cabin: Inside the cabin. Seats. Belts. Extinguisher.
    """,
    "back to front": """
        cabin: In the cockpit. Seat belts are good. Flight controls are free.
        right-main-gear: Right main gear. Tyre is good. Brake is dry.
        number-two-engine: Number two engine. Intake is clear. Exhaust is good.
        tail-rotor: At the tail rotor. Tail rotor blades are good. Tail skid is good. Fin is good.
        left-main-gear: Left main gear. Tyre is good. Brake is dry.
        nose: Round the nose. Nose cone is good.
    """,
}


def sentences_of(narration: str) -> list[tuple[str, str]]:
    """Zone and sentence, in order."""
    found = []
    for line in narration.strip().splitlines():
        zone, _, said = line.strip().partition(": ")
        found += [(zone, f"{one.strip()}.") for one in said.split(".") if one.strip()]
    return found
