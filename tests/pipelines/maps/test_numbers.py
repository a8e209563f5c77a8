from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from longmile.pipelines.maps.number_forms import NumberSigns
from longmile.pipelines.maps.numbers import cents_sql, number_sql

COMMA = NumberSigns(",", ".")
POINT = NumberSigns(".", ",")
STYLES = (COMMA, POINT, NumberSigns(",", " "), NumberSigns(".", "'"), NumberSigns(",", "\u00a0"), NumberSigns(".", ""))


def test_groups_of_three_are_checked(read):
    cells = ["1.234", "1.5", "1.234,5", "1234,5", "12.34", "1.2345", "1234.567", "1.234.567", "1..234", ".234", "1,2,3"]
    expected = ["1234", None, "1234.5", "1234.5", None, None, None, "1234567", None, None, None]
    assert read(number_sql("cell", COMMA), cells) == expected


def test_every_space_stands_for_every_space_and_so_for_apostrophes(read):
    assert read(number_sql("cell", NumberSigns(",", " ")), ["1 234", "1\u00a0234", "1\u202f234,5"]) == [
        "1234",
        "1234",
        "1234.5",
    ]
    assert read(number_sql("cell", NumberSigns(".", "'")), ["1'234", "1\u2019234.5", "1'23"]) == [
        "1234",
        "1234.5",
        None,
    ]


def test_a_sign_between_thousands_that_is_not_stated_is_not_read(read):
    assert read(number_sql("cell", NumberSigns(".", "")), ["1,234", "1 234", "1234", "1.234"]) == [
        None,
        None,
        "1234",
        "1.234",
    ]


def test_money_is_read_with_signs_and_codes_of_currencies(read):
    cells = [
        "$1,234.50",
        "USD 12",
        "12 EUR",
        "\u20ac5",
        "5\u20ac",
        "US$5",
        "kr 5",
        "5 kr.",
        "Fr. 5",
        "$.50",
        "5 zł",
        "R$ 5",
    ]
    expected = ["1234.50", "12", "12", "5", "5", "5", "5", "5", "5", "0.50", "5", "5"]
    assert read(cents_sql("cell", POINT), cells) == expected


def test_money_is_negative_with_a_minus_before_or_after_in_parentheses_or_as_a_credit(read):
    cells = ["-5", "5-", "(5)", "$(5)", "($5)", "(5) USD", "-$5", "$-5", "$5-", "5 CR", "$5cr.", "\u22125", "\u20135"]
    assert read(cents_sql("cell", POINT), cells) == ["-5"] * 13
    assert read(cents_sql("cell", POINT), ["5 DR", "+5", "$5 dr"]) == ["5"] * 3


def test_two_signs_or_half_a_pair_are_not_read(read):
    cells = ["--5", "-5-", "-(5)", "(-5)", "(5", "5)", "-5 CR", "(5) CR", "$5 USD", "5 PCS", "$", "-", "()", "", "5 5"]
    assert read(cents_sql("cell", POINT), cells) == [None] * 15


def test_a_dash_in_place_of_cents_is_no_minus(read):
    cells = ["12,-", "12,--", "\u20ac 1.250,\u2014", "12,- EUR", "12,50-", "-12,-", "12,5,-", "12-,-"]
    assert read(cents_sql("cell", COMMA), cells) == ["12", "12", "1250", "12", "-12.50", "-12", None, None]


def test_noise_of_binary_fractions_is_rounded_to_cents_and_nothing_else_is(read):
    # A millionth of a cent is 1e-8 of the unit: 5.00000001 lies on it, 5.00000002 beyond.
    cells = ["12.300000000000001", "0.29999999999999999", "5.00000001", "5.00000002", "12.345", "12.3400", "1e-5"]
    assert read(cents_sql("cell", POINT), cells) == ["12.30", "0.30", "5.00", "5.00000002", "12.345", "12.34", None]


def test_what_only_programs_call_a_number_is_none(read):
    assert read(number_sql("cell", POINT), ["1e5", "nan", "inf", "0x1F", "1_000", "\u0663", "5 %", "5."]) == [None] * 8


def test_a_word_beside_a_number_is_read_only_where_the_condition_holds(read):
    sql = number_sql("cell", POINT, "unit", "word IN ('', 'mi', 'km')")
    cells = ["98,765 mi", "98765km", "KM. 5", "5", "5 miles", "5 mi 6", "mi 5 km", "5\u00a0km", "5 m\u00ed"]
    assert read(sql, cells) == ["98765", "98765", "5", "5", None, None, None, "5", "5"]


@st.composite
def written(draw: st.DrawFn, signs: NumberSigns) -> tuple[Decimal, str]:
    """(amount, how it is written in some style)."""
    cents = draw(st.integers(-(10**12), 10**12))
    places = draw(st.sampled_from([0, 1, 2]))
    amount = Decimal(cents // 10 ** (2 - places)).scaleb(-places)
    point = f"{abs(amount):,.{places}f}" if draw(st.booleans()) and signs.thousands else f"{abs(amount):.{places}f}"
    body = "".join({",": signs.thousands, ".": signs.decimal}.get(sign, sign) for sign in point)
    money = draw(st.sampled_from(["{}", "${}", "$ {}", "{} \u20ac", "EUR {}", "{} kr", "{}\u00a0USD"])).format(body)
    negative = draw(st.sampled_from(["-{}", "{}-", "({})", "{} CR", "\u2212{}", "- {}"]))
    return amount, negative.format(money) if amount < 0 else money


@settings(deadline=None, max_examples=60)
@given(data=st.data(), signs=st.sampled_from(STYLES))
def test_an_amount_written_in_any_style_comes_back_exactly(read, data: st.DataObject, signs: NumberSigns):
    amounts = data.draw(st.lists(written(signs), min_size=1, max_size=30))
    found = read(cents_sql("cell", signs), [cell for _, cell in amounts])
    assert [text if text is None else Decimal(text) for text in found] == [amount for amount, _ in amounts]


@settings(deadline=None, max_examples=400)
@given(
    cells=st.lists(st.text("0123.,' -+()", min_size=1, max_size=9), min_size=1, max_size=30),
    signs=st.sampled_from(STYLES),
)
def test_nothing_is_read_otherwise_than_a_plain_second_reader_reads_it(read, cells: list[str], signs: NumberSigns):
    trimmed = [cell.strip() for cell in cells]
    assume(all(trimmed))
    found = read(number_sql("cell", signs), trimmed)
    assert [None if text is None else Decimal(text) for text in found] == [plain(cell, signs) for cell in trimmed]


def plain(cell: str, signs: NumberSigns) -> Decimal | None:
    """A number by splitting, sign by sign: written apart from the expression that it checks."""
    marks = [sign for sign in cell if sign in "+-"]
    is_in_parentheses = "(" in cell or ")" in cell
    if is_in_parentheses and (marks or cell[0] != "(" or cell[-1] != ")"):
        return None
    inner = cell[1:-1].strip() if is_in_parentheses else cell
    if len(marks) > 1 or (marks and inner[0] not in "+-" and inner[-1] not in "+-"):
        return None
    digits = inner.strip("+-").strip() if marks else inner
    whole, point, rest = digits.partition(signs.decimal)
    groups = one_kind(whole).split(one_kind(signs.thousands)) if signs.thousands else [whole]
    if point and not is_digits(rest):
        return None
    if not (point and whole == "") and not are_groups(groups):
        return None
    found = Decimal(f"{''.join(groups) or '0'}.{rest or '0'}")
    return -found if is_in_parentheses or marks == ["-"] else found


def one_kind(text: str) -> str:
    """Every space as a plain one, every apostrophe as a straight one: which of them is written tells nothing."""
    return text.replace("\xa0", " ").replace("\u202f", " ").replace("\u2019", "'")


def is_digits(text: str) -> bool:
    return text != "" and all(sign in "0123456789" for sign in text)


def are_groups(groups: list[str]) -> bool:
    if len(groups) == 1:
        return is_digits(groups[0])
    return all(map(is_digits, groups)) and len(groups[0]) <= 3 and all(len(group) == 3 for group in groups[1:])


@pytest.mark.parametrize("signs", STYLES)
def test_an_empty_cell_stays_empty(read, signs: NumberSigns):
    assert read(number_sql("cell", signs), [None]) == [None]
    assert read(cents_sql("cell", signs), [None]) == [None]
