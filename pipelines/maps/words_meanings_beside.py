"""What headers of engine lists, readings, codes, checks and promises may mean, in notions; see `words_meaning`."""

from __future__ import annotations

from longmile.pipelines.maps.words_meaning import Meaning, meaning

BESIDE: tuple[Meaning, ...] = (
    meaning(
        "family_description",
        "family",
        "text",
        "engine_family.description",
        "description, engine description, family description, name:0.6, engine name:0.8, note:0.5",
        "engine family",
    ),
    meaning(
        "cylinders",
        "family",
        "cylinders",
        "engine_family.cylinders",
        "cylinder, cylinder number, cylinder quantity, engine cylinder",
        "engine number quantity family",
    ),
    meaning(
        "exhaust_valves_per_cylinder",
        "family",
        "valves",
        "engine_family.exhaust_valves_per_cylinder",
        "exhaust valve, exhaust valve cylinder, exhaust valve each cylinder, exhaust:0.6",
        "number quantity each cylinder engine",
    ),
    meaning(
        "intake_valves_per_cylinder",
        "family",
        "valves",
        "engine_family.intake_valves_per_cylinder",
        "intake valve, intake valve cylinder, intake valve each cylinder, intake:0.6",
        "number quantity each cylinder engine",
    ),
    meaning(
        "measure",
        "measurement",
        "measure",
        "measurement.measure",
        "measure, measure kind, measure name, check measure, check kind:0.4, measure code, check:0.35, measure "
        "description",
        "kind name code",
    ),
    meaning(
        "value",
        "measurement",
        "number",
        "measurement.value",
        "value, measure value, result value, measure result, result:0.6, measure:0.5, check value:0.5",
        "number",
    ),
    meaning("unit", "measurement", "unit", "measurement.unit", "unit, measure unit, value unit", "code kind"),
    meaning(
        "pull_no",
        "measurement",
        "count",
        "measurement.pull_no",
        "pull, pull number, measure number:0.8, check number:0.5",
        "number",
    ),
    meaning(
        "code",
        "trouble_code",
        "dtc",
        "trouble_code.code",
        "dtc, dtc code, dtc number, code:0.4, engine code:0.2",
        "code number in value",
    ),
    meaning(
        "stage",
        "trouble_code",
        "stage",
        "trouble_code.stage",
        "stage, dtc stage, stage code, dtc kind:0.5",
        "dtc code kind",
    ),
    meaning(
        "check",
        "verification",
        "check",
        "verification.check",
        "check, check kind, check name, check code",
        "kind name code repair",
    ),
    meaning(
        "check_value",
        "verification",
        "number",
        "verification.value",
        "value, check value, check result:0.6, result:0.6, result value",
        "number",
    ),
    meaning(
        "passed",
        "verification",
        "yes_no",
        "verification.passed",
        "pass, check pass, check result:0.8, result:0.75",
        "check result",
    ),
    meaning(
        "months",
        "warranty",
        "months",
        "warranty_promise.months",
        "warranty month, month:0.6, warranty time:0.6, warranty:0.4",
        "line part",
    ),
    meaning(
        "miles",
        "warranty",
        "miles",
        "warranty_promise.miles",
        "warranty mile, warranty mileage, warranty km:0.7, mile:0.4",
        "line part in",
    ),
)
"""Columns of the tables beside orders, lines and vehicles."""
