import re
from hashlib import sha256
from pathlib import Path

import pytest

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
