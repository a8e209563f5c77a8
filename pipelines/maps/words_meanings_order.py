"""What headers of orders and vehicles may mean, in notions; see `words_meaning`."""

from __future__ import annotations

from longmile.pipelines.maps.words_meaning import VEHICLE_FREE, Meaning, meaning, of_order, of_vehicle

OF_ORDERS_AND_VEHICLES: tuple[Meaning, ...] = (
    meaning(
        "order_no",
        "order",
        "order code",
        "*.repair_order_id",
        "order number, order id, order, order code, order repair number, visit id, visit number, job number:0.8, "
        "repair number:0.9, work number:0.8, visit:0.8, job id:0.8, job code:0.7, invoice number:0.62, service "
        "number:0.7, work id:0.8, repair id:0.9, order work number, order line:0.2, number:0.4, order service "
        "number, id:0.5",
        "repair work service",
    ),
    meaning(
        "vehicle_id",
        "vehicle",
        "code",
        "vehicle.vehicle_id repair_order.vehicle_id",
        "vehicle number, vehicle id, vehicle, vehicle code, fleet, fleet number, vehicle fleet number, unit "
        "number:0.75, unit:0.55, customer vehicle number:0.8, fleet id, fleet vehicle, "
        "shop vehicle number, location vehicle number, order vehicle number:0.6",
    ),
    of_vehicle("vin", "vin", "vin, vin number, vehicle vin, engine vin:0.3", "vehicle number code id"),
    of_vehicle("make", "name", "make, make vehicle, brand:0.75, vehicle brand", "vehicle name code"),
    of_vehicle("model", "name", "model, vehicle model, vehicle kind:0.75, kind:0.5", "vehicle name code"),
    of_vehicle("model_year", "year", "year, model year, vehicle year", "vehicle model"),
    of_vehicle("in_service_on", "date", "in_service, in_service date, vehicle open date:0.4", "vehicle date"),
    meaning(
        "engine",
        "vehicle",
        "engine",
        "vehicle.engine_family engine_family.engine_family",
        "engine:0.96, engine_family, engine engine_family, engine family, engine code, engine kind:0.97, engine "
        "displacement:0.9, displacement:0.8, engine number:0.35, family:0.5, engine model, engine name, engine "
        "description:0.8, engine id, engine vehicle kind",
        VEHICLE_FREE,
    ),
    of_order(
        "opened_on",
        "date",
        "in date, open date, in, open, order date, visit date, date:0.8, in open date, work date:0.85, in_service "
        "in:0.4, service date:0.85, repair date:0.85, quote date:0.3, job date:0.85, order open date, vehicle in "
        "date, month:0.2",
        "order vehicle repair work service visit time job customer date",
    ),
    of_order(
        "closed_on",
        "date",
        "out date, close date, out, close, invoice date:0.72, out close date, order close date, invoice close",
        "order vehicle repair work service visit time job customer date",
    ),
    of_order(
        "odometer_in",
        "odometer",
        "odometer, mileage, km:0.9, mile:0.85, odometer in, mileage in, km in, mile in, odometer km, odometer "
        "mile, mileage km, mileage mile, odometer number, odometer value, km value, mileage value, odometer open, "
        "mileage open, km open, mile open, value in:0.8, odometer value in, odometer date:0.6",
        "order vehicle visit in value date",
    ),
    of_order(
        "odometer_out",
        "odometer",
        "odometer out, mileage out, km out, mile out, odometer close, mileage close, km close, "
        "mile close, value out:0.85, odometer value out",
        "order vehicle visit value km mile date",
    ),
    meaning(
        "odometer_unit",
        "order",
        "odometer_unit",
        "repair_order.odometer_unit vehicle.odometer_unit",
        "odometer unit, mileage unit, km mile, mile unit, km unit, unit:0.55, value unit:0.5, unit measure:0.4",
        "order vehicle kind in",
    ),
    of_order(
        "status",
        "status",
        "status, order status, order close:0.5, open close:0.95, order open close:0.95",
        "order repair work job code visit kind",
    ),
    meaning("is_open", "order", "yes_no", "repair_order.status", "is_open", "order status repair work job"),
    meaning("is_closed", "order", "yes_no", "repair_order.status", "is_closed", "order status repair work job"),
    meaning("is_void", "order", "yes_no", "repair_order.status", "void", "order status"),
    of_order(
        "location",
        "site",
        "location, location code, location number, location name, shop:0.85, shop name:0.8, shop code:0.8, shop "
        "id:0.7, shop location, shop number:0.6",
        "repair work service code number name",
    ),
    of_order(
        "concern",
        "said",
        "concern, customer concern, concern description, customer description:0.6, customer note:0.5, customer "
        "description:0.6, description:0.5, order description:0.5, order note:0.3, person concern",
        "order customer repair vehicle description visit note",
    ),
    of_order(
        "total",
        "money",
        "total, order total, total amount, order amount:0.9, invoice total, invoice amount:0.85, total price, "
        "total net, total gross:0.9, order price:0.8, order value:0.8, order total net, invoice total net, "
        "amount:0.3",
        "order repair work amount invoice visit job",
    ),
)
"""Columns of repair_order and vehicle."""
