"""Settings: defaults, and a refusal naming file, key, value and what is allowed for everything that cannot be used."""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from pathlib import Path

import pytest

from longmile.pipelines.errors import SettingsError
from longmile.pipelines.settings import DEFAULT_SETTINGS, SETTINGS_FILE, Settings, read_settings


def written(folder: Path, text: str) -> Path:
    path = folder / SETTINGS_FILE
    path.write_text(text, encoding="utf-8")
    return path


def refusal(folder: Path, text: str) -> str:
    """What SettingsError says of the text, without the file's name, which must come first."""
    path = written(folder, text)
    with pytest.raises(SettingsError) as caught:
        read_settings(path)
    said = str(caught.value)
    assert said.startswith(f"{path}: ")
    assert caught.value.exit_code == 3  # README, "Exit codes"
    return said.removeprefix(f"{path}: ")


def test_an_empty_file_is_the_defaults(tmp_path: Path):
    assert read_settings(written(tmp_path, "")) == Settings()


def test_the_file_that_init_writes_is_the_defaults_exactly(tmp_path: Path):
    found = read_settings(written(tmp_path, DEFAULT_SETTINGS))
    assert found == Settings()
    assert [type(v) for v in vars(found).values()] == [type(v) for v in vars(Settings()).values()]


def test_the_example_in_the_comment_can_be_used(tmp_path: Path):
    uncommented = DEFAULT_SETTINGS.replace('# "Alder', '"Alder')
    assert uncommented != DEFAULT_SETTINGS
    assert [family for family, _ in read_settings(written(tmp_path, uncommented)).not_fitted] == [
        "Alder 2.0 petrol"
    ] * 2


def test_every_key_can_be_set(tmp_path: Path):
    text = """
        [shop]
        name = "Ash Street"
        currency = "EUR"
        [records]
        odometer_unit = "km"
        unknown_reason = "removal"
        follow_up = "to_date"
        follow_up_cap_months = 24
        [estimates]
        confidence = 0.9
        horizon_miles = 200000
        further_miles = 12500.5
        [not_fitted]
        Elm = ["glow_plug", "turbocharger"]
        Oak = []
        [schedule]
        nightly = "0 4 * * 1-5"
    """
    assert read_settings(written(tmp_path, text)) == Settings(
        name="Ash Street",
        currency="EUR",
        odometer_unit="km",
        unknown_reason="removal",
        follow_up="to_date",
        follow_up_cap_months=24,
        confidence=0.9,
        horizon_miles=200_000.0,
        further_miles=12_500.5,
        nightly="0 4 * * 1-5",
        not_fitted=(("Elm", "glow_plug"), ("Elm", "turbocharger")),
    )


@pytest.mark.parametrize(("reason", "is_failure"), [("failure", True), ("removal", False)])
def test_what_a_line_without_a_reason_counts_as(reason: str, is_failure: bool):
    assert Settings(unknown_reason=reason).unknown_is_failure is is_failure


TEXT, WHOLE, NUMBER = "Expected text in quotes.", "Expected a whole number.", "Expected a number."


@pytest.mark.parametrize(
    ("table", "key", "value", "found", "allowed"),
    [
        ("shop", "name", "7", "7", TEXT),
        ("shop", "currency", "['USD']", "['USD']", TEXT),
        ("records", "odometer_unit", "1", "1", TEXT),
        ("records", "unknown_reason", "true", "True", TEXT),
        ("records", "follow_up", "2.5", "2.5", TEXT),
        ("records", "follow_up_cap_months", '"12"', "'12'", WHOLE),
        ("records", "follow_up_cap_months", "12.0", "12.0", WHOLE),
        ("estimates", "confidence", '"0.95"', "'0.95'", NUMBER),
        ("estimates", "horizon_miles", '"far"', "'far'", NUMBER),
        ("estimates", "further_miles", "[25000]", "[25000]", NUMBER),
        ("schedule", "nightly", "2", "2", TEXT),
        # TOML has booleans of its own; in Python they are integers, in the settings they are none.
        ("records", "follow_up_cap_months", "true", "True", WHOLE),
        ("estimates", "confidence", "true", "True", NUMBER),
        ("estimates", "horizon_miles", "false", "False", NUMBER),
        ("estimates", "further_miles", "true", "True", NUMBER),
    ],
)
def test_a_wrong_type(tmp_path: Path, table: str, key: str, value: str, found: str, allowed: str):
    assert refusal(tmp_path, f"[{table}]\n{key} = {value}\n") == f"[{table}] {key} = {found}. {allowed}"


@pytest.mark.parametrize(
    ("table", "key", "value", "allowed"),
    [
        ("records", "odometer_unit", "miles", "Expected one of mi, km."),
        ("records", "odometer_unit", "MI", "Expected one of mi, km."),
        ("records", "unknown_reason", "unknown", "Expected one of failure, removal."),
        ("records", "follow_up", "forever", "Expected one of last_reading, to_date."),
        ("shop", "currency", "usd", "Expected three capital letters, such as 'USD'."),
        ("shop", "currency", "EURO", "Expected three capital letters, such as 'USD'."),
        ("shop", "currency", "", "Expected three capital letters, such as 'USD'."),
        ("schedule", "nightly", "30 2 * *", "Expected cron's five fields, such as '30 2 * * *'."),
        ("schedule", "nightly", "every night", "Expected cron's five fields, such as '30 2 * * *'."),
    ],
)
def test_a_wrong_choice(tmp_path: Path, table: str, key: str, value: str, allowed: str):
    assert refusal(tmp_path, f'[{table}]\n{key} = "{value}"\n') == f"[{table}] {key} = {value!r}. {allowed}"


@pytest.mark.parametrize(
    ("table", "key", "value", "found", "allowed"),
    [
        ("records", "follow_up_cap_months", "0", "0", "Expected a number from 1 to 120."),
        ("records", "follow_up_cap_months", "121", "121", "Expected a number from 1 to 120."),
        ("estimates", "confidence", "95", "95", "Expected a number from 0.5 to 0.999."),
        ("estimates", "confidence", "0.4999", "0.4999", "Expected a number from 0.5 to 0.999."),
        ("estimates", "confidence", "nan", "nan", "Expected a number from 0.5 to 0.999."),
        ("estimates", "horizon_miles", "999", "999", "Expected a number from 1,000 to 2,000,000."),
        ("estimates", "horizon_miles", "inf", "inf", "Expected a number from 1,000 to 2,000,000."),
        ("estimates", "further_miles", "-1", "-1", "Expected a number from 100 to 1,000,000."),
        ("estimates", "further_miles", "1000000.5", "1000000.5", "Expected a number from 100 to 1,000,000."),
    ],
)
def test_out_of_range(tmp_path: Path, table: str, key: str, value: str, found: str, allowed: str):
    assert refusal(tmp_path, f"[{table}]\n{key} = {value}\n") == f"[{table}] {key} = {found}. {allowed}"


@pytest.mark.parametrize(
    ("table", "key", "low", "high"),
    [
        ("records", "follow_up_cap_months", 1, 120),
        ("estimates", "confidence", 0.5, 0.999),
        ("estimates", "horizon_miles", 1_000, 2_000_000),
        ("estimates", "further_miles", 100, 1_000_000),
    ],
)
def test_the_ends_of_a_range_are_allowed(tmp_path: Path, table: str, key: str, low: float, high: float):
    for bound in (low, high):
        assert getattr(read_settings(written(tmp_path, f"[{table}]\n{key} = {bound}\n")), key) == bound


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[shop]\nnames = 'x'\n", "[shop] names is not known. Known: name, currency. Nearest is name."),
        # A key of one table under another is not known there.
        (
            "[estimates]\ncurrency = 'USD'\n",
            "[estimates] currency is not known. Known: confidence, horizon_miles, further_miles. Nearest is",
        ),
        (
            "[estimate]\nconfidence = 0.9\n",
            "[estimate] is not known. Known: shop, records, estimates, privacy, schedule, not_fitted. "
            "Nearest is estimates.",
        ),
        # A key outside any table, and a key where a table is expected.
        (
            "currency = 'USD'\n",
            "[currency] is not known. Known: shop, records, estimates, privacy, schedule, not_fitted.",
        ),
        ("shop = 'x'\n", "[shop] is not known."),
    ],
)
def test_unknown_keys_and_tables(tmp_path: Path, text: str, said: str):
    assert refusal(tmp_path, text).startswith(said)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("not_fitted = 3\n", "[not_fitted] must hold lists of component codes, one list per engine family."),
        ("[not_fitted]\nElm = 'glow_plug'\n", "[not_fitted] must hold lists of component codes"),
        ("[not_fitted]\nElm = ['glow_plugs']\n", "[not_fitted] 'glow_plugs' is no component. Nearest is glow_plug."),
        ("[not_fitted]\nElm = ['glow_plug', 3]\n", "[not_fitted] '3' is no component. Nearest is "),
    ],
)
def test_components_not_fitted_must_be_known(tmp_path: Path, text: str, said: str):
    assert refusal(tmp_path, text).startswith(said)


@pytest.mark.parametrize(
    "content", [b"[shop\nname = 'x'", b"name =\n", b"[shop]\n[shop]\n", b"[shop]\nname = '\xff'\n"]
)
def test_text_that_is_no_toml(tmp_path: Path, content: bytes):
    path = tmp_path / SETTINGS_FILE
    path.write_bytes(content)
    with pytest.raises(
        SettingsError, match=r"is not valid TOML \(.+\)\. Expected the form that `longmile init` writes"
    ):
        read_settings(path)


def test_settings_cannot_be_changed():
    with pytest.raises(FrozenInstanceError):
        Settings().confidence = 0.5  # type: ignore[misc]


@pytest.mark.parametrize("cron", ["a b c d e", "30 2 * *", "30 2 * * * *", "half past two every day please"])
def test_what_is_no_cron_is_refused(tmp_path: Path, cron: str):
    path = tmp_path / "longmile.toml"
    path.write_text(f'[schedule]\nnightly = "{cron}"\n', encoding="utf-8")
    with pytest.raises(SettingsError, match="five fields"):
        read_settings(path)


@pytest.mark.parametrize("cron", ["30 2 * * *", "*/15 6-18 * * mon-fri", "0 3 1,15 JAN 0"])
def test_cron_is_taken_as_written(tmp_path: Path, cron: str):
    path = tmp_path / "longmile.toml"
    path.write_text(f'\ufeff[schedule]\nnightly = "{cron}"\n', encoding="utf-8")
    assert read_settings(path).nightly == cron
