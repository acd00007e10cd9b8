"""What the method page says of the attacks is what they left behind."""

import proof
import pytest
import yaml


def test_shares_are_those_of_the_counts():
    kinds, when = proof.changed()
    assert {"formulas and rules", "presenters"} <= {kind for kind, *_ in kinds}
    for _, tried, told in kinds:
        count, share = told.replace(" %)", "").split(" (")
        assert round(100 * int(count) / int(tried)) == int(share)
    assert when.endswith("2026")


def test_the_table_has_each_attack_once():
    html = proof.table()
    faults = yaml.safe_load(proof.FAULTS.read_text(encoding="utf-8"))
    assert f"<td>{len(faults)}</td><td>all</td>" in html and len(faults) >= 80
    for kind, tried, told in proof.changed()[0]:
        assert html.count(f": {kind}</th><td>{tried}</td><td>{told}</td>") == 1


def test_a_list_without_presenters_is_no_list(monkeypatch, tmp_path):
    path = tmp_path / "mutation.md"
    path.write_text("1 May 2027\n\n| formulas and rules | 10 | 9 (90 %) |\n", encoding="utf-8")
    monkeypatch.setattr(proof, "MUTATION", path)
    with pytest.raises(ValueError, match="no rows of formulas and of presenters"):
        proof.changed()
