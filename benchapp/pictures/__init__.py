"""Files of pictures: their kind, when they were taken, and a copy that tells no place. Pure.

Bytes in, values out. Nothing is drawn and nothing is re-encoded: a picture is read as far as its
parts go, and a part is kept or left out as it is.

Decisions, numbered as in DEVELOPERS.md:

86. **A picture is a file beside the book, and leaves only cleaned.** An entry has its digest,
    name and time, so the book stays small and a copy is checked by its own name. `pictures` keeps
    what draws and drops the rest, with no codec among the packages: what it cannot clean stays at
    home. A time proposes a sheet and never ties it, as a camera's clock may be wrong. `o` opens
    pictures where sheets are judged, though on the Bench it is *next*: both only show something.
    Price: pictures go along with a backup only on request, and the check names what is missing.
"""

from benchapp.pictures.cleaned import clean_picture, clean_thumbnail
from benchapp.pictures.examine import (
    NotAPictureError,
    PictureFacts,
    examine_picture,
    file_ending,
    leaves_the_studio,
)
from benchapp.pictures.taken import TakenTime, read_taken_time

__all__ = [
    "NotAPictureError",
    "PictureFacts",
    "TakenTime",
    "clean_picture",
    "clean_thumbnail",
    "examine_picture",
    "file_ending",
    "leaves_the_studio",
    "read_taken_time",
]
