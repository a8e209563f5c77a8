"""Identification numbers against the regulation's worked example and numbers published for trying such arithmetic."""

import pytest

from longmile.schemas.vin import LETTER_VALUES, LETTERS, VIN_SIGNS, WEIGHTS, check_digit, model_years, repaired


# 49 CFR 565.15(c), Table V, worked example: 1G4AH59H_5G118341; products 8+49+24+5+32+15+18+80+0+45+56+7+6+40+12+12+2
# = 411, 411 / 11 = 37 4/11, check digit 4.
def test_the_regulations_worked_example():
    vin = "1G4AH59H45G118341"
    values = vin.translate(str.maketrans(LETTERS, LETTER_VALUES))
    products = [int(value) * weight for value, weight in zip(values, WEIGHTS, strict=True)]
    assert products == [8, 49, 24, 5, 32, 15, 18, 80, 0, 45, 56, 7, 6, 40, 12, 12, 2]
    assert check_digit(vin) == "4"


@pytest.mark.parametrize(
    ("vin", "digit"),
    [
        # NHTSA, Outline for New Manufacturer Information, p. 18: sum 314, 314 / 11 = 28 6/11.
        ("1J9RP1A36A1644345", "6"),
        # The example usual in descriptions of the check digit (sum 351 = 31 * 11 + 10): the letter X.
        ("1M8GDM9AXKP042788", "X"),
        # Manual of the R package vindecodr 0.1.1, valid_check_digit: TRUE.
        ("WDBEA30D3HA391172", "3"),
        # Manual of the Python package vin-parser 0.0.1, check_no: '7'.
        ("1GYFK63878R248711", "7"),
        # Seventeen ones: 1 * (sum of the weights, 89) = 8 * 11 + 1.
        ("1" * 17, "1"),
    ],
)
def test_published_sample_numbers(vin: str, digit: str):
    assert check_digit(vin) == digit == vin[8]


# Test of the Rust crate vin_parser 1.0.0: expected '8', received 'Z'. A European number, which need not hold.
def test_a_number_from_where_the_digit_is_not_required_does_not_hold():
    assert check_digit("WP0ZZZ99ZTS392124") == "8"


# The R manual again: WDBEA3QD3HA39I172 with guess = TRUE takes Q for 0 as well; here only I and O are mended, so this
# one stays as it is, and with 0 written O it is mended.
def test_letters_are_mended_only_where_the_check_digit_then_holds():
    assert repaired("WDBEA30D3HA39I172") == "WDBEA30D3HA391172"
    assert repaired("WDBEA3OD3HA39I172") == "WDBEA30D3HA391172"
    assert repaired("WDBEA3QD3HA39I172") is None
    assert repaired("WDBEA3OD4HA39I172") is None
    assert repaired("WDBEA30D3HA391172") is None


@pytest.mark.parametrize("vin", ["", "1M8GDM9AXKP04278", "1M8GDM9AXKP04278O", "1m8gdm9axkp042788"])
def test_what_is_no_number_has_no_check_digit(vin: str):
    with pytest.raises(ValueError, match="is not 17 of the signs"):
        check_digit(vin)


def test_the_signs_are_those_of_iso_3779():
    assert len(VIN_SIGNS) == 33 and not set("IOQ") & set(VIN_SIGNS)
    assert len(LETTERS) == len(LETTER_VALUES) == 23


# 49 CFR 565.15(d), table of model years (from memory): A 1980 and 2010, Y 2000 and 2030, 9 2009 and 2039; I O Q U Z 0
# are no years.
@pytest.mark.parametrize(("sign", "years"), [("A", (1980, 2010)), ("Y", (2000, 2030)), ("9", (2009, 2039)), ("U", ())])
def test_the_tenth_sign_tells_two_years(sign: str, years: tuple[int, ...]):
    assert model_years(f"11111111{sign}{sign}1111111") == years
