"""All that a header may mean, from the lists beside this."""

from __future__ import annotations

from collections.abc import Mapping

from longmile.pipelines.maps.words_meaning import Meaning
from longmile.pipelines.maps.words_meanings_beside import BESIDE
from longmile.pipelines.maps.words_meanings_line import OF_LINES
from longmile.pipelines.maps.words_meanings_order import OF_ORDERS_AND_VEHICLES
from longmile.pipelines.maps.words_meanings_refused import REFUSED

MEANINGS: tuple[Meaning, ...] = (*OF_ORDERS_AND_VEHICLES, *OF_LINES, *BESIDE)
"""What may be mapped."""

BY_NAME: Mapping[str, Meaning] = {meaning.name: meaning for meaning in (*MEANINGS, *REFUSED)}
"""Every meaning by its name."""
