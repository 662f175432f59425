"""The main job: recordings in, a Result and its reports out. The command line and the web call this."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from spokenfor.models import PhotoClock, Result, Transcript

if TYPE_CHECKING:
    from spacy.language import Language

    from spokenfor.packs.load import Pack

Progress = Callable[[str, float, float], None]
SoFar = Callable[[Result], None]


@dataclass(frozen=True)
class Request:
    """What to check. `sounds` are recordings in the order they were made; `captions` a transcript made
    elsewhere (WebVTT, SubRip), which then takes the place of transcription. `photos` are files; `started`
    (ISO 8601, in the order of the recordings), `photo_offset` (seconds) and what was known before in
    `photo_clock` say beside which second of sound each stands."""

    sounds: Sequence[Path]
    pack: str
    asset: str | None = None
    by: str | None = None
    model: str | None = None
    captions: Path | None = None
    allow_network: bool = False
    photos: Sequence[Path] = ()
    started: Sequence[str] = ()
    photo_offset: float | None = None
    photo_clock: PhotoClock | None = None


def check(
    request: Request, progress: Progress | None = None, so_far: SoFar | None = None
) -> tuple[Result, Transcript]:
    """Hears, reads and holds against the sheet. Raises InputError for anything that cannot be used.

    `progress` is called with the stage in words, seconds of sound done, and seconds in all; `so_far` now and
    then with what the words heard so far come to. The result does not depend on either.
    """
    from spokenfor.packs.load import load_pack

    pack = load_pack(request.pack)
    if request.started:
        from spokenfor.photos.clock import check_started

        check_started(request.started, len(request.sounds) or 1)
    filling = _Filling(request, pack, so_far) if so_far is not None else None
    transcript = _transcript(request, pack, progress, filling)
    if progress is not None:
        progress("Reading the words", 0.0, 1.0)
    from spokenfor.coverage.assemble import assemble
    from spokenfor.reading.pipeline import read

    reading = read(transcript, request.pack)
    result = assemble(transcript, reading, pack, asset=request.asset, by=request.by)
    if request.photos:
        _add_photos(request, result, transcript)
    if progress is not None:
        progress("Reading the words", 1.0, 1.0)
    return result, transcript


def _add_photos(request: Request, result: Result, transcript: Transcript) -> None:
    from spokenfor.photos.clock import photo_clock
    from spokenfor.photos.exif import read_photos
    from spokenfor.photos.place import place_photos

    result.photo_clock = photo_clock(
        result.recordings,
        request.sounds,
        started=request.started,
        offset=request.photo_offset,
        known=request.photo_clock,
    )
    files = read_photos(request.photos)
    result.photos = place_photos(files, result.photo_clock, result, transcript)


class _Filling:
    """Reads the words heard so far, each time a twentieth of the recording has been added to them."""

    def __init__(self, request: Request, pack: Pack, tell: SoFar) -> None:
        self._request, self._pack, self._tell = request, pack, tell
        self._nlp: Language | None = None
        self._reached = (-1, 0.0)

    def __call__(self, transcript: Transcript) -> None:
        if not transcript.segments:
            return
        last = transcript.segments[-1]
        step = transcript.recordings[last.recording].duration / 20
        recording, seconds = self._reached
        if last.recording == recording and last.end < seconds + step:
            return
        self._reached = last.recording, last.end
        from spokenfor.coverage.assemble import assemble
        from spokenfor.reading.pipeline import build, read

        self._nlp = self._nlp or build(self._request.pack)
        reading = read(transcript, self._request.pack, self._nlp)
        self._tell(assemble(transcript, reading, self._pack))


def _transcript(
    request: Request, pack: Pack, progress: Progress | None, filling: _Filling | None
) -> Transcript:
    if request.captions is not None:
        from spokenfor.hearing.captions import caption_transcript

        return caption_transcript(request.captions, request.sounds)
    from spokenfor.hearing.listen import hear

    return hear(
        request.sounds,
        request.model,
        pack=pack,
        allow_network=request.allow_network,
        progress=progress,
        so_far=filling,
    )
