"""Verbs of repair orders and what each says was done, in base forms. Common practice, no source.

`fluid`: a fluid changed, or, said of another part, nothing; `tuned`: set anew after other work; `offered`: recommended
or quoted; `removed`: came off or went back; `found`: only seen; `none`: known, and nothing that was done to a part.
"""

from __future__ import annotations

from collections.abc import Mapping

from longmile.pipelines.coding.word_table import listed

VERBS = listed(
    """
replaced: replace install fit change renew swap exchange substitute rnr upgrade redo r/r do supply provide sell
fluid: flush refill drain fill bleed evacuate
repaired: tighten retighten snug repair fix rebuild overhaul reseal resurface machine weld braze solder patch splice
    rewire recore skim lap regrind grind hone recondition straighten helicoil reattach secure refasten resecure
    reglue glue epoxy reterminate repin extract reprogram reflash reprogramme program flash update free lube
    lubricate grease reseat reconnect insulate reroute hang rehang tape unseize
tuned: align calibrate recalibrate relearn reset
adjusted: adjust retension regulate shim tension readjust
cleaned: clean decarbon decarbonize decoke unclog clear wash wipe regen regenerate scrub degrease rinse unblock
    purge
inspected: torque retorque recharge inspect check test examine verify measure diagnose monitor look scope scan
    recheck watch trace confirm investigate evaluate assess
declined: decline refuse defer postpone
offered: recommend quote advise suggest order
machined: turn cut
none: balance rotate mount scan tow wash jump charge align program replenish price call drive park start work run
    move approve authorize ok
removed: remove rni disconnect drop unbolt disassemble dismantle pull reinstall refit reuse
found: find notice show see hear note reveal report complain state say
""",
    apart=None,
)
"""What was done, to base forms."""

VERB_PHRASES = listed(
    """
found: trace to, turn out to be, due to, come from, isolate to, see, state
replaced: put in, put on, put new, put a, put an, put other, put head, new one, make up, make new, press in, fit
    new, mount new, mount, take care of, renew, replacement
removed: put back, put it back, take out, take off, took off, took out, come off, came off, came out, come out, pull
    out, back in, back on, put together
repaired: put oil, send, make right, overhaul, work on, hang up, hang it, hang back
go: go ahead
cleaned: clean out, blow out, wipe down
topped: top off, topped off, top up, topped up, add
declined: no thank, so no, customer wait, not interest, put off, do them next, do it next, say no, said no, not
    approve, not authorize, not want, no want, no approval, no authorization, not interested, think about it, next
    payday, wants to wait, want to wait, will wait, hold off, leave it, leave for now, another time, not today, pass
    on, shop around, get back to us, do later, does later
nothing: will return, set of, ground, code
not_done: nothing do, nothing done, no repair, not repair, not do
later: do next, at this time, next time, next visit, next service, next oil change, later, soon, in future
offered: quote give
inspected: look at, look over, looked over, keep an eye, mic, micd, inspection
carried: carry out, carried out
new: reman, new, rebuilt, used
rnr: r/r, rnr
needed: need, require, should, due for, must
got: get
put: put
set: set
"""
)
"""What was done, to several words or words of two meanings; `nothing`: they say nothing."""

IRREGULAR: Mapping[str, str] = {
    form: base
    for base, forms in listed(
        """
break: broke brokn
tear: tore torn
bend: bent
freeze: frozen
blow: blew
wear: wore
lose: lost
spin: spun
sink: sank sunk
swell: swollen
steal: stolen
fit: mounted fitted
clog: plugged
rewire: wired
stick: stuck
fall: fell fallen
hold: held
come: came
go: went gone
melt: melted
burn: burned
leak: leaked
drop: dropped dropping
approve: opted
kick: kicked
rub: rubbed
catch: caught
shake: shook
die: died dying
swap: swapped
pop: popped
stop: stopped
drip: dripping
slip: slipping
chip: chipped
rip: ripped
strip: stripped
snap: snapped
jam: jammed
pit: pitted
cup: cupped
reseal: sealed sealing resealed
find: found
see: saw
hear: heard
do: did done
sell: sold
cut: cut
reset: reset
rebuild: rebuilt
ground: ground
hang: hung
show: shown
test: tested
rnr: rnr'd
say: said says
state: states
check: checks
replace: replacing
replacement: replacement
put: put
make: made making
renew: renewal
install: installation
adjust: adjustment
inspection: inspection
diagnose: diagnosing
flush: flushed
exchange: exchanged
free: freed
weld: welded
shim: shimmed
splice: spliced
tape: taped
bleed: bled bleeding
drain: drained
skim: skimmed
overhaul: overhauled
refill: refilled
program: programmed programing
recommend: recommendation recommends
quote: quoted
machine: machined
tighten: tightening
clean: cleaning cleaned cleans
refuse: refused
advise: advisory
remove: removal
""",
        apart=None,
    ).items()
    for form in forms
}
"""Form to base form, where it is not regular."""

_VOWELS = "aeiou"


def inflected(base: str) -> tuple[str, ...]:
    """Regular forms of a verb: replaces, replaced, replacing; the last letter doubled where that is the rule."""
    if base.endswith("e"):
        return (base, base + "s", base + "d", base[:-1] + "ing")
    if base.endswith("y") and base[-2:-1] not in _VOWELS:
        return (base, base[:-1] + "ies", base[:-1] + "ied", base + "ing")
    s = "es" if base.endswith(("s", "x", "ch", "sh")) else "s"
    stem = base
    if len(base) > 2 and base[-1] not in _VOWELS + "wxyr" and base[-2] in _VOWELS and base[-3] not in _VOWELS:
        stem = base + base[-1]
    return (base, base + s, base + "ed", base + "ing", stem + "ed", stem + "ing")
