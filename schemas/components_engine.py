"""Components of the engine and what feeds, cools, times and cleans up after it.

`is_renewed_by_repair` is True only where the one customary repair puts new material just where the part
fails (a thread insert). A cleaned, resealed, machined or partly rebuilt part keeps its age: its other wear is
still there.
Shorthand is common shop practice, no source; a spelling that two components share in practice is left out.
"""

from __future__ import annotations

from functools import partial

from longmile.schemas.component import Component, entry

_mechanical = partial(entry, "engine mechanical")
_valves = partial(entry, "valve train")
_oil = partial(entry, "lubrication")
_cooling = partial(entry, "cooling")
_fuel = partial(entry, "fuel")
_ignition = partial(entry, "ignition")
_controls = partial(entry, "engine controls")
_intake = partial(entry, "intake and boost")
_exhaust = partial(entry, "exhaust and emissions")

_MECHANICAL_PARTS = (
    _mechanical("engine_long_block", "engine, long block", "one", "long block, eng assy"),
    _mechanical("cylinder_head", "cylinder head", "per_bank", "cyl head, cyl hd, c/head"),
    _mechanical("head_gasket", "head gasket", "per_bank", "h/g, hd gskt, head gskt, head gask"),
    _mechanical("piston", "piston", "per_cylinder", "pstn"),
    _mechanical("piston_rings", "piston rings", "per_cylinder", "rings, ring set, p/rings"),
    _mechanical("rod_bearing", "connecting rod bearing", "per_cylinder", "rod brg, big end brg"),
    _mechanical("main_bearing", "main bearings", "one", "main brg, mains"),
    _mechanical("crankshaft", "crankshaft", "one", "crank"),
    _mechanical("crankshaft_rear_seal", "rear main seal", "one", "rms, r/m seal, rear crank seal"),
    _mechanical(
        "crankshaft_pulley",
        "crankshaft pulley",
        "one",
        "harmonic balancer, h/balancer, crank damper, crk pulley",
    ),
    _mechanical("timing_belt", "timing belt", "one", "t-belt, t/belt, tbelt, cam belt"),
    _mechanical(
        "timing_belt_tensioner",
        "timing belt tensioner",
        "one",
        "t-belt tens, t/belt tensioner, t-belt tensioner",
    ),
    _mechanical("timing_chain", "timing chain", "one", "t-chain, t/chain, tchain"),
    _mechanical(
        "timing_chain_tensioner",
        "timing chain tensioner",
        "one",
        "t-chain tens, t/chain tensioner, chain tensioner",
    ),
    _mechanical("engine_mount", "engine mount", "per_side", "eng mnt, motor mount, mtr mnt, m/mount"),
    _mechanical("drive_belt", "accessory drive belt", "one", "serp belt, serpentine belt, d/belt, fan belt"),
    _mechanical("drive_belt_tensioner", "drive belt tensioner", "one", "serp tens, serp belt tensioner"),
    _mechanical("idler_pulley", "drive belt idler pulley", "one", "idler ply, idler pully"),
)

_VALVE_PARTS = (
    _valves("exhaust_valve", "exhaust valve", "per_exhaust_valve", "exh vlv, ex vlv, exh valve"),
    _valves("intake_valve", "intake valve", "per_intake_valve", "int vlv, in vlv, inlet valve"),
    _valves("valve_guide", "valve guide", "per_valve", "vlv guide, v/guide, vlv gd"),
    _valves("valve_seat", "valve seat", "per_valve", "vlv seat, v/seat, vlv st"),
    _valves("valve_spring", "valve spring", "per_valve", "vlv spring, v/spring, vlv spg"),
    _valves("valve_stem_seal", "valve stem seal", "per_valve", "vlv stem seal, vlv seal, stem seal"),
    _valves("valve_lifter", "valve lifter", "per_valve", "lifter, lftr, tappet, lash adjuster"),
    _valves("rocker_arm", "rocker arm", "per_valve", "rocker, rkr arm, rckr, cam follower"),
    _valves("pushrod", "pushrod", "per_valve", "push rod, p/rod"),
    _valves("camshaft", "camshaft", "per_bank", "cam, cam shaft, cmshft"),
    _valves("camshaft_phaser", "camshaft phaser", "per_bank", "cam phaser, vvt gear, phaser"),
    _valves(
        "camshaft_timing_solenoid",
        "camshaft timing solenoid",
        "per_bank",
        "vvt solenoid, vvt sol, oil control valve, ocv",
    ),
    _valves(
        "valve_cover_gasket",
        "valve cover gasket",
        "per_bank",
        "v/c gskt, vc gasket, vlv cvr gskt, vcg, rocker cover gasket",
    ),
)

_OIL_PARTS = (
    _oil("engine_oil", "engine oil", "one", "eng oil, motor oil, oil chg, lof", service=True),
    _oil("oil_filter", "oil filter", "one", "o/f, oil fltr, oil filt", service=True),
    _oil("oil_pump", "oil pump", "one", "o/pump, oil pmp"),
    _oil("oil_cooler", "engine oil cooler", "one", "oil clr, eng oil clr, oil cooler"),
    _oil("oil_pan_gasket", "oil pan gasket", "one", "o/pan gskt, oil pan gskt, sump gasket"),
    _oil(
        "oil_drain_thread",
        "oil drain plug thread",
        "one",
        "drain plug thread, stripped drain plug, drain thrd",
        renewed=True,
    ),
    _oil(
        "oil_filter_housing_gasket",
        "oil filter housing gasket",
        "one",
        "ofhg, oil fltr hsg gskt, oil filter adapter gasket",
    ),
    _oil("oil_pressure_sensor", "oil pressure sensor", "one", "oil press sw, oil psi sensor, oil sender"),
)

_COOLING_PARTS = (
    _cooling("water_pump", "water pump", "one", "w/p, wp, h2o pump, wtr pump, wtr pmp, coolant pump"),
    _cooling("thermostat", "thermostat", "one", "t-stat, tstat, t/stat"),
    _cooling("thermostat_housing", "thermostat housing", "one", "t-stat hsg, tstat housing, water outlet"),
    _cooling("radiator", "radiator", "one", "rad, radr"),
    _cooling("radiator_hose_upper", "upper radiator hose", "one", "upr rad hose, up rad hose, top hose"),
    _cooling("radiator_hose_lower", "lower radiator hose", "one", "lwr rad hose, low rad hose, bottom hose"),
    _cooling("heater_hose", "heater hose", "one", "htr hose, heat hose"),
    _cooling("coolant_reservoir", "coolant reservoir", "one", "overflow tank, expansion tank, coolant tank"),
    _cooling("radiator_fan", "electric radiator fan", "one", "rad fan, cooling fan, clg fan, e-fan"),
    _cooling("fan_clutch", "fan clutch", "one", "fan cl, viscous fan clutch"),
    _cooling("coolant_temperature_sensor", "coolant temperature sensor", "one", "ect, cts, coolant temp sensor"),
    _cooling("coolant", "coolant", "one", "antifreeze, clnt", service=True),
)

_FUEL_PARTS = (
    _fuel("fuel_injector", "fuel injector", "per_cylinder", "inj, injector, f/inj, injr"),
    _fuel("injector_seal", "fuel injector seal", "per_cylinder", "inj seal, inj o-ring, injector o-ring"),
    _fuel("fuel_pump", "fuel pump", "one", "f/p, f/pump, lift pump, in-tank pump"),
    _fuel(
        "high_pressure_fuel_pump",
        "high-pressure fuel pump",
        "one",
        "hpfp, hp pump, hi press fuel pump, inj pump, injection pump",
    ),
    _fuel("fuel_pressure_regulator", "fuel pressure regulator", "one", "fpr, fuel reg, press reg"),
    _fuel("fuel_rail_pressure_sensor", "fuel rail pressure sensor", "one", "frp, frp sensor, rail press sensor"),
    _fuel("fuel_filter", "fuel filter", "one", "f/f, fuel fltr, f/filter", service=True),
    _fuel("fuel_line", "fuel line", "one", "f/line, fuel hose, gas line"),
    _fuel("fuel_tank", "fuel tank", "one", "f/tank, gas tank"),
)

_IGNITION_PARTS = (
    _ignition("spark_plug", "spark plug", "per_cylinder", "s/plug, sp plug, spk plug, sparkplug"),
    _ignition("spark_plug_wire", "spark plug wire", "per_cylinder", "plug wire, ign wire, s/p wire, plug lead"),
    _ignition(
        "spark_plug_thread",
        "spark plug thread",
        "per_cylinder",
        "plug thread, stripped plug hole, plug thrd",
        renewed=True,
    ),
    _ignition("ignition_coil", "ignition coil", "per_cylinder", "ign coil, cop, coil on plug, coil pack"),
    _ignition("glow_plug", "glow plug", "per_cylinder", "g/plug, g/p, glowplug, glo plug"),
    _ignition("glow_plug_module", "glow plug control module", "one", "gpcm, glow plug relay, g/plug relay"),
    _ignition("knock_sensor", "knock sensor", "per_bank", "knk sensor, knock sens"),
)

_CONTROL_PARTS = (
    _controls("camshaft_position_sensor", "camshaft position sensor", "per_bank", "cam sensor, cmp, cam pos sensor"),
    _controls(
        "crankshaft_position_sensor",
        "crankshaft position sensor",
        "one",
        "crank sensor, ckp, crank pos sensor",
    ),
    _controls("engine_control_module", "engine control module", "one", "ecm, pcm, ecu, eng computer"),
    _controls("mass_air_flow_sensor", "mass air flow sensor", "one", "maf, maf sensor, air flow meter"),
    _controls("manifold_pressure_sensor", "manifold pressure sensor", "one", "map sensor, map sens, boost sensor"),
    _controls(
        "accelerator_pedal_sensor",
        "accelerator pedal sensor",
        "one",
        "app sensor, pedal sensor, accel pedal",
        safety=True,
    ),
)

_INTAKE_PARTS = (
    _intake("throttle_body", "throttle body", "one", "thr body, throt body, etb, throttle assy", safety=True),
    _intake("intake_manifold_gasket", "intake manifold gasket", "one", "int man gskt, intake gskt, img"),
    _intake("turbocharger", "turbocharger", "one", "turbo, trbo, t/charger"),
    _intake("intercooler", "intercooler", "one", "i/c, cac, charge air cooler, aftercooler"),
    _intake("charge_air_hose", "charge air hose", "one", "boost hose, intercooler hose, i/c boot, turbo hose"),
    _intake("air_filter", "engine air filter", "one", "air fltr, air filt, eng air filter", service=True),
    _intake("pcv_valve", "crankcase ventilation valve", "one", "pcv, ccv, pcv vlv, oil separator"),
)

_EXHAUST_PARTS = (
    _exhaust("exhaust_manifold", "exhaust manifold", "per_bank", "exh man, exh manf, ex manifold"),
    _exhaust("exhaust_manifold_gasket", "exhaust manifold gasket", "per_bank", "exh man gskt, exh manf gasket"),
    _exhaust("catalytic_converter", "catalytic converter", "per_bank", "cat, cat conv, cat converter"),
    _exhaust(
        "oxygen_sensor_upstream",
        "oxygen sensor before the converter",
        "per_bank",
        "upstream o2, up o2, a/f sensor, front o2, pre-cat o2",
    ),
    _exhaust(
        "oxygen_sensor_downstream",
        "oxygen sensor after the converter",
        "per_bank",
        "downstream o2, down o2, dn o2, rear o2, post-cat o2",
    ),
    _exhaust("egr_valve", "exhaust gas recirculation valve", "one", "egr, egr vlv"),
    _exhaust("egr_cooler", "exhaust gas recirculation cooler", "one", "egr clr, egr cool"),
    _exhaust("particulate_filter", "diesel particulate filter", "one", "dpf, soot filter, dsl part filter"),
    _exhaust("exhaust_temperature_sensor", "exhaust temperature sensor", "one", "egt, egt sensor, exh temp sensor"),
    _exhaust("nox_sensor", "nitrogen oxide sensor", "one", "nox, nox sens"),
    _exhaust("diesel_exhaust_fluid", "diesel exhaust fluid", "one", "def fluid, urea fluid", service=True),
    _exhaust("exhaust_pipe", "exhaust pipe", "one", "exh pipe, flex pipe, down pipe, tail pipe", safety=True),
    _exhaust("muffler", "muffler", "one", "mufflr, muff, silencer"),
    _exhaust("evap_purge_valve", "vapor purge valve", "one", "purge valve, purge sol, purge vlv, canister purge"),
)

ENGINE_COMPONENTS: tuple[Component, ...] = (
    *_MECHANICAL_PARTS,
    *_VALVE_PARTS,
    *_OIL_PARTS,
    *_COOLING_PARTS,
    *_FUEL_PARTS,
    *_IGNITION_PARTS,
    *_CONTROL_PARTS,
    *_INTAKE_PARTS,
    *_EXHAUST_PARTS,
)
"""Engine components, system by system."""
