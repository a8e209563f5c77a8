"""What wears out in the invented shop, how soon, how it is put right: a plan per component. All invented."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Plan:
    """How one component lives.

    mean_k: mean life of one socket in thousand miles.   shape: Weibull shape.   part_cost: in dollars.
    needs: the family's trait without which the component is not fitted.
    set_share: how often all sockets are done when one fails; `set_is_worn`: the whole set is then written off
    as worn, otherwise the others are replaced because the job lays them open.
    found_share: how often a failure waits for the next routine visit to be found.
    repaired_share: how often it is repaired and the old part goes on.
    preventive_k: replaced at that age, thousand miles.
    with_belt: chance that it is replaced along with the timing belt.
    """

    code: str
    mean_k: float
    shape: float
    part_cost: float
    hours: float
    needs: str = ""
    set_share: float = 0.0
    set_is_worn: bool = False
    found_share: float = 0.0
    repaired_share: float = 0.0
    preventive_k: float = 0.0
    with_belt: float = 0.0
    is_sublet: bool = False
    is_wear: bool = False
    requested_share: float = 0.0


PLANS: tuple[Plan, ...] = (
    Plan("timing_belt", 210, 4.0, 85, 4.2, "belt", preventive_k=100),
    Plan("timing_belt_tensioner", 230, 3.0, 70, 1.0, "belt", with_belt=0.8),
    Plan("water_pump", 140, 2.5, 95, 3.1, with_belt=0.6),
    Plan("timing_chain", 330, 3.0, 210, 7.5, "chain"),
    Plan("exhaust_valve", 640, 3.0, 28, 9.0, set_share=0.35),
    Plan("intake_valve", 950, 3.0, 26, 9.0, set_share=0.3),
    Plan("valve_cover_gasket", 200, 2.6, 38, 1.8),
    Plan("head_gasket", 440, 2.5, 120, 9.5),
    Plan("drive_belt", 115, 3.0, 32, 0.7, found_share=0.5, is_wear=True),
    Plan("drive_belt_tensioner", 195, 2.5, 64, 0.9),
    Plan("crankshaft_pulley", 340, 2.2, 110, 1.9),
    Plan("engine_mount", 255, 2.5, 74, 1.4, found_share=0.4, is_wear=True),
    Plan("oil_pan_gasket", 280, 2.0, 30, 2.6),
    Plan("oil_filter_housing_gasket", 245, 2.2, 24, 1.9),
    Plan("thermostat", 185, 1.9, 31, 1.2),
    Plan("radiator", 230, 2.5, 210, 2.3),
    Plan("coolant_reservoir", 255, 2.2, 58, 0.6),
    Plan("radiator_fan", 295, 1.7, 160, 1.3),
    Plan("fuel_injector", 610, 1.5, 115, 1.6),
    Plan("fuel_pump", 245, 1.8, 190, 1.9),
    Plan("high_pressure_fuel_pump", 255, 2.0, 620, 3.8, "diesel"),
    Plan("ignition_coil", 405, 1.6, 56, 0.5, "petrol"),
    Plan("spark_plug", 230, 4.0, 11, 0.9, "petrol", set_share=1.0, set_is_worn=True, preventive_k=80),
    Plan("glow_plug", 295, 2.5, 19, 1.4, "diesel", set_share=0.6, set_is_worn=True),
    Plan("mass_air_flow_sensor", 305, 1.3, 120, 0.4),
    Plan("camshaft_position_sensor", 365, 1.2, 48, 0.6),
    Plan("crankshaft_position_sensor", 340, 1.3, 46, 0.9),
    Plan("throttle_body", 365, 1.6, 240, 0.9, repaired_share=0.15),
    Plan("turbocharger", 255, 2.2, 980, 4.6, "diesel"),
    Plan("egr_valve", 220, 1.8, 230, 1.7, "diesel"),
    Plan("particulate_filter", 255, 2.5, 1150, 2.9, "diesel"),
    Plan("catalytic_converter", 315, 3.0, 640, 1.8, "petrol"),
    Plan("oxygen_sensor_upstream", 220, 2.0, 88, 0.7, "petrol"),
    Plan("oxygen_sensor_downstream", 255, 2.0, 74, 0.7, "petrol"),
    Plan("evap_purge_valve", 280, 1.1, 42, 0.5, "petrol"),
    Plan("exhaust_pipe", 270, 3.0, 140, 1.2, repaired_share=0.5, is_wear=True),
    Plan("battery", 68, 2.5, 125, 0.4, found_share=0.25),
    Plan("alternator", 160, 2.2, 245, 1.6),
    Plan("starter_motor", 230, 1.8, 210, 1.5),
    Plan("automatic_transmission", 215, 2.5, 2350, 8.8, "automatic", is_sublet=True),
    Plan("clutch", 165, 3.0, 310, 6.4, "manual", is_wear=True),
    Plan("cv_axle", 230, 2.5, 130, 1.7, found_share=0.3, is_wear=True),
    Plan("brake_pads", 52, 3.5, 48, 1.2, found_share=0.6, is_wear=True),
    Plan("brake_rotor", 125, 3.0, 96, 1.0, found_share=0.5, is_wear=True),
    Plan("brake_caliper", 420, 1.8, 92, 1.1),
    Plan("wheel_speed_sensor", 925, 1.2, 44, 0.6),
    Plan("tie_rod_outer", 255, 3.0, 41, 0.9, found_share=0.6, is_wear=True),
    Plan("ball_joint_lower", 245, 3.0, 58, 1.5, found_share=0.6, is_wear=True),
    Plan("sway_bar_link", 255, 2.2, 27, 0.6, found_share=0.5, is_wear=True),
    Plan("strut", 280, 3.0, 132, 1.8, found_share=0.5, is_wear=True, requested_share=0.02),
    Plan("control_arm_bushing", 270, 3.0, 34, 1.6, found_share=0.6, is_wear=True),
    Plan("wheel_bearing", 330, 2.5, 88, 1.5),
    Plan("steering_rack", 355, 2.2, 420, 3.2),
    Plan("power_steering_pump", 315, 1.9, 180, 1.7),
    Plan("ac_compressor", 255, 2.0, 390, 2.4),
    Plan("ac_condenser", 305, 2.0, 220, 2.1),
    Plan("blower_motor", 295, 1.3, 95, 0.9),
    Plan("door_lock_actuator", 925, 1.2, 68, 1.0),
    Plan("window_regulator", 800, 1.3, 84, 1.1, repaired_share=0.2),
    Plan("headlight_bulb", 160, 1.1, 16, 0.3, requested_share=0.01),
)
PLAN_CODES = tuple(plan.code for plan in PLANS)
