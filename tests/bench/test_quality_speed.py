"""What do the measures of sound quality cost? Ten minutes of sound, beside its decoding.

PYTHONPATH=pipeline:. python -m pytest tests/bench/test_quality_speed.py -s
"""

from __future__ import annotations

import time

from tests.hearing.sounds import RATE, VOICE, as_sound, band_noise, talk

from spokenfor.hearing.dropouts import dropouts
from spokenfor.hearing.levels import measure
from spokenfor.hearing.quality import quality


def test_ten_minutes_take_less_than_a_third_of_a_second() -> None:
    made, speech = talk(600)
    sound = as_sound(made + band_noise(600, 200, 8000) * VOICE / 6)
    taken = []
    for _ in range(5):
        begun = time.perf_counter()
        quality(sound, measure(sound, speech, dropouts(sound.samples)), speech)
        taken.append(time.perf_counter() - begun)
    print(f"\nsound quality of {len(sound.samples) / RATE:.0f} s: {min(taken):.3f} s at best")
    assert min(taken) < 0.3
