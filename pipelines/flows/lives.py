"""From trade tables to lives: the statements of the steps, run in order on the store."""

from __future__ import annotations

from dataclasses import dataclass, replace

import polars as pl

from longmile.pipelines.errors import LivesError, LongmileError
from longmile.pipelines.flows.settle import settle
from longmile.pipelines.settings import Settings
from longmile.pipelines.steps.life import IDENTITY_SQL, LIFE_SQL, SOCKET_POINT_SQL, TOUCHED_SQL, WALK_IN_SQL
from longmile.pipelines.steps.line_use import line_class_sql, line_use_sql
from longmile.pipelines.steps.odometer_faults import found_faults
from longmile.pipelines.steps.odometer_reading import (
    DECIDED_SQL,
    DOUBTED_READING_SQL,
    NOT_READ_SQL,
    SETTLE_READINGS_SQL,
    odometer_reading_sql,
)
from longmile.pipelines.steps.order_link import COMEBACK_SQL
from longmile.pipelines.steps.socket_end import (
    JOB_LINE_SQL,
    NAMED_END_SQL,
    NO_ONE_OF_SET_END_SQL,
    ONE_OF_SET_END_SQL,
    ONE_OF_SET_JOB_SQL,
    POSITION_READING_SQL,
    socket_end_sql,
)
from longmile.pipelines.steps.vehicle_window import vehicle_window_sql
from longmile.pipelines.steps.visit import VISIT_SQL
from longmile.pipelines.store.store import Store
from longmile.schemas.identity import COMEBACK
from longmile.schemas.lives import LIFE, LINE_USE, ODOMETER_READING, VEHICLE_WINDOW, VISIT, WALK_IN
from longmile.schemas.store import COMPONENT, POSITION_SPELLING, SOCKET
from longmile.schemas.vocabulary import (
    ALL_POSITIONS,
    COMPONENTS,
    POSITION_SYNONYMS,
    SOCKET_SCHEMES,
    socket_rows,
)


def fill_vocabulary(store: Store) -> None:
    """The tables `component`, `position_spelling` and, for the families known, `socket`."""
    store.replace(
        COMPONENT,
        pl.DataFrame(
            [
                (
                    c.code,
                    c.name,
                    c.system,
                    c.sockets,
                    c.is_renewed_by_repair,
                    c.is_service_item,
                    c.is_safety_relevant,
                )
                for c in COMPONENTS
            ],
            schema=list(COMPONENT.column_names),
            orient="row",
        ),
    )
    spellings = [(scheme, w, p) for scheme, known in POSITION_SYNONYMS.items() for w, p in known.items()]
    spellings += [(scheme, ALL_POSITIONS, ALL_POSITIONS) for scheme in SOCKET_SCHEMES]
    store.replace(POSITION_SPELLING, pl.DataFrame(spellings, schema=list(POSITION_SPELLING.column_names), orient="row"))
    families = store.rows(
        "SELECT engine_family, cylinders, coalesce(exhaust_valves_per_cylinder, 1), "
        "coalesce(intake_valves_per_cylinder, 1) FROM current_engine_family ORDER BY ALL"
    )
    schema = dict(zip(SOCKET.column_names, (pl.String, pl.String, pl.String, pl.Int64), strict=True))
    store.replace(SOCKET, pl.DataFrame(socket_rows(families), schema=schema, orient="row"))


@dataclass(frozen=True)
class LifeFrames:
    """Lives by socket cut in one way: vehicle_window, life, touched."""

    window: pl.DataFrame
    life: pl.DataFrame
    touched: pl.DataFrame


def cut_lives(store: Store, settings: Settings) -> None:
    """Rebuild every life table from what is asked (`store.ask`), and check what must hold of them.

    Raises LivesError where touched sockets' miles do not add up to their windows, LongmileError where a repair line has
    no use or two.
    """
    settle(store, settings)
    _place_visits(store, settings)
    _cut_windows(store, settings)


def cut_lives_in_other_ways(store: Store, settings: Settings) -> dict[str, LifeFrames]:
    """Lives as they would be under other settings, for the table of sensitivity; then the life tables as set.

    Keys: names of the ways, of `schemas.results.VARIANTS`.
    """
    other_reason = "removal" if settings.unknown_is_failure else "failure"
    other_end = "to_date" if settings.follow_up == "last_reading" else "last_reading"
    ways = {
        f"unknown_as_{other_reason}": replace(settings, unknown_reason=other_reason),
        f"follow_up_{other_end}": replace(settings, follow_up=other_end),
    }
    settle(store, settings)
    _place_visits(store, settings)
    found = {}
    for name, changed in ways.items():
        _cut_windows(store, changed)
        found[name] = life_frames(store)
    _cut_windows(store, settings)
    return found


def life_frames(store: Store, unit: str = "socket") -> LifeFrames:
    """The lives of one unit as they stand; needs the temporary tables of `cut_lives` on the same connection."""
    return LifeFrames(
        window=store.frame("SELECT * FROM vehicle_window ORDER BY ALL"),
        life=store.frame("SELECT * FROM life WHERE unit = ? ORDER BY ALL", (unit,)),
        touched=store.frame("SELECT * FROM touched WHERE unit = ? ORDER BY ALL", (unit,)),
    )


def _place_visits(store: Store, settings: Settings) -> None:
    """Vocabulary, odometer readings and visits: what lives are cut from, however they are cut."""
    fill_vocabulary(store)
    place_readings(store, settings)
    store.replace_from(VISIT, VISIT_SQL)


def _cut_windows(store: Store, settings: Settings) -> None:
    """Windows and lives from the visits."""
    store.replace_from(VEHICLE_WINDOW, vehicle_window_sql(settings.follow_up, settings.follow_up_cap_months))
    store.run(line_class_sql())
    store.run(POSITION_READING_SQL)
    for statement in (JOB_LINE_SQL, NAMED_END_SQL):
        store.run(statement)
    place_one_of_set(store)
    store.run(socket_end_sql(settings.unknown_is_failure))
    store.run(SOCKET_POINT_SQL)
    store.run(TOUCHED_SQL)
    store.replace_from(LIFE, LIFE_SQL)
    store.replace_from(WALK_IN, WALK_IN_SQL)
    store.replace_from(COMEBACK, COMEBACK_SQL)
    store.replace_from(LINE_USE, line_use_sql(settings.unknown_is_failure))
    _check_identity(store)
    _check_every_line_used(store)


def place_readings(store: Store, settings: Settings) -> None:
    """Every odometer reading, used as written, corrected or left out; slowly only for vehicles with a contradiction."""
    store.run(DECIDED_SQL)
    store.replace_from(ODOMETER_READING, odometer_reading_sql(settings.odometer_unit))
    store.run(NOT_READ_SQL)
    store.connection.register("doubted_reading", found_faults(store.frame(DOUBTED_READING_SQL)))
    store.run(SETTLE_READINGS_SQL)
    store.connection.unregister("doubted_reading")


def place_one_of_set(store: Store) -> int:
    """Give jobs on sockets that are not known their places: every vehicle's first, then its second; returns passes."""
    store.run(ONE_OF_SET_JOB_SQL)
    store.run(NO_ONE_OF_SET_END_SQL)
    passes = int(store.value("SELECT coalesce(max(job_no), 0) FROM one_of_set_job"))
    for job_no in range(1, passes + 1):
        store.run(ONE_OF_SET_END_SQL, (job_no,))
    return passes


def _check_identity(store: Store) -> None:
    """Miles at risk = sockets x (last reading - first reading), for the sockets with lives of their own."""
    wrong = store.rows(IDENTITY_SQL)
    if wrong:
        vehicle, component, lived, watched = wrong[0]
        raise LivesError(
            f"life: the miles of {len(wrong):,} vehicles and components do not add up (first: vehicle {vehicle}, "
            f"{component}, {lived:,.3f} in lives, {watched:,.3f} watched). Expected both to be the same; this is a "
            "fault of the program, please report it with the repair orders of that vehicle."
        )


def _check_every_line_used(store: Store) -> None:
    """Every current repair line is in `line_use`, once for each component that its text names."""
    lines, settled, used, distinct = store.rows(
        "SELECT (SELECT count(*) FROM current_repair_line), (SELECT count(*) FROM settled_repair_line), "
        "(SELECT count(*) FROM line_use), "
        "(SELECT count(*) FROM (SELECT DISTINCT repair_order_id, line_no FROM line_use))"
    )[0]
    if lines != distinct or settled != used:
        raise LongmileError(
            f"line_use: {lines:,} repair lines with {settled:,} mentions, {used:,} uses of {distinct:,} lines. "
            "Expected one use for each mention; this is a fault of the program."
        )
