"""Photographs at the door: taken for hostile, drawn anew, stripped of all but pixels.

A telephone writes into a photograph where and when it was taken, and by whose
telephone. None of that is kept.
"""

import struct
import warnings
import zlib
from dataclasses import dataclass
from io import BytesIO
from typing import Final
from zipfile import is_zipfile

from PIL import Image, ImageCms, ImageOps

from slabwright.errors import FileError, Mistake
from slabwright.files.photo_kind import kind_of, other_tongue
from slabwright.paths import shown

MOST_BYTES: Final = 12 * 1024 * 1024
"""Bytes of a photograph as it comes."""
MOST_PIXELS: Final = 40_000_000
LONGEST_PX: Final = 2400
"""Long side of a photograph as it is kept [pixels]."""
QUALITY: Final = 88
FEW_COLOURS: Final = 128
"""So many at most are a drawing, and stay sharp; a grey photograph has 256."""

Image.MAX_IMAGE_PIXELS = MOST_PIXELS
warnings.simplefilter("error", Image.DecompressionBombWarning)

_SRGB: Final = ImageCms.createProfile("sRGB")
_UPPER_BYTE: Final = [value >> 8 for value in range(1 << 16)]
_FAULTS: Final = (
    OSError,
    EOFError,
    ValueError,
    SyntaxError,  # what the library calls a broken PNG
    TypeError,
    LookupError,
    OverflowError,
    NotImplementedError,
    MemoryError,
    struct.error,
    zlib.error,
)
"""What comes of damaged pictures."""


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A photograph as it is kept."""

    data: bytes
    media_type: str
    width: int
    height: int
    """In pixels, upright."""


def cleaned(data: bytes, name: str) -> CleanPhoto:
    """A photograph drawn anew: upright, in sRGB, not too large, nothing else in it.

    JPEG, PNG and WebP are taken, by what they are and not by their name. A PNG stays
    one if it is see-through or a drawing, and becomes a JPEG otherwise. Of moving
    pictures the first is kept.

    Args:
        data: the file.
        name: what it is called, for telling what is wrong with it.

    Raises:
        FileError: for anything else, or one that is damaged or too large.
    """
    if len(data) > MOST_BYTES:
        what = (
            f"The photograph has {len(data) / 1024 / 1024:.1f} MiB; "
            f"{MOST_BYTES / 1024 / 1024:.0f} are taken."
        )
        raise _error(what, "Send it in a smaller size.", name)
    kind, is_taken = kind_of(data)
    if not is_taken:
        what = f"This is {kind}, and no JPEG, PNG or WebP."
        raise _error(what, "Save it as a JPEG, and send that.", name)
    if other_tongue(data) or is_zipfile(BytesIO(data)):
        what = "The picture holds another file beside its pixels."
        raise _error(what, "Open it, save it anew as a JPEG, and send that.", name)
    try:
        return _drawn_anew(data, kind, name)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_many_pixels(name) from error
    except _FAULTS as error:
        what = f"The {kind} is damaged, or was cut off on its way."
        raise _error(what, "Take it from the camera again.", name) from error


def _drawn_anew(data: bytes, kind: str, name: str) -> CleanPhoto:
    with Image.open(BytesIO(data), formats=[kind.upper()]) as opened:
        if opened.width * opened.height > MOST_PIXELS:
            raise _too_many_pixels(name)
        opened.draft("RGB", (LONGEST_PX, LONGEST_PX))  # a JPEG is read at less
        opened.load()
        profile = opened.info.get("icc_profile")
        image = _in_plain_colours(opened)
        is_drawing = image.getcolors(FEW_COLOURS) is not None
        if profile:
            image = _in_srgb(image, profile)
        image.thumbnail((LONGEST_PX, LONGEST_PX), Image.Resampling.LANCZOS)
        image = _upright(image, opened)
    image.info = {}
    stays_png = is_drawing or image.mode == "RGBA"
    form = "JPEG" if kind == "PNG" and not stays_png else kind.upper()
    out = BytesIO()
    image.save(out, form, quality=QUALITY)
    media_type = f"image/{form.lower()}"
    return CleanPhoto(out.getvalue(), media_type, image.width, image.height)


def _in_plain_colours(image: Image.Image) -> Image.Image:
    """As RGB, or as RGBA where anything of it is see-through."""
    if image.mode.startswith("I;16"):  # sixteen bits of grey: the upper eight
        return image.convert("I").point(_UPPER_BYTE, "L").convert("RGB")
    if not image.has_transparency_data:
        return image.convert("RGB")
    clear = image.convert("RGBA")
    least, _ = clear.getchannel("A").getextrema()
    return clear if least != 255 else clear.convert("RGB")


def _in_srgb(image: Image.Image, profile: bytes) -> Image.Image:
    """The same colours as every screen has them; a profile of no use is dropped."""
    try:
        own = ImageCms.ImageCmsProfile(BytesIO(profile))
        plain = image.convert("RGB")
        found = ImageCms.profileToProfile(plain, own, _SRGB, outputMode="RGB")
    except (ImageCms.PyCMSError, *_FAULTS):
        return image
    if found is None:
        return image
    if image.mode == "RGBA":
        found.putalpha(image.getchannel("A"))
    return found


def _upright(image: Image.Image, opened: Image.Image) -> Image.Image:
    """Turned as the camera was held; not turned where that can't be made out."""
    image.info = {"exif": opened.info["exif"]} if "exif" in opened.info else {}
    try:
        return ImageOps.exif_transpose(image)
    except _FAULTS:
        return image


def _too_many_pixels(name: str) -> FileError:
    what = f"The picture has more than {MOST_PIXELS / 1e6:.0f} million pixels."
    return _error(what, "Send it in a smaller size.", name)


def _error(what: str, do: str, name: str) -> FileError:
    return FileError(Mistake(what, do, shown(name)))
