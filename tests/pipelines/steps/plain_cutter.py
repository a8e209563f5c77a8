"""Lives cut a second time, slowly: lines to jobs, jobs to ends, ends to lives. See `plain_readings`."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from math import floor

from longmile_tests_plain_readings import (
    COMPONENTS,
    FAILURES,
    REASONS,
    Row,
    Shop,
    places,
    read_position,
    readings,
    visits,
    windows,
)

# --- lines, jobs, ends


def classified(shop: Shop) -> list[Row]:
    """Every line with its order, vehicle, family, odometer and provisional use."""
    orders = {o["repair_order_id"]: o for o in shop.orders}
    vehicles = {v["vehicle_id"]: v for v in shop.vehicles}
    placed = {v["repair_order_id"]: v for v in shop.tables["visit"]}
    found = []
    for line in shop.lines:
        order = orders.get(line["repair_order_id"])
        vehicle = vehicles.get(order["vehicle_id"]) if order else None
        visit = placed.get(line["repair_order_id"], {})
        full = {**line, "reason": line["reason"] or "unknown", "action": action_of(line, shop.lines)}
        full |= {"odometer": visit.get("odometer_miles"), "location": visit.get("location")}
        full |= {"vehicle_id": order and order["vehicle_id"], "family": vehicle and vehicle["engine_family"]}
        renewed = full["component_code"] in COMPONENTS and COMPONENTS[full["component_code"]][1]
        full["renews"] = full["action"] == "replaced" or (full["action"] == "repaired" and renewed)
        full["use"] = order_trouble(shop, order, vehicle) or line_purpose(full)
        found.append(full)
    return found


def action_of(line: Row, lines: list[Row]) -> str | None:
    """Its own; a part line without one takes that of the other lines for the component on the order."""
    own: str | None = line["action"]
    if own or line["kind"] != "part":
        return own
    keys = ("repair_order_id", "component_code")
    others = {x["action"] for x in lines if all(x[key] == line[key] for key in keys)}
    return next((action for action in ("replaced", "repaired") if action in others), None)


def order_trouble(shop: Shop, order: Row | None, vehicle: Row | None) -> str | None:
    if order is None:
        return "order_missing"
    if order["status"] == "void":
        return "void_order"
    if order["opened_on"] > shop.as_of:
        return "after_as_of"
    if vehicle is None:
        return "vehicle_missing"
    return None if vehicle["engine_family"] in shop.families else "family_missing"


def line_purpose(line: Row) -> str:
    code, action = line["component_code"], line["action"]
    if code is None:
        return "no_component"
    if code not in COMPONENTS:
        return "unknown_component"
    if COMPONENTS[code][2]:
        return "service_item"
    if action == "declined":
        return "declined"
    if action == "inspected" and line["reason"] not in FAILURES and line["odometer"] is not None:
        return "sound_inspection"
    quantity = 1 if line["quantity"] is None else line["quantity"]
    is_handed_back = quantity < 0 or (quantity == 0 and line["kind"] == "part")
    if action not in ("replaced", "repaired") or line["kind"] == "fee" or is_handed_back:
        return "no_end"
    return "unplaced_visit" if line["odometer"] is None else "job"


def by_rank(lines: list[Row]) -> Row:
    """The line whose reason counts."""
    return min(lines, key=lambda x: (REASONS.index(x["reason"]), x["repair_order_id"], x["line_no"]))


def end_of(lines: list[Row], reason: str, known: bool) -> Row:
    """One end from the lines that speak of one socket."""
    renewing = [x for x in lines if x["renews"]]

    def least(name: str) -> str | None:
        return min((x[name] for x in renewing if x[name] is not None), default=None)

    return {
        "reason": reason,
        "renews": bool(renewing),
        "known": known,
        "order": by_rank(lines)["repair_order_id"],
        "install_order": least("repair_order_id"),
        **{name: least(name) for name in ("part_origin", "supplier", "location")},
    }


def named_and_unplaced(lines: list[Row], sockets: list[str]) -> tuple[dict[str, list[Row]], list[Row], int]:
    """Lines of a job by the socket they name; those that name none; and how many sockets these speak of."""
    named: dict[str, list[Row]] = defaultdict(list)
    unplaced = []
    for line in lines:
        read = read_position(line["position"], line["component_code"], sockets) if line["position"] else None
        for position in read or ():
            named[position].append(line)
        if read is None:
            unplaced.append(line)
    parts = [x for x in unplaced if x["kind"] == "part"]
    speaks_of = sum(floor((1 if x["quantity"] is None else x["quantity"]) + Fraction(1, 2)) for x in parts)
    n = min(len(sockets), max(1, speaks_of))
    if n == len(sockets):
        for position in sockets:
            named[position].extend(unplaced)
        unplaced = []
    return {position: of_it for position, of_it in named.items() if of_it}, unplaced, n


def named_ends(named: dict[str, list[Row]], unplaced: list[Row]) -> dict[str, Row]:
    """Ends of named sockets, the reason of the lines that name none spread over them."""
    spoken = by_rank(unplaced)["reason"] if unplaced else "unknown"
    reasons = {position: by_rank(lines)["reason"] for position, lines in named.items()}
    over_all = spoken in FAILURES and not any(reason in FAILURES for reason in reasons.values())
    return {
        position: end_of(lines, spoken if over_all or reasons[position] == "unknown" else reasons[position], True)
        for position, lines in named.items()
    }


def work_done(jobs: dict[Fraction, list[Row]], sockets: list[str]) -> dict[Fraction, dict[str, Row]]:
    """Odometer -> socket -> what was done, for one component of one vehicle; unknown places given by the rule."""
    done: dict[Fraction, dict[str, Row]] = {}
    waiting: dict[Fraction, tuple[list[Row], int]] = {}
    for odometer in sorted(jobs):
        named, unplaced, n = named_and_unplaced(jobs[odometer], sockets)
        if named:
            done[odometer] = named_ends(named, unplaced)
        else:
            waiting[odometer] = (unplaced, n)
    ever_named = {position for ends in done.values() for position in ends}
    for odometer, (lines, n) in sorted(waiting.items()):

        def last_worked_on(position: str, until: Fraction = odometer) -> Fraction:
            return max((at for at, ends in done.items() if at < until and position in ends), default=Fraction(-1))

        turn = sorted(sockets, key=lambda p: (p in ever_named, last_worked_on(p), p))
        done[odometer] = {p: end_of(lines, by_rank(lines)["reason"], False) for p in turn[:n]}
    return done


def add_sound(shop: Shop, vehicle: str, ends: dict[Fraction, dict[str, Row]], inspections: list[Row]) -> None:
    """sound_at of failures found at inspection: the last sound inspection since the life began, else the last visit."""
    seen = [v["odometer_miles"] for v in shop.tables["visit"] if v["vehicle_id"] == vehicle]
    for odometer, at_once in ends.items():
        for position, end in at_once.items():
            end["sound_at"] = None
            if end["reason"] != "found_at_inspection":
                continue
            began = max((at for at, others in ends.items() if at < odometer and position in others), default=-1)
            sound = [
                i["odometer"]
                for i in inspections
                if began < i["odometer"] < odometer and (i["sockets"] is None or position in i["sockets"])
            ]
            end["sound_at"] = max(sound or [at for at in seen if at is not None and at < odometer], default=None)


def inspected(line: Row, sockets: list[str]) -> Row:
    """sockets: those the inspection speaks of; None: all of them, as where no position is written."""
    if not line["position"] or len(sockets) == 1:
        return {**line, "sockets": None}
    return {**line, "sockets": read_position(line["position"], line["component_code"], sockets) or set()}


def all_ends(shop: Shop, lines: list[Row]) -> dict[tuple[str, str], dict[Fraction, dict[str, Row]]]:
    """(vehicle, component) -> odometer -> socket -> end."""
    found = {}
    for vehicle, component in {(x["vehicle_id"], x["component_code"]) for x in lines if x["use"] == "job"}:
        own = [x for x in lines if (x["vehicle_id"], x["component_code"]) == (vehicle, component)]
        sockets = places(component, *shop.families[own[0]["family"]])
        jobs: dict[Fraction, list[Row]] = defaultdict(list)
        for line in own:
            if line["use"] == "job":
                jobs[line["odometer"]].append(line)
        done = work_done(jobs, sockets)
        for at_once in done.values():
            for end in at_once.values():
                end["fails"] = end["reason"] in shop.failing
        ends = {at: {p: e for p, e in of_it.items() if e["fails"] or e["renews"]} for at, of_it in done.items()}
        ends = {at: of_it for at, of_it in ends.items() if of_it}
        add_sound(shop, vehicle, ends, [inspected(x, sockets) for x in own if x["use"] == "sound_inspection"])
        found[vehicle, component] = ends
    return found


def line_uses(shop: Shop, lines: list[Row], ends: dict[tuple[str, str], dict[Fraction, dict[str, Row]]]) -> list[Row]:
    first = {w["vehicle_id"]: w["first_miles"] for w in shop.tables["vehicle_window"]}
    for line in lines:
        if line["use"] != "job":
            continue
        key = ("vehicle_id", "component_code", "odometer")
        job = [x for x in lines if x["use"] not in ("sound_inspection",) and all(x[k] == line[k] for k in key)]
        line["job"] = [x for x in job if x.get("job") is not None or x["use"] == "job"]
        at_once = ends[line["vehicle_id"], line["component_code"]].get(line["odometer"])
        line["final"] = "no_end"
        if at_once:
            fails = any(end["fails"] for end in at_once.values())
            counting = [x for x in line["job"] if not fails or x["reason"] in shop.failing]
            on_first = line["odometer"] <= first[line["vehicle_id"]]
            use = {
                (True, True): "walk_in",
                (True, False): "failure",
                (False, True): "first_visit_removal",
                (False, False): "removal",
            }
            line["final"] = use[fails, on_first] if by_rank(counting) is line else "same_job"
    return [
        {"repair_order_id": x["repair_order_id"], "line_no": x["line_no"], "use": x.get("final", x["use"])}
        for x in lines
    ]


# --- lives


def set_ends(ends: dict[Fraction, dict[str, Row]], n_sockets: int) -> dict[Fraction, Row]:
    """What was done to the whole set: it fails with its first, and is renewed only as a whole."""
    found = {}
    for odometer, at_once in ends.items():
        every = sorted(at_once.values(), key=lambda e: (not e["fails"], REASONS.index(e["reason"]), e["order"]))
        renewed = [e for e in every if e["renews"]]
        sound = [e["sound_at"] for e in every if e["fails"] and e["sound_at"] is not None]
        found[odometer] = {
            **every[0],
            "fails": every[0]["fails"],
            "renews": len(renewed) == n_sockets,
            "mixed": 0 < len(renewed) < n_sockets,
            "known": all(e["known"] for e in every),
            "sound_at": min(sound, default=None),
            **{
                name: min((e[name] for e in renewed if e[name] is not None), default=None)
                for name in ("install_order", "part_origin", "supplier", "location")
            },
        }
    return found


def cut(window: Row, ends: dict[Fraction, Row]) -> list[Row]:
    """The lives of one socket (or set) between its ends."""
    found: list[Row] = []
    installed: Row | None = None
    start, mixed, at = Fraction(0), False, window["first_miles"]
    for odometer, end in [*sorted(ends.items()), (window["last_miles"], None)]:
        if odometer > at and not mixed:
            fails = bool(end and end["fails"])
            sound = end["sound_at"] if end and fails else None
            found.append(
                {
                    "is_position_known": end["known"] if end else True,
                    "life_no": len(found) + 1,
                    "origin": "replacement" if installed else window["origin"],
                    "start_miles": start,
                    "entry_miles": at - start,
                    "exit_miles": odometer - start,
                    "outcome": "running" if end is None else "failed" if fails else "removed",
                    "is_event": fails,
                    "last_sound_miles": None if sound is None else max(sound, at) - start,
                    "reason": end and end["reason"],
                    "end_order_id": end and end["order"],
                    "install_order_id": installed and installed["install_order"],
                    **{name: installed and installed[name] for name in ("part_origin", "supplier", "location")},
                }
            )
        at = odometer
        if end and end["renews"]:
            installed, start, mixed = end, odometer, False
        elif end and end.get("mixed"):
            mixed = True
    return found


def cut_shop(shop: Shop) -> dict[str, list[Row]]:
    """Every life table of the shop, by name; kept in `shop.tables` too."""
    tables = shop.tables
    tables["odometer_reading"] = readings(shop)
    tables["visit"] = visits(shop)
    tables["vehicle_window"] = windows(shop)
    lines = classified(shop)
    ends = all_ends(shop, lines)
    tables["line_use"] = line_uses(shop, lines, ends)
    tables["life"], tables["walk_in"] = [], []
    of_vehicle = {w["vehicle_id"]: w for w in tables["vehicle_window"]}
    for (vehicle, component), done in ends.items():
        window = of_vehicle[vehicle]
        names = {
            "vehicle_id": vehicle,
            "engine_family": window["engine_family"],
            "component_code": component,
        }
        sockets: dict[str, dict[Fraction, Row]] = defaultdict(dict)
        for odometer, at_once in done.items():
            for position, end in at_once.items():
                sockets[position][odometer] = end
                if end["fails"] and odometer <= window["first_miles"]:
                    tables["walk_in"].append(
                        {
                            **names,
                            "position": position,
                            "is_position_known": end["known"],
                            "odometer_miles": odometer,
                            "repair_order_id": end["order"],
                            "reason": end["reason"],
                        }
                    )
        for position, own in sockets.items():
            tables["life"] += [{"unit": "socket", **names, "position": position, **x} for x in cut(window, own)]
        if done:
            n_sockets = len(places(component, *shop.families[window["engine_family"]]))
            whole = cut(window, set_ends(done, n_sockets))
            tables["life"] += [{"unit": "vehicle", **names, "position": "set", **x} for x in whole]
    tables["touched"] = [
        {"vehicle_id": v, "component_code": c, "n": len({p for at_once in done.values() for p in at_once})}
        for (v, c), done in ends.items()
    ]
    return tables
