"""Components that are read alike: fluids, parts that wear or age, parts that come off for others.

Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from longmile.pipelines.coding.word_table import word_set

FLUIDS = word_set(
    """engine_oil coolant transmission_fluid differential_fluid brake_fluid power_steering_fluid
    diesel_exhaust_fluid"""
)
THREADS = frozenset(("spark_plug_thread", "oil_drain_thread"))
"""Mended, never replaced."""

MACHINED = word_set("brake_rotor brake_drum flywheel cylinder_head crankshaft")
"""Turned or cut, these are machined."""

AGEING = word_set(
    """drive_belt timing_belt radiator_hose_upper radiator_hose_lower heater_hose sway_bar_bushing tire wiper_blade
    air_filter cabin_air_filter fuel_filter brake_rotor brake_drum brake_pads brake_shoes drive_belt_tensioner
    timing_belt_tensioner shock_absorber strut power_steering_hose headlight_bulb"""
)
"""Cracked, soft, rusty or clogged, these are worn; other parts have failed."""

MEASURED = word_set("brake_pads brake_shoes tire brake_rotor brake_drum")
"""A thickness told of these says how far they are worn."""

WEAR_PARTS = word_set("brake_pads brake_shoes wiper_blade")
"""A noise or the like is taken for wear."""

CARRIERS = word_set(
    """automatic_transmission manual_transmission cylinder_head driveshaft engine_long_block fuel_tank cv_axle"""
)
"""What comes off and goes back for work on other parts."""

LET_OUT_BY: Mapping[str, frozenset[str]] = {
    "coolant": frozenset(("engine mechanical", "cooling", "intake and boost", "exhaust and emissions")),
    "engine_oil": frozenset(("lubrication", "engine mechanical")),
    "transmission_fluid": frozenset(("transmission",)),
    "differential_fluid": frozenset(("driveline",)),
}
"""Fluid to the systems, work on which lets it out."""

FLUSHED_WITH: Mapping[str, frozenset[str]] = {
    "brake_fluid": word_set("brake_master_cylinder brake_caliper brake_line abs_module wheel_cylinder brake_hose"),
    "transmission_fluid": word_set("torque_converter automatic_transmission valve_body"),
    "power_steering_fluid": word_set("power_steering_pump power_steering_hose steering_rack steering_gear_box"),
    "coolant": word_set("water_pump thermostat radiator radiator_hose_upper radiator_hose_lower heater_core"),
}
"""Fluid to the parts after work on which "flushed" means it."""
