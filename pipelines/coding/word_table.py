"""How the coder's own tables of words are written, and what a pattern in them stands for.

A table is lines `name: one, another`, further lines of an entry indented. A pattern is words with a space between;
`a|b` either, `a?` or nothing: "water|coolant pump assembly?" stands for four texts.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product


def listed(text: str, apart: str | None = ",") -> dict[str, tuple[str, ...]]:
    """Entries of a table by their name.   apart: what stands between items; None for spaces."""
    entries: dict[str, str] = {}
    name = ""
    for line in text.strip("\n").splitlines():
        if line[0] == " ":
            entries[name] += " " + line
        else:
            name, _, rest = line.partition(":")
            entries[name] = rest
    return {name: _items(rest, apart) for name, rest in entries.items()}


def word_set(text: str) -> frozenset[str]:
    """Words of a text with spaces between, as a set."""
    return frozenset(text.split())


def phrases(text: str) -> tuple[str, ...]:
    """Items of a list with commas, over several lines."""
    return _items(text, ",")


def _items(text: str, apart: str | None) -> tuple[str, ...]:
    """Items of a list, spaces put right."""
    found = (" ".join(item.split()) for item in text.split(apart))
    return tuple(item for item in found if item)


def spelled_out(pattern: str) -> Iterator[str]:
    """Every text that a pattern stands for."""
    choices = []
    for word in pattern.split():
        options = [option.rstrip("?") for option in word.split("|")]
        choices.append([*options, ""] if "?" in word else options)
    for chosen in product(*choices):
        yield " ".join(word for word in chosen if word)
