"""What sentences speak of, and names of places on a vehicle. Invented texts in several languages."""

from __future__ import annotations

import polars as pl
import pytest

from longmile.pipelines.maps.evidence_fit import fit
from longmile.pipelines.maps.evidence_texts import text_shares
from longmile.pipelines.maps.evidence_values import values_of


@pytest.mark.parametrize(
    ("text", "subject"),
    [
        ("Won't start when cold", "said"),
        ("Bremse quietscht vorne", "said"),
        ("Voyant moteur allumé", "said"),
        ("Pads worn to 2 mm", "found"),
        ("Spannrolle ausgeschlagen", "found"),
        ("Valvola bruciata", "found"),
        ("Replaced pads", "done"),
        ("Pompe remplacée et purge", "done"),
        ("Pompa wymieniona", "done"),
    ],
)
def test_a_sentence_speaks_of_a_complaint_a_finding_or_work(text: str, subject: str):
    shares = text_shares({text: 1})
    assert shares[subject] == 1.0
    assert max(shares, key=lambda name: shares[name]) == subject


def _column(cells: list[str]):
    return values_of(pl.Series("any", cells * 10))


def test_places_on_a_vehicle_speak_for_themselves_beside_numbers_of_cylinders():
    assert fit("position", _column(["LF", "RR", "Front", "2"])).says > 0.8
    assert fit("position", _column(["VL", "HR", "hinten", "1"])).says > 0.8


def test_numbers_alone_are_no_places():
    assert fit("position", _column(["1", "2", "3", "4"])).says == 0.0


def test_a_shops_location_is_no_place_on_a_vehicle():
    assert fit("site", _column(["North", "South"])).can > 0.9
    assert fit("site", _column(["LF", "RR", "Front", "2"])).can < 0.6
