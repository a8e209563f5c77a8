"""Places in a line's texts where components are named, and everything else that the texts say."""

from __future__ import annotations

from dataclasses import dataclass, field

from longmile.pipelines.coding.positions import Place


@dataclass
class Occurrence:
    """One place where a component is named.   how: `name`, `turned` or `part_of` as in `phrases`; `same`, `joined`,
    `context` or `usual` as in `context`; `implied` or `learned` where it is not named.   tags: as in `actions`.
    """

    code: str
    source: str
    how: str
    tags: set[str]
    reasons: list[str] = field(default_factory=list)
    is_sound: bool = False
    places: list[Place] = field(default_factory=list)
    is_plural: bool = False
    is_exact: bool = False
    said: str = ""


@dataclass
class Gathered:
    """Everything that the texts of a line say, before it is settled what the line is about.

    loose: troubles told of no component.   open_names: half names that nothing told apart.   n_unknown: words in no
    table.   n_untold: words that nothing was made of; n_loose_heads: those of them that name parts.
    """

    words: set[str]
    in_order: list[str] = field(default_factory=list)
    occurrences: list[Occurrence] = field(default_factory=list)
    line_reasons: list[str] = field(default_factory=list)
    loose: list[str] = field(default_factory=list)
    open_names: list[str] = field(default_factory=list)
    others: list[str] = field(default_factory=list)
    charges: list[str] = field(default_factory=list)
    verbs: list[str] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    n_words: int = 0
    n_unknown: int = 0
    n_untold: int = 0
    n_loose_heads: int = 0
    is_loose_sound: bool = False
    is_flushed: bool = False
    is_refilled: bool = False

    @property
    def has_trouble(self) -> bool:
        """Whether any trouble or reason is told."""
        return bool(self.loose) or any(item.reasons for item in self.occurrences)
