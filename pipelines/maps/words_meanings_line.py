"""What headers of lines may mean, in notions; see `words_meaning`."""

from __future__ import annotations

from longmile.pipelines.maps.words_meaning import Meaning, meaning, of_line

OF_LINES: tuple[Meaning, ...] = (
    meaning(
        "line_no",
        "line",
        "count",
        "repair_line.line_no warranty_promise.line_no",
        "line number, line, line id, job number:0.9, job:0.75, item number:0.35, position number:0.8, order line "
        "number, order line, job line number, job id:0.6, position:0.3, number:0.42",
        "order job",
    ),
    of_line(
        "kind",
        "kind",
        "kind, line kind, kind code, item kind, job kind, part:0.3, record kind:0.8, kind part labor:0.9, part "
        "labor:0.95, part kind:0.5, job code:0.2, work kind:0.8, action kind:0.4",
        "line job item work code record service order",
    ),
    meaning("is_part", "line", "yes_no", "repair_line.kind", "part", "line kind"),
    meaning("is_labor", "line", "yes_no", "repair_line.kind", "labor", "line kind"),
    meaning(
        "component_code",
        "line",
        "component",
        "repair_line.component_code measurement.component_code",
        "component, component code, part kind:0.3, component name, component description:0.6, system:0.4, part "
        "name:0.5, code:0.3, part family:0.4, component id, component system",
        "line job code name repair",
    ),
    meaning(
        "position",
        "line",
        "position",
        "repair_line.position measurement.position verification.position",
        "position, position code, part position, position component, location part:0.7, location:0.5, location "
        "vehicle:0.8, cylinder:0.6, cylinder number:0.8, valve position",
        "line job part code component vehicle work",
    ),
    of_line(
        "action",
        "action",
        "action, action code, job action, job:0.55, work:0.5, job code:0.45, work kind:0.9, repair kind:0.9, job "
        "kind:0.6, work job:0.6, correction:0.45, work code:0.6, service kind:0.7, repair code:0.8, order "
        "kind:0.3",
        "line job code repair work part service",
    ),
    of_line(
        "reason",
        "reason",
        "reason, reason code, action reason, cause:0.4, cause code:0.8, concern kind:0.5, cause kind:0.8",
        "line job code part repair work action",
    ),
    of_line(
        "description",
        "named",
        "description, line description, job description, part description, item description, labor description, "
        "job:0.45, work description, part name:0.85, item name:0.85, job name:0.85, part:0.45, item:0.45, "
        "work:0.4, name:0.35, line:0.2, work part description",
        "line job item part labor work repair service order name",
    ),
    of_line(
        "part_number",
        "part code",
        "part_number, part number, item number, part code, item code, part id, item id, part item number, component "
        "number:0.6, brand number:0.5, part:0.5, item:0.5, id:0.5, supplier number part:0.6, supplier id:0.8, "
        "supplier number:0.6, make id:0.7, make number:0.6, brand part number:0.8",
        "item part line code",
    ),
    of_line(
        "part_origin",
        "origin",
        "origin, part origin, part kind:0.8, part status:0.8, origin kind",
        "line item part code kind",
    ),
    of_line(
        "supplier",
        "name",
        "supplier, supplier name, supplier code, supplier part, brand part:0.4",
        "line item part name code number",
    ),
    of_line(
        "quantity",
        "quantity",
        "quantity, part quantity, item quantity, number item:0.5, quantity unit:0.7, number part:0.3, unit:0.6",
        "line item part number job",
    ),
    of_line(
        "hours",
        "hours",
        "hours, labor hours, time:0.5, labor time, work time, job time:0.8, labor:0.55, labor quantity:0.7, hours "
        "quantity:0.8, labor unit:0.6, hours amount:0.8, hours actual:0.7",
        "line job labor work number amount quantity",
    ),
    of_line(
        "cost",
        "money",
        "cost, cost amount, part cost, line cost, cost price, cost net, cost total:0.85, cost extended, item "
        "cost, each cost:0.75",
        "line job item part amount price labor",
    ),
    of_line(
        "price",
        "money",
        "price, price amount, line price, extended, extended price, amount:0.85, line amount, price net, amount "
        "net, line total, extended amount, total:0.55, net:0.7, part price, item price, job price, job total:0.9, "
        "price total:0.85, amount customer, line net, each price:0.72, price gross:0.7, gross:0.5, labor "
        "amount:0.6, part amount:0.6, job amount, total net:0.8, invoice amount:0.7, invoice total:0.7, value line:0.8,"
        " price extended net, value:0.3",
        "line job item part amount price labor work customer",
    ),
    of_line(
        "cause",
        "found",
        "cause, cause description, technician cause, cause note, check result:0.6",
        "line job description note technician repair order",
    ),
    of_line(
        "correction",
        "done",
        "correction, correction description, technician note, work note:0.7, repair note:0.7, note:0.56, repair "
        "description:0.75, work description:0.6, technician description:0.8, technician action:0.8, job note:0.7, "
        "line note:0.6, work close:0.7, action description:0.7, repair:0.4, work:0.4",
        "line job description technician work repair order",
    ),
    of_line(
        "technician",
        "short",
        "technician, technician code, technician number, technician name:0.9, technician id, labor person:0.6, "
        "work person:0.6",
        "line job code number id name work repair",
    ),
)
"""Columns of repair_line."""
