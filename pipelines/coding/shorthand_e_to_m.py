"""How words from e to m are shortened or usually misspelled on repair orders. Common practice, no source."""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SHORTHAND_E_TO_M = listed(
    """
electric: elec electr electrical
emergency brake: e/brake ebrake
engine: eng engin engn
engine mount: e/mount e/mt
evaporator: evapr evaptr evp
excessive: exc excess
exhaust: ex exaust exh exhaus exhst exhust exst
exhaust manifold: e/m ex/man exh/man
exhaust valve: ev evs
expansion: exp expan expn expnsn xpn
filter: fil filt filtr flt fltr fltrs
find: fd fnd
fl: f/l
fluid: fl fld flds fluids
fluid and filter: f&f
flywheel: f/wheel flywhel flywhl fw
fr: f/r
front: fnt frnt frnts fronts frt frts
fuel: fuell
fuel filter: f/f f/filter f/fltr ffltr
fuel line: f/line
fuel pump: f/p f/pmp f/pump fp
fuel tank: f/tank
gasket: gask gasketts gaskit gasks gaskt gkt gsk gskit gskt gskts
gauge: gage
gearbox: g/box gbox
glow: glo
glow plug: g/p g/plug g/plugs glowplug glowplugs
grind: grindng grndng
grinding: grnding
ground: earth gnd grnd
growl: grwl grwlng
guide: gd gds
harmonic: harm harmnc
harmonic balancer: h/b h/balancer
harness: harn harnes hrns
head: hd hds hed
head gasket: h/g h/gasket h/gskt hdgskt headgasket hg
head light: hdlts
headlight: h/l h/lamp h/light h/lt hdlamp hdlght hdlight hdlmp hdlp hdlt headlamp hl
heater: heatr htr
heater core: h/core
high pressure: hi/press hi/pressure high/pressure highpressure hp
high pressure fuel pump: hpfp hpp
hose: hos hoses hs hse
housing: hous housng hsg hsing hsng
hub: hb hubs
hub assembly: hub/assy
hub bearing: h/brg
hydraulic: hyd hydr hydraul
idler: iddler idlr idlrs
ignition: ign ignit ignt igntn
injector: f/inj inj injct injctr injr injrs injs
inner: inn innr inr
inner tie rod: i/t/r itr itre itres
inoperative: inop inopr
inspect: insp inspct inspd inspec inspect'd insped insptd
install: inst inst'd insta instal instd instl instld
instrument: instr
intake: ink inlet int intak intk intke
intake manifold: i/m
intake valve: iv
intermittent: int/mt intermit intmt
interval: intrvl intvl
joint: jiont jnt jnts jt jts
kink: kinkd
knock: nock
latch: latc ltch
leak: leakin leek leekin leka leke lk lkg lking lkng lks
left: l.h l/h l/s lft lh lhs lt
lf: l/f
lifter: lftr lftrs lifters liftr
light: lamp lamps lght lite lites
line: lines ln lns
link: links lnk lnks
loose: lse
lower: btm low lowr lwer lwr
lower ball joint: lbj lbjs
lower control arm: lca lcas
lr: l/r
lube oil filter: l/o/f lof lube/oil/filter
lug: lugs
maintenance: maint maintainance maintenence mtce
manifold: manf manfld mani manif mfld mnfd mnfld
manual transmission: m/t
master: mast mastr mstr
master cylinder: m/c m/cyl mcyl
melt: meltde
mileage: milage mileg
miles: mi mls
minimum: min
missing: msng
module: mdl mdule mod modl mods moduel
motor: motr mtr mtrs
motor mount: m/mnt m/mount
mount: mnt mntg mnts mounting mounts mt mts
muffler: mflr muff mufflr muffs mufler
""",
    apart=None,
)
"""Full word or words to the spellings that stand for them."""
