"""Does the light twin helicopter pack hold what the trade and the published lists say it should?"""

from __future__ import annotations

import re

import pytest

from spokenfor.packs.load import load_pack
from spokenfor.packs.schema import Labelled
from spokenfor.packs.wording import match_key, words_of

PACK = load_pack("helicopter-light-twin")
ON_SHEET = {item.component for item in PACK.items}
BYPASS_INDICATORS = (
    "fuel-filter-bypass-indicator",
    "hydraulic-filter-bypass-indicator",
    "main-gearbox-filter-bypass-indicator",
)
SIGHT_GLASSES = (
    "engine-oil-level",
    "hydraulic-fluid-level",
    "main-gearbox-oil-level",
    "tail-gearbox-oil-level",
)

# 14 CFR Part 43, Appendix D: (unit, flagged words, component, aspect). Lines marked "from memory"
# were not read in a copy of the rule; the others were. Propeller lines stand here for the rotors.
APPENDIX_D = [
    ("engine section", "excessive leak", "engine-hose", "leaks"),
    ("engine section, hydraulic", "excessive leak", "hydraulic-line", "leaks"),
    ("studs and nuts", "improper torquing", "engine-mount", "security"),
    ("studs and nuts", "obvious defect", "engine-mount", "condition"),
    ("engine mount", "crack", "engine-mount", "condition"),
    ("engine mount", "looseness", "engine-mount", "security"),
    ("vibration dampeners", "poor condition", "engine-mount", "condition"),
    ("vibration dampeners", "deterioration", "engine-mount", "condition"),
    ("engine controls", "defect", "engine-control-linkage", "condition"),
    ("engine controls", "improper travel", "engine-control-linkage", "operation"),
    ("engine controls", "improper safetying", "engine-control-linkage", "security"),
    ("lines, hoses and clamps", "leak", "engine-hose", "leaks"),
    ("lines, hoses and clamps", "improper condition", "engine-hose", "condition"),
    ("lines, hoses and clamps", "looseness", "engine-hose", "security"),
    ("exhaust stacks", "crack", "exhaust", "condition"),
    ("exhaust stacks", "defect", "exhaust", "condition"),
    ("exhaust stacks", "improper attachment", "exhaust", "security"),
    ("cowling", "crack", "engine-cowling", "condition"),
    ("cowling", "defect", "engine-cowling", "condition"),
    ("landing gear, all units", "poor condition", "main-gear-leg", "condition"),
    ("landing gear, all units", "insecurity of attachment", "main-gear-leg", "security"),
    ("shock absorbing devices", "improper oleo fluid level", "main-oleo", "extension"),
    ("linkages (from memory)", "undue wear", "main-torque-link", "wear"),
    ("linkages (from memory)", "excessive wear", "nose-torque-link", "wear"),
    ("linkages (from memory)", "fatigue", "main-torque-link", "condition"),
    ("linkages (from memory)", "distortion", "main-torque-link", "condition"),
    ("hydraulic lines (from memory)", "leakage", "brake-line", "leaks"),
    ("electrical system (from memory)", "chafing", "engine-harness", "chafing"),
    ("wheels", "crack", "main-wheel", "condition"),
    ("wheels", "defect", "nose-wheel", "condition"),
    ("wheels, condition of bearings", "rough bearing", "main-wheel", "condition"),
    ("tires", "wear", "main-tyre", "wear"),
    ("tires", "cut", "nose-tyre", "wear"),
    ("brakes", "improper adjustment", "brake", "adjustment"),
    ("floats and skis (from memory)", "insecure attachment", "flotation-bag", "security"),
    ("empennage", "poor general condition", "stabiliser", "condition"),
    ("empennage", "skin deterioration", "stabiliser", "condition"),
    ("empennage", "distortion", "fin", "condition"),
    ("empennage", "evidence of failure", "stabiliser", "condition"),
    ("empennage", "insecurity of attachment", "stabiliser", "security"),
    ("propeller", "crack", "main-rotor-blade", "condition"),
    ("propeller", "nick", "tail-rotor-blade", "condition"),
    ("propeller", "bind", "pitch-change-mechanism", "operation"),
    ("propeller, oil leakage", "leakage", "tail-gearbox", "leaks"),
    ("propeller bolts", "improper torquing", "rotor-hub", "security"),
    ("propeller bolts", "lack of safetying", "tail-rotor-hub", "security"),
    ("batteries", "improper installation", "battery", "condition"),
    ("batteries", "improper charge", "battery", "charge"),
    ("radio, antennas (from memory)", "poor condition", "vhf-aerial", "condition"),
    ("radio, antennas (from memory)", "insecure", "vhf-aerial", "security"),
]

# FAA Joint Aircraft System/Component (JASC) codes for rotorcraft; titles corroborated in a copy.
JASC = {
    "6210": ["main-rotor-blade", "blade-root", "blade-pin", "blade-tip"],
    "6220": ["rotor-hub", "head-bearing", "lead-lag-damper", "droop-stop"],
    "6230": ["mast", "swashplate", "scissor-link"],
    "6310": ["engine-drive-shaft", "engine-coupling"],
    "6320": [
        "main-gearbox",
        "main-gearbox-oil-level",
        "main-gearbox-chip-detector",
        "main-gearbox-oil-line",
        "main-gearbox-filter-bypass-indicator",
    ],
    "6330": ["main-gearbox-mount"],
    "6410": ["tail-rotor-blade"],
    "6420": ["tail-rotor-hub", "counterweight"],
    "6510": ["tail-driveshaft", "driveshaft-coupling", "hanger-bearing"],
    "6520": ["tail-gearbox", "tail-gearbox-oil-level", "tail-gearbox-chip-detector"],
    "6710": ["main-rotor-control-rod", "pitch-link"],
    "6720": ["tail-rotor-control-rod", "pitch-change-mechanism", "pitch-change-link"],
    "6730": ["main-rotor-servo", "tail-rotor-servo"],
}
# Chapters of the same table; 23, 24, 25, 30, 74 and 76 from memory; 63 is the chapter of 6310-6330.
CHAPTERS = {
    *("23", "24", "25", "26", "28", "29", "30", "32", "33", "34"),
    *("52", "53", "55", "56", "63", "67", "71", "72", "73", "74", "76", "78", "79"),
}


def condition_of(words: str) -> str:
    """The id of the condition that carries these words as a label."""
    found = [
        condition.id
        for condition in PACK.conditions.values()
        if match_key(words) in {match_key(label) for label in condition.labels}
    ]
    assert len(found) == 1, f"'{words}' belongs to {found}"
    return found[0]


def keys(concept: Labelled) -> set[str]:
    """How the labels of a concept are matched."""
    return {match_key(label) for label in concept.labels}


def test_the_walk_is_long_enough_to_be_real() -> None:
    assert len(PACK.zones) >= 12
    assert len(PACK.items) >= 130
    assert [part.zone for part in PACK.sheet] == [zone.id for zone in PACK.zones]


def test_every_component_is_on_the_sheet() -> None:
    assert set(PACK.components) == ON_SHEET


@pytest.mark.parametrize(("unit", "words", "component", "aspect"), APPENDIX_D)
def test_appendix_d_line_can_be_stated(unit: str, words: str, component: str, aspect: str) -> None:
    condition = condition_of(words)
    assert component in ON_SHEET, unit
    assert aspect in PACK.components[component].aspects, unit
    assert condition in PACK.aspects[aspect].conditions, unit


def test_conditions_that_cite_appendix_d_are_in_its_table() -> None:
    cited = {c.id for c in PACK.conditions.values() if "Appendix D" in c.source}
    assert cited == {condition_of(words) for _, words, _, _ in APPENDIX_D}


@pytest.mark.parametrize(
    ("group", "components"),
    [
        ("drive shafts or similar systems", ["engine-drive-shaft", "tail-driveshaft"]),
        ("main rotor transmission gear box", ["main-gearbox"]),
        ("main rotor and center section", ["main-rotor-blade", "rotor-hub"]),
        ("auxiliary rotor", ["tail-rotor-blade", "tail-rotor-hub"]),
    ],
)
def test_rotorcraft_groups_have_items(group: str, components: list[str]) -> None:
    """14 CFR 43.15(b), from memory."""
    required = {item.component for item in PACK.items if item.required}
    assert required.issuperset(components), group


def test_jasc_numbers_agree_with_the_table() -> None:
    said = {c.id: c.ata for c in PACK.components.values() if c.ata and len(c.ata) == 4}
    assert said == {name: number for number, names in JASC.items() for name in names}


def test_chapters_are_ata_chapters() -> None:
    said = {c.ata for c in PACK.components.values() if c.ata and len(c.ata) == 2}
    assert said <= CHAPTERS


def test_no_label_has_two_kinds_of_meaning() -> None:
    components = {key for component in PACK.components.values() for key in keys(component)}
    conditions = {key for condition in PACK.conditions.values() for key in keys(condition)}
    places = {key for zone in PACK.zones for key in keys(zone)}
    assert not components & conditions
    assert not components & places
    assert not conditions & places


@pytest.mark.parametrize("zone", [zone.id for zone in PACK.zones])
def test_inside_a_zone_a_label_names_one_component(zone: str) -> None:
    owners: dict[str, set[str]] = {}
    for name in {item.component for item in PACK.items if item.zone == zone}:
        for key in keys(PACK.components[name]):
            owners.setdefault(key, set()).add(name)
    assert not {key: names for key, names in owners.items() if len(names) > 1}


def test_no_mishearing_swallows_a_flagged_word() -> None:
    """Promise 2: a flagged word must not vanish into a hidden label of a component."""
    flagged = [" ".join(words_of(w)) for c in PACK.conditions.values() for w in c.labels]
    pattern = re.compile(rf"\b({'|'.join(map(re.escape, flagged))})\b")
    hidden = [label for c in PACK.components.values() for label in c.hiddenLabel]
    assert [label for label in hidden if pattern.search(" ".join(words_of(label)))] == []


def test_a_state_word_is_not_also_a_flagged_word() -> None:
    """One word, one rule: what conditions.yaml flags everywhere is not repeated as a state."""
    conditions = {key for condition in PACK.conditions.values() for key in keys(condition)}
    for component in PACK.components.values():
        said = {*component.states.expected, *component.states.adverse}
        assert not {word for word in said if match_key(word) in conditions}, component.id
        assert not set(component.states.expected) & set(component.states.adverse), component.id


@pytest.mark.parametrize("component", BYPASS_INDICATORS)
def test_a_bypass_indicator_should_be_in(component: str) -> None:
    """Common practice: the button of a bypass indicator pops out when the filter clogs."""
    states = PACK.components[component].states
    assert {"in", "flush", "not popped"} <= set(states.expected)
    assert {"out", "popped", "extended", "protruding"} <= set(states.adverse)


def test_a_pitot_cover_should_be_off() -> None:
    """Common practice: covers come off before flight, so "fitted" is the bad state."""
    states = PACK.components["pitot-cover"].states
    assert {"removed", "off", "stowed"} <= set(states.expected)
    assert {"fitted", "on", "in place"} <= set(states.adverse)


@pytest.mark.parametrize("component", SIGHT_GLASSES)
def test_a_sight_glass_is_read_between_its_marks(component: str) -> None:
    """Common practice."""
    assert {"full", "between the marks"} <= set(PACK.components[component].states.expected)
    assert condition_of("below the mark") == condition_of("low") == "low-level"


@pytest.mark.parametrize(
    ("words", "condition"),
    [
        ("weeping", "leak"),
        ("seepage", "leak"),
        ("chafed", "chafe"),
        ("pitting", "corrosion"),
        ("debonding", "delamination"),
        ("slack", "looseness"),
        ("backed off", "looseness"),
        ("buckled", "distortion"),
        ("perished", "deterioration"),
        ("bird nest", "blockage"),
        ("scorched", "overheating"),
        ("lock wire missing", "improper-safetying"),
        ("seized", "binding"),
        ("spalling", "bearing-roughness"),
        ("torn", "tear"),
        ("unserviceable", "defect"),
    ],
)
def test_how_the_trade_says_it(words: str, condition: str) -> None:
    """Common practice."""
    assert condition_of(words) == condition


def test_stains_and_a_poor_finish_are_remarks() -> None:
    assert [c.id for c in PACK.conditions.values() if not c.serious] == ["poor-finish", "staining"]


def test_limits_are_examples_of_a_stated_aspect() -> None:
    limits = [(c, limit) for c in PACK.components.values() for limit in c.limits]
    assert limits
    for component, limit in limits:
        assert limit.example
        assert limit.of in component.aspects
