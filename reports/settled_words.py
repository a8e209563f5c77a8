"""What was settled before lives were cut, in words."""

from __future__ import annotations

from collections.abc import Mapping

ABOUT_WORDS: Mapping[str, tuple[str, str]] = {
    "vehicle": (
        "Vehicles that are one",
        "The same identification number under several of the shop's own numbers. Undone, or made, with longmile "
        "decide vehicle.",
    ),
    "vin": ("Identification numbers", "What the numbers themselves say; no vehicle is set aside for its number."),
    "odometer": (
        "Odometer readings that do not fit",
        "Each reading is held against the vehicle's own history. One is corrected only where exactly one reading "
        "explains it, and left out otherwise; either is undone with longmile decide odometer.",
    ),
    "order_link": (
        "Repair orders that may be one",
        "Proposals change nothing until somebody accepts them with longmile decide order_link.",
    ),
    "comeback": (
        "Repairs that came back",
        "The same component and place failed again within 90 days and 4,000 miles of work on it. Each is counted as "
        "the failure it is.",
    ),
    "text": (
        "Lines read from their text",
        "Lines that name no component are read from what is written on them. Unsure ones count for nothing until "
        "somebody decides.",
    ),
    "decision": ("Decisions of people", "Kept as made, with their date; the latest for a subject stands."),
    "quarantine": ("Rows that came back", "Rows once set aside that a later file brought again."),
}
"""What it is about -> (heading, what to know of it), in the order in which it is shown."""

KIND_WORDS: Mapping[tuple[str, str], str] = {
    ("vehicle", "same_vin"): "The same identification number and engine family.",
    ("vehicle", "decided_join"): "Somebody decided that it is the same vehicle.",
    ("vehicle", "decided_apart"): "Somebody decided that it is a vehicle of its own.",
    ("vehicle", "not_joined_families_differ"): "One identification number, but different engine families: look at it.",
    ("vehicle", "not_joined_too_many"): "More than five vehicles with one identification number: look at it.",
    ("vin", "sound"): "The check digit holds.",
    ("vin", "repaired"): "O was read as 0, or I as 1: the check digit then holds.",
    ("vin", "check_digit_differs"): "The check digit does not hold, as is usual outside North America.",
    ("vin", "sign_not_allowed"): "Holds a sign that no such number has.",
    ("vin", "wrong_length"): "Not 17 signs long.",
    ("vin", "placeholder"): "Fills the field with a few repeated signs.",
    ("vin", "absent"): "No number.",
    ("vin", "model_year_differs"): "The model year in the number is not the one stated.",
    ("odometer", "none"): "Nothing was found wrong; somebody decided about it.",
    ("odometer", "not_read"): "0 stands for a reading that nobody took.",
    ("odometer", "digit_too_many"): "A digit too many.",
    ("odometer", "digit_missing"): "A digit missing.",
    ("odometer", "digits_swapped"): "Two neighbouring digits swapped.",
    ("odometer", "digit_wrong"): "One wrong digit.",
    ("odometer", "unit"): "Miles written as kilometres, or the other way round.",
    ("odometer", "rollover"): "The odometer began its round again.",
    ("odometer", "cluster_replaced"): "The readings begin again at another level: the instrument cluster was replaced.",
    ("odometer", "rollback"): "Lower than the reading before it.",
    ("odometer", "too_many_miles_a_day"): "More miles a day than the vehicle can have done.",
    ("odometer", "below_in"): "On leaving, lower than on arrival.",
    ("odometer", "contradicts"): "Contradicts the vehicle's other readings.",
    ("order_link", "duplicate"): "The same work under two order numbers.",
    ("order_link", "part_of"): "All its lines are on another order too.",
    ("order_link", "reopened"): "The number of another order with something added.",
    ("order_link", "same_visit"): "Other work of one visit; counted as one visit.",
    ("text", "vocabulary"): "By the words of the trade.",
    ("text", "learned"): "By what the shop's own coded lines taught.",
    ("text", "reviewed"): "As somebody said.",
    ("quarantine", "returned"): "Mended in the list of rows set aside, and dropped back.",
    ("decision", "line"): "About what a line says.",
    ("decision", "odometer"): "About an odometer reading.",
    ("decision", "vehicle"): "About which vehicles are one.",
    ("decision", "order_link"): "About two repair orders.",
}
"""(what it is about, code) -> words; components of comebacks are named in full by flows."""

STATE_WORDS: Mapping[str, str] = {
    "joined": "counted as one vehicle",
    "apart": "left apart",
    "noted": "noted",
    "as_written": "used as written",
    "corrected": "corrected",
    "left_out": "left out",
    "decided": "as somebody decided",
    "proposed": "waits for a decision",
    "accepted": "accepted: counted once",
    "refused": "refused: counted apart",
    "coded": "used",
    "unsure": "waits for a decision",
    "no_component": "no component: used for nothing",
    "counted": "counted",
    "standing": "stands",
    "superseded": "replaced by a later one",
}
"""What was done about it -> words."""
