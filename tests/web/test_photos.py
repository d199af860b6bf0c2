"""Photographs through the app: kept without where they were taken, or refused."""

import io
import zipfile
from html import unescape

import pytest
from PIL import Image
from starlette.testclient import TestClient

from slabwright.files.photo import MOST_BYTES, MOST_PIXELS
from slabwright.store import cards, photos
from slabwright.store.engine import reading, writing
from slabwright.store.photos import PhotoRow
from slabwright.store.who import Who
from tests.web.conftest import NOW, Kitchen

WHERE = b"Tarrowmouth harbour steps"
DESCRIPTION = 0x010E


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def picture(form: str = "JPEG", size: tuple[int, int] = (320, 200)) -> bytes:
    """A photograph with the place in it where it was taken."""
    image = Image.linear_gradient("L").resize(size).convert("RGB")
    exif = image.getexif()
    exif[DESCRIPTION] = WHERE.decode()
    out = io.BytesIO()
    image.save(out, form, exif=exif)
    return out.getvalue()


def kept(kitchen: Kitchen, slab: int) -> tuple[PhotoRow, ...]:
    with reading(kitchen.engine) as connection:
        return photos.listed(connection, kitchen.id, slab)


def send(client: TestClient, slab: int, data: bytes, **fields: str) -> tuple[int, str]:
    """The status and the page to which a photograph that is sent leads."""
    files = {"photo": ("bench.jpg", data, "image/jpeg")}
    answer = client.post(f"/slabs/{slab}/photos", data=fields, files=files)
    return answer.status_code, unescape(answer.text)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_what_is_kept_says_nothing_of_where(
    client: TestClient, kitchen: Kitchen, slab: int, form: str
) -> None:
    data = picture(form)
    assert WHERE in data, "the test would prove nothing"
    status, page = send(client, slab, data, caption="The first cut")
    assert status == 200
    assert "The first cut" in page
    (row,) = kept(kitchen, slab)
    assert f"/photos/{row.id}" in page
    answer = client.get(f"/photos/{row.id}")
    assert answer.headers["content-type"] == row.media_type
    assert answer.headers["cache-control"] == "private"
    assert WHERE not in answer.content
    with Image.open(io.BytesIO(answer.content)) as image:
        assert image.size == (row.width, row.height) == (320, 200)
        assert not image.getexif()


def test_a_photograph_is_of_what_was_said(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    with reading(kitchen.engine) as connection:
        card = cards.one(connection, kitchen.id, slab)
    assert card is not None
    page = client.get(f"/slabs/{slab}/photos").text
    line = int(page.split('value="line', 1)[1].split('"', 1)[0])
    for of in ("", "slab", f"v{card.current}", f"line{line}"):
        assert send(client, slab, picture(), of=of)[0] == 200
    now = card.current
    shown = [(row.revision, row.step_line) for row in kept(kitchen, slab)]
    assert shown == [(now, None), (None, None), (now, None), (now, line)]


def test_a_revision_that_is_not_there_takes_none(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    assert send(client, slab, picture(), of="v999")[0] == 404
    assert send(client, slab, picture(), of="dish")[0] == 422
    assert kept(kitchen, slab) == ()


def bomb() -> bytes:
    """A picture that is a zip as well, of much more than it weighs."""
    out = io.BytesIO(picture())
    out.seek(0, io.SEEK_END)
    with zipfile.ZipFile(out, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("bomb", bytes(5_000_000))
    return out.getvalue()


def plain_zip() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("bomb", bytes(5_000_000))
    return out.getvalue()


def huge() -> bytes:
    """A hundred megapixels in a small file."""
    out = io.BytesIO()
    Image.new("1", (10_000, 10_000)).save(out, "PNG")
    assert len(out.getvalue()) < MOST_BYTES < 10_000**2
    assert MOST_PIXELS < 10_000**2
    return out.getvalue()


SCRIPTED = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (plain_zip(), "no JPEG, PNG or WebP"),
        (bomb(), "holds another file beside its pixels"),
        (SCRIPTED, "no JPEG, PNG or WebP"),
        (huge(), "more than 40 million pixels"),
        (picture()[:400], "damaged, or was cut off"),
        (b"", "No photograph was chosen"),
        (b"\xff\xd8" + bytes(MOST_BYTES), "12 are taken"),
    ],
    ids=["zip", "both", "svg", "100-megapixel", "cut-off", "empty", "too-heavy"],
)
def test_what_is_no_photograph_is_refused_with_the_reason(
    client: TestClient, kitchen: Kitchen, slab: int, data: bytes, said: str
) -> None:
    status, page = send(client, slab, data)
    assert 400 <= status < 500
    assert said in page
    assert kept(kitchen, slab) == ()


def test_let_go_of_it_is_gone(client: TestClient, kitchen: Kitchen, slab: int) -> None:
    send(client, slab, picture())
    (row,) = kept(kitchen, slab)
    assert client.post(f"/photos/{row.id}/drop").status_code == 200
    assert kept(kitchen, slab) == ()
    assert client.get(f"/photos/{row.id}").status_code == 404
    assert client.post(f"/photos/{row.id}/drop").status_code == 404


def test_another_kitchens_photograph_is_not_here(
    client: TestClient, kitchen: Kitchen
) -> None:
    with writing(kitchen.engine) as connection:
        who = Who("", NOW)
        text = "slab Theirs\n"
        theirs = cards.add(connection, kitchen.other_id, "slab", "Theirs", text, who)
        photo = photos.add(
            connection, kitchen.other_id, theirs.id, picture(), who,
            media_type="image/jpeg", width=320, height=200,
        )  # fmt: skip
    assert client.get(f"/photos/{photo.id}").status_code == 404
    assert client.post(f"/photos/{photo.id}/drop").status_code == 404
    assert send(client, theirs.id, picture())[0] == 404
    with reading(kitchen.engine) as connection:
        assert photos.one(connection, kitchen.other_id, photo.id) is not None
