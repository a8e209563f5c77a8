"""Words that tell why work was done, by reason, in base forms of one to five words. Common practice, no source.

`failed`, `worn` and `aged` are told of a part (`aged`: worn for belts, hoses, tires and the like, failed for others);
the others are told of the job; `nothing` are words that hold one of these and say nothing.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed, phrases, word_set

TROUBLE = listed(
    """
failed: only work, work only, work sometimes, wobble, lose power, lose pressure, lose coolant, lose prime, lose
    charge, low, lo, high, hi, cel, ses, eml, check engine, engine light, service engine, diode out, light out,
    lamp out, beam out, bulb out, side out, nail, hole, in limp, no cont, flat, gap, scrn plug, smoke, smoked,
    water, limp mode, drip, catch fire, jumping, silly, conductance, cavity, went down, go to the floor, to the
    floor, wipe out, no movement, only click, click only, threw, throw, leak off, u / s, circuit, no longer, not
    pmpg, ghost, cuts out, cut out, set off, fail, failure, burnt, burn, burn out, burn up, leak, leakage,
    leaky, seep, weep, seize, freeze, chip, kick, catch, shot, gone, go, stop, melt, wet, porous, arcing, dead
    spot, scored, crooked, no help, not spray, buzz, bang, howl, drone, tick, ticking, cook, imbalance, off
    track, out of place, out from place, chunk missing, retard, stutter, buck, surge, shred, u/s, unserviceable,
    water in, oil in, not pump, no push, kaput, silly reading, wrong reading, goofy, no respond, judder,
    hunting, down on power, sends wrong, fire, no temperature, low output, warranty, under warranty, shear, trip
    code, set code, p0, blister, bypassing, lame, lock up, locked up, break, broken, stick, sticky, hang up,
    jam, bind, short, short out, open circuit, open, no signal, no output, no pressure, no power to, dead,
    defective, faulty, fault, bad, inoperative, inop, not work, no work, quit, stop work, blow, blown, burst,
    rupture, snap, bend, tear, rip, split, separate, come apart, fall off, fall apart, strip, cross thread,
    shatter, puncture, pinhole, rub through, chafe, chew, rodent, corrode, corrosion, rot, rotten, rot out,
    warp, arc, misfire, carbon track, foul, oil soak, contaminate, full of water, blocked, restrict, collapse,
    sink, overheat, knock, spin, spun, throw rod, bypass, cavitate, hum, growl, roar, whine, grind, rumble,
    noisy, noise, rattle, clunk, squeak, click, chirp, pop, hiss, whistle, scream, chatter, shudder, vibrate,
    vibration, shake, shimmy, pulsate, pulsation, slip, intermittent, erratic, drop out, out of range, out of
    spec, out of tolerance, implausible, reads out, no comm, no communication, lose comm, lost communication,
    overcharge, undercharge, not charge, no charge output, not hold charge, drain overnight, not hold, not cool,
    not blow, not engage, not retract, not latch, not lock, not open, not close, not move, not turn, not
    respond, not seal, not release, not return, not start, no start, no crank, no spark, stall, blows warm, run
    hot, run cold, stuck open, stuck closed, stuck shut, sluggish, slow, lazy, delaminate, bleed down, leak
    down, leak internally, internal fault, internal short, internally fail, high resistance, low resistance, low
    compression, no compression, unsealed, loose connection, disconnect itself, come off, come loose, pop off,
    blow off, break off, missing, steal, stolen, damage, damaged, impact, dent, crush, pinch, kink, punctured,
    frozen, mushy, spongy, sinks, drag, pull, drift, wander, smell, stink, burning, ground out, go bad, went
    out, go out, give out, trouble, malfunction, incorrect, wrong, bad ground, no ground, no feed, code, light
    on, lamp on, flicker, flash, fail test, failed test, test bad, not pass, over boost, under boost,
    underboost, overboost, hunt, hesitate, hesitation, lack power, low power, no power, poor, excessive,
    efficiency below, below threshold, efficiency, insufficient flow, insufficient, low flow, jerk, flare, hard
    shift, harsh, no reverse, slipping, not shift, metal in, shavings, glitter, debris, stretch out, jump, jump
    time, out of time, die, died, no cold, drain clog, water leak, sludge, milky, mixed, pressurize, combustion
    gas, white smoke, blue smoke, black smoke, stuffed, twist, deform, distort, gouge, unplug itself, sever,
    cut, detach, disintegrate, crumble, come out, ping, knocking, loud, howling, grinding, stiff, hard, heavy,
    lean, rich, dim, limp, no boost, flooded, drop, droop, scrape, peel, backfire, tak, exhaust leak, not
    adjust, run rough, rough, rough idle, soot, carbon, carbon deposit, deposit, carbon up, dirty sensor,
    uneven, unstable, not fire, dead miss, miss, skip, no air, seepage, snapped, sheared, hot spot, hotspot
aged: crack, swell, soft, bulge, bulging, dry, dry out, brittle, perish, harden, weak, rust, pit, squeal, bounce,
    bouncy, clog, plugged, plug up, sag, sagging, slick, rib crack, chunk, dirty, full of leaf, solid
worn: wear, worn, worn out, wear out, wore out, wore, thin, low tread, bald, cord, metal to metal, below spec, below
    minimum, under spec, under minimum, at minimum, under limit, below limit, play, free play, excessive play,
    sloppy, slop, loose, looseness, stretch, glaze, score, groove, lip, dry rot, dryrot, cup, feather, to the rivet,
    down to, to the backing, to the wear, wear bar, wear indicator, end of life, deteriorate, fray, age crack, old
    and crack, finish, used up, run out of life, high mile wear, past service, dark, degrade, varnish, burnt fluid,
    tired, streak, smear, chatter across, past limit, limit, weather crack, minimum thickness, end of service
found_at_inspection: upon inspection, inspection, dot inspect, brake inspect, state inspect, safety inspect, wheel
    brake inspect, annual inspect, courtesy inspect, pre trip inspect, notice on, find on, note on, see on, while do
    oil change, service check, health check, advise at, advisory at, fail state, fail mot, fail inspection, find
    during inspection, find on inspection, find at inspection, during inspection, on inspection, at inspection,
    inspection find, inspection reveal, inspection show, courtesy check, courtesy inspection, multi point,
    multipoint, mpi, dvi, mot, mot advisory, advisory, safety inspection, state inspection, dot inspection, annual
    inspection, while inspect, notice while, notice during, see during, noted during, note during, note while, find
    while, during service find, discover during, discover while, spotted during, spot while, during oil change,
    during the oil change, while rotate tire, during rotation, during pm, on pm, pm inspection, at service find,
    while check, pre purchase, prepurchase, routine check, pretrip, pre trip inspection, trip inspection, pmi, find
    when
preventive: go tow, per interval, at interval, be original, <miles> pm, pm at <miles>, pm service, pm b due,
    scheduled pm, at <miles> per, while at it, while we be at it, while there, while in, since it be apart, since we
    be there, while pan off, while out, while engine out, in there, precautionary measure, age, by the book, because
    the new, the new clutch need it, part of the service, kilometer, book say, too old, old and due, preventive,
    preventative, preventively, precaution, precautionary, as precaution, due, due at, due by, due on, due for, per
    schedule, schedule, scheduled, scheduled maintenance, maintenance, interval, service interval, by mileage, by
    age, due to age, <miles> service, at <miles>, @ <miles>, recommended interval, per maintenance, routine service,
    routine maintenance, major service, minor service, interim service, full service, annual service, pm a, pm b,
    pm-b, while in there, while we be there, while in area, while apart, while it be apart, while engine be apart,
    as long as, since apart, good practice, before winter, ahead of, prevent, before fail, insurance, overdue, over
    due, factory schedule, per manual, as the book say, time for, per age, year old, because old, at the same time
    as precaution, timed out, service due, for safety, proactive, proactively, because age, on age, on mileage,
    milestone, upcoming trip, seasonal
nothing: no change, noise gone, no more noise, noise be gone, no longer noise, due to, next pm, next due, want to
    wait, want to leave, want other, customer want other, customer want to wait, customer want to leave, customer
    authorize, no charge, warranty period, low side, high side, hi side, low beam, high beam, low mile, low mileage,
    want estimate, get second opinion, customer request second opinion, request second opinion, no part, per
    procedure
access: for access, for clearance, had to be remove, have to come off, need to come off, disturb, damage during
    removal, break during removal, one time use, one-time use, single use, torque to yield, tty, not reusable, non
    reusable, because of removal, part of the job, require for job, because it come off, when remove, break on
    removal, opened for, seal not reusable
recall: recall, campaign, safety recall, service campaign, field action, recall notice, under recall, manufacturer
    campaign, technical campaign, field campaign, tsb campaign, service action
customer_request: customer require, customer part, customer bring, customer supply, customer has supply, customer
    have supply, customer want new, customer want done, want done, want replace, customer want the, customer want
    all, customer want it, customer wish, at customer wish, for customer trip, customer request, per customer, per
    customer request, at customer request, customer own request, request by customer, owner request, own request, at
    owner request, request, customer ask, customer own, cust want, want new, by request, owner want, driver request,
    she want, he want, customer prefer, customer elect, customer would like, ask for, ask to, ask us, all she want,
    per owner, customer choice, customer insist, owner ask, client ask, client want, upgrade, per cust, customer
    desire, requested, on request, customer decide, bring own, bring his own
"""
)
"""Reason to words."""

SOUND = phrases(
    """
nothing be find wrong, nothing find wrong, nothing was find wrong, in one piece, spin free, spins free, hold steady,
quiet, no crack, no cracks, charge at, charges at, look normal, have good, good resistance, work, works, operate,
snug, no sign of, nothing find, in good order, good order, still good, look ok, look fine, check out, checks out, no
abnormality, no defect find, no movement felt, within its, no excessive play, no excessive, plenty of, at 14, even,
in range, in rng, no problem at all, no further, not the cause, not at fault, not guilty, cleared, free of, ok,
okay, good, fine, within spec, in spec, within limit, pass, passed, normal, sound, no problem, no problem find, npf,
no issue, no fault, no leak, no play, no noise, no wear, not leak, not worn, within range, like new, serviceable,
satisfactory, all good, look good, check good, test good, test ok, check ok, no concern, no repair need, no repair,
intact, tight, no damage, no draw, no code, within tolerance, no need, acceptable, no defect, neg, no abnormal, to
spec, holding pressure, hold pressure, no trouble, operational, working properly, work properly, work fine, no fault
find, nff, ntf, no trouble find, within, at spec, healthy, charge fine, no evidence, nothing wrong, not need, could
not duplicate, cannot duplicate, unable to duplicate
"""
)
"""Words that say a part is as it should be."""

NOT_INFLECTED = word_set(
    """
    track tight good fine normal sound dead bad faulty noisy loose thin bald sloppy hard soft weak slow lazy dry
    dirty dark heavy stiff brittle rough warm hot cold loud rich lean dim poor high low open short ok okay
    within pass range like new intact negative healthy wrong missing frozen broken worn burnt torn blown shot
    gone old age year own due pair past minimum spec leaky sticky mushy spongy erratic intermittent defective
    inoperative inop excessive insufficient implausible uneven unstable milky signal output charge crank spark
    heat power
    """
)
"""Words of trouble that have no other forms."""

NEGATIONS = word_set("no not never without none nor neither unable")
MODALS = word_set("need require should must will would could may might going due")
