"""Parts, and pieces of parts, that the vocabulary does not have. Common practice, no source.

Patterns are read as `word_table` says.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import phrases

OTHER_PARTS = phrases(
    """
thermostat housing? gasket|seal|oring, boot lid strut|lock|switch|gas?, boot lid|floor, bonnet strut|cable|catch,
lantern, alternator|starter bracket bolt?, fuel tank strap, tank strap, coolant|radiator reservoir|tank? cap, intake
manifold, intake plenum, plenum, oil drain? plug gasket|washer|seal, oil drain? plug, drain plug gasket|washer, oil
filler? cap, oil cap, oil dipstick tube?, dipstick, timing cover gasket|seal|leak, front cover gasket|seal, timing
chain? cover, front timing? cover, timing gear, front crankshaft|crank|main|engine oil? seal, crankshaft|crank front
seal, crankshaft|crank seal front, camshaft|cam oil? seal, freeze|frost|core|expansion plug,
radiator|coolant|reservoir|expansion cap, radiator support, fan shroud, fan blade, radiator fan relay, gas|fuel
filler? cap, fuel filler neck cap, filler neck, fuel level? sender|gauge|sensor|sending unit?, fuel pump
relay|fuse|driver|strainer|wiring|connector|control|control module, fuel pump module connector, fuel rail, fuel
door, distributor cap|rotor?, ignition module|control|amplifier|cylinder|key|relay, rotor cap, throttle position
sensor|switch, tps sensor?, idle air? control valve?|motor?|solenoid?, iac valve?|motor?, air intake? temperature
sensor, iat sensor?, intake air temperature sensor, air intake|box|cleaner housing|hose|duct|tube|box|boot, air
box|tube|duct, intake hose|boot|tube|duct, vacuum hose|line|pump|leak|tube|reservoir|canister, brake vacuum pump,
wastegate actuator|solenoid?, turbo oil feed|return|drain|supply? line|pipe, turbo
gasket|actuator|wastegate|inlet|bolts|clamp|seal, supercharger, diverter valve, blow off valve, exhaust
hanger|bolt|gasket|stud|tip|seal|heat shield, donut gasket, heat shield, resonator, egr tube|pipe|gasket|sensor,
dpfe sensor, charcoal|evap? canister, evap vent valve|solenoid|hose|line|canister|pump|system|filter, vent
valve|solenoid, leak detection pump, ldp, def pump|heater|tank|injector|module|sensor|line|dosing|level|quality, def
dosing|tank injector|module|unit|pump, urea injector|pump|tank|heater, dosing injector|valve|unit|module, reductant
pump|injector|tank|heater, dpf pressure|differential sensor, differential pressure sensor|switch, scr
catalyst?|converter?, voltage regulator, battery
tray|hold|holddown|box|sensor|cover|charger|maintainer|bracket|fuse|disconnect, battery hold down, starter
relay|fuse|bolt|interlock|solenoid, neutral safety switch, range|inhibitor|prndl sensor|switch, park neutral switch,
transmission range sensor|switch, shift|shifter cable|lever|knob|linkage|interlock|boot|bushing, shifter, fuse
box|panel|block, fuse, fusible link, relay, horn pad|switch|relay?, horn, radio, speaker, antenna, amplifier,
backup|back up|reverse camera|light|sensor, backup light|camera|switch, parking sensor|assist, camera, key fob?
battery?, remote battery, fob battery, check valve, evaporator temperature? sensor|probe, screenwash, fob, key,
remote, cigarette lighter, power outlet, usb port, turn signal switch|bulb|light|lever|flasher|relay|lamp,
multifunction|combination|combo switch, hazard switch, brake|stop light switch, stop light bulb|lamp, brake light,
stop light, brake pedal switch|pad|bushing, brake switch, license plate? light|bulb|lamp|plate,
marker|side|corner|parking|park light|bulb|marker|lamp, side marker light|bulb?, fog light|lamp bulb?|assembly,
dome|map|interior|courtesy|cargo light|bulb|lamp, headlight
assembly|housing|lens|switch|restoration|adjuster|level|ballast|module|polish|washer|connector|aim|relay|unit|motor,
headlight ballast, ballast, drl module, daytime running light|lamp bulb?, third brake light, high mount stop
light|lamp, transmission mount|pan|gasket|module|cooler|linkage|dipstick|bracket|pump, transmission pan gasket|seal,
transmission oil pan gasket?, transmission front|output|input|pump|side? seal, transmission control module|unit,
tcm, tcu, tipm, trans mount, gearbox mount, transmission cooler, transmission output shaft seal, torque converter
seal, clutch pedal|cable|fork|switch|fluid|bearing fork, pilot bearing|bushing, clutch fork, axle nut, axle bearing,
driveshaft flange|bolt|boot|flex, flex disc|coupling, guibo, giubo, differential cover gasket|seal?, diff cover
gasket, rear|front differential|diff cover gasket?, differential mount|bushing|vent, transfer case
motor|fluid|chain|seal|module|shift|actuator|oil|service|encoder|output, transfer case
motor|seal|fluid|service|chain|oil|encoder motor?|seal, encoder motor, locking hub, 4wd|awd
actuator|switch|module|coupling, brake hardware|caliper hardware? kit?, caliper bracket|bolt|hardware|rebuild kit?,
brake hardware kit, hardware kit, brake adjuster, self adjuster, adjuster kit, brake backing|dust plate|shield,
dust|splash shield|cover, backing plate, brake pedal, brake wear? sensor, pad wear? sensor, wear sensor|indicator,
proportioning valve, brake combination valve, brake vacuum line|hose, parking brake
lever|pedal|actuator|motor|switch|assembly, electric parking brake actuator|motor|module, epb actuator|motor, master
cylinder reservoir|cap|seal, tone|reluctor ring|wheel, wheel speed sensor wire|wiring|harness|connector, drag|center
link, drag link end?, track|panhard bar|rod bushing?, steering
column|shaft|wheel|coupler|knuckle|damper|stabilizer|angle|arm|lock|sensor|module, steering angle sensor, steering
damper|stabilizer, intermediate shaft, steering shaft u? joint|coupler?, rack boot|bushing|mount|bellows, rack and
pinion boot|bushing|bellows, tie rod boot|sleeve|adjuster|clamp|bellows, power steering
reservoir|cooler|cap|pulley|switch, power steering pressure? switch|sensor, power steering pump
pulley|reservoir|seal, strut boot|bumper|bellows|bolt|tower|brace|rod, bump stop, strut tower, shock
mount|bushing|bolt|boot|bumper, spring seat|isolator|perch|pad|shackle, coil spring seat|isolator|pad, leaf spring
bushing|shackle|bolt|plate|perch|hanger, shackle, u bolt, trailing|radius|lateral|toe arm|link|rod bushing?, radius
arm bushing, radius rod, strut rod, subframe|cradle|crossmember bushing?|mount|bolt, subframe, cradle, crossmember,
axle beam bushing?, sway|stabilizer bar bracket|assembly|clamp, stabilizer bar, sway bar, steering knuckle, knuckle,
spindle nut?, hub cap, hubcap, center cap, wheel cover|lock|well|rim|weight|spacer|liner|arch|seal|nut key, rim,
alloy wheel, valve stem, tire valve stem, tpms valve|stem|service
kit|pack|relearn|programming|kit|reset|module|receiver, tire pressure monitor module|receiver|relearn|reset, tire
plug|patch|repair, spare tire|wheel carrier|hoist|winch?|cable?, jack, airbag, airbag sensor|module
wiring|light|connector|inflator, crash|impact sensor, occupant sensor|seat, seat
heater|motor|cover|switch|frame|track|cushion|bolster|occupant|element|module|heating, seat, heated seat
element|module|switch?, ac pressure switch|sensor|transducer, ac
service|recharge|charge|leak|dye|performance|evac|oil|port|system|refrigerant|evacuate, ac service port|valve,
schrader valve, receiver drier|dryer, drier|dryer, accumulator, ac
accumulator|drier|dryer|receiver|oring|seal|relay|control|switch|fuse|drain|filter drier|head|fan|belt, ac drain
tube|hose, evaporator drain tube|hose, refrigerant, freon, r134a|r134|r1234yf|1234yf, hvac
control|module|head|panel|housing|case|box, climate control head|module|panel|unit|switch, blower motor
wheel|relay|connector|switch|fuse|wiring|cage, blower switch|relay|fuse, heater control valve?|head|panel|switch,
heater valve, heater control valve, coolant bypass|pipe|tube|hose|elbow|line|tee|fitting|bypass pipe?|hose, water
pipe|tube|inlet, bypass hose|pipe|tube, coolant hose|pipe, thermostat gasket|seal|oring, thermostat housing
gasket|seal|oring, water pump gasket|pulley|bolt|seal|oring|housing|bearing, water outlet gasket, oil cooler
line|hose, oil cooler hose|line|oring, oil level sensor, oil pressure gauge|test, oil pump
pickup|chain|seal|screen|gasket|drive, oil pickup tube|screen, oil feed|supply|return line|pipe, oil line|hose, oil
squirter, oil gallery plug, timing chain guide|rail|gear|cover|sprocket, chain guide|rail, timing belt
idler|idler|pulley|cover|roller, timing idler|roller pulley?, timing belt idler pulley?, camshaft|cam
gear|sprocket|seal|cap|bearing|tower|plug|bucket|cover, crankshaft|crank gear|sprocket|seal|bolt|gasket|pulley bolt,
balance shaft chain|belt?, head bolt, cylinder head bolt, cylinder head gasket bolt, rocker shaft, piston pin|ring
compressor, engine block|bay|cover|undercover|shield|mount bolt|bracket|wiring|light, short block, block heater,
engine cover|splash|skid shield|plate, skid plate, splash guard, mud flap|guard, belly pan, under cover|tray, spark
plug gasket|socket|boot|tube, plug boot, coil boot|connector|spring, ignition coil boot|connector|pigtail, injector
connector|wiring|clip|cup|tube|pigtail|hold|clamp|harness|driver|rail|bolt, injector cup|sleeve, injector
wire|connector, alternator bracket|pulley|connector|fuse|bearing|brush|bolt|wire|wiring|plug|bushing, decoupler
pulley, alternator decoupler|clutch pulley?, connector, pigtail, ground wire|connection|point, ground, door
handle|hinge|panel|seal|glass|check|switch|weatherstrip|ajar|jamb|mirror|skin|trim|strap|striker|cable|module|speaker|liner,
outside|outer|inside|inner|exterior|interior door handle, exterior|interior|outer|inner handle, door handle cable,
handle, door hinge pin|bushing, door check strap?, weatherstrip, window
glass|switch|track|run|channel|seal|tint|guide|weatherstrip|clip|module, window|master|power switch, power window
switch, power window module, glass, back|rear|quarter|door glass, windshield|windscreen, windshield washer|wiper
arm|fluid|pump|nozzle|reservoir|hose|linkage|jet, washer
pump|fluid|nozzle|reservoir|hose|jet|bottle|tank|motor|solvent|tank cap, windshield washer
pump|fluid|nozzle|reservoir|solvent|bottle, wiper arm|linkage|switch|transmission|relay|fluid|nut|stalk|module|cowl,
wiper washer fluid|pump|switch, mirror, side|rear|rearview|view|power mirror glass|motor|assembly, hood
latch|cable|hinge|strut|release|shock|insulator|prop, hood, bonnet, trunk
lid|latch|strut|shock|lock|release|actuator|seal|switch, liftgate|tailgate|hatch
strut|shock|latch|handle|motor|glass|actuator|lock|release|hinge|support|lift|switch|module, lift support|strut, gas
strut|spring|prop, liftgate, tailgate, hatch, trunk, sunroof|moonroof motor|drain|glass|switch|track|seal|module?,
sunroof|moonroof, bumper cover|clip|bracket|bar|support|reinforcement?, bumper, fender liner|flare|skirt?, fender,
grille, molding, moulding, trim panel|clip|piece?, trim, emblem, carpet, floor mat, headliner, console, visor, sun
visor, dash|dashboard panel|bezel, bezel, glove box door?, glovebox, cup holder, armrest, running board, step bar,
bed liner, trailer|tow|towing hitch|wiring|harness|plug|connector|ball|brake|controller|module, hitch, trailer brake
controller, cargo cover|net, roof rack, body panel|work|shop|mount|control, frame, rocker panel, quarter panel,
paint, dent, rust repair|proofing|protection, undercoat, undercoating, window tint, decal, pinstripe, cruise control
switch|module|cable, cruise control, immobilizer, alarm, security system, anti theft module|system, module
programming, cooling fan relay|control|resistor|switch|connector, fan relay|control|switch|resistor, fan control
module|relay|switch, glow plug harness|connector|wire|wiring, throttle cable|gasket|linkage, throttle body
gasket|boot|hose|connector, accelerator cable, mass air flow connector, maf connector|housing|wiring, map
connector|wiring, oxygen sensor connector|wiring|harness|bung, egr valve gasket|connector, purge valve
hose|connector, pcv hose|tube|grommet, breather hose|tube, brake master cylinder reservoir|cap, brake booster check
valve|hose|vacuum hose|line, booster check valve|hose, wheel cylinder kit|rebuild, bearing
race|packing|repack|grease|cup|seal, wheel bearing grease|seal|race|repack, grease seal|fitting|zerk, hub
seal|nut|ring|cover, lug nut key|lock|cover|cap|wrench, wheel lock key|set, strut mount bolt|nut|cover, ball joint
boot|bolt|press|grease, control arm bolt|bracket|mount, sway bar clamp|bolt|mount bracket, steering rack
bushing|boot|mount|bellows|bolt, u joint strap|clip|bolt|yoke, yoke, slip yoke, pinion
nut|bearing|yoke|gear|flange|depth, carrier mount, flywheel bolt|ring|dowel, ring gear, flexplate bolt, inspection
cover|plate, bell housing, bellhousing, valve body gasket|plate|wiring, solenoid connector|wiring, transmission
speed sensor connector, clutch master reservoir|cap, coolant reservoir|tank|expansion cap|hose|sensor|level sensor?,
coolant level sensor, low coolant sensor, radiator drain|petcock|bracket|mount|fan shroud|plug|core|bushing|drain
plug|petcock, drive belt cover|pulley|tool|routing, pulley, camshaft cover gasket plug, fuel line
clip|connector|clamp|bracket, fuel tank strap|cap|cover|vent|skid|pressure|sensor|seal|lock ring, fuel filter
housing|head|bracket|cap|element housing, air filter housing|box|lid|clip, air cleaner housing|box|assembly, oil
filter housing|adapter|cap|wrench|stand, cabin filter housing|door|cover, muffler
clamp|hanger|bracket|bearing|tip|strap, catalytic converter shield|clamp|gasket|heat shield|bracket|strap, cat
shield|clamp|gasket|anti theft shield|converter gasket, flex pipe gasket|clamp, exhaust pipe
gasket|clamp|hanger|flange|bracket, tail pipe tip|hanger, exhaust manifold bolt|stud|heat shield|shield|cover|nut,
exhaust stud|bolt, manifold bolt|stud, tail light socket|wiring|gasket|circuit board|connector|seal, headlight
socket|connector|wiring|harness|pigtail, bulb socket, socket, instrument cluster bulb|lens|bezel, ignition switch
housing|actuator|connector|rod, window regulator clip|bolt|guide|switch, door latch cable|handle|rod, lock
cylinder|rod|switch|knob|tumbler, door lock cylinder|rod|switch|knob|striker, wiper motor
linkage|relay|cover|arm|switch, heater core tube|seal|hose|oring|pipe|case, evaporator
drain|case|probe|sensor|temperature|housing, compressor bracket|oring|oil|belt|bolt|relay|mount|fuse, condenser fan
relay|bracket|oring|mount|fan shroud
"""
)
"""A name in a text that is one of these is no component."""
