"""What a file of a picture says, and the copy of it that may leave the studio."""

from __future__ import annotations

import random
import re

import pytest

from benchapp.pictures import (
    NotAPictureError,
    clean_picture,
    clean_thumbnail,
    examine_picture,
    file_ending,
    leaves_the_studio,
)
from tests.pictures import made

XMP = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>GPSLatitude</x:xmpmeta>"
IPTC = b"Photoshop 3.0\x008BIM\x04\x04\0\0\0\0\0\x0e\x1c\x02\x5a\0\x09Edinburgh"
SECOND = made.jpeg(made.app1(made.exif()))


def everything(order: str = ">", orientation: int = 6) -> bytes:
    """A JPEG with all that a telephone puts into one."""
    return made.jpeg(
        made.segment(0xE0, b"JFIF\0\x01\x02\0\0\x01\0\x01\x01\x01\xaa\xbb\xcc"),
        made.app1(made.exif(order, orientation=orientation,
                            thumbnail=made.jpeg(made.app1(made.exif()), behind=b"thumb trailer"))),
        made.segment(0xE1, XMP), made.segment(0xE2, b"MPF\0" + b"II*\0second picture"),
        made.segment(0xE2, made.PROFILE), made.segment(0xED, IPTC),
        made.segment(0xEE, b"Adobe\0\x64\0\0\0\0\x01 and more"),
        made.segment(0xFE, b"a comment"), behind=SECOND + b"motion picture")


TELLS = (b"GPS", b"xap", b"XMP", b"Photoshop", b"Edinburgh", b"MPF", b"comment", b"trailer",
         b"motion", b"2026", b"Bellows", b"and more", b"\xaa\xbb\xcc")


@pytest.mark.parametrize("order", ["<", ">"])
def test_both_byte_orders_are_read(order: str) -> None:
    facts = examine_picture(made.jpeg(made.app1(made.exif(order))))
    assert (facts.file_type, facts.camera) == ("JPEG", "Bellows 4")
    assert facts.taken is not None
    assert (facts.taken.text, facts.taken.by) == ("2026-05-03T14:05:10", "camera")


def test_an_offset_is_read_and_a_nonsense_one_is_not_known() -> None:
    def text(offset: str) -> str:
        taken = examine_picture(made.jpeg(made.app1(made.exif(offset=offset)))).taken
        assert taken is not None
        return taken.text

    assert text("+02:00") == "2026-05-03T14:05:10+02:00"
    assert text("-05:30") == "2026-05-03T14:05:10-05:30"
    assert text("+99:00") == text("summer") == "2026-05-03T14:05:10"


@pytest.mark.parametrize("taken", ["", "0000:00:00 00:00:00", "    :  :     :  :  ",
                                   "2026:02:30 10:00:00", "2026-05-03", "yesterday"])
def test_a_time_that_is_none_is_not_known(taken: str) -> None:
    assert examine_picture(made.jpeg(made.app1(made.exif(taken=taken)))).taken is None


def test_a_picture_without_exif_says_no_time() -> None:
    assert examine_picture(made.jpeg()).taken is None
    assert examine_picture(made.png()).taken is None


def test_a_png_says_when_by_its_chunk() -> None:
    taken = examine_picture(made.png(made.chunk(b"eXIf", made.exif("<")))).taken
    assert taken is not None
    assert taken.text == "2026-05-03T14:05:10"


@pytest.mark.parametrize(("data", "kind", "ending"), [
    (made.heic(), "HEIC", ".heic"),
    (b"\0\0\0\x18ftypavif\0\0\0\0avifmif1" + b"\0" * 9, "AVIF", ".avif"),
    (b"RIFF\x20\0\0\0WEBPVP8 " + b"\0" * 20, "WebP", ".webp"),
    (b"GIF89a" + b"\0" * 20, "GIF", ".gif"), (made.exif("<"), "TIFF", ".tif")])
def test_other_kinds_are_kept_with_their_type_and_stay(data: bytes, kind: str,
                                                       ending: str) -> None:
    assert examine_picture(data).file_type == kind
    assert file_ending(kind) == ending
    assert not leaves_the_studio(kind)
    assert clean_picture(data, kind) is None


@pytest.mark.parametrize("data", [
    b"", b"%PDF-1.7 and so on", b"SQLite format 3\0", b"<svg xmlns='http://www.w3.org/2000/svg'/>",
    b"\0\0\0\x18ftypisom\0\0\0\0isommp42", b"\xff\xd8\xff\xd9", b"\xff\xd8\xff",
    made.jpeg()[:60], b"\x89PNG\r\n\x1a\n", made.png()[:40]])
def test_what_is_none_is_refused(data: bytes) -> None:
    with pytest.raises(NotAPictureError):
        examine_picture(data)


def _segments(data: bytes) -> list[tuple[int, bytes]]:
    """The segments before the scan, read by other means than the program's."""
    found, at = [], 2
    while data[at + 1] != 0xDA:
        size = int.from_bytes(data[at + 2:at + 4], "big")
        found.append((data[at + 1], data[at + 4:at + 2 + size]))
        at += 2 + size
    return found


@pytest.mark.parametrize("order", ["<", ">"])
def test_a_cleaned_jpeg_tells_no_place(order: str) -> None:
    clean = clean_picture(everything(order), "JPEG")
    assert clean is not None
    assert not [x for x in TELLS if x in clean]
    assert clean.endswith(made.SCAN + b"\xff\xd9")
    found = _segments(clean)
    assert [m for m, _ in found] == [0xE0, 0xE1, 0xE2, 0xEE, 0xDB, 0xC0, 0xC4, 0xC4]
    assert found[0][1] == b"JFIF\0\x01\x02\0\0\x01\0\x01\0\0"
    assert found[2][1] == made.PROFILE
    assert found[3][1] == b"Adobe\0\x64\0\0\0\0\x01"
    # one entry, 0x0112 (Exif 2.32, 4.6.4): a short with the value 6
    assert found[1][1] == (b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0"
                           b"\0\0\0\0")


def test_a_picture_the_right_way_up_has_no_exif_at_all() -> None:
    clean = clean_picture(everything(orientation=1), "JPEG")
    assert clean is not None
    assert b"Exif" not in clean


def test_a_profile_that_is_none_goes() -> None:
    clean = clean_picture(made.jpeg(made.segment(0xE2, b"ICC_PROFILE\0\x01\x01GPS")), "JPEG")
    assert clean == made.jpeg()


def test_what_is_clean_stays_as_it_is() -> None:
    once = clean_picture(everything(), "JPEG")
    assert once is not None
    assert clean_picture(once, "JPEG") == once
    assert clean_picture(made.jpeg(), "JPEG") == made.jpeg()
    assert clean_picture(made.png(), "PNG") == made.png()


def test_a_cleaned_png_has_what_draws_and_nothing_more() -> None:
    data = made.png(made.chunk(b"pHYs", b"\0" * 9), made.chunk(b"tEXt", b"Comment\0GPS"),
                    made.chunk(b"eXIf", made.exif()), made.chunk(b"iTXt", b"XML:com.adobe.xmp\0"),
                    made.chunk(b"tIME", b"\x07\xea\x05\x03\0\0\0"), made.chunk(b"prVt", b"2026"),
                    behind=SECOND + b"trailer")
    clean = clean_picture(data, "PNG")
    assert clean == made.png(made.chunk(b"pHYs", b"\0" * 9))


def test_a_thumbnail_is_cleaned_alike_and_turned_alike() -> None:
    small = clean_thumbnail(everything(), "JPEG")
    assert small is not None
    assert not [x for x in TELLS if x in small]
    assert b"\x01\x12\0\x03\0\0\0\x01\0\x06" in small
    assert clean_thumbnail(made.jpeg(), "JPEG") is None
    assert clean_thumbnail(made.heic(), "HEIC") is None


def test_a_scan_cut_off_is_closed() -> None:
    whole = made.jpeg()
    clean = clean_picture(whole[:-2], "JPEG")
    assert clean == whole
    assert clean_picture(whole[:-1], "JPEG") == whole  # half of the end was there


def test_restarts_and_stuffed_bytes_are_parts_of_the_scan() -> None:
    data = made.jpeg()[:-2] + b"\xff\x00\xff\xd0\x01\xff\xd7\x02\xff\xff\xd9GPS"
    clean = clean_picture(data, "JPEG")
    assert clean is not None
    assert clean.endswith(b"\xff\x00\xff\xd0\x01\xff\xd7\x02\xff\xd9")
    assert b"GPS" not in clean


def test_forty_megabytes_are_read_and_cleaned() -> None:
    scan = bytes(range(255)) * (40 * 1024 * 1024 // 255)
    data = made.jpeg(made.app1(made.exif()))[:-2] + scan + b"\xff\xd9" + b"GPS"
    clean = clean_picture(data, "JPEG")
    assert clean is not None
    assert len(clean) == len(made.jpeg()) + len(scan)
    assert clean.endswith(scan[-300:] + b"\xff\xd9")


@pytest.mark.parametrize(("marker", "data"), [
    (0xDB, b"GPS-51.5"), (0xDB, b"\0" * 66), (0xDB, b""), (0xC4, b"\0" * 18), (0xC0, b"GPS-51.5"),
    (0xDD, b"GPS"), (0xDC, b""), (0xDE, b"G"), (0xDF, b"GP"), (0xCC, b"GPS"), (0xDA, b"GPS-51.5")])
def test_a_text_in_the_place_of_a_table_keeps_a_picture_at_home(marker: int, data: bytes) -> None:
    assert clean_picture(made.jpeg(made.segment(marker, data)), "JPEG") is None


@pytest.mark.parametrize(("marker", "data"), [
    (0xDB, b"\0" + b"\1" * 64 + b"\x10" + b"\1" * 128), (0xC4, b"\0\2" + b"\0" * 15 + b"\1\2"),
    (0xDD, b"\0\4"), (0xDC, b"\0\4"), (0xCC, b"\0\1"), (0xDF, b"\1")])
def test_tables_of_each_kind_stay(marker: int, data: bytes) -> None:
    whole = made.jpeg(made.segment(marker, data))
    assert clean_picture(whole, "JPEG") == whole


def test_a_flood_of_parts_is_refused() -> None:
    with pytest.raises(NotAPictureError, match="more parts"):
        examine_picture(made.jpeg(made.segment(0xFE, b"") * 30_000))


def _try_mutated(count: int, seed: int) -> None:
    """Nothing but a refusal comes of broken bytes; what can be cleaned reads clean again."""
    chance = random.Random(seed)
    models = [everything("<"), everything(">"), made.png(made.chunk(b"eXIf", made.exif())),
              made.heic(), made.exif("<", thumbnail=made.jpeg())]
    read = 0
    for _ in range(count):
        data = bytearray(chance.choice(models))
        for _ in range(chance.randint(1, 12)):
            at = chance.randrange(len(data))
            data[at] = chance.choice((0, 0xFF, 0xD9, 0x7F, chance.randrange(256)))
        if chance.random() < .3:
            del data[chance.randrange(len(data)):]
        try:
            facts = examine_picture(bytes(data))
        except NotAPictureError:
            continue
        read += 1
        clean_thumbnail(bytes(data), facts.file_type)
        clean = clean_picture(bytes(data), facts.file_type)
        if clean is not None:
            assert clean_picture(clean, facts.file_type) == clean
            assert not re.search(rb"GPS|xap/1\.0|Photoshop|trailer|motion", clean)
    assert read > count / 10


def test_mutated_pictures() -> None:
    _try_mutated(200, 1)


@pytest.mark.full
def test_many_mutated_pictures() -> None:
    _try_mutated(20_000, 2)


def test_a_png_with_a_broken_part_stays_at_home() -> None:
    whole = made.png(made.chunk(b"iCCP", b"icc\0\0" + b"x" * 9))
    assert clean_picture(whole.replace(b"xxx", b"GPS"), "PNG") is None
    assert clean_picture(whole, "PNG") == whole


def test_a_profile_in_parts_stays_whole_or_goes() -> None:
    size = (300).to_bytes(4, "big")
    profile = size + b"\0" * 32 + b"acsp" + b"\7" * 260
    parts = [made.segment(0xE2, b"ICC_PROFILE\0" + bytes((n + 1, 3)) + profile[100 * n:][:100])
             for n in range(3)]
    assert clean_picture(made.jpeg(*parts), "JPEG") == made.jpeg(*parts)
    assert clean_picture(made.jpeg(*reversed(parts)), "JPEG") == made.jpeg(*parts)
    assert clean_picture(made.jpeg(*parts[:2]), "JPEG") == made.jpeg()
