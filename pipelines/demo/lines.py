"""Repair lines of the invented shop: labour, part and sublet lines of jobs, services, fees, inspections."""

from __future__ import annotations

import numpy as np
import polars as pl

from longmile.pipelines.demo import scenario as sc
from longmile.pipelines.demo.ends import ORIGINS
from longmile.pipelines.demo.plans import PLANS
from longmile.pipelines.demo.simulation import socket_places
from longmile.pipelines.demo.wording import causes, corrections, drawn

INSPECTED = ("brake_pads", "ball_joint_lower", "tie_rod_outer", "sway_bar_link", "strut")
DECLINED = ("brake_rotor", "strut", "drive_belt", "control_arm_bushing", "engine_mount", "spark_plug")
COST_AN_HOUR, PRICE_AN_HOUR = 41.0, 128.0
NO_POSITION_SHARE = 0.04
"""Jobs on one of several sockets that never say which; not where the truth is to be met."""

LINE_COLUMNS = (
    "order_id", "rank", "kind", "component_code", "position", "action", "reason", "part_number",
    "part_origin", "supplier", "quantity", "hours", "cost", "price", "cause", "correction", "technician",
    "is_promised",
)  # fmt: skip


def make_lines(rng: np.random.Generator, orders: pl.DataFrame, ends: pl.DataFrame) -> pl.DataFrame:
    """Every line: LINE_COLUMNS, and line_no from 1 within its order; `is_promised`: sold with a warranty."""
    jobs = _jobs(rng, orders, ends)
    frames = [
        _labor(rng, jobs),
        _parts(rng, jobs),
        *_services(rng, orders),
        _checks(rng, orders),
        _diagnosis(rng, jobs),
    ]
    frames.append(_fees(rng, orders))
    lines = pl.concat([_complete(frame) for frame in frames]).sort("order_id", "rank", maintain_order=True)
    lines = lines.with_columns(
        line_no=pl.int_range(1, pl.len() + 1).over("order_id"),
        cost=pl.col("cost").round(2),
        price=pl.col("price").round(2),
    )
    return lines.with_columns(technician=_technicians(rng, lines))


def _complete(frame: pl.DataFrame) -> pl.DataFrame:
    """The frame with all columns of a line, absent ones empty."""
    types = {"rank": pl.Int64, "is_promised": pl.Boolean} | dict.fromkeys(
        ("quantity", "hours", "cost", "price"), pl.Float64
    )
    return frame.select(
        (pl.col(name) if name in frame.columns else pl.lit(None)).cast(types.get(name, pl.String)).alias(name)
        for name in LINE_COLUMNS
    )


def _jobs(rng: np.random.Generator, orders: pl.DataFrame, ends: pl.DataFrame) -> pl.DataFrame:
    """Ends with their order, their plan and their position in words: one row per job."""
    plans = pl.DataFrame([vars(plan) for plan in PLANS]).rename({"code": "component"})
    plans = plans.select("component", "part_cost", "hours", "set_is_worn", "is_sublet")
    jobs = ends.join(orders.select("vehicle", "miles", "order_id"), on=["vehicle", "miles"], how="left")
    jobs = jobs.join(socket_places(), on=["component", "family", "socket"], how="left").join(
        plans, on="component", how="left"
    )
    jobs = jobs.sort("order_id", "component", "socket")
    n = len(jobs)
    names = jobs["family"].replace_strict(dict(enumerate(sc.FAMILY_NAMES)), return_dtype=pl.String)
    protected = {f"{code}|{family}" for code, family in sc.PROTECTED}
    is_protected = (jobs["component"] + "|" + names).is_in(list(protected))
    whole = pl.col("is_set") & (~pl.col("is_failure") | pl.col("set_is_worn"))
    single = pl.col("n_sockets") == 1
    return jobs.with_columns(
        is_silent=pl.Series(rng.random(n) < NO_POSITION_SHARE) & ~is_protected & ~pl.col("is_set"),
        labor_position=pl.when(single).then(None).when(whole).then(pl.lit("all")).otherwise("code"),
        part_position=pl.when(single).then(None).when("is_set").then(pl.lit("all")).otherwise("code"),
        draw=pl.Series(rng.random(n)),
        rank=pl.int_range(pl.len()).over("order_id") * 2 + 10,
    )


def _labor(rng: np.random.Generator, jobs: pl.DataFrame) -> pl.DataFrame:
    """Labour lines; what comes out along with a timing belt has none of its own."""
    rows = jobs.filter(pl.col("reason") != "access")
    n = len(rows)
    position = pl.when(~pl.col("is_silent")).then("labor_position")
    said = rows.select(position.alias("p")).to_series()
    more = 1 + 0.1 * pl.when("is_set").then(pl.col("n_sockets") - 1).otherwise(0)
    hours = (pl.col("hours") * more * pl.Series(rng.uniform(0.85, 1.2, n))).round(1)
    # Beside a set's parts, replaced for access, the labour line alone says that something failed.
    is_only_word = pl.col("is_set") & ~pl.col("set_is_worn")
    without = pl.col("is_failure") & ~is_only_word & (pl.col("draw") < 0.08)
    vague = pl.when(pl.col("draw") < 0.03).then(pl.lit("unknown"))
    failed = rows["is_failure"]
    return rows.with_columns(
        kind=pl.lit("labor"),
        component_code=pl.col("component"),
        position=position,
        action=pl.when("is_repaired").then(pl.lit("repaired")).otherwise(pl.lit("replaced")),
        reason=pl.when(without).then(vague).otherwise("reason"),
        hours=hours,
        quantity=pl.lit(1.0),
        supplier=pl.lit(None),
        cause=pl.when(failed).then(causes(rng, rows["component"], said)),
        correction=corrections(rng, rows["component"], said, rows["is_repaired"]),
    ).with_columns(cost=pl.col("hours") * COST_AN_HOUR, price=pl.col("hours") * PRICE_AN_HOUR)


def _parts(rng: np.random.Generator, jobs: pl.DataFrame) -> pl.DataFrame:
    """Part lines of what was replaced, and sublet lines of what was sent out."""
    rows = jobs.filter(~pl.col("is_repaired"))
    n = len(rows)
    shops = rows["sublet"].replace_strict(dict(enumerate(sc.SUBLET_SHOPS)), return_dtype=pl.String)
    suppliers = rows["supplier"].replace_strict(dict(enumerate(sc.SUPPLIERS)), return_dtype=pl.String)
    origins = rows["origin"].replace_strict(dict(enumerate(ORIGINS)), return_dtype=pl.String)
    is_opened = pl.col("is_set") & pl.col("is_failure") & ~pl.col("set_is_worn")
    is_blank = pl.col("is_failure") & ~is_opened & pl.Series(rng.random(n) < 0.12)
    number = pl.col("component").str.slice(0, 3).str.to_uppercase() + "-" + (
        pl.col("family") * 131 + pl.col("supplier") * 17 + 4_000
    ).cast(pl.String)  # fmt: skip
    cheaper = pl.Series(np.array([1.0, 0.7, 0.65, 0.4])[rows["origin"].to_numpy()])
    each = pl.col("part_cost") * pl.Series(rng.uniform(0.8, 1.3, n)) * cheaper
    quantity = pl.when("is_set").then("n_sockets").otherwise(1).cast(pl.Float64)
    sent_out = pl.col("is_sublet")
    return rows.with_columns(
        rank=pl.col("rank") + 1,
        kind=pl.when(sent_out).then(pl.lit("sublet")).otherwise(pl.lit("part")),
        component_code=pl.col("component"),
        position=pl.when(~pl.col("is_silent")).then("part_position"),
        action=pl.lit("replaced"),
        reason=pl.when(is_blank).then(None).when(is_opened).then(pl.lit("access")).otherwise("reason"),
        part_number=pl.when(~sent_out).then(number),
        part_origin=pl.when(sent_out).then(pl.lit("rebuilt")).otherwise(origins),
        supplier=pl.when(sent_out).then(shops).otherwise(suppliers),
        quantity=quantity,
        hours=pl.lit(None),
        cost=each * quantity,
        is_promised=pl.col("is_failure") & pl.Series(rng.random(n) < 0.25),
    ).with_columns(price=pl.col("cost") * pl.Series(rng.uniform(1.35, 1.75, n)))


def _services(rng: np.random.Generator, orders: pl.DataFrame) -> list[pl.DataFrame]:
    """Oil services of routine visits, with the filter on some."""
    rows = orders.filter("is_routine")
    n = len(rows)
    oil = rows.select("order_id").with_columns(
        rank=pl.lit(1),
        kind=pl.lit("labor"),
        component_code=pl.lit("engine_oil"),
        action=pl.lit("replaced"),
        reason=pl.lit("preventive"),
        quantity=pl.lit(1.0),
        hours=pl.lit(0.5),
        cost=pl.Series(rng.uniform(18, 34, n)),
        price=pl.Series(rng.choice([54.95, 69.95, 89.95], n)),
    )
    some = rows.select("order_id").filter(pl.Series(rng.random(n) < 0.25))
    filters = some.with_columns(
        rank=pl.lit(2),
        kind=pl.lit("part"),
        component_code=pl.lit("oil_filter"),
        action=pl.lit("replaced"),
        reason=pl.lit("preventive"),
        part_origin=pl.lit("new"),
        supplier=drawn(rng, sc.SUPPLIERS, len(some)),
        quantity=pl.lit(1.0),
        cost=pl.lit(6.4),
        price=pl.lit(11.95),
    )
    return [oil, filters]


def _checks(rng: np.random.Generator, orders: pl.DataFrame) -> pl.DataFrame:
    """Inspections that found the part sound, and work offered and declined, on some routine visits."""
    rows = orders.filter("is_routine").select("order_id")
    draw = rng.random(len(rows))
    sound = rows.filter(pl.Series(draw < 0.08)).with_columns(action=pl.lit("inspected"))
    sound = sound.with_columns(component_code=drawn(rng, INSPECTED, len(sound)), hours=pl.lit(0.2))
    offered = rows.filter(pl.Series(draw > 0.96)).with_columns(action=pl.lit("declined"))
    offered = offered.with_columns(
        component_code=drawn(rng, DECLINED, len(offered)), hours=pl.lit(0.0), reason=pl.lit("worn")
    )
    both = pl.concat([sound.with_columns(reason=pl.lit(None, dtype=pl.String)), offered])
    return both.with_columns(
        rank=pl.lit(900), kind=pl.lit("labor"), cost=pl.col("hours") * COST_AN_HOUR, price=pl.lit(0.0)
    )


def _diagnosis(rng: np.random.Generator, jobs: pl.DataFrame) -> pl.DataFrame:
    """Diagnostic labour, which belongs to no component, on some repairs."""
    rows = jobs.filter("is_failure").select("order_id").unique(maintain_order=True)
    rows = rows.filter(pl.Series(rng.random(len(rows)) < 0.1))
    hours = pl.Series(np.round(rng.uniform(0.5, 1.5, len(rows)), 1))
    return rows.with_columns(
        rank=pl.lit(5),
        kind=pl.lit("labor"),
        hours=hours,
        cost=hours * COST_AN_HOUR,
        price=hours * PRICE_AN_HOUR,
        correction=pl.lit("Diagnosis, see notes."),
    )


def _fees(rng: np.random.Generator, orders: pl.DataFrame) -> pl.DataFrame:
    """Shop supplies."""
    rows = orders.select("order_id").filter(pl.Series(rng.random(len(orders)) < 0.08))
    return rows.with_columns(
        rank=pl.lit(999), kind=pl.lit("fee"), quantity=pl.lit(1.0), cost=pl.lit(0.0), price=pl.lit(6.5)
    )


def _technicians(rng: np.random.Generator, lines: pl.DataFrame) -> pl.Series:
    """The technician of labour lines, the same throughout an order."""
    names = [f"T{number}" for number in range(1, sc.N_TECHNICIANS + 1)]
    owners = lines.select("order_id").unique(maintain_order=True)
    owners = owners.with_columns(who=drawn(rng, names, len(owners)))
    joined = lines.select("order_id", "kind").join(owners, on="order_id", how="left", maintain_order="left")
    return joined.select(pl.when(pl.col("kind") == "labor").then("who")).to_series()
