"""Other ways to name what feeds, cools and times the engine and cleans up after it. Common practice, no source.

How patterns are read is said in `word_table`. Full words: shorthand is settled before. What may name two components
stands in `half_named`.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SPELLINGS_FEEDING = listed(
    """
water_pump: coolant pump, engine? water|coolant pump assembly?|kit?, cooling pump, electric? engine coolant pump
thermostat: engine? coolant? thermostat
thermostat_housing: thermostat housing|cover|neck, coolant|water outlet|neck|flange housing?, coolant outlet
    housing, water|coolant outlet|neck, goose neck, gooseneck, thermostat and housing assembly, water outlet
    housing, thermostat housing assembly, coolant flange, coolant crossover
radiator: radiator assembly?, engine radiator
radiator_hose_upper: upper|top radiator|coolant|rad hose, upper|top hose, radiator hose upper|top
radiator_hose_lower: lower|bottom radiator|coolant|rad hose, lower|bottom hose, radiator hose lower|bottom
heater_hose: heater core? hose|pipe|line|tube, heater inlet|outlet|return|supply|intake hose|pipe, heat hose,
    coolant heater hose, heater hose tee|connector|fitting
coolant_reservoir: header tank, expansion bottle, coolant|radiator|cooling expansion|overflow|recovery|surge|degas?
    reservoir|tank|bottle|jug, expansion|overflow|surge|header|degas|recovery tank|bottle|reservoir, coolant
    overflow|reservoir|bottle, radiator overflow, coolant tank, coolant recovery|expansion|surge|overflow
    tank|bottle|reservoir
radiator_fan: electric? radiator|cooling|engine fan motor?|assembly?|module?, electric fan, cooling fan
    motor|assembly|module|relay, condenser fan motor?, radiator fan motor assembly?, fan assembly, electric cooling
    fan motor?, e fan, fan shroud assembly
fan_clutch: viscous? fan clutch, thermal|viscous|mechanical fan clutch?, fan coupling, viscous coupling
coolant_temperature_sensor: engine? coolant|water temperature sensor|sender|sending|switch|gauge? unit?, ect|clt|cts
    sensor?|sender?, coolant sensor, temperature sender, temperature sending unit, engine temperature sensor|sender,
    temperature gauge sender, water temperature sender
coolant: engine? coolant, coolant|radiator flush|exchange|service|change, cooling system?
    flush|service|exchange|maintenance, cooling system drain flush? and|& refill|fill, coolant drain and
    fill|refill, radiator drain and fill, coolant drain fill, coolant service
fuel_injector: fuel|diesel|gas injector, fuel|diesel nozzle, injection|injector nozzle, gdi|direct injector, common
    rail injector
injector_seal: fuel? injector seal|oring|gasket|washer|copper kit?|set?|ring?, injector copper|crush|sealing
    washer|ring|seal, fuel injector seal kit, injector seal and oring, injector oring seal, injector tip seal
fuel_pump: electric? fuel pump module?|assembly?|hanger?, in? tank fuel? pump, intank fuel? pump, fuel pump sender
    assembly?, lift|transfer|feed pump, fuel delivery module|unit, fuel pump and sender|sending unit?, low pressure
    fuel pump, fuel lift|transfer|feed|supply pump, gas pump
high_pressure_fuel_pump: high pressure fuel|diesel|injection? pump, diesel? injection|injector pump, mechanical fuel
    pump high pressure, common rail pump, gdi fuel? pump, diesel injection pump, fuel injection pump, cam driven
    fuel pump, direct injection fuel? pump, high side fuel pump
fuel_pressure_regulator: pressure regulator, fuel pressure? regulator, fuel rail pressure regulator, pressure
    regulator fuel
fuel_rail_pressure_sensor: fuel? rail pressure? sensor|transducer, fuel pressure sensor, frp|frps sensor?, high
    pressure fuel? sensor
fuel_filter: inline|diesel|primary|secondary? fuel filter element?|cartridge?, diesel filter, fuel water separator
    filter?, fuel separator
fuel_line: petrol pipe|line|hose, fuel filler pipe|hose|neck, fuel|gas|diesel feed|return|supply|pressure|delivery?
    line|hose|pipe|tube, fuel injector|injection line|pipe, injector|injection line|pipe, high pressure fuel?
    line|pipe, fuel line fitting, quick connect fuel line, fuel leak at line, injector leak off line
fuel_tank: fuel|gas tank assembly?
spark_plug: iridium|platinum|copper|double? spark plug set?, ignition plug, iridium|platinum plug
spark_plug_wire: ht lead set?, spark? plug wire|lead|cable set?|kit?, ignition|spark wire|lead|cable set?|kit?, wire
    set, ht lead, high tension lead, plug wire set
spark_plug_thread: spark? plug thread|hole|insert|helicoil|timesert repair?|stripped?, stripped spark? plug
    hole|thread, spark plug hole thread, spark plug thread insert|helicoil, blown out spark? plug, spark? plug blew
    out, plug hole helicoil|thread
ignition_coil: ignition coil pack|boot|assembly?, coil pack, coil on|over plug, coil on plug, ignition|spark coil,
    ignition coil pack, cop coil, coil pack assembly, pencil|stick coil, ignition coil on plug, coils, coilpack
glow_plug: diesel|heater? glow plug, heater plug
glow_plug_module: glow timer, glow plug control? module|controller|relay|timer|unit, glow plug controller, glow
    module|relay|controller, gpcm
knock_sensor: engine? knock|detonation sensor
camshaft_position_sensor: camshaft|cam shaft? position? sensor, cmp|cps sensor?, camshaft|cam angle|phase|speed
    sensor, intake|exhaust camshaft|cam position? sensor
crankshaft_position_sensor: crankshaft|crank shaft? position? sensor, ckp sensor?, crankshaft|crank
    angle|speed|trigger sensor, crank position|pickup, engine speed sensor, rpm|tdc sensor
engine_control_module: engine|powertrain control? module|computer|unit|ecu|ecm, engine control unit|module,
    ecm|pcm|ecu|dme module?|unit?|computer?, engine management module|computer|unit, power train control module
mass_air_flow_sensor: air mass meter|sensor, mass? air flow meter|sensor, mass airflow meter?|sensor?, maf|mafs
    sensor?|meter?, airflow meter|sensor, mass air sensor|meter, mass air flow, air mass sensor|meter
manifold_pressure_sensor: manifold|intake absolute? pressure sensor, map|tmap sensor?, boost pressure? sensor,
    intake manifold absolute? pressure sensor, manifold absolute pressure, vacuum sensor, charge pressure sensor
accelerator_pedal_sensor: accelerator|throttle|gas pedal position? sensor|assembly|unit?|module?, accelerator pedal,
    app|apps sensor?, pedal position? sensor, accelerator position sensor, electronic accelerator|throttle|gas
    pedal, gas pedal assembly|sensor
throttle_body: electronic? throttle body|assembly|valve|actuator|unit, etb, throttle plate|bore|blade, electronic
    throttle control? body|actuator|module|motor|assembly?, throttle body assembly, throttle control
    body|actuator|motor, etc body|motor
intake_manifold_gasket: inlet gasket, manifold inlet gasket, lower|upper? intake manifold? gasket|seal|oring set?,
    plenum gasket, intake plenum gasket|seal, gasket intake manifold?, inlet manifold gasket, intake manifold gasket
    set|kit, lower|upper intake gasket
turbocharger: turbo unit, turbo assembly?|unit?|charger?|cartridge?, turbo charger assembly?, supercharger turbo,
    chra
intercooler: charge|air air? cooler, aftercooler, after cooler, intercooler assembly?, inter cooler, cac, charge air
    cooler
charge_air_hose: charge|boost|turbo air? hose|pipe|boot|tube|duct, intercooler|turbo|charge inlet|outlet?
    hose|pipe|boot|tube|duct|coupler, cac|boost hose|pipe|boot|tube|coupler, charge air cooler hose|pipe|boot|tube,
    inter cooler hose|pipe|boot, intercooler hose|boot, charge air cooler boot|tube|hose|pipe, hot|cold side charge?
    pipe|boot|tube, turbo to intercooler hose|pipe|boot
air_filter: engine|air? air filter|element|cleaner element?, air filter element, air cleaner filter|element?, engine
    filter, air element, filter air, engine air cleaner
pcv_valve: pcv|ccv valve|system?|hose?|oil? breather?|filter?|separator?, crankcase vent|ventilation|breather
    valve|filter|separator|hose?, positive crankcase ventilation valve?, oil separator, crankcase breather, oil air
    separator, air oil separator, cyclone separator, engine breather valve, crankcase pressure valve
exhaust_manifold: exhaust manifold|header, header
exhaust_manifold_gasket: exhaust manifold gasket set?, exhaust manifold to head gasket, exhaust header gasket,
    header gasket, gasket exhaust manifold, manifold gasket exhaust
catalytic_converter: catalytic converter assembly?, cat converter?|con?, cats, front|rear|upstream|downstream
    catalytic? converter|cat, catcon
oxygen_sensor_upstream: lambda sensor pre cat?, upstream|front|primary|pre|upper oxygen|lambda|ho2s sensor?,
    upstream sensor, pre cat|catalyst|catalytic|converter oxygen? sensor, air fuel ratio? sensor, afr|wideband|af
    sensor, a / f ratio? sensor, oxygen sensor upstream|front|before|pre cat?|converter?|catalytic?, oxygen sensor
    b1s1|b2s1, b1s1|b2s1 oxygen? sensor?, air ratio sensor, air to fuel ratio? sensor, bank 1|2 sensor 1, oxygen
    sensor bank 1|2 sensor 1, oxygen bank 1|2 sensor 1, bank 1|2 sensor 1 oxygen sensor?, sensor 1 bank 1|2, wide
    band oxygen? sensor, bank 1|2 upstream oxygen? sensor, a/f sensor, oxygen sensor before|ahead|front the?
    catalytic? converter|cat, sensor before|ahead the? catalytic? converter|cat
oxygen_sensor_downstream: downstream|rear|secondary|post|lower oxygen|lambda|ho2s sensor?, downstream sensor,
    post|after cat|catalyst|catalytic|converter oxygen? sensor, oxygen sensor b1s2|b2s2, b1s2|b2s2 oxygen? sensor?,
    oxygen sensor downstream|rear|after|post cat?|converter?|catalytic?, bank 1|2 sensor 2, oxygen sensor bank 1|2
    sensor 2, oxygen bank 1|2 sensor 2, bank 1|2 sensor 2 oxygen sensor?, sensor 2 bank 1|2, cat|catalyst monitor
    sensor, catalyst monitoring sensor, bank 1|2 downstream oxygen? sensor, oxygen sensor after|behind|past the?
    catalytic? converter|cat, sensor after|behind|past the? catalytic? converter|cat
egr_valve: egr valve|solenoid?|assembly?, exhaust gas recirculation valve?, egr
egr_cooler: egr cooler assembly?, exhaust gas recirculation cooler, egr heat exchanger
particulate_filter: diesel? particulate|particle|soot filter|trap, dpf filter?, diesel exhaust filter, dpf,
    particulate trap
exhaust_temperature_sensor: exhaust gas? temperature sensor|probe|thermocouple, egt|egts sensor?|probe?, dpf
    temperature sensor|probe, exhaust gas temperature
nox_sensor: nox sensor?|module?, nitrogen|nitrous oxide sensor, upstream|downstream|inlet|outlet nox sensor?
diesel_exhaust_fluid: diesel exhaust fluid, def fluid?, urea solution?|fluid?, exhaust fluid
exhaust_pipe: front pipe, exhaust flexi, flexi pipe|joint|section?, exhaust flexi pipe|joint,
    exhaust|flex|down|tail|intermediate|mid|middle|cross|crossover|y|front|center|connecting|link pipe|tube, exhaust
    flex pipe|joint|section|coupling?, downpipe, tailpipe, exhaust front|rear|center|middle|intermediate|tail|flex|y
    pipe|section|tube, flex joint|section|coupling, exhaust section, exhaust crossover, exhaust
    flange|donut|clamp|bracket gasket?, exhaust leak repair, repair exhaust leak, midpipe, resonator pipe, exhaust
    tube|tubing, ypipe
muffler: centre|center|mid box, exhaust box, exhaust|rear|front muffler|silencer|box assembly?, muffler assembly?,
    silencer, exhaust rear box, back box
evap_purge_valve: purge flow valve, evap|evaporator|canister|vapor|evaporative purge valve|solenoid|control?|vsv?,
    purge valve|solenoid|vsv|control, purge control valve|solenoid, canister purge valve? solenoid?, evap canister
    purge valve|solenoid?, evap canister purge, vapor canister purge valve|solenoid?, evap solenoid, purge volume
    control? valve|solenoid, n80 valve
"""
)
"""Component, or two that one name stands for, to patterns."""
