"""How words from n to z are shortened or usually misspelled on repair orders. Common practice, no source."""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SHORTHAND_N_TO_Z = listed(
    """
nearside: n/s n/side ns
nearside front: n/s/f nsf
nearside rear: n/s/r nsr
noise: noice nois nz
noisy: noizy nosiy noysey
not: can't cannot cant couldn't didn't didnt doesn't doesnt don't dont isn't isnt wasn't wasnt won't wont
number: num
offside: o/s o/side os
offside front: o/s/f osf
offside rear: o/s/r osr
oil: oils oli
oil change: o/c oil/chg oilchange
oil control valve: ocv
oil filter: o/f o/filter o/fltr oilfilter
oil filter housing gasket: ofhg
oil pan: o/pan
oil pump: o/pmp o/pump
order: ordrd
oring: o/ring org orgs orings
outer: otr outr
outer tie rod: o/t/r otre otres
overflow: ovflw ovrflw
oxygen: ho2s lambda o2 oxy oxygn
pad: pads pd pds
parking: pkg prkg
parking brake: e/brk ebrk h/brake hbrake p/brake p/brk pbrk pk/brk prk/brk
passenger: pass passenger's passengers passngr pax psgr
passenger side: pass/side
pedal: pdl pedl
phaser: phasr phsr
pipe: pip pipes
piston: pistn pstn pstns
piston ring: p/ring p/rings
plug: plg plgs plugs
position: pos posn postn
power: powr pw pwr
power steering: p/s p/steering pas ps pwrstrg
pressure: press presure prs prssr psi psr
program: prgm prog progm
pulley: ply puley pulleyes pulleys pullies pully
pump: pmp pmps pumps
pushrod: p/rod pshrod
quantity: qty
r/r: r/r r/r'd
radiator: rad radiater radr radtr
rear: bk reer rer
rear main: r/m
rear main seal: rms
rearmost: rrmost
rebuilt: recon
recalibrate: recal
recommend: rcmd rec recc reccomend reccomended reccommend recmd recom recomend recomended recommd recommed
    recommened
refill: rfl
regulator: reg regltr regs regultr rglr rgltr
relay: rely rlay rly
relearn: relrn rlrn
release: rel releas
remove: pld rem remd remvd rmv rmvd
repair: repr rpr rprd
replace: rep'd repalced repl repl'd replacd replc replcd replced repld rpl rpl'd rplc rplcd rpld
require: req reqd
reservoir: reservior resevoir resv resvr rsvr
resistor: res resistr rsst rstr
retainer: retnr
rf: r/f
right: r/h r/s rgt rh rhs rite rt
rings: rgs
road test: r/t rdtest roadtest roadtested
rod: rdo
rotor: rotors rotr rtr rtrs
rust: rusty
schedule: schd sched
seal: seals sels sl
seat belt: s/belt seatbelt seatbelts
seize: ceased lockd seizd siezed
sender: sendr snder sndr
sensor: sen sens sensors sensr snr snsr snsrs
serpentine: serp serpantine serpent serpintine
serpentine belt: s/blt s/blts sblt
service: serv srv srvc svc svce
shaft: sft shft
shock: shck shk shks shx
shock absorber: shocker shockers
shoe: sho shs
side: sd
slave: slav slv
slow: slo
solenoid: slnd sol solenid solnd solonoid sols
spark: sp spk sprak sprk
spark plug: s/p s/plug s/plugs sparkplug sparkplugs splug splugs
specification: spcs spec specs
speed: spd
spring: spg spgs spr sprg springs sprng
squeak: sq sqeek sqk squk
squeal: sqeal sql
stabilizer: stab stabiliser stabilzr stblzr
starter: startr strt/mtr strter strtr
steering: steer steerng sterring stg strg strng
strap: strp
strip: strpd
strut: strt strts
stuck: stck stk
stud: stds
suction: suct
support: suppt supt
suspension: susp suspen
sway bar: anti/roll/bar antiroll/bar antirollbar arb s/b s/bar swaybar
sway bar bushing: sb/bush
sway bar link: s/l sls
swell: swlln
switch: sw swch swi swt swtch
system: sys
tail light: t/lamp t/light taillamp taillight taillights tl
tank: tnk
tape: rtape
tear: trn
technician: tech
temperature: temp tempature temprature tmp
tensioner: tens tensionr tensnr tensoner tensr tentioner tnsnr
terminal: terms trm trmnl
test: tst tstd tstg
the: hte teh
thermostat: stat t/stat therm thermo thermostate thrmst tstat
throttle: thr throt throtl thrott thrtl
throttle body: t/b tb
tie rod: t/r t/rod tierod tierods
tie rod end: tre tre/s tres
tight: tite
tighten: tghtn tightend
timing: tim timeing timng tmg
timing belt: cambelt t/belt tbelt tbelts timingbelt
timing chain: t/chain tchain timingchain
tire: tir tires trs tyre tyres
torque: torq tq trq
torque converter: t/c t/conv tc tconv
transfer case: t/case tcase xfer/case xfercase
transmission: tran tranny trans transm transmision trany xmissionsm xmsn
tread: trd
tube: tub tubes
turbo: t/charger trbo turbocharger turbochrgr
turn: trnd
u joint: u/j u/joint u/joints u/jt u/jts uj ujoint ujoints ujs ujt ujts
upper: up uper uppr upr
upper ball joint: ubj ubjs
upper control arm: uca ucas
upstream: up/stream upstrm
v belt: v/belt v/blt
vacuum: vac vacc vacum
valve: valv vavle vlv vlve vlvs vv
valve body: v/body vb
valve cover: v/c v/cov v/cover v/cvr valvecover vc
valve cover gasket: vcg vcgs
valve guide: v/guide
valve seat: v/seat
valve spring: v/spring
vehicle: veh vhcl
warranty: warnty warr wrnty wty
water: h2o watr wtr
water pump: w/p w/pmp w/pump waterpump wp wpump wtrpmp
weak: wek wk
wheel: wheels whel whl whls
wheel bearing: w/b w/bearing w/brg wb wheelbearing whlbrg
wheel cylinder: w/c w/cyl
wheel speed sensor: wss
wheel stud: w/stud
whine: whinng whinning
window: wdo wdow windw wndo wndw wndws
window regulator: w/reg
wiper: wpr wprs
wiper motor: w/motor
wire: wires wr wrs
wiring: wirng wrg
with: w/
without: w/o
worn: wrn
""",
    apart=None,
)
"""Full word or words to the spellings that stand for them."""
