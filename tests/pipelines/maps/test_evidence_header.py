"""Headers read: words of nine languages, compounds, abbreviations, slips. Headers are invented."""

from __future__ import annotations

import pytest

from longmile.pipelines.maps.evidence_header import header_scores, language_of
from longmile.pipelines.maps.evidence_lexicon import LANGUAGES, parts_of
from longmile.pipelines.maps.evidence_spelling import header_words, plain
from longmile.pipelines.maps.words_meanings import BY_NAME, MEANINGS
from longmile.pipelines.maps.words_meanings_refused import REFUSED
from longmile.schemas.shop import TRADE_TABLES


def best(header: str, language: str, context: str = "") -> str:
    scores = header_scores(header, language, context)
    return max(scores, key=lambda name: scores[name])


@pytest.mark.parametrize(
    ("header", "language", "meaning"),
    [
        ("RO #", "en", "order_no"),
        ("WO_NBR", "en", "order_no"),
        ("workOrderId", "en", "order_no"),
        ("Auftragsnr.", "de", "order_no"),
        ("N° OR", "fr", "order_no"),
        ("Nº Parte", "es", "order_no"),
        ("NumCommessa", "it", "order_no"),
        ("Opdrachtnummer", "nl", "order_no"),
        ("N.º OS", "pt", "order_no"),
        ("Arbetsordernummer", "sv", "order_no"),
        ("Nr zlecenia", "pl", "order_no"),
        ("Odometer Received (km)", "en", "odometer_in"),
        ("ODOOUT", "en", "odometer_out"),
        ("KM-Stand", "de", "odometer_in"),
        ("DT_OPN", "en", "opened_on"),
        ("1ère mise en circulation", "fr", "in_service_on"),
        ("CMPLNT", "en", "concern"),
        ("Ersatzteilnummer", "de", "part_number"),
        ("Prix d'achat HT", "fr", "cost"),
        ("Labour Hrs", "en", "hours"),
        ("MwSt", "de", "tax"),
        ("License plate", "en", "plate"),
        ("Fecha de matriculación", "es", "in_service_on"),
        ("Matrícula", "es", "plate"),
    ],
)
def test_a_header_says_what_it_means(header: str, language: str, meaning: str):
    assert best(header, language) == meaning


def test_a_slip_of_the_pen_is_still_read():
    assert best("Auftragsnumer", "de") == "order_no"
    assert best("Compaint", "en") == "concern"


def test_letters_left_out_are_still_read():
    assert best("dscrptn", "en") == "description"


def test_a_bare_number_means_what_the_sheets_name_says():
    assert header_scores("Number", "en", "vehicle")["vehicle_id"] > header_scores("Number", "en")["order_no"]


def test_words_are_parted_at_signs_capitals_and_digits():
    assert header_words("dateIn") == ["date", "in"]
    assert header_words("Part#2") == ["part", "#", "2"]
    assert header_words("MwSt", {"mwst"}) == ["mwst"]
    assert plain("Tätigkeit (Größe)") == "tatigkeit grosse"


def test_compounds_are_parted_into_known_words():
    assert parts_of("fahrzeugnummer") == ("fahrzeug", "nummer")
    assert parts_of("auftragsnr") == ("auftrag", "nr")
    assert parts_of("xyzzy") == ()


@pytest.mark.parametrize(
    ("headers", "language"),
    [
        (("RO", "Date In", "Odometer"), "en"),
        (("Auftrag", "Annahme", "Kilometerstand"), "de"),
        (("N° OR", "Date d'entrée", "Kilométrage"), "fr"),
        (("Orden", "Fecha de entrada", "Kilometraje"), "es"),
        (("Commessa", "Data ingresso", "Chilometri"), "it"),
        (("Werkorder", "Binnenkomst", "Tellerstand"), "nl"),
        (("Ordem", "Data de entrada", "Quilómetros"), "pt"),
        (("Arbetsorder", "Inlämnad", "Mätarställning"), "sv"),
        (("Nr zlecenia", "Data przyjęcia", "Przebieg"), "pl"),
        (("F1", "F2"), "en"),
    ],
)
def test_the_language_is_that_of_most_words(headers: tuple[str, ...], language: str):
    assert language_of(headers) == language


def test_every_notion_a_meaning_names_has_words():
    notions = {notion for words in LANGUAGES.values() for notion in words}
    named = {n for one in (*MEANINGS, *REFUSED) for phrase, _ in one.phrases for n in phrase} | {
        n for one in (*MEANINGS, *REFUSED) for n in one.free
    }
    assert named <= notions


def test_every_meaning_fills_columns_that_there_are_and_every_column_has_a_meaning():
    columns = {f"{table.name}.{column.incoming}" for table in TRADE_TABLES for column in table.columns}
    filled = {one for meaning in MEANINGS for one in meaning.fills if not one.startswith("*")}
    assert filled <= columns
    assert {one for one in columns if not one.endswith(".repair_order_id")} <= filled
    assert BY_NAME["order_no"].fills == ("*.repair_order_id",)
