"""How words from a to d are shortened or usually misspelled on repair orders. Common practice, no source."""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SHORTHAND_A_TO_D = listed(
    """
absolute: abslt
absorber: absorbr absrb
ac: a/c air/con aircon
accelerator: accel accelrtr
accessory: acces accsry accy aux auxiliary
actuator: act actr actuatr actutr acuator
adapter: adaptor adpt adptr
adjust: adj adj'd adjd adjstd
air filter: a/f/ltr a/filter a/fltr af airfilter
alternator: alt alter alternater altn altnator altnr altntr altr
and: + adn n nd
approve: appr apprvd
assembly: asm asmbly assem assembl assm assy asy
automatic: auto
automatic transmission: a/t auto/trans autotrans
axle: ax axl axles axls
balancer: balncr blncr
ball: baal
ball joint: b/j b/jnt b/joint b/jt b/jts balljoint bj bjs
battery: bat batt battry batts btry bttry
bearing: bearng brg brgs brng brngs
because: b/c bc becose cuz
belt: blt blts
blade: bld blde blds
blocked: blkd
blower: blowr blr blwr
blower resistor: b/res
body: bdy
booster: boostr bstr
boot: gaiter gaitor
both: boath bot bothe bth
bottle: btl
bracket: bkt brackt brkt
brake: brak brakes braking brk brks
brake drum: b/drum
brake fluid: b/fluid bf
brake hose: b/hose
brake line: b/line
brake pad: b/pad b/pads brakepad brakepads
brake shoe: b/shoe b/shoes
break: bkn brk_ brkn brokn
bulb: blb blbs globe
burnt: brnt
bushing: bsgs bsh bshg bshgs bshng bshngs bush bushes bushng bushngs bushs
cabin filter: cab/fltr
cable: cabl cbl cbls
caliper: cal calip calipr caliprs calliper calpr cals clpr
camshaft: camshft cmshft
cap: cpa
carrier bearing: c/brg
catalytic: cataltic catalyst catalyt
center: centre cntr ctr
center support bearing: c/s/b csb
chafe: chfd chfed
chain: cahin chian chn
charge: chrg
charger: chgr chrgr
check: chck chk chk'd chkd ck ck'd ckd cked
circuit: cicuit ckt crkt
clamp: clmp clmps
clean: cln clnd clned
clock: clk
clock spring: c/spr clk/spr clkspr
clog: clogd plgd plugd
cluster: clstr clust
clutch: clch clt cltch clth clu
code: cel/code dtc
coil: coils coyl
coil spring: c/spg c/spring
collapse: collpsd colpsd
column: clmn colmn
compression: compn
compressor: cmpr cmprsr cmprssr comp compr compres compresr comprsr
condenser: cndnsr cndsr cond condensor condnr condnsr
connecting: connrod
connector: cnctr conn connectr
control: cntl cntrl cont contrl ctl ctrl
control arm: c/arm ctrlarm
control module: cm
converter: conv convertor convrtr convtr
coolant: anti/freeze antifreez antifreeze antifrz clnt coolnt
cooler: clr coolr
cooling: clg coolng
corrode: corrdd
cover: cov covr cvr cvrs
crack: crackd crckd crkd
crankshaft: crankshft crnkshft
customer: client csr cstmr cus cust custmr cutomer cx
customer request: cust/req
customer states: c/s
cv: c/v cvj
cv axle: c/v/axle d/shft
cylinder: clyinder cyl cylinders cylindr cylndr cylr cyls
cylinder head: c/h c/head cylhead
damage: damgd dmg dmgd
decline: dcl dcln dclnd dclned dec'd decl declind decln declnd
diagnosis: diag diags dx
differential: dif diff differntl difff diffs
dim: dimm
discharge: disch dischg
done: dun
door: doors drs
door lock: d/l
downstream: dnstream dnstrm down/stream downstrm dwnstream dwnstrm
drip: drp
drive: drve
drive belt: d/belt
driver: driver's drivers drv drv's drvr drvrs
driver side: d/s drv/side drvr/side ds
driveshaft: driveshft drvshft dshaft propellershaft propshaft
drum: drm drms
""",
    apart=None,
)
"""Full word or words to the spellings that stand for them."""
