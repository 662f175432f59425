"""How does a person's decision move pictures along the sound?"""

from __future__ import annotations

from spokenfor.models import Photo, Result
from spokenfor.photos.place import beside, place_by_clock
from spokenfor.record.entries import Action, Entry
from spokenfor.record.outcome import PhotoMove
from spokenfor.record.subjects import photo_key


def moved(result: Result, entry: Entry, by_hand: set[str]) -> list[PhotoMove]:
    """Move the pictures of a result as a shift_photos or place_photo entry says; the picture itself, and what
    its camera wrote, stay. A picture or recording that is not there moves nothing;
    one that was placed by hand (`by_hand`, added to here) is shifted no more."""
    if entry.action is Action.SHIFT_PHOTOS:
        return _shift(result, entry, by_hand)
    about = entry.about
    photo = next((one for one in result.photos if about and about.key == photo_key(one)), None)
    places = {one.sha256: number for number, one in enumerate(result.recordings)}
    if photo is None or entry.recording not in places or entry.start is None:
        return []
    before = _place(photo)
    photo.recording, photo.at, photo.not_placed = places[entry.recording], entry.start, None
    beside(photo, result)
    by_hand.add(photo.id)
    return [_move(photo, before, entry)]


def _shift(result: Result, entry: Entry, by_hand: set[str]) -> list[PhotoMove]:
    clock = result.photo_clock
    if clock is None or entry.seconds is None:
        return []
    clock = clock.model_copy(update={"offset": round(clock.offset + entry.seconds, 2)})
    result.photo_clock = clock
    moves = []
    for photo in result.photos:
        if photo.id in by_hand or photo.taken is None:
            continue
        before = _place(photo)
        place_by_clock(photo, clock, result)
        beside(photo, result)
        if _place(photo) != before:
            moves.append(_move(photo, before, entry))
    return moves


def _place(photo: Photo) -> tuple[int, float] | None:
    if photo.recording is None or photo.at is None:
        return None
    return photo.recording, photo.at


def _move(photo: Photo, before: tuple[int, float] | None, entry: Entry) -> PhotoMove:
    return PhotoMove(
        subject=photo.id,
        before=before,
        after=_place(photo),
        by=entry.by,
        at=entry.at,
        why=entry.why,
        entry=entry.number,
    )
