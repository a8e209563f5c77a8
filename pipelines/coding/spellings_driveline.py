"""Other ways to name the components of electrics and driveline. Common practice, no source.

How patterns are read is said in `word_table`. Full words: shorthand is settled before. What may name two components
stands in `half_named`.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SPELLINGS_DRIVELINE = listed(
    """
battery: 12v|agm|vehicle|car|starting|start? battery, battery 12v|agm
battery_cable: earth strap|lead|cable, positive|negative|pos|neg|ground? battery
    cable|terminal|lead|clamp|end|post|wire, battery cable end|terminal, engine|body|chassis ground
    strap|cable|wire, battery terminal end|clamp, battery connection, battery ground cable|strap|wire|lead?,
    ground|battery lead, ground strap|lead|cable, positive|negative cable, ground strap|cable, battery cable
    positive|negative, starter cable
alternator: alternator assembly?, generator, charging|charge system check|test|inspection|diagnosis?, charging
    system, charge system
battery+alternator: battery and|& charging|charge system? check|test?, battery and|& alternator test|check, battery
    charging system check|test
starter_motor: starter motor|assembly?, starter solenoid assembly, starter motor assembly
ignition_switch: ignition switch|lock cylinder?, ignition switch assembly, key switch, ignition lock switch, push
    start switch
body_control_module: body control? module|computer|unit|controller, bcm module?
wiring_harness: engine|body|main|chassis|trunk|tailgate|door|injector? wiring|wire harness|loom, wiring
    loom|harness?, harness, broken|chafed|damaged|burnt|rodent wire|wiring, wire harness connector|pigtail, wiring
    harness connector, engine|injector|door|trunk|transmission|sensor harness, loom, chewed wire|wiring, wire
    chafed|broken|rubbed
instrument_cluster: instrument binnacle, dash clocks, speedo head?, instrument|gauge|dash|speedometer
    cluster|panel|assembly, speedometer, instrument panel cluster, combination meter, gauge cluster assembly,
    cluster, dash display, cluster assembly
headlight_bulb: headlight bulb|capsule, low|high|dipped|main beam headlight? bulb?, hid|halogen|led|xenon headlight?
    bulb, headlight low|high beam? bulb?, bulb headlight, low|high beam, h7|h11|h4|h1 bulb, 9005|9006 bulb, head
    light bulb
tail_light: tail light assembly, rear lamp unit?, brake light bulb, tail|rear|taillight light
    assembly|bulb|lens|lamp|unit|cluster|circuit?, tail light assembly|bulb|lens, rear combination light|lamp, rear
    light cluster|unit|assembly, tail light bulb
automatic_transmission: reman|rebuilt|used transmission, automatic|auto transmission|gearbox|transaxle assembly?,
    reman|remanufactured|rebuilt|used automatic transmission, automatic transaxle, auto gearbox, cvt
    transmission|assembly, transmission automatic, cvt
manual_transmission: manual|stick|5spd|6spd|speed transmission|gearbox|transaxle assembly?, manual gear box, 5|6
    speed transmission|gearbox|manual?, transmission manual, gear box manual
transmission_fluid: automatic|auto|manual|cvt? transmission fluid|oil, atf, transmission flush|service|exchange,
    transmission fluid flush|exchange|service|change, transmission drain and fill|refill, transmission oil, gearbox
    oil, cvt fluid
transmission_filter: automatic|auto? transmission|atf filter kit?|screen?|strainer?, trans filter, transmission pan
    filter, transmission filter kit|service
transmission_solenoid: transmission|shift solenoid pack?|body?|block?|valve?, pressure control solenoid,
    transmission shift|pressure|control solenoid, tcc|lockup solenoid, shift control solenoid, solenoid
    pack|body|block, torque converter clutch? solenoid, line pressure solenoid, epc solenoid, transmission control
    solenoid
valve_body: transmission|automatic? valve body assembly?|unit?, mechatronic unit?, mechatronics, transmission
    control valve body
torque_converter: torque converter assembly?|clutch?, transmission torque converter
transmission_speed_sensor: transmission|vehicle|output|input|turbine shaft? speed sensor, vss|oss|iss|tss sensor?,
    transmission input|output|range? shaft? speed sensor, speedometer sensor, speed sensor transmission,
    output|input shaft sensor, turbine sensor
transmission_cooler_line: transmission|atf oil? cooler? line|hose|pipe|tube, transmission cooler line|hose|pipe,
    trans cooler line, transmission fluid line|hose|pipe, cooler line, transmission oil cooler line|hose
clutch: clutch kit|disc|disk|plate|set|assembly|cover|friction?, clutch pressure plate, pressure plate, clutch disc
    and pressure plate, clutch replacement, friction disc|disk, clutch plate and cover
clutch_release_bearing: clutch? release|throwout|thrust bearing, clutch? throw out bearing, throwout bearing, t/o
    bearing, release brg
clutch_hydraulics: clutch pipe, clutch slave, clutch slave|master|release cylinder?, slave cylinder, concentric
    slave cylinder?, clutch hydraulic|hydraulics system|line?|cylinder?, csc, clutch hydraulic line|hose|pipe,
    clutch cylinder, clutch master and slave cylinder?, hydraulic clutch slave|master cylinder?, clutch line|hose
flywheel: dual mass? flywheel, flexplate, flex plate, flywheel assembly?, dual mass, fly wheel, dmf
cv_axle: driveshaft boot kit?, cv halfshaft, outer cv, inner cv, front axle half? shaft, cv|half axle|shaft
    assembly?, drive axle assembly?, halfshaft, front drive? axle shaft?, cv axle shaft|assembly?, front|left|right
    cv? axle shaft?|assembly?, axle shaft|assembly, cv joint, constant velocity joint|shaft|axle?, drive axle, cv
    half shaft, outer|inner cv joint, cvaxle, cv axle? joint? boot kit?|clamp?, inner|outer cv joint? boot kit?,
    axle boot kit?, inner|outer cv axle?, front half shaft, cv, axles
u_joint: universal joint, u joint, ujoint, driveshaft u? joint, cardan joint
driveshaft: drive|prop|propeller shaft assembly?, driveshaft assembly?, shaft drive, shaft propeller|prop,
    front|rear driveshaft|prop|propeller shaft?, drive shaft
center_support_bearing: driveshaft|propshaft? center|carrier|hanger|support support? bearing, driveshaft center?
    support? bearing, carrier|center|hanger bearing, driveshaft carrier|center|support bearing
differential: front|rear? differential assembly?|unit?|carrier?|gear?, ring and|& pinion, rear end assembly?,
    rearend, final drive, ring gear and pinion, diff bearing, third member, front|rear axle differential
differential_fluid: rear axle oil, back axle oil, diff oil change, front|rear? differential
    fluid|oil|lube|service|flush|exchange, gear oil|lube, front|rear? axle fluid|oil|lube, rear end
    fluid|oil|service|lube, differential gear oil|lube|fluid, diff fluid change|exchange|service, hypoid oil
pinion_seal: differential|diff? pinion oil? seal, front|rear pinion seal, pinion shaft seal, rear end pinion seal
axle_seal: axle shaft? oil? seal, axle tube seal, cv? axle|halfshaft seal, output|drive shaft seal, half shaft seal,
    wheel|hub seal, seal axle
transfer_case: transfer case|box assembly?, transfer box, transfer case output|input|front|rear shaft? seal,
    transfer case unit|assembly
"""
)
"""Component, or two that one name stands for, to patterns."""
