"""Ways to damage a file: each takes its bytes and name and a random source, and gives them back damaged."""

from __future__ import annotations

import io
import random
import zipfile
from collections.abc import Callable

from sound_files import MAKERS, zipped  # the folder is put on the path by whoever imports this

Mutation = Callable[[random.Random, bytes, str], tuple[bytes, str]]
_MAX_BYTES = 2_000_000


def _at(rng: random.Random, data: bytes) -> int:
    return rng.randrange(len(data) + 1)


def _insert(data: bytes, at: int, new: bytes) -> bytes:
    return data[:at] + new + data[at:]


def flip_bits(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """A few bits turned over."""
    changed = bytearray(data)
    for _ in range(rng.randint(1, 8) if changed else 0):
        changed[rng.randrange(len(changed))] ^= 1 << rng.randrange(8)
    return bytes(changed), name


def truncate(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """The end, or the beginning, is missing."""
    at = _at(rng, data)
    return (data[:at] if rng.random() < 0.8 else data[at:]), name


def insert_random(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """Random bytes in between."""
    return _insert(data, _at(rng, data), rng.randbytes(rng.randint(1, 40))), name


def duplicate(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """A piece twice, or many times."""
    start = _at(rng, data)
    piece = data[start : start + rng.randint(1, 200)]
    return _insert(data, _at(rng, data), piece * rng.choice((1, 1, 2, 50, 1_000))), name


def delete(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """A piece gone."""
    start = _at(rng, data)
    return data[:start] + data[start + rng.randint(1, 100) :], name


def inject_signs(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """Quotes, delimiters and line ends where none belong."""
    for _ in range(rng.randint(1, 12)):
        new = rng.choice(
            (b'"', b'""', b",", b";", b"\t", b"|", b"\n", b"\r", b"\r\n", b'",', b',"', b'"\n"', b"{", b"}")
        )
        data = _insert(data, _at(rng, data), new)
    return data, name


def inject_nuls(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """NUL bytes, one or many."""
    return _insert(data, _at(rng, data), b"\0" * rng.choice((1, 2, 7, 500))), name


def swap_encoding(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """The text written anew in another encoding, or one encoding's bytes called another's."""
    text = data.decode(rng.choice(("utf-8", "cp1252", "utf-16-le", "latin-1")), "replace")
    return text.encode(
        rng.choice(("utf-16", "utf-16-be", "utf-16-le", "cp1252", "utf-8-sig", "utf-32")), "replace"
    ), name


def join_encodings(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """Two exports joined, the second in another encoding."""
    return data + MAKERS[rng.choice(("repair_line_bom.csv", "semicolon.csv", "tab.tsv"))](rng), name


def shuffle(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """The bytes of a piece, or the order of the lines, mixed up."""
    if rng.random() < 0.5:
        lines = data.split(b"\n")
        rng.shuffle(lines)
        return b"\n".join(lines), name
    start = _at(rng, data)
    piece = bytearray(data[start : start + 300])
    rng.shuffle(piece)
    return data[:start] + bytes(piece) + data[start + 300 :], name


def huge_number(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """Numbers of many digits, and cells that are too long."""
    new = rng.choice(
        (b"9" * 400, b"1e999", b"-0", b"1" * 5_000, b"x" * 120_000, b"0" * 1_100_000, b"1048577", b"16385")
    )
    return _insert(data, _at(rng, data), new), name


def damage_header(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """The first line cut, blank, twice, of numbers, very wide, or below others."""
    first, end, rest = data.partition(b"\n")
    wide = b",".join(b"c%d" % n for n in range(rng.choice((999, 1_000, 1_001, 5_000))))
    above = rng.choice((b"\n\n", b"Shop of somebody\n", b"a, b, c\n", b"sep=|\n", b"sep=\n", b";;;;\n")) * rng.choice(
        (1, 3, 70)
    )
    new = rng.choice(
        (b"", first[: len(first) // 2], first + end + first, b"1,2,3,4,5,6", wide, above + first, first.upper())
    )
    return new + end + rest, name


def nest(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """In a zip archive, under an odd name, once or twice, or with a member that is an archive."""
    odd = rng.choice(
        (name, f"../{name}", f"/{name}", f"C:\\{name}", f"a\\..\\{name}", "x" * 300 + ".csv", "a\nb.csv", "", ".")
    )
    inner = zipped({odd or "_": data, "sound.csv": b"repair_order_id,code\nR1,P0301\n"})
    return (zipped({name: inner}) if rng.random() < 0.3 else inner), "nested.zip"


def rename(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """Another suffix, or none."""
    suffix = rng.choice(
        (".csv", ".txt", ".tsv", ".xlsx", ".jsonl", ".parquet", ".gz", ".csv.gz", ".zip", ".dat", "", ".XLSX", ".xls")
    )
    return data, f"renamed{suffix}"


def edit_part(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """One member of a sound archive (a sheet of a workbook) damaged, the archive itself left sound."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = {part: archive.read(part) for part in archive.namelist()}
    except Exception:
        return flip_bits(rng, data, name)
    part = rng.choice(sorted(members) or ["x"])
    damage = rng.choice((flip_bits, truncate, delete, duplicate, insert_random, huge_number, renumber))
    return zipped({**members, part: damage(rng, members.get(part, b""), "")[0]}), name


def renumber(rng: random.Random, data: bytes, name: str) -> tuple[bytes, str]:
    """A number somewhere turned into another: rows, columns and types of cells in a sheet."""
    digits = [at for at in range(len(data)) if data[at : at + 1].isdigit()]
    if not digits:
        return data, name
    at = rng.choice(digits)
    return data[:at] + rng.choice((b"0", b"-1", b"7", b"99", b"1048576", b"99999999", b"", b"XFD1")) + data[
        at + 1 :
    ], name


MUTATIONS: tuple[Mutation, ...] = (
    *(flip_bits, truncate, insert_random, duplicate, delete, inject_signs, inject_nuls, swap_encoding, join_encodings),
    *(shuffle, huge_number, damage_header, nest, rename, edit_part, renumber),
)


def mutated(seed: int) -> tuple[bytes, str]:
    """File number `seed`: a sound file with one to three mutations."""
    rng = random.Random(seed)
    name = rng.choice(sorted(MAKERS))
    data = MAKERS[name](rng)
    for mutation in rng.choices(MUTATIONS, k=rng.choice((1, 1, 2, 3))):
        data, name = mutation(rng, data, name)
    return data[:_MAX_BYTES], name
