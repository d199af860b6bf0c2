"""How we know, in the app: every row, its drawings, the way there."""

import re
from html import unescape

from starlette.testclient import TestClient

from slabwright.publish.evidence import summary
from slabwright.publish.evidence_charts import charts
from slabwright.spec.evidence.compared import evidence
from slabwright.spec.evidence.rows import every_row


def test_every_row_and_every_drawing_stands_on_the_page(client: TestClient) -> None:
    page = unescape(client.get("/evidence").text)

    listed = re.findall(r'<th scope="row">([A-Z]{2}\d{3,4}) [ABC]</th>', page)
    assert sorted(listed) == sorted(row.id for row in every_row())
    assert summary(evidence()) in page
    assert page.count("How far our ") == len(charts(evidence()))
    for one in evidence():
        assert f'id="{one.topic}"' in page
        for group in one.groups:
            assert group.source in page


def test_misses_are_shown_as_such(client: TestClient) -> None:
    page = client.get("/evidence").text
    groups = [group for one in evidence() for group in one.groups]
    missed = sum(g.statistics.judged - g.statistics.within for g in groups)

    assert missed > 0
    assert len(re.findall(r'<td class="outside">outside', page)) == missed


def test_calculators_lead_there(client: TestClient) -> None:
    for path in ("/calculators", "/calculators/tin-factor"):
        assert 'href="/evidence"' in client.get(path).text
