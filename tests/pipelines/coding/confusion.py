"""Writes RESULTS.md beside it: how well the coder does on the held-out third of the labelled lines, as Markdown.

Run from the root of the repository: `python tests/pipelines/coding/confusion.py`. The coder learns from the other two
thirds as from reviewed lines.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path

from written_lines import Score, Written, score, trained_on, written

from longmile.pipelines.coding.coder import Coder, Coding
from longmile.schemas.vocabulary import ACTIONS, BY_CODE, REASONS, SYSTEMS

PATH = Path(__file__).parent / "RESULTS.md"
TARGETS = (0.97, 0.95, 0.9)
MOST_PAIRS = 20
NOTE = """What is said beforehand is too good here: the rules were worked out on the lines that were learned from, so
those are read better than lines that are new. On a shop's own lines it is measured on lines the rules never saw.
The lines are invented. A shop without coded lines is read with the curve of `prior_curve.py`.
"""


def main() -> None:
    """Measure and write."""
    known, held = written(is_held_out=False), written(is_held_out=True)
    lines = [one.line for one in held]
    measured = []
    for target in TARGETS:
        coder = trained_on(known, target)
        measured.append((f"{target:.0%}", coder, coder.codings(lines)))
    alone = trained_on([], TARGETS[0])
    first = measured[0][2]
    total = score(held, first)
    parts = [
        "# How well texts are read\n",
        f"{len(held)} labelled lines kept apart ({len(known):,} others were learned from); what the lines are is said "
        "in `lines/README.md`.\nWritten by `python tests/pipelines/coding/confusion.py`.\n",
        NOTE,
        "## By the share of right ones asked for\n",
        _table(
            ("asked for", "decided", "right of the decided", "said beforehand"),
            [*(_row(held, *one) for one in measured), _row(held, "97%, no coded lines", alone, alone.codings(lines))],
        ),
        "\n## Of what is read, at 97 of 100 asked for\n",
        _told(total),
        "\n## Systems of the vehicle: told (rows), read (columns), decided lines with one component\n",
        _systems(held, first),
        f"\n## The {MOST_PAIRS} most confused components, decided lines\n",
        _table(("told", "read", "lines"), ((*pair, str(n)) for pair, n in _most(total.pairs))),
        "\n## Actions: told (rows), read (columns)\n",
        _square(ACTIONS, total.actions),
        "\n## Reasons: told (rows), read (columns)\n",
        _square(REASONS, total.reasons),
    ]
    PATH.write_text("\n".join(parts) + "\n", encoding="utf-8")


def _row(held: Sequence[Written], target: str, coder: Coder, codings: Sequence[Coding]) -> tuple[str, ...]:
    total = score(held, codings)
    said = coder.accuracy
    return (target, f"{total.decided_share:.1%}", f"{total.accuracy:.1%}", f"{said:.1%}" if said else "")


def _told(total: Score) -> str:
    rows = [(what, f"{total.share(what):.1%}") for what in ("position", "action", "reason")]
    return _table(("of mentions whose component is right", "right"), rows)


def _systems(held: Sequence[Written], codings: Sequence[Coding]) -> str:
    counts: Counter[tuple[str, str]] = Counter()
    for one, coding in zip(held, codings, strict=True):
        if coding.state != "unsure" and len(one.mentions) <= 1 and len(coding.mentions) <= 1:
            counts[_system(one.components), _system({m.component_code for m in coding.mentions})] += 1
    return _square((*SYSTEMS, "none"), counts)


def _system(codes: Iterable[str]) -> str:
    return next((BY_CODE[code].system for code in codes), "none")


def _most(pairs: Counter[tuple[str, str]]) -> list[tuple[tuple[str, str], int]]:
    return sorted(pairs.items(), key=lambda item: (-item[1], item[0]))[:MOST_PAIRS]


def _square(names: Sequence[str], counts: Counter[tuple[str, str]]) -> str:
    rows = [name for name in names if any(told == name for told, _ in counts)]
    columns = [
        *(n for n in names if any(read == n for _, read in counts)),
        *sorted({r for _, r in counts} - set(names)),
    ]
    body = [(told, *(str(counts[told, read] or "") for read in columns)) for told in rows]
    return _table(("", *columns), body)


def _table(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [header, ["---"] * len(header), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)


if __name__ == "__main__":
    main()
