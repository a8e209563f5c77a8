"""Other ways to name the components of brakes, steering, suspension and wheels. Common practice, no source.

How patterns are read is said in `word_table`. Full words: shorthand is settled before. What may name two components
stands in `half_named`.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

SPELLINGS_CHASSIS = listed(
    """
brake_pads: front|rear|disc|ceramic|semi|organic? brake pad set?|kit?, disc brake? pad set?, pad set|kit, pads,
    brake pad hardware?, ceramic pad, brake lining pad, pad slap, friction pad, pad disc? brake, brake friction,
    semi metallic pad, semi metallic brake pad, ceramic disc? brake? pad
brake_rotor: disc|front|rear|brake? rotor, brake disc|disk, disk, discs, disc brake rotor, brake discs, vented disc,
    rotor brake
brake_shoes: rear|drum? brake shoe set?, brake shoe, shoes, shoe set, parking brake shoe, lined shoe, drum shoe,
    shoe
brake_drum: rear? brake drum, drum
brake_caliper: front|rear|disc|loaded|reman? brake? caliper assembly?, disc brake caliper, loaded caliper, caliper
    slide? pin|slide|piston|boot|seal bolt?|kit?, slide pin, brake caliper pin|slide|piston
wheel_cylinder: rear|brake? wheel cylinder, brake wheel cylinder
brake_hose: flexible|flex|rubber|hydraulic? brake hose, brake flex|flexible|rubber line|hose, flex brake hose|line,
    caliper hose, rubber brake line, front|rear brake hose, brake jump hose, brake hose line
brake_line: steel|rear|front|hard|copper|metal? brake line|pipe|tube|tubing, brake hydraulic line|pipe, brake
    hard|steel line, brake line fitting, hydraulic brake line
brake_master_cylinder: brake? master cylinder assembly?, brake master, master cylinder brake, bmc
brake_booster: servo unit?, brake servo unit?, brake|power|vacuum|hydraulic brake? booster, booster, power brake
    unit, brake servo, hydroboost, hydro boost
wheel_speed_sensor: wheel abs speed? sensor, wheel sensor abs, abs? wheel speed? sensor, abs|antilock wheel|speed?
    sensor, abs sensor, wheel sensor, wheel abs sensor, abs wheel speed sensor, wss sensor, antilock brake speed?
    sensor, abs speed sensor, tone ring sensor
abs_module: abs pump motor module, abs|antilock brake? control?
    module|pump|unit|hydraulic|controller|modulator|hcu|ecu, abs hydraulic control? unit|module|pump, antilock
    brake control module, anti lock brake? control? module|pump|unit, ebcm, abs hcu, abs pump module, abs
    control unit|module, abs pump motor, brake control module, electronic brake control? module, abs modulator
parking_brake_cable: handbrake cable|linkage, parking|park|emergency|hand|e|rear brake cable, handbrake cable, e
    brake cable, brake cable, park brake cable assembly, hand brake cable
brake_fluid: brake fluid change|exchange|flush|service, brake fluid flush?|exchange?|service?, brake system?
    flush|bleed, brake hydraulic flush, brake hydraulic fluid, brake fluid flush and bleed, dot3, dot4, dot 3|4,
    brake system flush
tie_rod_outer: track rod outer? end, steering track rod end, outer tie rod end?, tie rod end, tie rod outer end?,
    tie rod end outer, track rod end, outer tie rod link, outer steering tie rod, steering tie rod end
tie_rod_inner: inner tie rod end?, tie rod inner end?, tie rod end inner, rack end, inner steering tie rod
steering_rack: power? steering rack assembly?|unit?, rack and|& pinion assembly?|unit?, r and p, steering rack and|&
    pinion, rack pinion, rack assembly, electric steering rack, eps rack, steering gear rack
steering_gear_box: power? steering gear box?|assembly?, steering gearbox, steering box, power steering gear? box,
    recirculating ball gear box
power_steering_pump: power? steering pump assembly?, power steering hydraulic? pump, hydraulic steering pump
power_steering_hose: steering hose|pipe|line, power? steering high|low? pressure|return|feed|suction|supply?
    hose|line|pipe|tube, power steering hose|line|pipe|tube assembly?, steering rack line|hose, power steering
    cooler hose|line, power steering pressure|return line|hose|pipe, power steering high pressure line|hose, power
    steering hose pressure|return
electric_steering_motor: electric? power? steering assist motor, eps motor|assist|module|unit, electric power
    steering motor|unit|assist|module, electric steering assist|motor, steering assist motor, electronic power
    steering motor|unit?, power steering motor
idler_arm: steering? idler arm, idler arm assembly
pitman_arm: steering? pitman arm, pitman
power_steering_fluid: power steering fluid|oil flush?|exchange?, power steering flush|service|exchange, steering
    fluid, psf
strut: front|rear|suspension|complete|quick|loaded|macpherson? strut assembly?|insert?|cartridge?,
    quick|complete|loaded strut, strut and spring assembly, coilover, coil over, strut insert
strut_mount: upper|top|front? strut mount|bearing|plate kit?, strut upper|top mount|bearing|plate, strut mount
    bearing|plate|kit, strut bearing plate?, top mount, upper strut mount, strut tower mount, upper strut bearing
shock_absorber: gas shock, front|rear|gas|air? shock absorber?|assembly?, damper, shock absorbers
coil_spring: coil over spring, front|rear|suspension|road? coil spring, suspension spring, road spring, front|rear
    spring
leaf_spring: rear? leaf spring assembly?|pack?, leaf pack, leafspring, main leaf, leaf main, leaf
air_spring: front|rear|suspension? air spring|bellows|strut assembly?, suspension air bag|bladder|spring, air bag
    suspension|spring, air ride bag|spring, air suspension spring|bag|strut, air bellow, airbag suspension,
    suspension airbag
ball_joint_lower: lower|bottom ball joint, ball joint lower|bottom, lower control arm ball joint
ball_joint_upper: upper|top ball joint, ball joint upper|top, upper control arm ball joint
control_arm_lower: track control arm, tca, bottom arm, lower suspension arm, lower|bottom control|suspension arm
    assembly?, lower arm, control arm lower, lower a arm, lower wishbone, lower control arm with|and ball joint,
    lower control arm and? ball joint assembly, lower control arm with bushing|joint, front lower control arm
control_arm_upper: upper|top control|suspension arm assembly?, upper arm, control arm upper, upper a arm, upper
    wishbone, upper control arm with|and ball joint, upper control arm and? ball joint assembly
control_arm_bushing: front|rear|lower|upper|inner|outer? control|a arm bushing|bush kit?|set?, lower|upper? control
    arm bushing, wishbone bushing, control arm rear|front|inner bushing, arm bushing, lower|upper arm bushing,
    compliance bushing
sway_bar_link: arb link, sway bar drop link, front|rear? sway|stabilizer|anti bar? end? link kit?|pin?,
    drop|end|stab link, anti roll bar? link, stabilizer link|bar, sway link, stabilizer bar end? link, sway bar end
    link, roll bar link, end links, link stabilizer|sway bar?, anti sway bar link, droplink
sway_bar_bushing: front|rear? sway|stabilizer|anti bar? bushing kit?|set?|frame?, anti roll bar bushing, stabilizer
    bar? bushing, sway bar frame|mount|center|d bushing, roll bar bushing, bushing sway|stabilizer bar?, d bushing,
    sway bar insulator, anti sway bar bushing
wheel_bearing: front|rear? wheel|hub hub? bearing assembly?|unit?|kit?, wheel? hub bearing? assembly|unit, wheel
    hub, hub and? bearing assembly?, bearing and? hub assembly?, wheel bearing and? hub assembly?, hub assembly, hub
    bearing assembly, wheel bearing hub? assembly, wheel hub and? bearing assembly?, bearing hub, unit bearing,
    front|rear hub
wheel_stud: wheel nut and? stud, wheel stud nut, wheel|lug stud|bolt|nut, wheel lug nut|stud|bolt?, lug
    nut|stud|bolt|nuts, wheel stud and|& nut, lug stud and|& nut, wheel stud and|& lug nut, lug
tire_pressure_sensor: tire pressure? monitor? sensor, tpms sensor|valve?, tire pressure monitoring sensor, tire
    monitor sensor, wheel pressure sensor, tire sensor
tire: new|used? tire
"""
)
"""Component, or two that one name stands for, to patterns."""
