"""An invented shop's result frames, made by hand, hostile text included. No number here is a finding.

Water pumps and brake pads (safety-relevant) have failed mostly on family A.

    component      family  unit     failures  miles at risk   rate per 100,000 miles
    water_pump     A       socket   40          1,000,000     4.0   (others: 10 in 1,000,000 = 1.0, 4 times)
    water_pump     B       socket   10          1,000,000     1.0
    water_pump     all     socket   50          2,000,000     2.5
    brake_pads     A       socket   30          1,000,000     3.0   (others: 6 in 1,000,000 = 0.6, 5 times)
    brake_pads     B       socket    6          1,000,000     0.6
    brake_pads     all     socket   36          2,000,000     1.8
    thermostat     A       socket    3          1,000,000     0.3   (thin)
    thermostat     B       socket    0          1,000,000     0     (at most 0.37)
    thermostat     all     socket    3          2,000,000     0.15
"""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any

import polars as pl

from longmile.reports.frames import FRAME_COLUMNS, ResultFrames, empty_frame
from longmile.schemas.results import ALL_FAMILIES

HOSTILE_FAMILY = 'A <script>document.title="owned"</script>'
OTHER_FAMILY = "B inline"
HOSTILE_CONCERN = '</script><script>alert(1);document.title="owned"</script>"><img src=x onerror="document.title=1">'
RIGHT_TO_LEFT = "\u202e\u0645\u0636\u062e\u0629 \u0627\u0644\u0645\u0627\u0621"
LONG_WORD = "x" * 5000
FETCHING_TEXT = "see https://example.invalid/a.png"


def _frame(name: str, rows: list[dict[str, Any]]) -> pl.DataFrame:
    """Rows as the declared frame; what a row does not name is empty."""
    schema = dict(FRAME_COLUMNS[name])
    return pl.DataFrame([{column: row.get(column) for column in schema} for row in rows], schema=schema)


def _limits(**values: tuple[float | None, float | None, float | None]) -> dict[str, float | None]:
    """Columns of values with their limits."""
    return {
        f"{name}{end}": number
        for name, triple in values.items()
        for end, number in zip(("", "_lower", "_upper"), triple, strict=True)
    }


def estimate_row(component: str, family: str, unit: str, failures: int, miles: float, **changed: Any) -> dict[str, Any]:
    """One estimate with a Weibull fit where something failed; `changed` overrides columns."""
    rate = failures / miles * 100_000
    row: dict[str, Any] = {
        "component_code": component,
        "engine_family": family,
        "unit": unit,
        "status": "ok" if failures >= 5 else ("thin" if failures else "no_failures"),
        "confidence": 0.95,
        "n_vehicles": 120,
        "n_sockets": 120,
        "n_lives": 120 + failures,
        "n_failures": failures,
        "n_removals": 2,
        "n_walk_ins": 3,
        "n_one_of_set": 1,
        "n_interval": 4,
        "n_unknown_reason": 5,
        "n_orders": failures,
        "miles_at_risk": miles,
        "largest_miles": 180_000.0,
        "weibull_status": "ok" if failures >= 5 else "thin",
        "limits": "clustered profile" if failures >= 5 else None,
        "mean_extrapolated": True,
        "median_extrapolated": False,
        "b10_extrapolated": False,
        "horizon_miles": 150_000.0,
        "plain_mean_miles": 91_234.0 if failures else None,
        "n_vehicles_failed": failures,
        "rate_dispersion": 1.27 if failures else None,
        "n_aged_failures": failures // 2,
        "original_below_miles": 41_000.0 if failures >= 5 else None,
        "curve_from_miles": 0.0,
    }
    # Invented limits: half and twice the rate; for none, 3.69 failures (exact Poisson limit, -ln 0.025).
    row |= _limits(rate_per_100k=(rate, rate / 2, rate * 2) if failures else (0.0, 0.0, 3.69 / miles * 100_000))
    if failures >= 5:
        row |= _limits(
            shape=(2.31, 1.72, 2.98),
            scale_miles=(210_000.0, 180_000.0, 260_000.0),
            mean_miles=(186_400.0, 161_200.0, 228_900.0),
            median_miles=(179_300.0, 158_700.0, 214_600.0),
            b10_miles=(97_640.0, 84_910.0, 112_300.0),
            restricted_mean_miles=(138_700.0, 134_200.0, 142_100.0),
            survival_100k=(0.8912, 0.8541, 0.9207),
        )
        row |= {
            "model": "weibull",
            "runner_up": "loglogistic",
            "aic_ahead": 3.47,
            "plot_correlation": 0.9912,
            "share_outside_limits": 0.06,
            "survival_100k_extrapolated": False,
        }
    return row | changed


def _estimates() -> pl.DataFrame:
    """The table above, by socket and by vehicle."""
    made = [
        ("water_pump", HOSTILE_FAMILY, 40, 1e6),
        ("water_pump", OTHER_FAMILY, 10, 1e6),
        ("water_pump", ALL_FAMILIES, 50, 2e6),
        ("brake_pads", HOSTILE_FAMILY, 30, 1e6),
        ("brake_pads", OTHER_FAMILY, 6, 1e6),
        ("brake_pads", ALL_FAMILIES, 36, 2e6),
        ("thermostat", HOSTILE_FAMILY, 3, 1e6),
        ("thermostat", OTHER_FAMILY, 0, 1e6),
        ("thermostat", ALL_FAMILIES, 3, 2e6),
    ]
    return _frame("estimate", [estimate_row(c, f, u, n, m) for u in ("socket", "vehicle") for c, f, n, m in made])


def _survival() -> pl.DataFrame:
    """Ten falling steps for every stratum with a curve; the first has no upper limit."""
    return _frame(
        "survival_point",
        [
            {
                "component_code": component,
                "engine_family": family,
                "unit": "socket",
                "age_miles": 15_000.0 * step,
                "at_risk": 110 - 10 * step,
                "n_events": 1,
                "survival": 1 - 0.04 * step,
                "survival_lower": max(0.0, 1 - 0.06 * step),
                "survival_upper": None if step == 1 else 1 - 0.02 * step,
                "cumulative_hazard": 0.04 * step,
                "is_tail": False,
            }
            for component in ("water_pump", "brake_pads")
            for family in (HOSTILE_FAMILY, OTHER_FAMILY, ALL_FAMILIES)
            for step in range(1, 11)
        ],
    )


def _evidence() -> pl.DataFrame:
    """Forty orders behind the water pumps of family A, the newest with hostile text."""
    told = [HOSTILE_CONCERN, RIGHT_TO_LEFT, LONG_WORD, FETCHING_TEXT, None]
    return _frame(
        "evidence",
        [
            {
                "component_code": "water_pump",
                "engine_family": HOSTILE_FAMILY,
                "repair_order_id": f"RO-{number:04d}",
                "opened_on": date(2024, 1 + number % 12, 1 + number % 27),
                "location": "north",
                "vehicle_id": f"V{number}",
                "odometer_miles": 90_000.0 + 731 * number,
                "age_miles": 90_000.0 + 731 * number,
                "position": "only",
                "reason": "found_at_inspection",
                "concern": told[number % 5],
                "cause": "weeping at the shaft",
                "correction": "replaced pump",
                "part_origin": "new",
                "supplier": '"><svg onload=alert(2)>',
            }
            for number in range(40)
        ],
    )


def _conditional() -> pl.DataFrame:
    """Two chances for each stratum, one of them extrapolated."""
    return _frame(
        "conditional_survival",
        [
            {
                "component_code": component,
                "engine_family": family,
                "unit": "socket",
                "from_miles": age,
                "further_miles": 12_000.0,
                "is_extrapolated": age > 180_000,
            }
            | _limits(survival=(0.873, 0.812, 0.926))
            for component in ("water_pump", "brake_pads")
            for family in (HOSTILE_FAMILY, ALL_FAMILIES)
            for age in (100_000.0, 200_000.0)
        ],
    )


def _beside() -> dict[str, pl.DataFrame]:
    """The tables that stand beside the estimates: a row or two of each, the hostile family among them."""
    stratum = {"component_code": "water_pump", "engine_family": HOSTILE_FAMILY, "unit": "socket"}
    thin = {"component_code": "thermostat", "engine_family": HOSTILE_FAMILY, "unit": "socket"}
    whole = {"component_code": "water_pump", "engine_family": ALL_FAMILIES, "unit": "socket"}
    no_end = _limits(b10_held_miles=(143_700.0, 88_300.0, None), mean_held_miles=(412_000.0, 251_000.0, None))
    held = {"n_failures": 3, "shape_held": 1.0, "shape_from": "constant_rate", "shrinkage_status": "ok"}
    hazards = _limits(relative_hazard=(0.27, 0.056, 0.79), shrunk_hazard=(0.61, 0.23, 1.13))
    ways = {"as_set": (50, 1.0), "every_first_part": (50, 1.13), "from_new": (4, 0.71)}
    return {
        "model_fit": _frame(
            "model_fit",
            [
                stratum | {"model": model, "model_status": "ok", "is_used": used, "is_closest": used}
                for model, used in (("weibull", True), ("lognormal", False))
            ],
        ),
        "family_value": _frame("family_value", [thin | held | no_end | hazards]),
        "unknown_age_value": _frame(
            "unknown_age_value",
            [
                row
                | {"n_failures": n, "unknown_age_status": "ok", "shape_unknown_age": 2.2}
                | _limits(mean_unknown_age_miles=(171_300.0, 152_600.0, 193_800.0))
                | _limits(b10_unknown_age_miles=(92_150.0, 84_480.0, 101_700.0))
                for row, n in ((whole, 50), ({**whole, "component_code": "brake_pads"}, 36))
            ],
        ),
        "family_comparison": _frame(
            "family_comparison",
            [
                row
                | {"unit": "vehicle", "n_failures": n, "expected_failures": e}
                | {"p_value": p, "comparison_status": "ok"}
                for row, n, e, p in ((stratum, 40, 21.4, 0.00003), (thin, 3, 1.6, 0.27), (thin, 0, 9.2, 0.002))
            ],
        ),
        "removal_incidence": _frame(
            "removal_incidence",
            [
                whole
                | {"age_miles": age}
                | _limits(failed_share=(0.114, 0.083, 0.149), removed_share=(0.021, 0.007, 0.052))
                for age in (50_000.0, 100_000.0)
            ],
        ),
        "recurrence": _frame(
            "recurrence",
            [
                {"component_code": "water_pump", "engine_family": ALL_FAMILIES, "at_miles": 100_000.0}
                | {"n_vehicles": 120, "n_repairs": 50, "at_risk": 63, "is_extrapolated": False}
                | _limits(repairs_per_vehicle=(0.71, 0.52, 0.97), cost_per_vehicle=(318.0, 231.0, 437.0))
            ],
        ),
        "covariate_effect": _frame(
            "covariate_effect",
            [
                {"component_code": "water_pump", "covariate": "supplier", "level": '"><svg onload=alert(3)>'}
                | {"reference": "Northfield Parts", "n_failures": 12, "p_value": 0.004, "covariate_status": "ok"}
                | _limits(life_ratio=(0.62, 0.44, 0.86))
            ],
        ),
        "sensitivity": _frame(
            "sensitivity",
            [
                {"component_code": "water_pump", "variant": variant, "n_failures": n, "rate_ratio": ratio}
                | {"mean_ratio": ratio, "b10_ratio": None if variant == "from_new" else ratio}
                for variant, (n, ratio) in ways.items()
            ],
        ),
    }


def _checks() -> pl.DataFrame:
    """A rule that holds, one that is broken with hostile examples, one on the whole table."""
    common = {"run_id": 1, "file_id": "f1", "part_name": "repair_order.csv", "table_name": "repair_order"}
    return _frame(
        "check_result",
        [
            common
            | {
                "rule": "repair_order.opened_on.required",
                "severity": "quarantine",
                "sentence": "opened_on must be filled in",
                "n_checked": 500,
                "n_failed": 0,
                "outcome": "passed",
            },
            common
            | {
                "rule": "repair_order.odometer_in.between",
                "severity": "quarantine",
                "sentence": "odometer_in must lie between 0 and 3,000,000",
                "n_checked": 500,
                "n_failed": 7,
                "outcome": "failed",
                "examples": json.dumps([{"odometer_in": HOSTILE_CONCERN, "row_number": 17}, {"odometer_in": None}]),
            },
            common
            | {
                "file_id": None,
                "part_name": None,
                "rule": "repair_order.freshness",
                "severity": "warn",
                "sentence": "days from the newest repair order to the as-of date, at most 62",
                "n_checked": 1,
                "n_failed": 0,
                "observed": 12.0,
                "outcome": "passed",
            },
        ],
    )


def frames(**changed: Any) -> ResultFrames:
    """The whole bundle; `changed` overrides fields."""
    made: dict[str, Any] = {
        "estimate": _estimates(),
        "survival_point": _survival(),
        "conditional_survival": _conditional(),
        **_beside(),
        "component": _frame(
            "component",
            [
                {
                    "component_code": code,
                    "component_name": name,
                    "system": system,
                    "is_safety_relevant": safety,
                }
                for code, name, system, safety in [
                    ("water_pump", "water pump", "cooling", False),
                    ("brake_pads", "brake pads", "brakes", True),
                    ("thermostat", "thermostat", "cooling", False),
                ]
            ],
        ),
        "engine_family": _frame("engine_family", [{"engine_family": OTHER_FAMILY, "cylinders": 4}]),
        "source_file": _frame(
            "source_file",
            [
                {
                    "file_id": "f1",
                    "file_name": "repair_order.csv",
                    "status": "loaded",
                    "notes": "decoded as UTF-8",
                },
                {"file_id": "f2", "file_name": HOSTILE_CONCERN, "status": "set_aside", "reason": "0 bytes"},
            ],
        ),
        "source_part": _frame(
            "source_part",
            [
                {
                    "file_id": "f1",
                    "part_name": "repair_order.csv",
                    "table_name": "repair_order",
                    "n_landed": 507,
                    "n_kept": 490,
                    "n_quarantined": 7,
                    "n_repeats": 10,
                    "n_replaced": 2,
                    "n_withdrawn": 1,
                    "ignored_headers": "phone",
                }
            ],
        ),
        "quarantined_row": _frame(
            "quarantined_row",
            [
                {
                    "file_id": "f1",
                    "part_name": "repair_order.csv",
                    "table_name": "repair_order",
                    "row_number": 18,
                    "rules": "repair_order.odometer_in.between, repair_order.opened_on.typed",
                    "reason": "odometer_in must lie between 0 and 3,000,000; found -4",
                    "raw_text": f"RO-9,{HOSTILE_CONCERN},{LONG_WORD}",
                }
            ],
        ),
        "check_result": _checks(),
        "evidence": _evidence(),
        "walk_in_count": _frame("walk_in_count", [{"component_code": "water_pump", "n_walk_ins": 3, "n_orders": 3}]),
        "quarantine_count": _frame(
            "quarantine_count",
            [{"table_name": "repair_order", "rule": "repair_order.odometer_in.between", "n_rows": 7}],
        ),
        "odometer_summary": _frame("odometer_summary", [{"n_readings": 980, "n_used": 961}]),
        "settled_count": _frame(
            "settled_count",
            [
                {"about": "vehicle", "kind": "same_vin", "state": "joined", "n": 14},
                {"about": "vin", "kind": "repaired", "state": "noted", "n": 3},
                {"about": "odometer", "kind": "digit_too_many", "state": "corrected", "n": 6},
                {"about": "odometer", "kind": "a_kind_without_words", "state": "left_out", "n": 1},
                {"about": "text", "kind": "vocabulary", "state": "unsure", "n": 1_234},
            ],
        ),
        "coding_model": _frame(
            "coding_model",
            [
                {
                    "model_version": "v",
                    "n_lines": 4_321,
                    "is_used": True,
                    "threshold": 0.9,
                    "accuracy": 0.982,
                    "decided_share": 0.871,
                }
            ],
        ),
        "line_use_count": _frame(
            "line_use_count", [{"use": "failure", "n_lines": 89}, {"use": "no_component", "n_lines": 411}]
        ),
        "visit_basis_count": _frame(
            "visit_basis_count", [{"basis": "read", "n_visits": 480}, {"basis": "unplaced", "n_visits": 10}]
        ),
        "vehicle_window_summary": _frame(
            "vehicle_window_summary",
            [{"n_vehicles": 120, "n_from_new": 11, "n_walk_once": 23, "miles_watched": 2_134_567.0}],
        ),
        "shop_name": "Two Rivers <b>Garage</b>",
        "as_of": date(2025, 6, 30),
        "known_at": datetime(2025, 7, 1, 4, 10),
        "built_at": datetime(2025, 7, 1, 4, 11),
        "version": "0.1.0",
        "confidence": 0.95,
        "currency": "USD",
    }
    return ResultFrames(**(made | changed))


def empty_frames() -> ResultFrames:
    """A shop into whose inbox nothing has come."""
    return frames(**{name: empty_frame(name) for name in FRAME_COLUMNS})
