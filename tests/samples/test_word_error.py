"""The word error that the benches print agrees with jiwer's (reference library)."""

from __future__ import annotations

import jiwer
import pytest
from audio_samples.script import load_script
from hypothesis import given
from hypothesis import strategies as st
from tests.bench.hearing.truth import heard_words, said_words, word_error
from tests.spoken import spoken

from spokenfor.samples import samples_folder

WORDS = st.lists(st.sampled_from("no leaks left brake line is dry good oil level".split()))


@given(said=WORDS.filter(bool), heard=WORDS)
def test_as_jiwer_on_any_words(said: list[str], heard: list[str]) -> None:
    assert word_error(said, heard) == pytest.approx(jiwer.wer(" ".join(said), " ".join(heard)))


@pytest.mark.parametrize("name", ["thorough-walk", "trainee"])
def test_as_jiwer_on_a_narration_misheard(name: str) -> None:
    """A sample's script with every seventh word lost and every eleventh another."""
    script = load_script(samples_folder() / "scripts" / f"{name}.yaml")
    words = " ".join(one.say for one in script.utterances).split()
    misheard = [
        "swash" if at % 11 == 0 else word for at, word in enumerate(words) if at % 7 or at == 0
    ]
    said = said_words(script)
    heard = heard_words(spoken(" ".join(misheard)).segments)
    assert 0.1 < word_error(said, heard) < 0.4
    assert word_error(said, heard) == pytest.approx(jiwer.wer(" ".join(said), " ".join(heard)))
