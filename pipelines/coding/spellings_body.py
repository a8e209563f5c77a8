"""Other ways to name the components of restraints, climate and body. Common practice, no source.

How patterns are read is said in `word_table`. Full words: shorthand is settled before. What may name two components
stands in `half_named`.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SPELLINGS_BODY = listed(
    """
airbag_clock_spring: slip ring, airbag slip ring, steering slip ring, airbag|steering|srs? clock spring,
    clockspring, clock spring, spiral cable, airbag contact|coil|reel ring?, steering wheel clock? coil|spring, air
    bag clock spring, squib coil
airbag_module: airbag|srs control? module|unit|computer|controller|ecu, air bag control? module|unit|computer,
    restraint control? module, srs module, supplemental restraint module, sdm module, acm
seat_belt: belt pretensioner, seat belt stalk, front|rear|driver|passenger? seat belt
    buckle|retractor|assembly|latch|tensioner|pretensioner|receiver?|anchor?, belt retractor|buckle|pretensioner,
    seat belt retractor|buckle, safety belt, seat belt assembly
ac_compressor: ac compressor assembly?|kit?|unit?, compressor assembly?, ac pump
ac_compressor_clutch: ac? compressor clutch|hub|coil kit?|assembly?|pulley?|bearing?, ac clutch
    coil?|hub?|assembly?|pulley?|bearing?|relay?, clutch compressor, compressor clutch
ac_condenser: ac radiator, ac condenser assembly?|coil?, condenser assembly?, condenser core|coil
ac_evaporator: ac? evaporator core?|coil?|assembly?, evap core, evaporator, ac evap core?, evap coil
ac_expansion_valve: orifice tube, ac? expansion|thermal|block valve, txv, tx valve, thermal|thermostatic expansion
    valve, ac? orifice tube, orifice, expansion valve
ac_hose: discharge|suction line|hose|pipe, ac pipe, ac suction|discharge|liquid|high|low|pressure? side?
    hose|line|pipe|tube assembly?, ac manifold? hose assembly?, suction|discharge|refrigerant hose|line, refrigerant
    hose|line|pipe, high|low side ac? line|hose, ac hose|line|pipe|tube, liquid line, ac high|low pressure
    hose|line, suction and|& discharge line|hose
blower_motor: hvac|heater|ac|front|rear? blower motor? assembly?|fan?|wheel?, heater|cabin|interior|hvac fan motor?,
    blower fan motor?, fan blower motor?, heater blower motor?, squirrel cage fan?
blower_resistor: heater resistor pack?, heater fan? resistor, blower speed controller, blower|fan motor?
    resistor|speed pack|card|module?|control, blower|fan motor? resistor|control pack?|card?, blower speed?
    resistor|control|controller module?, blower motor control? resistor|module|controller|regulator, heater
    fan|blower? resistor, fan speed? resistor, blower motor speed? resistor|module|controller|control, resistor
    blower motor?, fan resistor, final stage resistor, blower module
heater_core: heater core assembly?, heater matrix
blend_door_actuator: blend|mode|temperature|recirc|recirculation|hvac|mix|temp|defrost door? actuator|motor, blend
    door motor|actuator?, hvac|climate|heater door? actuator|servo|flap, air mix|blend|temperature door?
    actuator|motor, temperature blend door? actuator|motor, mode door motor|actuator, air door actuator|motor,
    recirculation|recirc door motor|actuator, temp door actuator, flap motor|actuator, temperature door
    motor|actuator, hvac blend door actuator, ac|heater blend door actuator?|motor?, heater flap motor|actuator
cabin_air_filter: cabin|pollen|interior|hvac|microfilter air? filter|element, pollen, cabin filter element, ac
    filter, passenger compartment filter, cabin air, cabin element, micro filter, charcoal cabin? filter, cabin air
    element
door_lock_actuator: power|central|electric? door lock actuator|motor|solenoid|mechanism, power lock actuator|motor,
    lock actuator|motor|solenoid, door actuator, door lock actuator assembly?, door lock, central locking
    actuator|motor|solenoid, power door lock
door_latch: door latch|catch assembly?|mechanism?, latch assembly, door latch and lock actuator?|assembly, door lock
    latch, door latch lock assembly?
window_regulator: window winder, power|electric|manual? window regulator assembly?|cable?|mechanism?, window lift
    regulator|mechanism?, regulator window, window regulator and motor assembly, window crank mechanism, window
    track|mechanism, window off track, window fell, window mechanism, window lifter
window_motor: power|electric? window motor, window lift motor, motor window, window regulator motor
wiper_motor: windshield|front|rear? wiper motor|transmission?|assembly, windscreen wiper motor, motor wiper
wiper_blade: wiper blade pair|set?, wiper arm blade, front|rear|windshield? wiper blade|insert|refill|set, wiper
    blades, beam blade, wiper insert, windscreen wiper
"""
)
"""Component, or two that one name stands for, to patterns."""
