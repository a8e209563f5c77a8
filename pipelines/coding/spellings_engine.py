"""Other ways to name the components of the engine itself. Common practice, no source.

How patterns are read is said in `word_table`. Full words: shorthand is settled before. What may name two components
stands in `half_named`.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SPELLINGS_ENGINE = listed(
    """
engine_long_block: long block assembly?, engine assembly, crate|replacement|exchange engine, complete engine, engine
    replacement|swap|exchange, reman|remanufactured|rebuilt|used engine assembly?, exchange|crate engine
cylinder_head: cylinder head assembly?, head assembly, bare head
head_gasket: cylinder? head gasket set?|kit?, gasket cylinder? head, head|culasse joint
piston: piston assembly?
piston_rings: piston|compression|oil ring set?, ring set, rings
rod_bearing: connecting|con? rod bearing set?|shell?, big end bearing|shell, rod bearing insert|shell
main_bearing: crankshaft? main bearing set?|shell?, mains
crankshaft: crankshaft
crankshaft_rear_seal: rear main oil? seal, rear main, rear crankshaft|crank oil? seal, crankshaft|crank rear oil?
    seal, crankshaft|crank seal rear, main seal rear, rear engine oil? seal, rear main engine? oil? seal
crankshaft_pulley: bottom pulley, crank bottom pulley, crankshaft|crank pulley|damper|balancer, harmonic
    balancer|damper|pulley, balancer, crank balancer, torsional|vibration damper|balancer, harmonic
timing_belt: timing|camshaft|cam belt, cambelt
timing_belt_tensioner: cambelt tensioner, timing tensioner, timing belt roller, tension roller, timing|camshaft|cam
    belt tensioner|tension pulley?|assembly?, timing belt hydraulic tensioner, hydraulic timing belt tensioner,
    timing belt tensioning pulley, timing belt tension pulley
timing_chain: timing|camshaft|cam chain kit?|set?
timing_chain_tensioner: timing|cam? chain tensioner, chain tensioner, hydraulic chain tensioner
engine_mount: engine|motor mount|insulator|support, hydraulic engine|motor mount, engine mount insulator, engine
    support mount, engine torque mount, torque mount, dog bone mount?, dogbone mount?
drive_belt: auxiliary belt, fan belt, accessory? drive belt, serpentine drive? belt, serpentine,
    fan|alternator|generator belt, v belt, vbelt, accessory belt, ac belt, power steering pump? belt, poly v? belt,
    multi|micro rib|v belt, ribbed belt, ac compressor belt, multirib belt, v ribbed belt, poly rib belt, engine
    drive? belt, water pump belt, alternator drive belt, drive belts, squealing|squeaky|squeaking belt, belt
    serpentine
drive_belt_tensioner: accessory? drive belt tensioner pulley|arm?, alternator|fan|accessory|serpentine belt?
    tensioner arm|pulley, serpentine belt? tensioner pulley?, accessory|fan|alternator belt? tensioner,
    automatic|auto|spring belt tensioner, drive tensioner, alternator belt tensioner, v belt tensioner, belt
    tensioner drive|serpentine|accessory
idler_pulley: drive|serpentine|accessory? belt? idler pulley, idler pulley bearing?, belt idler, serpentine idler,
    drive belt idler, guide|deflection|idle pulley, smooth|grooved idler pulley?, accessory idler, smooth|grooved
    pulley, serpentine belt idler, idler wheel, accessory belt idler
exhaust_valve: exhaust valve
intake_valve: intake valve
valve_guide: exhaust|intake? valve guide
valve_seat: exhaust|intake? valve seat insert?|ring?, seat insert, exhaust|intake seat
valve_spring: exhaust|intake? valve spring, broken valve spring
valve_stem_seal: exhaust|intake? valve stem oil? seal, exhaust|intake? valve guide|oil? seal, stem seal, valve guide
    seal
valve_lifter: hydraulic|roller|valve? lifter, hydraulic? tappet, valve|hydraulic tappet, hydraulic? lash|valve
    adjuster, valve lash adjuster, hla, lash adjuster, lifters
rocker_arm: rocker, roller|finger|cam|camshaft follower, rocker arm assembly?, roller|valve rocker arm?
pushrod: push rod, pushrod
camshaft: camshaft, intake|exhaust camshaft
camshaft_phaser: camshaft|cam phaser|adjuster, vvt|cvvt gear|phaser|actuator|sprocket|pulley, variable valve timing
    gear|phaser|actuator|sprocket, phaser, camshaft|cam timing? gear|actuator|sprocket, vvt cam|camshaft
    gear|phaser, cam phaser gear
camshaft_timing_solenoid: vvt oil valve, oil control solenoid, vvt|cvvt|vct oil? control? solenoid|valve,
    camshaft|cam timing|phaser|actuator|adjuster|control|position solenoid|valve, camshaft|cam timing oil control
    solenoid|valve, oil control valve|solenoid, variable valve timing solenoid|valve, variable cam|camshaft timing
    solenoid|valve, camshaft|cam solenoid, vvt control solenoid|valve, vvt oil control solenoid|valve, camshaft
    position actuator solenoid|magnet, vanos solenoid, variable valve timing oil? control? solenoid, vvt, cam timing
    control solenoid
valve_cover_gasket: rocker gasket, cam cover gasket, valve|rocker|cam|camshaft|tappet cover gasket|seal set?|kit?,
    valve cover seal|reseal|leak, reseal the? valve cover, rocker box gasket, joint of cover of valve, rocker|valve
    cover joint, valve cover grommet, gasket valve|rocker|cam cover, rocker arm cover gasket, valve cover gasket and
    grommet, valve|rocker cover gasket and grommet|tube|seal, spark plug tube seal
engine_oil: engine|motor oil change|service?, oil change, synthetic? oil service|change, oil drain and|&
    fill|refill, synthetic|semi|conventional|full oil change?, synthetic blend oil?, full synthetic oil?, quarts?
    oil, qts oil
engine_oil+oil_filter: lube oil filter, oil filter change|service, oil and|& filter change|service?, oil change
    and|& filter, oil filter lube, engine oil and|& filter change|service?, lube oil and|& filter service|change?,
    oil lube filter, oil / filter change|service?, oil and|& oil filter change|service?, oil filter and|& oil
    change|service?, filter and|& oil change|service?, oil change with filter, oil and|& filter due
timing_belt+timing_belt_tensioner: timing|camshaft|cam belt kit|set, cambelt kit
oil_filter: engine? oil filter element?|cartridge?, spin on filter, cartridge filter
oil_pump: engine? oil pump
oil_cooler: engine? oil cooler assembly?
oil_pan_gasket: engine? oil pan gasket|seal, sump gasket|seal, engine? oil pan sealant|rtv|silicone, oil sump
    gasket|seal, gasket oil pan, oil pan leak, oil pan reseal, reseal the? oil pan, reseal the? sump, sump joint,
    lower oil pan gasket, upper oil pan gasket
oil_drain_thread: oversize|oversized plug, oil? drain|sump plug|hole thread|helicoil|insert|timesert, stripped
    oil? drain|sump plug|hole|thread, oil? pan|sump thread|helicoil, drain thread, oil? drain plug hole?
    stripped, oil drain plug repair? insert|thread|helicoil, drain plug oversize|oversized, oversize|oversized
    drain plug, oil drain|pan threads, drain hole thread, oil? drain plug thread repair, oil pan drain
    thread|plug|hole thread|stripped, pan thread|threads
oil_filter_housing_gasket: oil filter housing|adapter|stand|mount gasket|seal|oring, filter housing gasket|seal, oil
    filter adapter plate? gasket|seal, oil filter housing adapter? gasket|seal|oring set?, oil cooler gasket|seal,
    oil filter flange gasket|seal, oil housing gasket
oil_pressure_sensor: oil light switch, oil sensor, engine? oil pressure sensor|switch|sender|sending|transducer
    unit?, oil sender|sending unit?, oil pressure sending unit|switch, oil switch, oil press sw
"""
)
"""Component, or two that one name stands for, to patterns."""
