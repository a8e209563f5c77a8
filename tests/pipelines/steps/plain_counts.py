"""Counts, miles at risk and the Kaplan-Meier product over lives that are counted one by one. See `plain_readings`."""

from __future__ import annotations

from fractions import Fraction

from longmile_tests_plain_readings import COMPONENTS, Row, Shop, places

Rules = dict[tuple[str, str], tuple[float | None, float]]
"""(component, family) -> odometer at first sight below which first parts count (None: all do), and the age from which
the curve speaks: both come from fits and counts that are tested elsewhere, and are taken over here."""


def estimate(shop: Shop, unit: str, rules: Rules) -> dict[tuple[str, str], Row]:
    """(component, family or 'all families') -> counts, miles at risk and the Kaplan-Meier product."""
    visited = {v["repair_order_id"] for v in shop.tables["visit"]}
    seen = {x["component_code"] for x in shop.lines if x["repair_order_id"] in visited}
    components = [c for c in seen if c in COMPONENTS and not COMPONENTS[c][2]]
    watched = [w for w in shop.tables["vehicle_window"] if w["last_miles"] > w["first_miles"]]
    families = {w["engine_family"] for w in watched}
    found = {}
    for component in components:
        for family in families:
            found[component, family] = _stratum(shop, unit, component, [family], rules[component, family])
        if families:
            whole = rules[component, "all families"]
            found[component, "all families"] = _stratum(shop, unit, component, list(shop.families), whole)
    return found


def _stratum(shop: Shop, unit: str, component: str, families: list[str], rule: tuple[float | None, float]) -> Row:
    own = [
        x
        for x in shop.tables["life"]
        if (x["unit"], x["component_code"]) == (unit, component) and x["engine_family"] in families
    ]
    touched = {t["vehicle_id"]: t["n"] for t in shop.tables["touched"] if t["component_code"] == component}
    spans = [(x["entry_miles"], x["exit_miles"]) for x in own]
    below, from_age = rule
    first = {w["vehicle_id"]: w["first_miles"] for w in shop.tables["vehicle_window"]}
    is_counted = {v: below is None or miles < below for v, miles in first.items()}
    aged = [x for x in own if x["origin"] != "assumed_original" or is_counted[x["vehicle_id"]]]
    aged_spans = [(x["entry_miles"], x["exit_miles"]) for x in aged]
    n_vehicles = n_sockets = 0
    for window in shop.tables["vehicle_window"]:
        if window["engine_family"] not in families or window["last_miles"] <= window["first_miles"]:
            continue
        each = len(places(component, *shop.families[window["engine_family"]])) if unit == "socket" else 1
        n_vehicles, n_sockets = n_vehicles + 1, n_sockets + each
        n_touched = touched.get(window["vehicle_id"], 0)
        untouched = each - (n_touched if unit == "socket" else min(1, n_touched))
        spans += [(window["first_miles"], window["last_miles"])] * untouched
        if is_counted[window["vehicle_id"]]:
            aged_spans += [(window["first_miles"], window["last_miles"])] * untouched
    failed = [x for x in own if x["is_event"]]
    walk_ins = [
        x for x in shop.tables["walk_in"] if x["component_code"] == component and x["engine_family"] in families
    ]
    ages = [x["exit_miles"] for x in failed]
    aged_failures = [x["exit_miles"] for x in aged if x["is_event"]]
    points, survival = [], Fraction(1)
    for age in sorted({age for age in aged_failures if age > Fraction(from_age) + Fraction(1, 1000)}):
        at_risk = sum(entry < age <= exit_ for entry, exit_ in aged_spans)
        survival *= 1 - Fraction(aged_failures.count(age), at_risk)
        points.append((age, at_risk, aged_failures.count(age), survival))
    return {
        "n_vehicles": n_vehicles,
        "n_sockets": n_sockets,
        "n_lives": len(spans),
        "n_failures": len(failed),
        "n_aged_failures": len(aged_failures),
        "n_removals": sum(x["outcome"] == "removed" for x in own),
        "n_walk_ins": len(walk_ins) if unit == "socket" else len({x["vehicle_id"] for x in walk_ins}),
        "n_one_of_set": sum(not x["is_position_known"] for x in failed),
        "n_interval": sum(x["last_sound_miles"] is not None for x in failed),
        "n_unknown_reason": sum(x["reason"] == "unknown" for x in failed),
        "n_orders": len({x["end_order_id"] for x in failed}),
        "miles_at_risk": sum((exit_ - entry for entry, exit_ in spans), Fraction(0)),
        "largest_miles": max((exit_ for _, exit_ in aged_spans), default=None),
        "plain_mean_miles": sum(ages, Fraction(0)) / len(ages) if ages else None,
        "points": points,
    }
