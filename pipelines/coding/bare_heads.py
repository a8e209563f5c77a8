"""Nouns that name a part only with another word, and words that leave a name what it is. Common practice, no source."""

from __future__ import annotations

from longmile.pipelines.coding.word_table import word_set

BARE_HEADS = word_set(
    """
absorber actuator adapter arm assembly bag bar bearing belt blade block board body bolt booster boot bottle bracket
brush bulb bushing cable cap chain clamp clip collector column component computer connector controller converter
cooler core coupler coupling cover cup cylinder damper disc drum duct fan filter fitting flange fluid fork fuse
gasket gear gearbox glass grommet guard guide handle harness head hinge holder hose housing hub idler injector
insert insulator isolator joint key knob lens lever light line link linkage lock manifold meter module motor mount
nozzle nut oil oring pad pan panel pedal pigtail pin pipe piston plate plug port probe pulley pump rail regulator
relay reservoir resistor retainer ring rod roller rotor screen screw seal seat sender sensor shaft shield shim shoe
sleeve socket solenoid spacer spring sprocket strainer strap stud support switch tank tensioner thread timer
transmission trim tube valve washer wire wiring yoke
"""
)
"""Nouns that need another word before them."""

FILLERS = word_set(
    """
aftermarket assembly ceramic complete duty ea each genuine heavy kit new oem original pair part pc pcs premium
quality rebuilt reman remanufactured repair replacement service set unit used
"""
)
"""Words within or behind a part's name that leave it what it is."""
