"""Drawings that are whole pages, as one PDF at true size."""

import json
from collections.abc import Sequence
from typing import Final

import typst

from slabwright.publish.fonts import house_fonts

_TEMPLATE: Final = b"""
#let said = json(bytes(sys.inputs.data))
#set document(title: said.title, date: none)
#set page(width: 210mm, height: 297mm, margin: 0mm)
#for (number, drawing) in said.pages.enumerate() {
  if number > 0 { pagebreak() }
  image(bytes(drawing), format: "svg", width: 210mm, alt: said.alts.at(number))
}
"""


def pages_pdf(title: str, pages: Sequence[str], alts: Sequence[str]) -> bytes:
    """A PDF/UA-1 file of A4 pages, each a drawing whose unit is a millimetre.

    Args:
        title: what the document is called.
        pages: SVG documents of 210 by 297 mm.
        alts: what stands on each, in words.
    """
    data = json.dumps({"title": title, "pages": list(pages), "alts": list(alts)})
    made = typst.compile(
        _TEMPLATE,
        font_paths=house_fonts(),
        sys_inputs={"data": data},
        pdf_standards=["ua-1"],
    )
    return bytes(made)
