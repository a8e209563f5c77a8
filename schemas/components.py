"""All components, in the order of their systems. The entries are in the files `components_*.py`."""

from __future__ import annotations

from longmile.schemas.component import SYSTEMS, Component
from longmile.schemas.components_engine import ENGINE_COMPONENTS
from longmile.schemas.components_vehicle import VEHICLE_COMPONENTS

COMPONENTS: tuple[Component, ...] = tuple(
    sorted((*ENGINE_COMPONENTS, *VEHICLE_COMPONENTS), key=lambda entry: SYSTEMS.index(entry.system))
)
"""Every component of the vocabulary."""
