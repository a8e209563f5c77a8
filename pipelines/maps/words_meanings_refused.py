"""What is never taken: personal data, and what is not of the contract. In notions; see `words_meaning`."""

from __future__ import annotations

from longmile.pipelines.maps.words_meaning import NOT_OURS, PERSONAL, Meaning, refused

REFUSED: tuple[Meaning, ...] = (
    refused(
        PERSONAL,
        "customer",
        "nobody's money",
        "customer, customer name, customer number, customer id, customer code, name:0.6, customer kind:0.8",
        "order vehicle invoice",
    ),
    refused(
        PERSONAL,
        "phone",
        "phone",
        "phone, customer phone, phone number, person phone",
        "customer number person name fleet",
    ),
    refused(PERSONAL, "email", "email", "email, customer email, person email", "customer person"),
    refused(PERSONAL, "address", "any", "address, customer address, address number", "customer number line name"),
    refused(PERSONAL, "plate", "any", "plate, plate number, vehicle plate", "vehicle number code customer"),
    refused(PERSONAL, "birth", "any", "birth, customer birth, customer in_service:0.5", "customer date"),
    refused(
        PERSONAL,
        "person",
        "any",
        "person, person name, person code, order person, in person:0.9, open person:0.9",
        "order service customer number",
    ),
    refused(
        NOT_OURS,
        "tax",
        "any",
        "tax, tax amount, tax code, tax price, tax net, unit tax, tax total",
        "line order part labor amount rate invoice code",
    ),
    refused(NOT_OURS, "discount", "any", "discount, discount amount, discount price", "line order part labor amount"),
    refused(
        NOT_OURS,
        "payment",
        "any",
        "payment, payment date, payment amount, payment kind, payment total, payment close",
        "order customer invoice date amount",
    ),
    refused(
        NOT_OURS,
        "rate",
        "any",
        "rate, labor rate, hours rate, hours price:0.9, hours cost:0.8, labor price each:0.9",
        "line labor amount",
    ),
    refused(NOT_OURS, "invoice", "any", "invoice number, invoice, invoice id, invoice code", "order"),
    refused(NOT_OURS, "trim", "any", "trim, vehicle trim", "vehicle model kind"),
    refused(NOT_OURS, "fuel", "any", "fuel, fuel kind", "vehicle engine kind"),
    refused(
        NOT_OURS,
        "tool",
        "any",
        "tool, tool date, tool number, tool code, tool labor:0.9, labor code:0.8, tool cost:0.8, tool mileage, "
        "tool visit",
        "order date part vehicle number",
    ),
    refused(NOT_OURS, "quote", "any", "quote, quote amount, quote total, quote hours, quote date", "order amount"),
    refused(NOT_OURS, "actual", "any", "actual:0.6, actual hours:0.6, hours actual:0.6", "line labor technician"),
    refused(
        NOT_OURS,
        "note",
        "any",
        "note:0.5, order note:0.65, customer note:0.55, invoice note:0.8, vehicle note:0.8",
        "order",
    ),
    refused(
        NOT_OURS,
        "labor_total",
        "any",
        "labor total:0.9, part total:0.9, labor total net, part total net, labor net:0.75, part net:0.75",
        "order",
    ),
    refused(
        NOT_OURS,
        "unit_of_quantity",
        "lettered",
        "unit:0.5, quantity unit, item unit, part unit, quantity kind:0.5",
        "line",
    ),
    refused(
        NOT_OURS,
        "brand_of_part",
        "any",
        "part brand:0.85, item brand:0.85, part make:0.8, item make:0.8",
        "line",
    ),
    refused(NOT_OURS, "group", "any", "family:0.55, part family:0.8, item family:0.8, system:0.5", "part item"),
    refused(
        NOT_OURS,
        "time",
        "clock",
        "time:0.6, in time:0.95, out time:0.95, open time:0.9, close time:0.9",
        "order",
    ),
    refused(NOT_OURS, "record_kind", "record", "record, record kind, record code", "line order kind"),
    refused(NOT_OURS, "next_km", "any", "tool km, tool odometer, tool mile, tool mileage", "service vehicle"),
    refused(NOT_OURS, "engine_no", "any", "engine number:0.6, engine vin:0.6", "vehicle"),
    refused(NOT_OURS, "warranty_flag", "any", "warranty:0.6, warranty kind:0.8, warranty code", "line order"),
)
"""What is never mapped, by its reason."""
