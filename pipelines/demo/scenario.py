"""The constants of the invented shop: names, engine families, and what is planted. All names are made up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

FIRST_DAY = date(2018, 1, 1)
LAST_DAY = date(2025, 12, 31)
LAST_DAY_NO = (LAST_DAY - FIRST_DAY).days
N_VEHICLES = 4_000

LOCATIONS = ("Millbrook", "Harbor Road")
ORDER_PREFIXES = ("M", "H")
MAKES = ("Calverholm", "Tarnwick", "Odrelle", "Bramstead")
MODELS = ("Fennick", "Lowmarsh", "Quillon", "Sedgeway", "Tolva", "Umberlin", "Wrenfield", "Drovella")
SUPPLIERS = (
    "Dunmere Parts",
    "Pellcross Supply",
    "Ironwharf Parts",
    "Brackenfold Components",
    "Ottermill Supply",
    "Carrowdale Trade Parts",
)
SUPPLIER_SHARES = (0.26, 0.18, 0.18, 0.16, 0.12, 0.10)
SUBLET_SHOPS = ("Fallowgate Gearbox Works", "Mereside Rebuilders", "Tollbar Driveline")
SUBLET_SHARES = (0.32, 0.38, 0.30)
N_TECHNICIANS = 9


@dataclass(frozen=True)
class Family:
    """One engine family; `traits` are what a component plan may ask for (fuel, timing drive, gearbox)."""

    name: str
    cylinders: int
    exhaust_valves: int
    intake_valves: int
    traits: tuple[str, ...]
    share: float
    first_seen_miles: int = 58_000


FAMILIES: tuple[Family, ...] = (
    Family("Alder 2.0 petrol", 4, 2, 2, ("petrol", "belt", "automatic"), 0.11, 26_000),
    Family("Rowan 2.4 petrol", 4, 2, 2, ("petrol", "belt", "automatic"), 0.11, 48_000),
    Family("Hazel 1.2 petrol", 3, 1, 2, ("petrol", "chain", "manual"), 0.07),
    Family("Elder 1.6 petrol", 4, 2, 2, ("petrol", "belt", "manual"), 0.09),
    Family("Chestnut 2.5 petrol", 5, 2, 2, ("petrol", "chain", "automatic"), 0.06),
    Family("Larch 3.4 petrol", 6, 2, 2, ("petrol", "chain", "automatic"), 0.11),
    Family("Linden 5.1 petrol", 8, 1, 1, ("petrol", "chain", "automatic"), 0.11),
    Family("Yew 4.1 petrol", 6, 1, 1, ("petrol", "chain", "automatic"), 0.06),
    Family("Birch 3.0 diesel", 6, 2, 2, ("diesel", "chain", "automatic"), 0.07),
    Family("Cedar 2.3 diesel", 4, 2, 2, ("diesel", "belt", "automatic"), 0.08),
    Family("Spruce 1.8 diesel", 4, 1, 1, ("diesel", "belt", "manual"), 0.06),
    Family("Poplar 6.3 diesel", 8, 2, 2, ("diesel", "chain", "automatic"), 0.07),
)
FAMILY_NAMES = tuple(family.name for family in FAMILIES)

VALVE_FAMILY = "Alder 2.0 petrol"
VALVE_SHAPE = 3.0
VALVE_SCALE = 185_000.0
CONTROL_FAMILY = "Rowan 2.4 petrol"
CONTROLS = ("alternator", "water_pump")
PROTECTED = frozenset({("exhaust_valve", VALVE_FAMILY), *((code, CONTROL_FAMILY) for code in CONTROLS)})
"""Strata whose first parts are all original and whose every repair is recorded, so the truth can be met."""

BATCH_COMPONENT = "water_pump"
BATCH_SUPPLIER = "Ironwharf Parts"
BATCH_FIRST = date(2021, 3, 1)
BATCH_LAST = date(2021, 12, 31)
BATCH_SHAPE = 1.2
BATCH_SCALE = 30_000.0
BATCH_SUPPLIER_SHARE = 0.5
"""That supplier's share of water pumps while the batch was sold; its pumps do not fit the control family."""

BAD_SUBLET = "Fallowgate Gearbox Works"
BAD_SUBLET_COMEBACK = 0.25
OTHER_SUBLET_COMEBACK = 0.04
PLAIN_COMEBACK = 0.015
COMEBACK_MILES = (150, 4_000)

RECALL_COMPONENT = "fuel_pump"
RECALL_FAMILY = "Larch 3.4 petrol"
RECALL_FROM = date(2022, 6, 1)
RECALL_SHARE = 0.6

HOSTILE_CONCERN = "<script>document.title='x'</script>"
FORMULA_CONCERN = "=1+1"
