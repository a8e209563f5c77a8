"""Small sound files of every kind the readers take, as bytes; invented, and the same for the same random source."""

from __future__ import annotations

import gzip
import io
import json
import random
import zipfile
from collections.abc import Callable

import polars as pl
import xlsxwriter

NAMES = ("repair_order_id", "line_no", "kind", "component_code", "price", "cause")
FOREIGN = ("Auftrag", "Pos.", "Art", "Bauteil", "Betrag", "Ursache")
_CAUSES = ("leaks", "Öl am Kopf", 'says "knock", then dies', "total loss", "", "two\nlines", "café; bar | x", "12,5 mm")


def records(rng: random.Random) -> list[list[str]]:
    """A few rows of text, as a shop's lines may be."""
    return [
        [
            f"R{4000 + n // 3}",
            str(n % 3 + 1),
            rng.choice(("labor", "part")),
            rng.choice(("COIL", "ALT", "VALVE")),
            f"{rng.random() * 900:.2f}",
            rng.choice(_CAUSES),
        ]
        for n in range(rng.randint(1, 25))
    ]


def _delimited(names: tuple[str, ...], rows: list[list[str]], sign: str, end: str = "\n") -> str:
    """Fields quoted where they must be."""

    def field(cell: str) -> str:
        return '"' + cell.replace('"', '""') + '"' if any(mark in cell for mark in f'{sign}"\n') else cell

    return end.join(sign.join(map(field, row)) for row in [list(names), *rows]) + end


def _printed(rng: random.Random) -> str:
    """A printed list: lines above the header, the header again, totals."""
    rows = [[cell.replace("\n", " ") for cell in row] for row in records(rng)]
    head, *body = _delimited(FOREIGN, rows, ";").splitlines()
    half = len(body) // 2
    lines = ["Werkstatt Beispiel", "gedruckt am 02.01.2025 09:14", "", head, *body[:half], "Seite 1 von 2"]
    lines += ["Werkstatt Beispiel", head, *body[half:], "Summe;;;;1.234,50;", "Seite 2 von 2"]
    return "\n".join(lines) + "\n"


def workbook(rng: random.Random) -> bytes:
    """Two sheets: a title, merged cells, a formula, a hidden row; and a plain one, sometimes hidden."""
    buffer = io.BytesIO()
    book = xlsxwriter.Workbook(buffer, {"in_memory": True})
    sheet, other = book.add_worksheet("repair_line"), book.add_worksheet("trouble_code")
    sheet.write(0, 0, "Workshop list")
    sheet.write_row(2, 0, NAMES)
    rows = records(rng)
    for at, row in enumerate(rows, 3):
        sheet.write_row(at, 0, [row[0], int(row[1]), row[2], row[3], float(row[4]), row[5]])
    last = len(rows) + 3
    sheet.merge_range(last, 0, last + 2, 0, "R9000")
    for at in range(last, last + 3):
        sheet.write_row(at, 1, [at, "part", "COIL", 1.5])
    sheet.write_formula(last + 3, 4, "=1+1", None, 2)
    sheet.write_row(last + 4, 0, ["Total", "", "", "", 99.5])
    sheet.set_row(4, None, None, {"hidden": True})
    other.write_row(0, 0, ["repair_order_id", "code"])
    other.write_row(1, 0, ["R4000", "P0301"])
    if rng.random() < 0.5:
        other.hide()
    book.close()
    return buffer.getvalue()


def _json_lines(rng: random.Random) -> bytes:
    rows = [dict(zip(NAMES, row, strict=True)) for row in records(rng)]
    return "".join(json.dumps({**row, "n": at, "sure": at % 2 == 0}) + "\n" for at, row in enumerate(rows)).encode()


def _parquet(rng: random.Random) -> bytes:
    rows = records(rng)
    frame = pl.DataFrame(dict(zip(NAMES, zip(*rows, strict=True), strict=True)))
    buffer = io.BytesIO()
    frame.with_columns(pl.col("price").cast(pl.Float64)).write_parquet(buffer)
    return buffer.getvalue()


def zipped(members: dict[str, bytes]) -> bytes:
    """A zip archive."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return buffer.getvalue()


def _comma(rng: random.Random) -> str:
    return _delimited(NAMES, records(rng), ",", rng.choice(("\n", "\r\n")))


MAKERS: dict[str, Callable[[random.Random], bytes]] = {
    "repair_line.csv": lambda rng: _comma(rng).encode(),
    "repair_line_bom.csv": lambda rng: _comma(rng).encode("utf-8-sig"),
    "semicolon.csv": lambda rng: _delimited(FOREIGN, records(rng), ";").encode("cp1252"),
    "stated.csv": lambda rng: ("sep=;\n" + _delimited(FOREIGN, records(rng), ";")).encode(),
    "tab.tsv": lambda rng: _delimited(NAMES, records(rng), "\t").encode("utf-16"),
    "unmarked.txt": lambda rng: _delimited(NAMES, records(rng), "|").encode("utf-16-le"),
    "old_mac.csv": lambda rng: _comma(rng).replace("\r\n", "\n").replace("\n", "\r").encode(),
    "trailing.csv": lambda rng: _delimited(NAMES, [[*row, ""] for row in records(rng)], ",").encode(),
    "printed.csv": lambda rng: _printed(rng).encode("cp1252"),
    "lines.jsonl": _json_lines,
    "table.parquet": _parquet,
    "book.xlsx": workbook,
    "repair_line.csv.gz": lambda rng: gzip.compress(_comma(rng).encode(), mtime=0),
    "book.xlsx.gz": lambda rng: gzip.compress(workbook(rng), mtime=0),
    "export.zip": lambda rng: zipped(
        {
            "a/repair_line.csv": _comma(rng).encode(),
            "b/repair_line.csv": _comma(rng).encode(),
            "l.jsonl": _json_lines(rng),
        }
    ),
    "mixed.zip": lambda rng: zipped({"book.xlsx": workbook(rng), "table.parquet": _parquet(rng)}),
}
"""Name of a file -> how it is made."""
