"""No personal data in the store or on a page. People and numbers are made up: 555-01xx is reserved for fiction."""

from __future__ import annotations

from pathlib import Path

PERSONAL = ("Customer 0012", "555-555-0123", "someone@mail.example.org", "ZZ-1234", "12 Invented Road")
VIN = "A0DBB11C0GA100001"


def fill(shop) -> None:
    shop.write("engine_family.csv", "engine_family,cylinders", [["Elm", 4]])
    shop.write(
        "vehicle.csv",
        "vehicle_id,engine_family,vin,owner,plate,model_year",
        [
            ["V1", "Elm", VIN, PERSONAL[0], PERSONAL[3], 2016],
            ["V2", "Elm", VIN, PERSONAL[0], PERSONAL[3], 16],
        ],
    )
    path = shop.write(
        "repair_order.csv",
        "repair_order_id,vehicle_id,opened_on,odometer_in,concern,customer,phone,e-mail,address",
        [
            [
                "R1",
                "V1",
                "2021-01-01",
                10_000,
                f"call {PERSONAL[1]}, plate {PERSONAL[3]}, {PERSONAL[2]}",
                *PERSONAL[:3],
                PERSONAL[4],
            ],
            ["R2", "V1", "2021-13-01", 10_000, f"mail {PERSONAL[2]}", *PERSONAL[:3], PERSONAL[4]],
        ],
    )
    with path.open("a") as file:
        file.write(f"R3,V1,2021-02-01,{PERSONAL[0]},{PERSONAL[4]}\n")


def everything_in(shop) -> str:
    return repr(shop.tables())


def test_personal_columns_and_what_stands_in_free_text_never_land(shop):
    fill(shop)
    shop.run()
    held = everything_in(shop)
    assert "call [phone], plate [plate], [e-mail]" in held
    assert not [value for value in PERSONAL if value in held]
    ((reason, raw),) = shop.query("SELECT reason, raw_text FROM quarantined_row WHERE contains(rules, 'line.readable')")
    assert "fields" in reason and raw.startswith("withheld: ") and "customer" in raw


def test_no_personal_data_and_no_whole_identification_number_is_published(shop):
    fill(shop)
    shop.run()
    for path in sorted(shop.workspace.published.rglob("*")):
        if path.is_file():
            held = path.read_bytes().decode("utf-8", "replace")
            assert not [value for value in (*PERSONAL, VIN) if value in held], path.name
    page = (shop.workspace.published / "data-quality.html").read_text(encoding="utf-8")
    assert "…" in page


def test_whole_numbers_are_shown_where_the_settings_say_so(shop):
    settings = shop.folder / "longmile.toml"
    settings.write_text(settings.read_text().replace('vins = "shortened"', 'vins = "full"'))
    fill(shop)
    shop.run()
    assert VIN in (shop.workspace.published / "data-quality.html").read_text(encoding="utf-8")


def test_originals_are_not_kept_where_the_settings_say_so(shop):
    settings = shop.folder / "longmile.toml"
    settings.write_text(settings.read_text().replace("keep_originals = true", "keep_originals = false"))
    fill(shop)
    shop.run()
    assert list(Path(shop.workspace.landed).iterdir()) == []
    assert shop.query("SELECT count(*) FROM source_file WHERE status = 'loaded'") == [(3,)]
    shop.run()
    assert any("seen before" in said for said in shop.said)
