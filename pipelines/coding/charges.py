"""Charges and services that concern no component: supplies, fees, diagnosis only, alignment, washing.

Common practice, no source. Patterns are read as `word_table` says.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import phrases

CHARGES = phrases(
    """
wheel? tracking, geometry, wheel geometry, screenwash, shop
supply|supplies|material|materials|charge|fee|rag|rags|fees|sup, supply|supplies, shop materials and supplies,
environmental|enviro|env|epa|hazardous|hazmat|haz|waste|disposal
fee|charge|surcharge|recovery|disposal|compliance|mat|materials|levy?, hazardous waste|material
disposal|fee|removal?, waste|tire|oil|fluid|battery|coolant|antifreeze disposal|recycling|recycle fee|charge?,
disposal, disposal fee, recycling fee, environmental, freight, freight in charge?, shipping|handling|delivery
charge|fee|and?|handling?, shipping, core charge|deposit|return|credit|refund?|exchange, battery core
charge|deposit|return|credit?, core, tow|towing bill|charge|fee|in|service|to|sublet?, tow, towed, sublet
tow|towing|alignment|machine|glass|detail|key|body|paint, sublet, labor charge|adjustment|discount|credit?,
misc|miscellaneous|sundry|sundries charge|fee|parts|hardware|supplies|labor?, miscellaneous, sundries, discount,
coupon, senior|military|fleet|loyalty discount, credit, tax, state tax|fee,
late|storage|admin|administration|document|documentation|processing|service|convenience|card|filing|handling|pickup|after
fee|charge, storage, rental car?|vehicle?, loaner car?|vehicle?, rental, shuttle, deposit, warranty|guarantee
fee|plan|claim|deductible?, deductible, card fee|surcharge, credit card fee|surcharge, parts? locating|warranty
fee|charge, rush fee, fuel surcharge, travel|trip|mobile|call|callout|road time|charge|call|fee|service, service
call, roadside assistance?, diagnostic|diagnosis|diagnose
charge|fee|time|labor|scan|test|service|inspection|check|level|evaluation|work|hour|analysis|testing|code?|codes|trouble?,
diagnosis, diagnostic, diagnostics, initial diagnosis|diagnostic,
engine|check|electrical|driveability|light|noise|abs|leak|brake|basic|advanced|level
diagnosis|diagnostic|diagnostics|diag,
electrical|electric|brake|ac|transmission|suspension|cooling|fuel|starting|charging|steering|exhaust|engine|emissions|evap|drivability|driveability|noise|leak|vibration|hvac
system? diagnosis|diagnostic|diagnostics|check|test|evaluation|inspection, scan
tool?|codes|for|vehicle|computer|system|all|modules|test?|module|check, computer|code|codes|obd|system|module
scan|read|check|pull|diagnosis|diagnostic, scan, code scan|read|pull|check, read|pull|check|clear code|codes,
retrieve code|codes|faults, pinpoint test, troubleshoot, troubleshooting, smoke test, evap|intake smoke test,
state|safety|emission|emissions|annual|dot|smog|government|vehicle|courtesy|multi|digital|multipoint|visual|point|pre|purchase|used|trip|complimentary|road|seasonal|brake|health|full|general|free|winter|summer|spring|fall|prepurchase|initial|complete|insurance|road
worthy|mot|periodic|roadworthy|vehicle|check|car
inspection|test|check|safety|emissions|certificate|sticker|over|checkup?, inspection, inspection
fee|sticker|certificate|report|only|state|safety|courtesy, multi|27|30|50|100|point point|inspection|check
inspection?|check, safety|emissions and|& emissions|safety inspection, vehicle health check|report, smog, emissions
test|testing|inspection, courtesy check, dvi, mpi, wheel|four|two|4|2|front|rear|end|thrust wheel? alignment,
alignment, align, 4 wheel alignment, 2 wheel alignment, front end alignment, thrust angle alignment, alignment
check, alignment check and adjust, check|set|adjust toe|camber|caster|alignment, camber|caster|toe
adjustment|adjust?, tire rotation, rotation, rotate tire, rotate, tire
balance|balancing|rotate|repair|mount|mounting|dismount|changeover|swap|storage|patch|pressure|inflate|tread|siping|disposal|chains|shine|wear|rotation|plug,
rotate and balance tire?, balance tire|wheel, wheel balance|balancing, mount and balance|balancing
tire|new|four|4|2|wheels?, mount balance, mounting and balancing, balance, balancing, tire rotate|rotation and
balance|balancing?, flat repair, patch tire, plug tire, plugged|patched tire, repair tire, tire repaired, snow tire
changeover|swap, winter|summer tire|wheel changeover|swap|change|storage?, seasonal tire changeover|swap|change,
road force balance?, nitrogen fill?, tpms reset|relearn|program, wheel torque|retorque, retorque wheel|lug nut?,
torque wheel|lug nut|check, re torque wheel|lug nut?, car|vehicle|exterior|interior|hand|courtesy|complimentary
wash|detail|clean|cleaning|vacuum|and|detailing|polish|valet, car wash, wash, detail, full detail, wash and
vacuum|wax, interior cleaning|clean, clean interior|vehicle|engine bay, wax, polish, engine shampoo|degrease, steam
clean engine?, valet, ozone treatment, fabric protection, fogger, odor treatment, decontamination, road test, test
drive, test drove, quality control|check|inspection, qc, final inspection, reset
service|oil|maintenance|light|reminder light|reminder|interval?, oil|service|maintenance
light|reminder|monitor|life|minder reset, reset|clear light|codes|mil|reminder, key
programming|cut|cutting|cutter|made|duplicate|copy|program|blade, program key|remote|fob|new, lockout service?, jump
start service?, jump, parasitic draw test|diagnosis|check?|diag, leak down test, leakdown test, compression test,
cooling system pressure test|check, pressure test cooling|coolant|radiator? system?, coolant pressure test, dye
test, uv dye, block test, estimate, estimate only, quote, second opinion, no
repair|work|charge|fault|problem|trouble performed|done|required|needed|found?, consultation, teardown
fee|labor|inspection?, advice, test drive only, software|programming|reprogramming|flash|update
update|only|fee|charge|service, software update, towing, additive|treatment
fuel|oil|system|engine|ac|coolant|bottle?, fuel additive|treatment|stabilizer|system cleaner|cleaner|injection
service|system service|induction service|system cleaning|injection cleaning, fuel system
service|cleaning|clean|treatment|cleaner, induction service|cleaning|clean|system service?, injector cleaner, fuel
injection service|cleaner, carbon clean|cleaning, decarbon|decarbonize|decarbonise|engine service?, motor|engine
flush|cleaner|treatment, engine flush service, tune up, tuneup, brake cleaner|clean|lube|lubricant|grease|parts
cleaner|quiet, parts cleaner, cleaner, penetrating oil|fluid|lube, rtv|silicone sealant|gasket|maker?, gasket maker,
sealant, threadlock, thread|anti lock|locker|sealer|seize, grease, dielectric grease, lube chassis, chassis
lube|lubrication|grease, lubricate chassis|doors|hinges|door hinges|suspension, lube hinge|door|locks, zip tie, shop
towels, gloves, rags, nuts|bolts and bolts|nuts|screws|hardware|washers, hardware, clip, fastener, bolt, screw,
washer, electrical tape, wire ties, tape, connectors terminals, heat shrink, miles|scheduled|major|minor|mileage
service|maintenance|interval|maint, <miles> service|maintenance|interval|inspection|tune, factory scheduled?
service|maintenance, scheduled maintenance|service,
annual|yearly|minor|major|intermediate|full|basic|interim|routine|a|b|periodic service|maintenance, maintenance
service, winterize, washer fluid, top off fluids?, top up fluids?, check|top|fill|topped|set all? fluids|fluid
levels|tire pressure|pressures|levels, fluids
"""
)
"""What a line charges for where it is about no component."""
