"""Photographs that are taken, how they are cleaned, and all that is refused."""

import io
import random
import struct
import warnings
import zipfile
import zlib
from contextlib import suppress
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms, ImageDraw
from PIL.PngImagePlugin import PngInfo

from slabwright.errors import FileError
from slabwright.files import photo as photo_module
from slabwright.files.photo import MOST_BYTES, CleanPhoto, cleaned

RED, GREEN, BLUE = (200, 30, 30), (30, 160, 60), (30, 60, 200)


def picture(width: int = 320, height: int = 200, mode: str = "RGB") -> Image.Image:
    """Shades everywhere, as in a photograph; red at the top left."""
    image = Image.linear_gradient("L").resize((width, height))
    made = Image.merge("RGB", (image, image.rotate(90).resize(image.size), image))
    ImageDraw.Draw(made).rectangle((0, 0, width // 4, height // 4), fill=RED)
    return made.convert(mode)


def saved(image: Image.Image, form: str = "JPEG", **how: Any) -> bytes:
    out = io.BytesIO()
    image.save(out, form, **how)
    return out.getvalue()


def opened(clean: CleanPhoto) -> Image.Image:
    image = Image.open(io.BytesIO(clean.data))
    image.load()
    assert image.size == (clean.width, clean.height)
    assert Image.MIME[image.format or ""] == clean.media_type
    return image


def corner(image: Image.Image, x: int, y: int) -> str:
    """Which colour stands out there."""
    point = image.convert("RGB").crop((x, y, x + 1, y + 1))
    r, g, b = point.tobytes()
    return "red" if r > g + 60 and r > b + 60 else "other"


def mean_off(image: Image.Image, other: Image.Image) -> float:
    """How far two pictures are apart, on average over their dots."""
    pairs = zip(image.tobytes(), other.tobytes(), strict=True)
    return sum(abs(a - b) for a, b in pairs) / len(image.tobytes())


def refused(data: bytes, words: str, name: str = "bench.jpg") -> None:
    with pytest.raises(FileError, match=words) as caught:
        cleaned(data, name)
    (mistake,) = caught.value.mistakes
    assert mistake.do
    assert str(mistake.where) == name


# --- what is taken ----------------


@pytest.mark.parametrize(
    ("form", "media_type"),
    [("JPEG", "image/jpeg"), ("PNG", "image/jpeg"), ("WEBP", "image/webp")],
)
def test_a_photograph_is_taken_and_looks_the_same(form: str, media_type: str) -> None:
    clean = cleaned(saved(picture(), form), "bench.xyz")
    image = opened(clean)

    assert clean.media_type == media_type
    assert image.size == (320, 200)
    assert mean_off(image.convert("RGB"), picture()) < 6


def test_it_goes_by_what_it_is_and_not_by_its_name() -> None:
    assert cleaned(saved(picture()), "bench.png").media_type == "image/jpeg"


def test_a_drawing_stays_sharp_and_a_see_through_picture_see_through() -> None:
    drawing = Image.new("RGB", (300, 200), "white")
    ImageDraw.Draw(drawing).rectangle((10, 10, 50, 50), fill=BLUE)
    clean = cleaned(saved(drawing, "PNG"), "plan.png")

    assert clean.media_type == "image/png"
    assert opened(clean).convert("RGB").get_flattened_data() == (
        drawing.get_flattened_data()
    )
    clear = picture(mode="RGBA")
    clear.putalpha(Image.linear_gradient("L").resize(clear.size))
    kept = opened(cleaned(saved(clear, "PNG"), "x.png"))
    assert kept.mode == "RGBA"
    assert kept.getchannel("A").getextrema() == (0, 255)
    assert opened(cleaned(saved(clear, "WEBP"), "x.webp")).mode == "RGBA"


@pytest.mark.parametrize(("colours", "kind"), [(128, "png"), (129, "jpeg")])
def test_how_many_colours_a_drawing_has(colours: int, kind: str) -> None:
    stripes = Image.frombytes(
        "L", (256, 1), bytes(min(x, colours - 1) for x in range(256))
    )
    clean = cleaned(saved(stripes.resize((256, 200)), "PNG"), "x.png")

    assert clean.media_type == f"image/{kind}"


def test_an_alpha_that_hides_nothing_is_dropped() -> None:
    clean = cleaned(saved(picture(mode="RGBA"), "PNG"), "x.png")

    assert clean.media_type == "image/jpeg"


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "RGBA", "I;16"])
def test_every_way_of_writing_a_png(mode: str) -> None:
    image = picture(mode="L") if mode == "I;16" else picture(mode=mode)
    if mode == "I;16":
        image = image.convert("I").point(lambda i: i * 257).convert("I;16")
    kept = opened(cleaned(saved(image, "PNG"), "x.png")).convert("L")

    expected = picture(mode="L") if mode == "I;16" else image.convert("L")
    assert mean_off(kept, expected) < 6


def test_a_printers_jpeg_in_four_colours() -> None:
    kept = opened(cleaned(saved(picture(mode="CMYK")), "x.jpg"))

    assert kept.mode == "RGB"
    assert corner(kept, 10, 10) == "red"
    assert corner(kept, 300, 190) == "other"


@pytest.mark.parametrize(
    ("size", "kept"),
    [
        ((2400, 100), (2400, 100)),
        ((2401, 100), (2400, 100)),
        ((6000, 4000), (2400, 1600)),
        ((1000, 4800), (500, 2400)),
        ((9000, 1), (2400, 1)),
    ],
)
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_it_is_made_as_small_as_it_is_kept(
    size: tuple[int, int], kept: tuple[int, int], form: str
) -> None:
    clean = cleaned(saved(picture(*size), form), "x")

    assert (clean.width, clean.height) == kept
    opened(clean)


@pytest.mark.parametrize("turned", range(1, 9))
@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_it_is_turned_upright(turned: int, form: str) -> None:
    """Each way of holding a camera brings the red corner somewhere else (TIFF 6.0,
    tag 274, from memory)."""
    image = picture()
    exif = image.getexif()
    exif[0x0112] = turned
    kept = opened(cleaned(saved(image, form, exif=exif, quality=95), "x"))

    right, low = kept.width - 10, kept.height - 10
    places = {"tl": (10, 10), "tr": (right, 10), "br": (right, low), "bl": (10, low)}
    red = {name for name, at in places.items() if corner(kept, *at) == "red"}
    assert red == {"tl tr br bl tl tr br bl".split()[turned - 1]}
    assert kept.size == ((320, 200) if turned < 5 else (200, 320))


def test_of_moving_pictures_the_first_is_kept() -> None:
    two = [Image.new("RGB", (50, 50), RED), Image.new("RGB", (50, 50), BLUE)]
    for form in ("WEBP", "PNG"):
        moving = saved(two[0], form, save_all=True, append_images=two[1:])
        kept = opened(cleaned(moving, "x"))
        assert getattr(kept, "n_frames", 1) == 1
        assert corner(kept, 25, 25) == "red"


def test_a_telephones_picture_of_several_is_taken() -> None:
    several = saved(picture(), "MPO", save_all=True, append_images=[picture()])

    assert opened(cleaned(several, "x.jpg")).format == "JPEG"


# --- what is stripped ----------------

SECRET = b"Quay-Street-7"


def told_all() -> Image.Exif:
    exif = Image.Exif()
    exif[0x010F] = SECRET.decode()  # the camera's maker
    exif[0x0112] = 6
    place = exif.get_ifd(0x8825)
    place[1], place[2] = "N", (51.0, 30.0, 26.0)
    place[3], place[4] = "W", (0.0, 7.0, 39.0)
    return exif


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("clear", [True, False])
def test_nothing_but_pixels_is_kept(form: str, clear: bool) -> None:
    image = picture(mode="RGBA" if clear and form != "JPEG" else "RGB")
    if image.mode == "RGBA":
        image.putpixel((0, 0), (0, 0, 0, 0))
    note = PngInfo()
    note.add_text("Comment", SECRET.decode())
    note.add_itxt("XML:com.adobe.xmp", SECRET.decode())
    note.add_text("Squeezed", SECRET.decode(), zip=True)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    how: dict[str, Any] = {"exif": told_all(), "icc_profile": profile, "dpi": (77, 77)}
    how |= {"pnginfo": note} if form == "PNG" else {"xmp": SECRET}
    how |= {"comment": SECRET} if form == "JPEG" else {}
    data = saved(image, form, **how)
    assert SECRET in data
    assert Image.open(io.BytesIO(data)).getexif().get_ifd(0x8825)
    clean = cleaned(data, "x")
    kept = opened(clean)

    for mark in (SECRET, b"Exif", b"EXIF", b"eXIf", b"XMP", b"xmp", b"ICC", b"iCCP"):
        assert mark not in clean.data
    for chunk in (b"tEXt", b"zTXt", b"iTXt", b"pHYs", b"tIME"):
        assert chunk not in clean.data
    assert dict(kept.getexif()) == {}
    assert dict(kept.getexif().get_ifd(0x8825)) == {}
    assert set(kept.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"} | {
        "loop", "background", "timestamp", "duration",
    }  # fmt: skip


def swapped_profile() -> bytes:
    """A profile of a screen whose red and blue have changed places."""
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for old, new in ((b"rXYZ", b"?XYZ"), (b"bXYZ", b"rXYZ"), (b"?XYZ", b"bXYZ")):
        plain = plain.replace(old, new)
    return plain


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "P"])
def test_colours_of_another_profile_are_made_those_of_a_screen(mode: str) -> None:
    image = Image.new("RGB", (300, 200), (0, 0, 255)).convert(mode)
    if mode == "RGBA":
        image.putpixel((0, 0), (0, 0, 255, 0))
    assert corner(image, 9, 9) == "other"
    kept = opened(cleaned(saved(image, "PNG", icc_profile=swapped_profile()), "x.png"))

    assert corner(kept, 9, 9) == "red"
    assert kept.mode == ("RGBA" if mode == "RGBA" else "RGB")


@pytest.mark.parametrize("profile", [b"", b"no profile", bytes(200)])
def test_a_profile_of_no_use_is_dropped(profile: bytes) -> None:
    kept = opened(cleaned(saved(picture(), "PNG", icc_profile=profile), "x.png"))

    assert corner(kept, 10, 10) == "red"
    assert "icc_profile" not in kept.info


@pytest.mark.filterwarnings("ignore::UserWarning:PIL")
def test_a_turn_that_cannot_be_made_out_is_none() -> None:
    broken = saved(picture(), exif=b"Exif\0\0MM\0*\xff\xff\xff\xff" + bytes(9))

    assert opened(cleaned(broken, "x.jpg")).size == (320, 200)


# --- what is refused ----------------

SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><rect width="9" height="9"/></svg>'


def zipped() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        made.writestr("a", "x")
    return out.getvalue()


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "an empty file"),
        (SVG, "an SVG drawing"),
        (SVG.replace(b"<rect", b"<script>alert(1)</script><rect"), "an SVG drawing"),
        (b'\xef\xbb\xbf <?xml version="1.0"?>' + SVG, "SVG drawing"),
        (saved(picture(mode="P"), "GIF"), "a GIF"),
        (saved(picture(), "BMP"), "a BMP"),
        (saved(picture(), "TIFF"), "a TIFF"),
        (saved(picture(), "PDF"), "a PDF"),
        (zipped(), "a zip"),
        (b"<!DOCTYPE html><p>x", "a web page"),
        (b"\n<HTML>", "a web page"),
        (b"\0\0\0\x18ftypheic" + bytes(99), "a HEIC"),
        (b"\0\0\0\x18ftypavif" + bytes(99), "an AVIF"),
        (b"\0\0\0\x18ftypmp42" + bytes(99), "a film"),
        (b"RIFF\0\0\0\0WAVEfmt ", "something else"),
        (b"slab Two tides\n", "something else"),
    ],
)
def test_what_is_no_photograph(data: bytes, words: str) -> None:
    refused(data, rf"This is .*{words}, and no JPEG, PNG or WebP. Save it as a JPEG")


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize(
    "more",
    [
        zipped(),
        b"<html><body>x",
        b"<SCRIPT>alert(1)</SCRIPT>",
        SVG,
        b"<?php x",
        b"%PDF-1",
    ],
)
def test_a_picture_that_is_another_file_too(form: str, more: bytes) -> None:
    refused(saved(picture(), form) + more, "holds another file beside its pixels")


def test_a_script_in_a_comment() -> None:
    refused(saved(picture(), comment=b"<script>x"), "holds another file")


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("share", [0.02, 0.3, 0.6, 0.95])
def test_a_picture_that_was_cut_off(form: str, share: float) -> None:
    data = saved(picture(), form)

    refused(data[: int(len(data) * share)], "is damaged, or was cut off")


def test_bytes_behind_a_picture_that_say_nothing_are_dropped() -> None:
    clean = cleaned(saved(picture()) + SECRET, "x.jpg")

    assert SECRET not in clean.data


def test_a_file_that_is_too_large() -> None:
    start = saved(picture())

    assert cleaned(start + bytes(MOST_BYTES - len(start)), "x.jpg")
    refused(start + bytes(MOST_BYTES - len(start) + 1), r"has 12.0 MiB; 12 are taken")


def chunk(kind: bytes, data: bytes) -> bytes:
    sum_ = zlib.crc32(kind + data)
    return struct.pack(">L", len(data)) + kind + data + struct.pack(">L", sum_)


def flat_png(width: int, height: int, *more: bytes) -> bytes:
    """One black bit for each pixel: few bytes, however large."""
    head = struct.pack(">LLBBBBB", width, height, 1, 0, 0, 0, 0)
    row = bytes(1 + (width + 7) // 8)
    squeeze = zlib.compressobj(9)
    body = b"".join(squeeze.compress(row) for _ in range(min(height, 20_000)))
    parts = (chunk(b"IHDR", head), *more, chunk(b"IDAT", body + squeeze.flush()))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts) + chunk(b"IEND", b"")


def test_a_hundred_million_pixels_in_a_few_bytes() -> None:
    data = flat_png(10_000, 10_000)

    assert len(data) < 20_000
    refused(data, "more than 40 million pixels")


@pytest.mark.parametrize(
    ("width", "height", "fits"),
    [(8000, 5000, True), (8001, 5000, False), (2**31 - 1, 1, False),
     (1, 2**31 - 1, False), (65_535, 65_535, False)],
)  # fmt: skip
def test_the_limit_of_pixels(width: int, height: int, fits: bool) -> None:
    if fits:
        assert cleaned(flat_png(width, height), "x.png").width == 2400
    else:
        head = struct.pack(">LLBBBBB", width, height, 1, 0, 0, 0, 0)
        body = chunk(b"IDAT", zlib.compress(bytes(99)))
        data = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + body
        refused(data, "more than 40 million pixels")


@pytest.mark.parametrize("form", ["JPEG", "WEBP"])
def test_a_head_that_claims_far_more_than_there_is(form: str) -> None:
    data = bytearray(saved(picture(), form))
    if form == "JPEG":
        at = data.index(b"\xff\xc0") + 5
        struct.pack_into(">HH", data, at, 65_500, 65_500)
    else:  # the size stands in 14 bits each, behind the frame's start code
        at = data.index(b"\x9d\x01\x2a") + 3
        struct.pack_into("<HH", data, at, 16_383, 16_383)

    refused(bytes(data), r"more than 40 million pixels|damaged")


def test_text_that_swells_in_a_png() -> None:
    """A kilobyte of squeezed text for each megabyte: a bomb beside the pixels."""
    swollen = b"k\0\0" + zlib.compress(bytes(80_000_000), 9)
    data = flat_png(100, 100, chunk(b"zTXt", swollen))

    assert len(data) < 100_000
    refused(data, "is damaged")


def test_a_profile_that_swells_in_a_png() -> None:
    swollen = b"k\0\0" + zlib.compress(bytes(200_000_000), 9)
    data = flat_png(100, 100, chunk(b"iCCP", swollen))

    with suppress(FileError):
        assert len(cleaned(data, "x.png").data) < 1000


def test_the_limit_holds_where_warnings_are_not_heard() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        refused(flat_png(9_000, 5_000), "more than 40 million pixels")


def test_the_librarys_own_guard_is_an_error() -> None:
    assert Image.MAX_IMAGE_PIXELS == photo_module.MOST_PIXELS


@pytest.mark.parametrize("name", ["a\n\x1b[31m.jpg", "x" * 500 + ".jpg"])
def test_a_name_is_shown_without_harm(name: str) -> None:
    with pytest.raises(FileError) as caught:
        cleaned(b"no", name)
    where = str(caught.value.mistakes[0].where)

    assert len(where) <= 80
    assert where.isprintable()


@pytest.mark.filterwarnings("ignore::UserWarning:PIL")
@given(st.binary(max_size=300), st.sampled_from(["JPEG", "PNG", "WEBP", ""]))
def test_no_bytes_at_all_trip_it(data: bytes, form: str) -> None:
    starts = {"JPEG": b"\xff\xd8\xff", "PNG": b"\x89PNG\r\n\x1a\n", "": b""}
    starts["WEBP"] = b"RIFF\x40\0\0\0WEBP"
    with suppress(FileError):
        cleaned(starts[form] + data, "x")


SMALL = {form: saved(picture(40, 30), form, exif=told_all()) for form in
         ("JPEG", "PNG", "WEBP")}  # fmt: skip


@pytest.mark.filterwarnings("ignore::UserWarning:PIL")
@given(st.integers(0, 2**32), st.sampled_from(sorted(SMALL)), st.integers(1, 9))
def test_no_damage_trips_it(seed: int, form: str, changes: int) -> None:
    dice = random.Random(seed)  # noqa: S311
    data = bytearray(SMALL[form])
    reach = len(data) if seed % 2 else min(len(data), 120)
    for _ in range(changes):
        data[dice.randrange(reach)] = dice.choice((0, 1, 0x7F, 0x80, 0xFE, 0xFF))
    with suppress(FileError):
        clean = cleaned(bytes(data), "x")
        assert b"Exif" not in clean.data
        assert max(clean.width, clean.height) <= 2400
