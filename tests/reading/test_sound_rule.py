"""The rule that takes or leaves a repair: its trees are whole, and more proof never speaks against one."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st
from tests.spoken import PACK

from spokenfor.packs.load import load_pack
from spokenfor.packs.terms import TermKind, compile_terms
from spokenfor.reading.sound_rule import Possible, Surroundings, features, sound_rule

TERMS = sorted(compile_terms(load_pack(PACK))[TermKind.COMPONENT].values(), key=lambda one: one.key)
SHARES = st.floats(0.0, 1.0)
AROUND = st.builds(
    Surroundings,
    distance=st.one_of(st.none(), st.integers(0, 8)),
    supported=st.booleans(),
    opens=st.booleans(),
    closes=st.booleans(),
    denied=st.booleans(),
    behind_verb=st.booleans(),
    sentence=st.floats(-3.0, 0.0),
    rival=st.floats(-4.0, 8.0),
)
POSSIBLE = st.builds(
    Possible,
    tokens=st.just((3, 5)),
    term=st.sampled_from(TERMS),
    heard=st.just(("push", "plate")),
    sounds=SHARES,
    spelling=SHARES,
    sound_score=st.floats(-25.0, 8.0),
    surest=SHARES,
    rarest=st.integers(0, 1_000_000),
    turns=st.booleans(),
)


def test_every_tree_is_whole() -> None:
    rule = sound_rule()
    for tree in rule.trees:
        sizes = {len(part) for part in (tree.feature, tree.at, tree.low, tree.high, tree.value)}
        assert len(sizes) == 1
        inner = [node for node, number in enumerate(tree.feature) if number >= 0]
        children = [side[node] for side in (tree.low, tree.high) for node in inner]
        # Each node but the root hangs on exactly one other, further up: no way down turns in a circle.
        assert sorted(children) == list(range(1, len(tree.feature)))
        assert all(tree.low[node] > node and tree.high[node] > node for node in inner)
        assert all(tree.feature[node] < len(rule.names) for node in inner)


@given(POSSIBLE, AROUND)
def test_the_rule_knows_its_features(one: Possible, around: Surroundings) -> None:
    assert list(features(one, around)) == sound_rule().names


@given(POSSIBLE, AROUND, st.floats(0.0, 20.0))
def test_a_better_sound_score_never_speaks_against_a_repair(
    one: Possible, around: Surroundings, more: float
) -> None:
    better = replace(one, sound_score=(one.sound_score or 0.0) + more)
    assert sound_rule().log_odds(better, around) >= sound_rule().log_odds(one, around)


@given(POSSIBLE, AROUND, st.floats(0.0, 4.0))
def test_a_stronger_rival_never_speaks_for_a_repair(
    one: Possible, around: Surroundings, more: float
) -> None:
    stronger = replace(around, rival=around.rival + more)
    assert sound_rule().log_odds(one, stronger) <= sound_rule().log_odds(one, around)
