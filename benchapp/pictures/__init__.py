"""Files of pictures: their kind, when they were taken, and a copy that tells no place. Pure.

Bytes in, values out. Nothing is drawn and nothing is re-encoded: a picture is read as far as its
parts go, and a part is kept or left out as it is.
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
