"""Every published value in tests/published is met, within the tolerance that its entry gives a reason for."""

import published
import pytest

ENTRIES = list(published.entries())


@pytest.mark.parametrize(("chapter", "entry"), ENTRIES, ids=[entry["id"] for _, entry in ENTRIES])
def test_published_value(chapter, entry):
    check = published.Check(entry, chapter, published.ours(entry))
    assert check.holds, (
        f"{entry['id']}: published {entry['expected']} {entry['unit']}, ours {check.ours}, allowed {check.allowed}"
        f" ({entry['source']})"
    )


def test_ids_are_unique():
    ids = [entry["id"] for _, entry in ENTRIES]
    assert sorted(set(ids)) == sorted(ids)


def test_a_check_can_fail():
    chapter, entry = next((chapter, entry) for chapter, entry in ENTRIES if isinstance(entry["expected"], (int, float)))
    value = published.ours(entry)
    assert not published.Check(
        entry | {"expected": value + 10 * published.Check(entry, chapter, value).allowed + 1e-6}, chapter, value
    ).holds
