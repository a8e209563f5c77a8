"""Symptoms, places and readings that hold the name of a part and name none: "oil leak", "battery voltage".

Common practice, no source. Patterns are read as `word_table` says.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import phrases

NO_PART = phrases(
    """
cam|camshaft timing, glow plug light|lamp, access plug|hole|panel|cover, low coolant, valve timing, oil comes|come
from, exhaust leak, during|on|at|before|after|doing|since|next|last|every|this|while|your|for the? last|next? oil
change|service, tire machine|shop|store|place|guy|dealer, brake|body|muffler|transmission|glass shop, spare wheel,
oil soaked|soak|comes|come|from|all|dripping|got|stain|coming|going|blowing|foul|soaking|under|inside, seized bolt,
battery|system|charging|supply|low|reference|source? voltage|volts, battery
power|feed|drain|dead|light|warning|saver|went|died|state|voltage|draining|disconnect|disconnected|negative|and
ground, disconnect|disconnected|reconnect|reconnected battery, battery disconnected|reconnected, oil
pressure|level|leak|light|consumption|burning|smell|seep|life|lamp|warning|spots|drip|dripping|seepage|residue|everywhere|contamination|contaminated|soaked|fouled|leaks|loss|starvation|sludge|covered|in|on|pressure
light|usage|saturated|puddle|stain, engine oil leak|level|pressure|light|consumption|leaks, coolant
leak|level|loss|smell|temperature|light|temp|mixing|leaks|low|in|contamination|residue|pressure|leakage|puddle|concentration|consumption|seep,
engine
light|noise|runs|running|off|misfire|misfires|temperature|speed|rpm|idle|compartment|cold|warm|hot|cranks|stalls|knock|knocking|overheating|overheat|overheated|vibration|mounted|side|dies|codes|performance|shakes|stall|cut|start|ran|bay|temp|load|rattle|ticking|tick|oil
leak|coolant leak|shake|ping|power|hesitation|bucks|surges, check engine light|lamp?, check engine, service
engine|soon soon|light? light?, mil light?|lamp?|on?, cel, no|slow|long|hard|crank|extended crank|start|cranks no?
start?, crank no start, crank and no start, cranks slow|slowly|over|but|long|fine|and|engine, crank
over|time|engine|speed|test|relative, cranking|cranks, brake
pedal|noise|pulsation|pull|light|dust|system|feel|fade|job|squeal|grind|judder|vibration|lights|shudder|squeak|torque|warning|issue|performance|response|application|burnish|wear|feeling|bedding|assist|travel|pulsates|stopping|inspection|check|measurement|leak|fluid
leak|fluid level|bleed, brake fluid leak|level|low|contaminated|test|condition|leaking, fuel
pressure|leak|smell|odor|level|gauge|economy|mileage|trim|trims|system|consumption|delivery|supply|volume|in|cap
off|quality|starvation|cut|leaks|contamination|contaminated|door|pressure test|rail pressure|wash,
low|high|no|lost|loses|losing|good|checked fuel|oil|coolant|brake|steering|refrigerant pressure|level|volume,
steering
wheel|effort|feel|noise|play|pull|wander|vibration|heavy|stiff|shimmy|shake|light|warning|response|alignment|tight|binding|assist
light|system|loose|fluid leak, power steering leak|noise|fluid leak|fluid low|light|assist|whine|fluid
level|system|inop, transmission shop|slips|slipping|shifts|shudder|leak|fluid
leak|noise|temperature|code|codes|fault|shift|shifting|flare|fluid level|range|jerk|engagement|fluid
low|hesitation|dipstick|in|temp|slip|removal|problem|operation|cooling|harsh, clutch
pedal|slips|slipping|chatter|engagement|adjustment|feel|noise|shudder|slip|smell|travel|release|judder|pedal travel,
tire pressure|tread|wear|noise|light|pressures|depth|size|sidewall|wearing|pressure light|pressure
warning|rub|warranty|tread depth, suspension noise|clunk|system, exhaust
noise|smell|smoke|fumes|system|gas|note|rattle|odor|restriction|backpressure|side|gases|temperature|stroke|hanging|sound|smell,
ac
blows|blowing|not|warm|inop|inoperative|system|cold|performance|pressure|pressures|weak|noise|cools|works|button|leak|works|vent|vents|on|off|working|cooling|air|temperature|output|intermittent,
door
ajar|open|opens|closed|stuck|closes|shut|rattle|won|will|wont|alarm|dings|off|on|lights|window|side|card|not|jammed|panel
removed?, wheel well|vibration|noise|shake|removed|wobble|off|on|shimmy|area|hum|play,
remove|removed|removing|pull|pulled|off wheel, wheel off|removed, window
down|stuck|up|won|will|fell|not|off|goes|drops|inop|inoperative|opens|side|slow, charging
voltage|rate|output|circuit|light, cooling system|fan runs|fan on, ignition
on|off|key|timing|system|switched|voltage|cycle|circuit|misfire, timing
marks|mark|off|jumped|correct|correlation|chain noise|advance|chain rattle|specs|code|codes|on|retarded, compression
low|loss|test|good|even|on|in|zero|leak|reading|readings|check|results, valve adjustment|adjust|clearance|lash|train
noise|train|job|noise|tick, valvetrain noise, misfire cylinder|on|code|codes|count|counts, cylinder
misfire|misfires|misfiring|dead|balance|leakdown|power|low|contribution|leakage|deactivation|compression|wall|walls|cold|number|no|not|id,
light on|flashing|off|came|comes|is|stays|goes|illuminated|went|flicker|flickers|flickering|flashes,
warning|indicator light|lamp|message, dash light|lights|noise|rattle|lit,
abs|airbag|srs|battery|oil|tpms|brake|traction|stability|engine|charge|temperature|epc|service|maintenance|check|glow|dpf|def|trac|esc|temp|coolant|transmission|security|esp|charging|steering|emission|mil
light|lamp|warning light?|lamp?|on?|came?|message?, abs
system|activates|activation|active|fault|code|codes|kicks|warning, srs|airbag fault|code|codes|warning, airbag
light|lamp|warning|code|codes, tpms light|warning|on|fault|lamp|code, dpf full|regen|clogged
light|light|fault|soot|load|codes|code|regeneration|efficiency|warning, egr
flow|code|fault|codes|system|passages|passage|position|port|ports|insufficient, evap
system|leak|code|codes|fault|smoke|test|monitor|large|small|gross|emissions, nox efficiency|codes|code|fault|levels,
o2 codes|code, oxygen content|heater circuit?, maf code|codes|reading|readings|value|data|voltage|out, map
reading|readings|value|data, def level|low|light|quality|warning|system|fault|countdown, turbo
lag|boost|noise|whistle|underboost|overboost|whine|spool|pressure, boost leak|pressure|low|test|code, intake
side|valves dirty|valves carboned|leak|noise|air leak|smoke|stroke|ports, camshaft|cam timing|correlation|crank
correlation|lobe|lobes|crank|phasing|and crank correlation|crankshaft correlation, crankshaft|crank camshaft|cam
correlation, radiator area|support panel|core support, fan
runs|on|off|speed|speeds|inop|inoperative|noise|always|stays|not, heater
inop|not|works|output|cold|blows|working|circuit, blower speeds|speed|on|works|setting|only|fan noise, horn works,
mirror works, spring clip, in spring|summer|winter, power lost|loss|supply|feed|output|steering
feels|drops|to|at|low|balance, lack|loss|lacks|no|low of? power, pump
noise|runs|running|pressure|output|whine|works|prime|primes, no pump, hose clamp|off|connection|popped, belt
squeal|noise|off|came|slip|slipping|dust|routing|squeals|squealing noise|squeak|dressing|chirp, gear
shift|selector|oil leak|noise|reverse|whine, key on|off|stuck|in, master tech|technician, head
tech|on|to|over|studs|surface|space|restraint, rack vehicle|car|on|time|it, on the? rack|lift|hoist, lift
vehicle|car|and, raised vehicle, stud broken?, front end
noise|clunk|vibration|loose|inspection|wanders|shimmy|shake|popping|parts|work|rattle|check|wander|wobble|damage,
front end, right hand side, seat position|adjust, line pressure, wire found, power train, drive cycle|cycles|belt
noise|belt squeal|ability|train|quality|mode, test drive cycle, hard start, drum of oil, ring noise, rotor turns,
plug connector|in|unplugged, unplug, plugged in, coil test|swap, swap coil test, rear end
noise|whine|clunk|damage|sag|sags|sagging, spring loaded, part number, service
manual|information|data|bulletin|history|procedure|advisor|writer, technical service bulletin, motor noise
"""
)
"""Passed over when parts are looked for; troubles in them are still heard."""
