"""Names that several components share, and how the rest of the line tells which. Common practice, no source.

An entry is `name: words > component; words > component`: the first whose words, or one of them, stand in the line. No
words: where nothing else tells. A name without such a last choice stays open, and its line is unsure.
"""

from __future__ import annotations

from collections.abc import Mapping

from longmile.pipelines.coding.lexicon import FORMS
from longmile.pipelines.coding.word_table import listed

Choices = tuple[tuple[frozenset[str], str], ...]

_TABLE = listed(
    """
pump:
housing:
injector: > fuel_injector
sensor: tpms tire > tire_pressure_sensor; abs wss > wheel_speed_sensor; upstream > oxygen_sensor_upstream;
    downstream > oxygen_sensor_downstream; knock detonation > knock_sensor
gasket:
seal:
belt: serpentine alternator accessory compressor squeal squealing chirp rib idler > drive_belt; timing >
    timing_belt; cambelt > timing_belt
hose: brake caliper > brake_hose; steering > power_steering_hose; intercooler boost > charge_air_hose
valve:
switch:
module:
bearing: throwout release clutch > clutch_release_bearing; wheel hub roar growl humming hum rumble drone nearside
    offside lf rf lr rr > wheel_bearing
motor: blower > blower_motor; wiper > wiper_motor; window > window_motor
filter: pollen cabin > cabin_air_filter; diesel fuel > fuel_filter; transmission atf > transmission_filter; oil >
    oil_filter
line:
pipe: exhaust muffler > exhaust_pipe
solenoid: lock locking > door_lock_actuator; shift transmission > transmission_solenoid; vvt >
    camshaft_timing_solenoid; purge evap > evap_purge_valve
tensioner: timing > timing_belt_tensioner; serpentine drive accessory alternator idler > drive_belt_tensioner
belt tensioner: timing cam camshaft > timing_belt_tensioner; > drive_belt_tensioner
idler: arm steering pitman > idler_arm; > idler_pulley
coil: spring strut > coil_spring; > ignition_coil
plug: drain > oil_drain_thread; glow diesel > glow_plug; > spark_plug
blades: fan radiator > ; > wiper_blade
wiper: > wiper_blade
wire: plug spark coil distributor > spark_plug_wire; > wiring_harness
wiring: > wiring_harness
thread: plug spark > spark_plug_thread; drain oil pan > oil_drain_thread
head: gasket skim reman machine shop crack warp valve > cylinder_head
seat: valve lap grind guide > valve_seat
guide: valve > valve_guide
spring: valve > valve_spring; leaf > leaf_spring; coil strut shock corner sag > coil_spring
lash:
phaser: > camshaft_phaser
oxygen sensor: upstream front primary pre b1s1 b2s1 afr p0131 p0171 > oxygen_sensor_upstream; downstream post
    secondary after b1s2 b2s2 p0420 p0137 p0141 > oxygen_sensor_downstream
oxygen: upstream front pre b1s1 b2s1 > oxygen_sensor_upstream; downstream rear post b1s2 b2s2 >
    oxygen_sensor_downstream
radiator hose: upper top > radiator_hose_upper; lower bottom > radiator_hose_lower
ball joint: lower bottom > ball_joint_lower; upper > ball_joint_upper; > ball_joint_lower
control arm: lower bottom > control_arm_lower; upper > control_arm_upper
suspension arm: lower bottom > control_arm_lower; upper > control_arm_upper
wishbone: upper > control_arm_upper; lower > control_arm_lower
arm: lower lca > control_arm_lower; upper uca > control_arm_upper; rocker valve > rocker_arm; idler > idler_arm;
    pitman > pitman_arm
tie rod: inner > tie_rod_inner; outer end > tie_rod_outer
track rod: inner > tie_rod_inner; > tie_rod_outer
transmission: automatic atf converter slip shift torque cvt shudder reverse tcc > automatic_transmission; clutch
    manual stick > manual_transmission
gearbox: automatic > automatic_transmission; > manual_transmission
gear box: steering > steering_gear_box; automatic > automatic_transmission
transaxle: automatic > automatic_transmission; manual clutch > manual_transmission
engine:
oil: > engine_oil
oil service: > engine_oil
fluid: converter torque tcc shudder transmission atf > transmission_fluid; brake > brake_fluid; steering >
    power_steering_fluid; differential > differential_fluid
fan: radiator cooling overheat > radiator_fan; heater blower dash cabin > blower_motor
axle: > cv_axle
axle shaft: > cv_axle
shaft: axle cv halfshaft > cv_axle; driveshaft prop > driveshaft
hub: > wheel_bearing
stud: wheel lug > wheel_stud
nut:
boot:
converter: torque transmission tcc stall > torque_converter; exhaust cat catalytic p0420 > catalytic_converter
regulator: window glass door > window_regulator; fuel rail > fuel_pressure_regulator
actuator: lock locking door_lock > door_lock_actuator; hvac blend temperature vent heat dash > blend_door_actuator
latch: door > door_latch
lock:
bulb: headlight beam headlights low high > headlight_bulb; tail > tail_light
headlight: bulb out blown burnt beam > headlight_bulb
headlights: bulb out blown burnt beam > headlight_bulb
cylinder: wheel shoe drum > wheel_cylinder; master > brake_master_cylinder; clutch slave > clutch_hydraulics
master cylinder: clutch > clutch_hydraulics; > brake_master_cylinder
master: clutch > clutch_hydraulics; brake > brake_master_cylinder
rack: > steering_rack
resistor: > blower_resistor
mount: strut shock tower > strut_mount; engine motor > engine_mount
link: sway stabilizer bar > sway_bar_link; > sway_bar_link
bushing: sway stabilizer > sway_bar_bushing; control arm lca > control_arm_bushing
cooler: egr > egr_cooler; intercooler charge > intercooler; oil > oil_cooler
tank: fuel gas > fuel_tank; coolant overflow > coolant_reservoir
reservoir: coolant overflow radiator > coolant_reservoir
heads: > cylinder_head
cooling system: flush drain > coolant
throttle: > throttle_body
clutch: bleed hydraulic slave > clutch_hydraulics; compressor ac > ac_compressor_clutch; fan > fan_clutch; > clutch
core: heater > heater_core; evaporator > ac_evaporator
evaporator: > ac_evaporator
compressor: suspension air_bag > ; > ac_compressor
buckle: seat belt > seat_belt
air bag: suspension ride leak rear front > air_spring
bag: suspension air > air_spring
cable: battery positive negative ground terminal > battery_cable; parking handbrake emergency > parking_brake_cable
terminal: battery batt clean corrode corrosion > battery_cable
pulley: crank crankshaft balancer > crankshaft_pulley; idler > idler_pulley
damper: crank crankshaft harmonic > crankshaft_pulley; > shock_absorber
follower: cam camshaft rocker > rocker_arm
rod:
ring: piston > piston_rings
disc: clutch > clutch; > brake_rotor
disk: clutch > clutch; > brake_rotor
lining: brake > brake_pads
brake job: > brake_pads
brake: squeak worn <length> <percent> squeal grind metal job thin pad > brake_pads
light: tail > tail_light
speed sensor: wheel abs > wheel_speed_sensor; vss output input speedometer transmission > transmission_speed_sensor
pressure sensor: fuel rail > fuel_rail_pressure_sensor; oil > oil_pressure_sensor; tire > tire_pressure_sensor; map
    manifold boost > manifold_pressure_sensor
pressure switch: oil > oil_pressure_sensor
temperature sensor: coolant ect engine overheat radiator fan > coolant_temperature_sensor; exhaust egt dpf >
    exhaust_temperature_sensor
position sensor: cam camshaft > camshaft_position_sensor; crank crankshaft > crankshaft_position_sensor
crankshaft seal: rear main > crankshaft_rear_seal
crank seal: rear main > crankshaft_rear_seal
main seal: > crankshaft_rear_seal
manifold: exhaust > exhaust_manifold
manifold gasket: exhaust > exhaust_manifold_gasket; intake > intake_manifold_gasket
intake gasket: > intake_manifold_gasket
exhaust gasket: manifold > exhaust_manifold_gasket
valve cover: leak seep drip > valve_cover_gasket
rocker cover: leak seep drip > valve_cover_gasket
oil pan: leak seep drip gasket > oil_pan_gasket
pan gasket: oil engine > oil_pan_gasket
cover gasket: valve rocker > valve_cover_gasket
pad: > brake_pads
shoe: > brake_shoes
cap:
bolt:
clamp:
bracket:
connector:
cover:
gauge: cluster dash speedometer > instrument_cluster
valve body: > valve_body
purge: > evap_purge_valve
modulator: abs > abs_module
injection pump: > high_pressure_fuel_pump
u:
""",
    apart=";",
)


def _choices(parts: tuple[str, ...]) -> Choices:
    """Choices of one name."""
    found = []
    for part in parts:
        words, _, code = part.rpartition(">")
        found.append((frozenset(FORMS.get(word, word) for word in words.split()), code.strip()))
    return tuple(found)


HALF_NAMED: Mapping[str, Choices] = {name: _choices(parts) for name, parts in _TABLE.items()}
"""Name to its choices."""
