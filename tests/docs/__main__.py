"""Write every output, table and picture of the documentation anew."""

import sys

from tests.docs.bench import Bench
from tests.docs.pages import PAGES, PICTURE, ROOT, drawn, refreshed, same


def _main() -> None:
    for page in PAGES:
        with Bench() as bench:
            text = page.read_text("utf-8")
            new = refreshed(text, bench)
        if not same(text, new):
            page.write_text(new, encoding="utf-8")
            sys.stdout.write(f"wrote {page.relative_to(ROOT)}\n")
    with Bench() as bench:
        picture = drawn(bench)
    if not PICTURE.exists() or PICTURE.read_text("utf-8") != picture:
        PICTURE.write_text(picture, encoding="utf-8")
        sys.stdout.write(f"wrote {PICTURE.relative_to(ROOT)}\n")


_main()
