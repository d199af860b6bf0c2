import re
from hashlib import sha256
from pathlib import Path

import pytest
from starlette.testclient import TestClient

ROOT = Path(__file__).parents[2]
FOLDERS = (ROOT / "src/slabwright/web/static/vendor", ROOT / "tests/web/vendor")


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.parent.name)
def test_every_vendored_file_is_as_its_page_says(folder: Path) -> None:
    page = (folder / "README.md").read_text("utf-8")
    listed = dict(
        re.findall(r"^\| `([\w.]+)`.*\| ([0-9a-f]{64}) \|$", page, re.MULTILINE)
    )
    there = {path.name for path in folder.iterdir() if path.suffix == ".js"}

    assert set(listed) == there
    for name, wanted in listed.items():
        assert sha256((folder / name).read_bytes()).hexdigest() == wanted
        licence = re.search(rf"`{name}`.*`(LICENSE-[\w.-]+)`", page)
        assert licence
        assert (folder / licence[1]).stat().st_size > 200


@pytest.mark.parametrize("name", ["look.css", "vendor/idiomorph.js"])
def test_the_front_end_is_asked_after_each_time(client: TestClient, name: str) -> None:
    """What a browser keeps of an older program must not meet a newer one's pages."""
    first = client.get(f"/static/{name}")
    assert first.status_code == 200
    assert first.headers["cache-control"] == "no-cache"
    again = client.get(
        f"/static/{name}", headers={"If-None-Match": first.headers["etag"]}
    )
    assert again.status_code == 304
