"""Outside judges: html-validate over every page, Lighthouse over a page of each kind (scripts/audit takes all of them,
and speed).
"""

import audit
import pytest

OF_EACH_KIND = ["index.html", "moisture/adjust.html", "records/chart.html"]
"""The front page; a calculator of plain fields; one of tables."""


@pytest.mark.slow
def test_markup_is_valid(site):
    faults = audit.markup_faults(site)
    assert faults == [], "\n".join("{name}:{line} {rule}: {message} ({selector})".format(**fault) for fault in faults)


def test_faults_of_markup_are_noticed(tmp_path):
    (tmp_path / "a.html").write_text(
        '<!doctype html>\n<html lang="en"><head><title>A page</title></head><body><p><div>in a'
        " paragraph</div></p><input></body></html>"
    )
    assert {"close-order", "no-implicit-input-type"} <= {fault["rule"] for fault in audit.markup_faults(tmp_path)}


@pytest.mark.slow
def test_lighthouse_gives_a_hundred(address):
    found = list(audit.lighthouse(address, OF_EACH_KIND, audit.STEADY))
    assert [page["page"] for page in found] == OF_EACH_KIND
    assert all(score == 100 for page in found for score in page["scores"].values()), "\n".join(map(audit.told, found))
