"""How words of the trade are shortened on repair orders: spelling to full words. Common practice, no source.

Tables of words, not of parts: "exh vlv" and "ex valves" both come out as "exhaust valve", so combinations need no
listing. A spelling that may stand for two words is left out, or put right by what stands beside it (`normal_text`).
"""

from __future__ import annotations

from collections.abc import Mapping

from longmile.pipelines.coding.foreign_words import FOREIGN_WORDS
from longmile.pipelines.coding.shorthand_a_to_d import SHORTHAND_A_TO_D
from longmile.pipelines.coding.shorthand_e_to_m import SHORTHAND_E_TO_M
from longmile.pipelines.coding.shorthand_n_to_z import SHORTHAND_N_TO_Z


def _by_spelling() -> dict[str, tuple[str, ...]]:
    """Every spelling with the words it stands for; English shorthand before foreign words."""
    found: dict[str, tuple[str, ...]] = {}
    for table in (FOREIGN_WORDS, SHORTHAND_A_TO_D, SHORTHAND_E_TO_M, SHORTHAND_N_TO_Z):
        for full, short in table.items():
            found |= dict.fromkeys(short, tuple(full.split()))
    return found


ABBREVIATIONS: Mapping[str, tuple[str, ...]] = _by_spelling()
"""Short or usual wrong spelling, joined by "/" where it has signs in it, to the words it stands for."""
