"""What stands in transcript.vtt (WebVTT, W3C): the words as first heard, and what was not heard."""

from __future__ import annotations

from collections.abc import Iterator

from spokenfor.models import SoundKind, Transcript
from spokenfor.reporting.timeline import offsets
from spokenfor.reporting.wording import REASON_WORDS

# A cue must end after it starts (WebVTT, 4.1), and its clock counts thousandths.
_SHORTEST = 0.001


def transcript_vtt(transcript: Transcript) -> str:
    """Write all recordings on one timeline, laid end to end; a NOTE gives where each one starts."""
    starts = offsets(transcript.recordings)
    notes = [
        f"NOTE Recording {number}: {_plain(recording.file)}, starts at {_stamp(start)}"
        for number, (recording, start) in enumerate(
            zip(transcript.recordings, starts, strict=True), start=1
        )
    ]
    cues = [
        f"{_stamp(start)} --> {_stamp(max(end, start + _SHORTEST))}\n{text}"
        for start, end, text in sorted(_cues(transcript, starts))
    ]
    return "\n\n".join(["WEBVTT", *notes, *cues]) + "\n"


def _cues(transcript: Transcript, starts: list[float]) -> Iterator[tuple[float, float, str]]:
    for segment in transcript.segments:
        text = _plain(segment.text)
        if text:
            begin = starts[segment.recording]
            shown = f"<c.doubtful>{text}</c>" if segment.doubtful else text
            yield begin + segment.start, begin + segment.end, shown
    for stretch in transcript.ledger:
        if stretch.kind is SoundKind.UNHEARD:
            begin = starts[stretch.recording]
            why = f": {REASON_WORDS[stretch.reason]}" if stretch.reason else ""
            yield begin + stretch.start, begin + stretch.end, f"[unheard{why}]"


def _plain(text: str) -> str:
    """Text on one line, with the characters that WebVTT reads as markup escaped."""
    one_line = " ".join(text.split())
    return one_line.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _stamp(seconds: float) -> str:
    thousandths = round(seconds * 1000)
    minutes, rest = divmod(thousandths, 60_000)
    return f"{minutes // 60:02}:{minutes % 60:02}:{rest // 1000:02}.{rest % 1000:03}"
