"""What each use of a repair line, basis of a visit and reason for leaving out a reading means, in words."""

from __future__ import annotations

from collections.abc import Mapping

LINE_USE_WORDS: Mapping[str, str] = {
    "failure": "Ends a life by failure.",
    "removal": "Ends a life without a failure: preventive, for access, a recall, a customer's wish.",
    "walk_in": "A failure on the vehicle's first visit; no mile was watched, so it enters no rate.",
    "first_visit_removal": (
        "A part renewed on the vehicle's first visit without a failure; the new part is watched from here."
    ),
    "same_job": "A further line of a job already counted, such as the labor beside the part.",
    "sound_inspection": "The part was inspected and nothing was found: it was sound at that mileage.",
    "no_end": ("Work that ends no life: adjusted, cleaned, a fee, a returned part, a repair that was no failure."),
    "declined": "Work the customer declined.",
    "no_component": "No component on the line, as on most fees and shop supplies.",
    "unsure_text": "No component on the line, and its text leaves it unsure: it counts for nothing so far.",
    "unknown_component": "A component code that the vocabulary does not have.",
    "service_item": ("A part changed on schedule, such as oil and filters: no failure statistics are made of it."),
    "void_order": "The repair order is void.",
    "duplicate_order": "The order was accepted as a duplicate, or as part, of another.",
    "order_missing": "The line's repair order has not come in.",
    "after_as_of": "After the as-of date.",
    "vehicle_missing": "The order's vehicle has not come in.",
    "family_missing": "The vehicle's engine family has not come in.",
    "unplaced_visit": "The visit could not be placed at a mileage.",
}

VISIT_BASIS_WORDS: Mapping[str, str] = {
    "read": "Placed by the order's own odometer reading.",
    "by_date": "Placed by date, on the straight line between the readings before and after.",
    "reopened": "Placed with the order that it reopened, as somebody decided.",
    "unplaced": "Not placed: no used reading on both sides. It ends no life.",
}

SEVERITY_WORDS: Mapping[str, str] = {
    "quarantine": "sets the row aside",
    "warn": "counts and keeps",
    "stop": "stops the run",
}
