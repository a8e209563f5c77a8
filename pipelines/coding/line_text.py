"""The texts of one repair line, and the key under which lines that say the same are one."""

from __future__ import annotations

from collections.abc import Mapping
from hashlib import sha256
from typing import NamedTuple


class LineText(NamedTuple):
    """What a line says.   kind: labor, part, sublet or fee.   concern: what the customer said, context only."""

    kind: str
    description: str
    cause: str
    correction: str
    concern: str = ""

    @property
    def texts(self) -> Mapping[str, str]:
        """The texts by their name."""
        return self._asdict()

    @property
    def own_text(self) -> str:
        """The line's own texts in one; "" for a line that says nothing."""
        return " . ".join(text for text in (self.description, self.cause, self.correction) if text)


def text_key(line: LineText) -> str:
    """Hash of kind, description, cause and correction; capitals and spaces make no difference, the concern none."""
    parts = (" ".join(part.lower().split()) for part in line[:4])
    return sha256("\x1f".join(parts).encode("utf-8")).hexdigest()[:32]
