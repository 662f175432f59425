"""Does the goods vehicle pack hold what the trade and the published lists say it should?"""

from __future__ import annotations

import pytest
from tests.packs import content

from spokenfor.packs.lint import lint
from spokenfor.packs.load import load_pack

NAME = "goods-vehicle"
PACK = load_pack(NAME)

# 49 CFR 392.7(a) and 396.11(a)(1), each read in a stored copy: the parts a driver must be satisfied with, and
# must report on. The two lists name the same eleven, in wordings that differ by a word or two.
PARTS = {
    "(i)": "service brakes, including trailer brake connections",
    "(ii)": "parking (hand) brake",
    "(iii)": "steering mechanism",
    "(iv)": "lighting devices and reflectors",
    "(v)": "tires",
    "(vi)": "horn",
    "(vii)": "windshield wiper or wipers",
    "(viii)": "rear-vision mirror or mirrors",
    "(ix)": "coupling devices",
    "(x)": "wheels and rims",
    "(xi)": "emergency equipment",
}
# (part, what goes wrong with it in the words of the trade, component, aspect): *common practice*.
FAULTS = [
    ("(i)", "not working", "service-brake", "operation"),
    ("(i)", "not working", "trailer-brake-valve", "operation"),
    ("(i)", "low pressure", "air-pressure-gauge", "pressure"),
    ("(i)", "not working", "low-air-warning", "operation"),
    ("(i)", "leaking", "brake-chamber", "leaks"),
    ("(i)", "out of adjustment", "slack-adjuster", "adjustment"),
    ("(i)", "worn", "brake-lining", "wear"),
    ("(i)", "chafing", "brake-hose", "chafing"),
    ("(i)", "leaking", "brake-hose", "leaks"),
    ("(i)", "leaking", "emergency-air-line", "leaks"),
    ("(i)", "leaking", "service-air-line", "leaks"),
    ("(i)", "chafing", "suzie-lines", "chafing"),
    ("(i)", "not locked", "air-coupling", "locking"),
    ("(i)", "damaged", "abs-lead", "condition"),
    ("(ii)", "not working", "parking-brake", "operation"),
    ("(ii)", "not working", "trailer-parking-brake", "operation"),
    ("(iii)", "free play", "steering-wheel", "play"),
    ("(iii)", "loose", "steering-box", "security"),
    ("(iii)", "too much play", "steering-linkage", "play"),
    ("(iii)", "low", "power-steering-fluid", "level"),
    ("(iv)", "not working", "headlight", "operation"),
    ("(iv)", "not working", "front-indicator", "operation"),
    ("(iv)", "not working", "side-indicator", "operation"),
    ("(iv)", "not working", "rear-indicator", "operation"),
    ("(iv)", "not working", "hazard-lights", "operation"),
    ("(iv)", "not working", "tail-light", "operation"),
    ("(iv)", "not working", "brake-light", "operation"),
    ("(iv)", "not working", "side-marker", "operation"),
    ("(iv)", "cracked", "tail-light", "condition"),
    ("(iv)", "missing", "side-reflector", "security"),
    ("(iv)", "dirty", "rear-reflector", "cleanliness"),
    ("(v)", "bald", "steer-tyre", "wear"),
    ("(v)", "bulge", "drive-tyre", "condition"),
    ("(v)", "cut", "trailer-tyre", "wear"),
    ("(v)", "flat", "trailer-tyre", "pressure"),
    ("(vi)", "not working", "horn", "operation"),
    ("(vii)", "not working", "windscreen-wiper", "operation"),
    ("(vii)", "perished", "windscreen-wiper", "condition"),
    ("(viii)", "cracked", "mirror", "condition"),
    ("(viii)", "out of adjustment", "mirror", "adjustment"),
    ("(ix)", "loose", "fifth-wheel", "security"),
    ("(ix)", "not locked", "fifth-wheel-jaw", "locking"),
    ("(ix)", "worn", "kingpin", "wear"),
    ("(ix)", "not engaged", "release-handle", "locking"),
    ("(ix)", "missing", "safety-clip", "security"),
    ("(x)", "cracked", "steer-wheel", "condition"),
    ("(x)", "bent", "drive-wheel", "condition"),
    ("(x)", "cracked", "trailer-wheel", "condition"),
    ("(x)", "loose", "wheel-nut", "security"),
    ("(x)", "leaking", "hub", "leaks"),
    ("(xi)", "discharged", "fire-extinguisher", "pressure"),
    ("(xi)", "missing", "warning-triangle", "security"),
    ("(xi)", "missing", "spare-fuses", "security"),
]

BRITISH_AMERICAN = [
    ("steer tyre", "steer tire"),
    ("drive tyre", "drive tire"),
    ("trailer tyre", "trailer tire"),
    ("spare tyre", "spare tire"),
    ("windscreen", "windshield"),
    ("windscreen wiper", "windshield wiper"),
    ("windscreen washer", "windshield washer"),
    ("screen wash", "windshield washer fluid"),
    ("bonnet", "hood"),
    ("indicator", "turn signal"),
    ("suzie lines", "air lines"),
    ("red suzie", "emergency line"),
    ("yellow suzie", "blue line"),
    ("palm coupling", "glad hand"),
    ("electric suzie", "light cord"),
    ("landing leg", "landing gear"),
    ("winding handle", "crank handle"),
    ("wheel nut", "lug nut"),
    ("mudguard", "fender"),
    ("mud flap", "splash guard"),
    ("silencer", "muffler"),
    ("number plate", "license plate"),
    ("reversing light", "backup light"),
    ("demister", "defroster"),
    ("kerb mirror", "curb mirror"),
    ("grille", "grill"),
    ("track rod", "tie rod"),
    ("drop arm", "pitman arm"),
    ("hand brake", "park brake"),
    ("tachograph", "electronic logging device"),
    ("tail lift", "lift gate"),
    ("under-run bar", "rear impact guard"),
    ("air bellows", "air bag"),
    ("warning triangle", "reflective triangle"),
    ("brake disc", "brake rotor"),
    ("chequer plate", "checker plate"),
]


def test_the_walk_is_long_enough_to_be_real() -> None:
    assert len(PACK.items) >= 90
    assert [part.zone for part in PACK.sheet] == [zone.id for zone in PACK.zones]


def test_the_walk_goes_round_the_vehicle() -> None:
    """Common practice: cab, front, down one side, coupling, round the back, up the other."""
    order = [zone.id for zone in PACK.zones]
    walk = ["cab", "front", "left-steer-axle", "coupling", "left-trailer-axles", "trailer-rear"]
    walk += ["right-trailer-axles", "right-drive-axle", "right-steer-axle"]
    assert [order.index(zone) for zone in walk] == sorted(order.index(zone) for zone in walk)


def test_every_component_is_on_the_sheet() -> None:
    assert set(PACK.components) == {item.component for item in PACK.items}


@pytest.mark.parametrize(("part", "words", "component", "aspect"), FAULTS)
def test_a_fault_of_a_listed_part_can_be_stated(
    part: str, words: str, component: str, aspect: str
) -> None:
    assert content.can_be_stated(PACK, words, component, aspect) == "", PARTS[part]


def test_every_listed_part_has_its_place() -> None:
    assert {part for part, *_ in FAULTS} == set(PARTS)


def test_every_component_of_a_listed_part_must_be_covered() -> None:
    assert {component for _, _, component, _ in FAULTS} <= content.required(PACK)


def test_both_trailer_brake_connections_are_lines_of_their_own() -> None:
    """392.7(a) names the connections: each air line and the coupling heads are looked at by name."""
    connections = {"emergency-air-line", "service-air-line", "air-coupling", "electrical-lead"}
    assert connections <= {item.component for item in PACK.items if item.zone == "coupling"}


@pytest.mark.parametrize("component", ["tyre", "wheel"])
def test_every_wheel_station_has_its_own_line(component: str) -> None:
    stations = [
        item
        for item in PACK.items
        if item.component in {f"{axle}-{component}" for axle in ("steer", "drive", "trailer")}
    ]
    assert len(stations) == 2 * (1 + 2 + 2)
    assert all(item.required for item in stations)


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
    assert {"steer-tyre", "brake-lining", "slack-adjuster", "air-pressure-gauge"} <= limited


def test_lint_is_clean() -> None:
    assert lint(PACK) == []


@pytest.mark.parametrize(("british", "american"), BRITISH_AMERICAN)
def test_british_and_american_words_mean_the_same(british: str, american: str) -> None:
    """Common practice."""
    assert content.same_component(PACK, british, american)
