"""Components of the vehicle around its engine: electrics, driveline, chassis, climate, body.

What `is_renewed_by_repair` and the shorthand rest on is said in `components_engine.py`. No component here is
renewed by a repair: a rebuilt alternator or starter comes back as a replacement of origin `rebuilt`, a
machined brake rotor is thinner than before, and a resealed caliper or transmission keeps its other wear.
"""

from __future__ import annotations

from functools import partial

from longmile.schemas.component import Component, entry

_charging = partial(entry, "charging and starting")
_electrical = partial(entry, "electrical")
_transmission = partial(entry, "transmission")
_driveline = partial(entry, "driveline")
_brakes = partial(entry, "brakes")
_steering = partial(entry, "steering")
_suspension = partial(entry, "suspension")
_wheels = partial(entry, "wheels and hubs")
_restraints = partial(entry, "restraints")
_climate = partial(entry, "heating and air conditioning")
_body = partial(entry, "body and doors")

_CHARGING_PARTS = (
    _charging("battery", "battery", "one", "batt, 12v battery"),
    _charging("battery_cable", "battery cable", "one", "batt cable, batt terminal, ground strap"),
    _charging("alternator", "alternator", "one", "alt, altn, generator"),
    _charging("starter_motor", "starter motor", "one", "starter, strtr, start motor"),
)

_ELECTRICAL_PARTS = (
    _electrical("ignition_switch", "ignition switch", "one", "ign switch, ign sw"),
    _electrical("body_control_module", "body control module", "one", "bcm"),
    _electrical("wiring_harness", "wiring harness", "one", "wire harness, harness, loom"),
    _electrical("instrument_cluster", "instrument cluster", "one", "dash cluster, inst cluster, gauge cluster"),
    _electrical("headlight_bulb", "headlight bulb", "per_side", "h/l bulb, headlamp bulb, hdlt bulb", safety=True),
    _electrical("tail_light", "tail light", "per_side", "tail lamp, t/light, taillight", safety=True),
)

_TRANSMISSION_PARTS = (
    _transmission("automatic_transmission", "automatic transmission", "one", "auto trans, a/t"),
    _transmission("manual_transmission", "manual transmission", "one", "man trans, m/t, gearbox"),
    _transmission("transmission_fluid", "transmission fluid", "one", "atf, trans fluid", service=True),
    _transmission("transmission_filter", "transmission filter", "one", "trans fltr, trans filter", service=True),
    _transmission(
        "transmission_solenoid", "transmission shift solenoid", "one", "shift sol, trans sol, shift solenoid"
    ),
    _transmission("valve_body", "transmission valve body", "one", "v/body, vlv body"),
    _transmission("torque_converter", "torque converter", "one", "torq conv, t/conv, tcc"),
    _transmission("transmission_speed_sensor", "transmission speed sensor", "one", "vss, trans speed sensor, oss"),
    _transmission(
        "transmission_cooler_line",
        "transmission cooler line",
        "one",
        "trans line, trans cooler line, atf line",
    ),
    _transmission("clutch", "clutch disc and cover", "one", "clutch kit, cl disc, clutch assy"),
    _transmission(
        "clutch_release_bearing", "clutch release bearing", "one", "t/o brg, throwout bearing, throw out brg"
    ),
    _transmission("clutch_hydraulics", "clutch master or slave cylinder", "one", "clutch slave, clutch master, csc"),
    _transmission("flywheel", "flywheel", "one", "flywhl, fly wheel, dmf, flex plate"),
)

_DRIVELINE_PARTS = (
    _driveline(
        "cv_axle",
        "front drive axle",
        "per_front_wheel",
        "cv shaft, c/v axle, half shaft, axle shaft",
        safety=True,
    ),
    _driveline("u_joint", "universal joint", "one", "u-joint, ujoint, u/joint, u jt", safety=True),
    _driveline("driveshaft", "driveshaft", "one", "d/shaft, drive shaft, prop shaft", safety=True),
    _driveline(
        "center_support_bearing",
        "driveshaft center bearing",
        "one",
        "carrier brg, ctr brg, center brg",
        safety=True,
    ),
    _driveline("differential", "differential", "per_axle", "diff, diff assy, ring and pinion"),
    _driveline("differential_fluid", "differential fluid", "per_axle", "diff fluid, diff oil", service=True),
    _driveline("pinion_seal", "differential pinion seal", "per_axle", "pin seal, pinion sl"),
    _driveline("axle_seal", "axle shaft seal", "per_wheel", "axle sl, axle shaft sl"),
    _driveline("transfer_case", "transfer case", "one", "t/case, tcase, xfer case"),
)

_BRAKE_PARTS = (
    _brakes("brake_pads", "brake pads", "per_axle", "pads, brk pads, b/pads, disc pads"),
    _brakes("brake_rotor", "brake rotors, pair", "per_axle", "rotor, rotors, rtr, brk rotor, brake disc"),
    _brakes("brake_shoes", "brake shoes", "one", "shoes, brk shoes, b/shoes"),
    _brakes("brake_drum", "brake drum", "per_rear_wheel", "drum, brk drum, b/drum"),
    _brakes("brake_caliper", "brake caliper", "per_wheel", "caliper, brk cal, brk caliper"),
    _brakes("wheel_cylinder", "wheel cylinder", "per_rear_wheel", "whl cyl, w/cyl, wheel cyl"),
    _brakes("brake_hose", "brake hose", "per_wheel", "brk hose, b/hose"),
    _brakes("brake_line", "brake line", "one", "brk line, b/line, brake pipe"),
    _brakes("brake_master_cylinder", "brake master cylinder", "one", "m/cyl, master cyl, brk master, bmc"),
    _brakes("brake_booster", "brake booster", "one", "booster, brk booster, vac booster"),
    _brakes("wheel_speed_sensor", "wheel speed sensor", "per_wheel", "abs sensor, wss, whl spd sensor"),
    _brakes("abs_module", "antilock brake module", "one", "abs mod, abs hcu, abs pump"),
    _brakes("parking_brake_cable", "parking brake cable", "one", "park brk cable, p/brake cable, e-brake cable"),
    _brakes("brake_fluid", "brake fluid", "one", "brk fluid, b/fluid", service=True),
)

_STEERING_PARTS = (
    _steering(
        "tie_rod_outer",
        "outer tie rod end",
        "per_front_wheel",
        "tie rod o/t, o/t/r, tie rod end, otre, outer tie rod",
    ),
    _steering("tie_rod_inner", "inner tie rod", "per_front_wheel", "tie rod i/n, i/t/r, itre, inner tie rod end"),
    _steering("steering_rack", "steering rack", "one", "r&p, rack and pinion, strg rack"),
    _steering("steering_gear_box", "steering gear box", "one", "strg box, steering box"),
    _steering("power_steering_pump", "power steering pump", "one", "p/s pump, ps pump, psp"),
    _steering("power_steering_hose", "power steering hose", "one", "p/s hose, ps hose, ps line"),
    _steering("electric_steering_motor", "electric steering assist motor", "one", "eps motor, eps assist motor"),
    _steering("idler_arm", "idler arm", "one", "idlr arm"),
    _steering("pitman_arm", "pitman arm", "one", "pit arm, pitmn arm"),
    _steering("power_steering_fluid", "power steering fluid", "one", "p/s fluid, psf", service=True),
)

_SUSPENSION_PARTS = (
    _suspension("strut", "strut", "per_wheel", "strt, strut assy"),
    _suspension("strut_mount", "strut mount", "per_front_wheel", "strut mnt, strut brg"),
    _suspension("shock_absorber", "shock absorber", "per_wheel", "shock, shk, shocks, damper"),
    _suspension("coil_spring", "coil spring", "per_wheel", "c/spring, coil spg"),
    _suspension("leaf_spring", "leaf spring", "per_rear_wheel", "leaf spg, l/spring"),
    _suspension("air_spring", "air spring", "per_wheel", "air bag spring, air strut"),
    _suspension("ball_joint_lower", "lower ball joint", "per_front_wheel", "lbj, lwr ball joint, low b/j, lower b/j"),
    _suspension("ball_joint_upper", "upper ball joint", "per_front_wheel", "ubj, upr ball joint, up b/j, upper b/j"),
    _suspension("control_arm_lower", "lower control arm", "per_front_wheel", "lca, lwr cont arm, lwr control arm"),
    _suspension("control_arm_upper", "upper control arm", "per_front_wheel", "uca, upr cont arm, upr control arm"),
    _suspension(
        "control_arm_bushing",
        "control arm bushing",
        "per_front_wheel",
        "c/arm bush, cont arm bush, lca bushing",
    ),
    _suspension("sway_bar_link", "sway bar link", "per_wheel", "s/b link, swaybar link, stab link, end link"),
    _suspension("sway_bar_bushing", "sway bar bushings", "per_axle", "s/b bush, sway bar bush, stab bushing"),
)

# A tyre moves between positions at every rotation, so a life in one place cannot be cut: no statistics.
_WHEEL_PARTS = (
    _wheels(
        "wheel_bearing",
        "wheel bearing or hub bearing",
        "per_wheel",
        "w/brg, whl brg, wheel brg, hub brg, hub assy",
    ),
    _wheels("wheel_stud", "wheel stud or lug nut", "per_wheel", "lug nut, whl stud, lug stud"),
    _wheels("tire_pressure_sensor", "tire pressure sensor", "per_wheel", "tpms, tpms sensor, tire press sensor"),
    _wheels("tire", "tire", "per_wheel", "tires, tyre, tyres", service=True),
)

_RESTRAINT_PARTS = (
    _restraints("airbag_clock_spring", "airbag clock spring", "one", "clock spring, clockspring, spiral cable"),
    _restraints("airbag_module", "airbag control module", "one", "srs module, airbag mod"),
    _restraints("seat_belt", "seat belt", "per_door", "s/belt, seatbelt, belt retractor"),
)

_CLIMATE_PARTS = (
    _climate("ac_compressor", "air conditioning compressor", "one", "a/c comp, ac comp, a/c compressor"),
    _climate(
        "ac_compressor_clutch",
        "air conditioning compressor clutch",
        "one",
        "a/c clutch, ac clutch, comp clutch",
    ),
    _climate("ac_condenser", "air conditioning condenser", "one", "a/c cond, ac cond, condenser"),
    _climate("ac_evaporator", "air conditioning evaporator", "one", "evap core, a/c evap, ac evap"),
    _climate("ac_expansion_valve", "expansion valve or orifice tube", "one", "txv, exp valve, orifice tube"),
    _climate("ac_hose", "air conditioning hose", "one", "a/c hose, ac hose, ac line, a/c line"),
    _climate("blower_motor", "blower motor", "one", "blower, blwr mtr, blwr motor, htr fan"),
    _climate("blower_resistor", "blower motor resistor", "one", "blwr resistor, blower res, blower resistor"),
    _climate("heater_core", "heater core", "one", "htr core, h/core"),
    _climate("blend_door_actuator", "blend door actuator", "one", "blend door, blend act, hvac actuator"),
    _climate("cabin_air_filter", "cabin air filter", "one", "cabin fltr, cab filter, pollen filter", service=True),
)

_BODY_PARTS = (
    _body("door_lock_actuator", "door lock actuator", "per_door", "d/l act, lock actuator, door lock act, dla"),
    _body("door_latch", "door latch", "per_door", "dr latch, d/latch", safety=True),
    _body("window_regulator", "window regulator", "per_door", "win reg, wdo reg, w/reg, window reg"),
    _body("window_motor", "window motor", "per_door", "win motor, wdo motor, pwr window motor"),
    _body("wiper_motor", "wiper motor", "one", "wpr mtr, w/motor, wiper mtr", safety=True),
    _body("wiper_blade", "wiper blade", "one", "wpr blade, blades, wipers", service=True),
)

VEHICLE_COMPONENTS: tuple[Component, ...] = (
    *_CHARGING_PARTS,
    *_ELECTRICAL_PARTS,
    *_TRANSMISSION_PARTS,
    *_DRIVELINE_PARTS,
    *_BRAKE_PARTS,
    *_STEERING_PARTS,
    *_SUSPENSION_PARTS,
    *_WHEEL_PARTS,
    *_RESTRAINT_PARTS,
    *_CLIMATE_PARTS,
    *_BODY_PARTS,
)
"""Vehicle components, system by system."""
