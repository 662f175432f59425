"""Does the piston aeroplane pack hold what the trade and the published lists say it should?"""

from __future__ import annotations

import pytest
from tests.packs import content
from tests.spoken import spoken

from spokenfor.coverage.assemble import assemble
from spokenfor.packs.lint import lint
from spokenfor.packs.load import load_pack
from spokenfor.reading.pipeline import build, read

NAME = "aeroplane-piston-single"
PACK = load_pack(NAME)

# 14 CFR Part 43, Appendix D: (paragraph, line, flagged words, component, aspect). (e) to (i)(2) and the lines
# of the project's reference list were read in a stored copy; those marked so are from memory.
APPENDIX_D = [
    ("b1", "fabric and skin (from memory)", "deterioration", "fuselage-skin", "condition"),
    ("b1", "fabric and skin (from memory)", "distortion", "belly-skin", "condition"),
    ("b1", "fabric and skin (from memory)", "evidence of failure", "fuselage-skin", "condition"),
    ("b1", "fittings (from memory)", "insecure attachment", "cabin-step", "security"),
    ("b2", "systems and components", "improper installation", "static-port", "condition"),
    ("b2", "systems and components", "inoperative", "emergency-locator", "operation"),
    ("c1", "uncleanliness (from memory)", "dirt", "cabin-floor", "cleanliness"),
    ("c1", "loose equipment (from memory)", "loose", "baggage-area", "security"),
    ("c2", "seats (from memory)", "poor condition", "seat", "condition"),
    ("c2", "safety belts (from memory)", "defect", "seat-belt", "condition"),
    ("c3", "windows and windshields (from memory)", "deterioration", "windscreen", "condition"),
    ("c3", "windows and windshields (from memory)", "broken", "cabin-window", "condition"),
    ("c4", "instruments", "poor condition", "instruments", "condition"),
    ("c4", "instruments, mounting", "insecure", "instruments", "security"),
    ("c4", "instruments (from memory)", "inoperative", "instruments", "operation"),
    ("c5", "flight controls", "improperly installed", "elevator-linkage", "condition"),
    ("c5", "flight controls", "improper travel", "flight-controls", "operation"),
    ("c5", "engine controls", "improper installation", "engine-control-cable", "condition"),
    ("c5", "engine controls", "binding", "throttle", "operation"),
    ("c6", "batteries", "improper installation", "battery", "condition"),
    ("c6", "batteries", "improper charge", "battery", "charge"),
    ("c7", "all systems", "poor general condition", "radio", "condition"),
    ("c7", "all systems (from memory)", "insecurity", "fire-extinguisher", "security"),
    ("d1", "engine section, oil", "excessive leak", "crankcase", "leaks"),
    ("d1", "engine section, fuel", "excessive leak", "carburettor", "leaks"),
    ("d1", "engine section, hydraulic", "leak", "brake-fluid-reservoir", "leaks"),
    ("d2", "studs and nuts", "improper torquing", "cylinder", "security"),
    ("d2", "studs and nuts", "obvious defect", "crankcase", "condition"),
    ("d4", "engine mount", "crack", "engine-mount", "condition"),
    ("d4", "engine mount", "looseness", "engine-mount", "security"),
    ("d5", "flexible vibration dampeners", "poor condition", "vibration-mount", "condition"),
    ("d5", "flexible vibration dampeners", "deterioration", "vibration-mount", "condition"),
    ("d6", "engine controls", "defect", "engine-control-cable", "condition"),
    ("d6", "engine controls", "improper travel", "engine-control-cable", "operation"),
    ("d6", "engine controls", "improper safetying", "engine-control-cable", "security"),
    ("d7", "lines, hoses and clamps", "leak", "engine-hose", "leaks"),
    ("d7", "lines, hoses and clamps", "improper condition", "engine-hose", "condition"),
    ("d7", "lines, hoses and clamps", "looseness", "engine-hose", "security"),
    ("d8", "exhaust stacks", "crack", "exhaust-stack", "condition"),
    ("d8", "exhaust stacks", "defect", "silencer", "condition"),
    ("d8", "exhaust stacks", "improper attachment", "exhaust-stack", "security"),
    ("d9", "accessories (from memory)", "insecure", "alternator", "security"),
    ("d9", "accessories (from memory)", "defect", "vacuum-pump", "condition"),
    ("d9", "accessories (from memory)", "defect", "magneto", "condition"),
    ("d10", "all systems (from memory)", "poor general condition", "intake-pipe", "condition"),
    ("d10", "all systems (from memory)", "insecure attachment", "fuel-pump", "security"),
    ("d11", "cowling", "crack", "engine-cowling", "condition"),
    ("d11", "cowling", "defect", "nose-cowl", "condition"),
    ("e1", "all units", "poor condition", "main-gear-leg", "condition"),
    ("e1", "all units", "insecurity of attachment", "main-gear-attachment", "security"),
    ("e1", "all units", "insecurity of attachment", "nose-gear-leg", "security"),
    ("e2", "shock absorbing devices", "improper oleo fluid level", "nose-oleo", "extension"),
    ("e2", "shock absorbing devices", "improper oleo fluid level", "main-oleo", "extension"),
    ("e3", "linkages, trusses and members", "undue wear", "nose-torque-link", "wear"),
    ("e3", "linkages, trusses and members", "excessive wear", "nose-torque-link", "wear"),
    ("e3", "linkages, trusses and members", "fatigue", "main-gear-leg", "condition"),
    ("e3", "linkages, trusses and members", "distortion", "nose-steering", "condition"),
    ("e5", "hydraulic lines", "leakage", "brake-line", "leaks"),
    ("e7", "wheels", "crack", "main-wheel", "condition"),
    ("e7", "wheels", "defect", "nose-wheel", "condition"),
    ("e7", "wheels, condition of bearings", "rough bearing", "main-wheel", "condition"),
    ("e8", "tires", "wear", "main-tyre", "wear"),
    ("e8", "tires", "cut", "nose-tyre", "wear"),
    ("e9", "brakes", "improper adjustment", "brake", "adjustment"),
    ("f", "wing", "poor general condition", "wing-attachment", "condition"),
    ("f", "wing", "skin deterioration", "wing-upper-skin", "condition"),
    ("f", "wing", "distortion", "wing-lower-skin", "condition"),
    ("f", "wing", "evidence of failure", "wing-strut", "condition"),
    ("f", "wing", "insecurity of attachment", "wing-attachment", "security"),
    ("g", "empennage", "poor general condition", "tailplane", "condition"),
    ("g", "empennage", "skin deterioration", "fin", "condition"),
    ("g", "empennage", "distortion", "elevator", "condition"),
    ("g", "empennage", "evidence of failure", "rudder", "condition"),
    ("g", "empennage", "insecure attachment", "tailplane", "security"),
    ("g", "empennage, component installation", "improper installation", "trim-tab", "condition"),
    ("g", "empennage, component operation", "improper travel", "rudder", "operation"),
    ("h1", "propeller assembly", "crack", "propeller-blade", "condition"),
    ("h1", "propeller assembly", "nick", "propeller-blade", "condition"),
    ("h1", "propeller assembly", "bind", "propeller-hub", "operation"),
    ("h1", "propeller assembly, oil", "leakage", "propeller-hub", "leaks"),
    ("h2", "propeller bolts", "improper torquing", "propeller-bolt", "security"),
    ("h2", "propeller bolts", "lack of safetying", "propeller-bolt", "security"),
    ("h3", "anti-icing devices", "inoperative", "propeller-de-ice-boot", "operation"),
    ("h3", "anti-icing devices", "obvious defect", "propeller-de-ice-boot", "condition"),
    ("h4", "control mechanisms", "inoperative", "propeller-governor", "operation"),
    ("h4", "control mechanisms", "insecure", "propeller-governor", "security"),
    ("h4", "control mechanisms", "restricted travel", "propeller-governor", "operation"),
    ("i1", "radio equipment", "improper installation", "radio", "condition"),
    ("i1", "radio equipment", "insecure", "radio", "security"),
    ("i2", "wiring and conduits", "insecure", "engine-wiring", "security"),
    ("i2", "wiring and conduits", "chafing", "engine-wiring", "chafing"),
    ("i3", "bonding (from memory)", "poor condition", "bonding-strap", "condition"),
    ("i3", "shielding (from memory)", "improper installation", "ignition-lead", "condition"),
    ("i4", "antennas (from memory)", "poor condition", "vhf-aerial", "condition"),
    ("i4", "antennas (from memory)", "insecure", "transponder-aerial", "security"),
    ("j", "miscellaneous items (from memory)", "inoperative", "stall-warner", "operation"),
]
PARAGRAPHS = {
    *("b1", "b2", "b3", *(f"c{n}" for n in range(1, 8)), *(f"d{n}" for n in range(1, 12))),
    *(*(f"e{n}" for n in range(1, 11)), "f", "g", *(f"h{n}" for n in range(1, 5))),
    *(*(f"i{n}" for n in range(1, 5)), "j"),
}
DOES_NOT_APPLY = {
    "b3": "envelopes, gas bags and baskets (from memory): a balloon's",
    "d3": "internal engine: compression and oil screens are bench work, no part of a walk-round",
    "e4": "retracting and locking mechanism: the gear is fixed",
    "e6": "electrical system and switches of the gear: a fixed gear has none",
    "e10": "floats and skis: the gear has wheels",
}
# Chapters of the ATA list: the first row is in the project's reference list, the second from memory.
CHAPTERS = {
    *("26", "28", "32", "33", "34", "52", "53", "55", "56", "71", "73", "78", "79"),
    *("09", "21", "23", "24", "25", "27", "30", "31", "37", "57", "61", "74", "76", "80", "85"),
}

BRITISH_AMERICAN = [
    ("windscreen", "windshield"),
    ("main tyre", "main tire"),
    ("nose wheel tyre", "nose wheel tire"),
    ("carburettor", "carburetor"),
    ("horizontal stabiliser", "horizontal stabilizer"),
    ("vertical stabiliser", "vertical stabilizer"),
    ("vhf aerial", "vhf antenna"),
    ("transponder aerial", "transponder antenna"),
    ("silencer", "muffler"),
    ("exhaust pipe", "exhaust stack"),
    ("brake calliper", "brake caliper"),
    ("spat", "wheel pant"),
    ("fuel cock", "fuel selector"),
    ("gust lock", "control lock"),
]


def test_the_walk_is_long_enough_to_be_real() -> None:
    assert len(PACK.items) >= 90
    assert [part.zone for part in PACK.sheet] == [zone.id for zone in PACK.zones]


def test_the_walk_goes_round_the_machine() -> None:
    """Common practice: from the cabin round the tail, up one side, across the nose and down the other."""
    order = [zone.id for zone in PACK.zones]
    walk = ["cabin", "left-fuselage", "tail", "right-wing", "propeller", "left-wing"]
    assert [order.index(zone) for zone in walk] == sorted(order.index(zone) for zone in walk)


def test_every_component_is_on_the_sheet() -> None:
    assert set(PACK.components) == {item.component for item in PACK.items}


@pytest.mark.parametrize(("paragraph", "line", "words", "component", "aspect"), APPENDIX_D)
def test_appendix_d_line_can_be_stated(
    paragraph: str, line: str, words: str, component: str, aspect: str
) -> None:
    assert content.can_be_stated(PACK, words, component, aspect) == "", f"({paragraph}) {line}"


def test_every_paragraph_of_appendix_d_is_placed_or_does_not_apply() -> None:
    placed = {paragraph for paragraph, *_ in APPENDIX_D}
    assert placed | set(DOES_NOT_APPLY) == PARAGRAPHS
    assert not placed & set(DOES_NOT_APPLY)


def test_every_paragraph_placed_has_a_line_that_must_be_covered() -> None:
    """But for ice protection and pitch control, which such an aeroplane may lack."""
    needed = content.required(PACK)
    for paragraph in {paragraph for paragraph, *_ in APPENDIX_D} - {"h3", "h4"}:
        components = {row[3] for row in APPENDIX_D if row[0] == paragraph}
        assert components & needed, paragraph


def test_chapters_are_ata_chapters() -> None:
    assert {c.ata for c in PACK.components.values() if c.ata} <= CHAPTERS


def test_what_there_are_two_of_stands_on_both_sides() -> None:
    assert content.lonely_sides(PACK) == set()


def test_no_label_has_two_kinds_of_meaning() -> None:
    assert content.doubled_meanings(PACK) == set()


def test_inside_a_zone_a_label_names_one_component() -> None:
    assert content.shared_in_a_zone(PACK) == set()


def test_no_mishearing_swallows_a_flagged_word() -> None:
    assert content.swallowed_flagged_words(PACK) == []


def test_a_state_word_is_not_also_a_flagged_word() -> None:
    assert content.states_at_odds(PACK) == []


def test_limits_are_examples_of_a_stated_aspect() -> None:
    assert content.limits_out_of_place(PACK) == []
    limited = {c.id for c in PACK.components.values() if c.limits}
    assert {"main-tyre", "nose-oleo", "brake", "oil-level", "battery"} <= limited


def test_lint_is_clean() -> None:
    assert lint(PACK) == []


@pytest.mark.parametrize(("british", "american"), BRITISH_AMERICAN)
def test_british_and_american_words_mean_the_same(british: str, american: str) -> None:
    """Common practice."""
    assert content.same_component(PACK, british, american)


@pytest.mark.parametrize("component", ["control-lock", "pitot-cover", "intake-bung", "tow-bar"])
def test_what_must_come_off_before_flight(component: str) -> None:
    """Common practice: removed is right, still fitted is wrong."""
    states = PACK.components[component].states
    assert "removed" in states.expected
    assert {"fitted", "not removed"} <= set(states.adverse)


@pytest.mark.parametrize("component", ["fuel-filler-cap", "oil-filler-cap"])
def test_a_cap_must_be_on(component: str) -> None:
    """Common practice."""
    states = PACK.components[component].states
    assert "on" in states.expected
    assert {"off", "left off"} <= set(states.adverse)


SAID = """
Right wing. Aileron is full and free. Wing tip, no cracks. Fuel cap is on and locked.
Right main gear. Tyre is worn. Brake line, no leaks.
Nose gear. Checking the oleo for leaks.
Left wing. Left wing tip is cracked. Fuel cap is off. Pitot cover removed.
"""


def test_a_narration_fills_the_sheet() -> None:
    """Common practice wordings. The same words in two zones fall on each zone's own line."""
    transcript = spoken(SAID)
    result = assemble(transcript, read(transcript, NAME, build(NAME)), PACK)
    assert {i.id: i.status.value for i in result.items if i.status != "not_mentioned"} == {
        "right-wing.aileron.right": "satisfactory",
        "right-wing.wing-tip.right": "satisfactory",
        "right-wing.fuel-filler-cap.right": "satisfactory",
        "right-main-gear.main-tyre.right": "defect",
        "right-main-gear.brake-line.right": "satisfactory",
        "nose-gear.nose-oleo": "looked_for",
        "left-wing.wing-tip.left": "defect",
        "left-wing.fuel-filler-cap.left": "defect",
        "left-wing.pitot-cover": "satisfactory",
    }
