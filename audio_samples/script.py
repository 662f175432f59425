"""What a script of a sample holds: the words to be said, and beside each sentence the truth of it."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal

import yaml
from pydantic import BaseModel, ConfigDict, Field, model_validator

FOLDER = Path(__file__).resolve().parent
SENTENCE_END = re.compile(r"(?<=[.?!])\s+")

Said = Literal[
    "satisfactory",
    "by_reference",
    "remark",
    "defect",
    "not_inspected",
    "not_fitted",
    "looked_for",
    "named",
    "put_right",
    "inspected_later",
]
Reading = Literal["present", "absent", "looked_for", "supposed", "within_limits", "unclear"]


class ScriptModel(BaseModel):
    """Base of the models here: unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class VoiceSettings(ScriptModel):
    """Which synthetic voice speaks; `pace` and `pitch` 1.0 are its own, more is
    faster or higher (`pitch`: hibari and espeak only)."""

    engine: Literal["hibari", "piper", "flite", "espeak"]
    name: str
    pace: float = 1.0
    pitch: float = 1.0
    seed: int


class NoiseSettings(ScriptModel):
    """What else is heard; `snr_db` is level of speech while speaking against level of noise."""

    kind: Literal["room", "hangar", "apron"]
    snr_db: float
    seed: int


class Utterance(ScriptModel):
    """Sentences said in one breath and their truth.

    `items` maps sheet items to what these words say of them; `findings` maps the items called
    defect or remark here to a condition id (or None); `flagged` lists each flagged word in the
    order said, as {word: reading}; `not_flagged` lists words spelt like a flagged word that
    are not one here ("split" in "split pin").
    """

    say: str
    items: dict[str, Said] = Field(default_factory=dict)
    findings: dict[str, str | None] = Field(default_factory=dict)
    flagged: list[dict[str, Reading]] = Field(default_factory=list)
    not_flagged: list[str] = Field(default_factory=list)

    @property
    def sentences(self) -> list[str]:
        """The sentences, each to be spoken with a pause behind it."""
        return SENTENCE_END.split(self.say.strip())

    @property
    def flagged_words(self) -> list[tuple[str, Reading]]:
        """Flagged words and their readings, in the order said."""
        return [pair for entry in self.flagged for pair in entry.items()]

    @model_validator(mode="after")
    def _each_fault_has_its_condition(self) -> Utterance:
        faults = {item for item, said in self.items.items() if said in ("defect", "remark")}
        if faults != set(self.findings):
            raise ValueError(f"'{self.say}': findings must name exactly {sorted(faults)}")
        return self


class Stay(ScriptModel):
    """What is said while in one zone; `recording` counts from 1."""

    zone: str
    recording: int = 1
    says: list[Utterance] = Field(min_length=1)


class Script(ScriptModel):
    """A sample: one inspection, in one or more recordings.

    `pronounce` gives for a word the spelling that makes this voice say it as an engineer would.
    """

    name: str
    title: str
    asset: str
    pack: str
    voice: VoiceSettings
    pronounce: dict[str, str] = Field(default_factory=dict)
    noise: NoiseSettings
    walk: list[Stay] = Field(min_length=1)

    @property
    def utterances(self) -> list[Utterance]:
        return [utterance for stay in self.walk for utterance in stay.says]

    @property
    def recordings(self) -> dict[str, list[Stay]]:
        """File name of each recording and the stays heard in it, in order."""
        numbers = sorted({stay.recording for stay in self.walk})
        return {
            f"{self.name}.opus" if len(numbers) == 1 else f"{self.name}-{number}.opus": [
                stay for stay in self.walk if stay.recording == number
            ]
            for number in numbers
        }


def load_script(path: Path) -> Script:
    """The script at `path`; its name is the file's. Raises pydantic.ValidationError."""
    return Script(name=path.stem, **yaml.safe_load(path.read_text(encoding="utf-8")))


def script_paths() -> list[Path]:
    """Paths of all scripts, by name."""
    return sorted((FOLDER / "scripts").glob("*.yaml"))
