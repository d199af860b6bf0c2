"""Writes docs/pasted.md anew: what the reader of pasted text makes of the labelled set.

python -m tests.files.pasted
"""

from tests.files.pasted.report import PAGE, report

PAGE.write_text(report(), encoding="utf-8")
