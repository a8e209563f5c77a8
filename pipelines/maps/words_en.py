"""English words of headers, with a shop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "order, orders, ord, ro, wo, repair order, work order, workorder, job card, jobcard, job sheet, jobsheet, "
        "work sheet, worksheet, docket, ticket, tkt, service order, so, folio, work ticket, repair ticket, case, rep "
        "order, r o, w o, repair ord, wrk order, wrk ord, shop order, sheet, sheet no, sheet number, ro no, wip, wip "
        "no, invoice ro"
    ),
    "job": "job, jobs, task, operation, opr, procedure",
    "repair": "repair, repairs, rep, rpr, fix",
    "work": "work, wrk, workshop, shop",
    "shop": "shop, workshop, garage, bodyshop",
    "visit": "visit, appointment, appt, booking, stop",
    "invoice": "invoice, inv, bill, receipt, invc, billing",
    "quote": "quote, estimate, est, quotation, estimated",
    "number": "number, no, nbr, num, nr, nmbr, nmb, #, numb, n",
    "id": "id, ident, identifier, key, uid, guid, ref, reference, idno",
    "code": "code, cd, cde, codes",
    "line": (
        "line, ln, lin, lines, row, seq, sequence, detail, dtl, position number, entry, lne, sub no, line item, item "
        "no on order, op line, subline"
    ),
    "item": "item, itm, article, product, prod, material, sku, stock, goods, catalogue, catalog, reference code",
    "vehicle": (
        "vehicle, veh, vhc, vehc, car, truck, automobile, auto, asset, vcl, vehicles, cars, vehicule, vh, eqp, "
        "equipment, equip, machine, rig, vehicle asset, lorry, van, motor vehicle, motor, rig no, vehref"
    ),
    "fleet": (
        "fleet, unit number, unit no, unit nbr, unit id, unit num, truck number, car number, bus, stock no, stock "
        "number, stock nbr, plant no, van no, asset no, cab"
    ),
    "unit": "unit, units, uom, um, u m, unt, measure unit, unit of measure",
    "each": "each, ea, per, per unit, apiece, single",
    "customer": (
        "customer, cust, client, owner, payer, account, acct, cst, bill to, keeper, cstmr, patron, customer said by, "
        "payee, client company"
    ),
    "vin": (
        "vin, vehicle identification, vehicle identification number, chassis, chassis number, chassis no, frame, "
        "frame number, frame no, vin number, vin no, vinno, serial number, serial no, serial, chas, vin code, vehicle "
        "serial"
    ),
    "engine": "engine, eng, motor, powerplant, engn, powertrain",
    "family": "family, fam, group, grp, series, platform, fmly",
    "engine_family": (
        "engine family, engine code, engine group, engine series, engine type, motor code, eng code, eng family, eng "
        "cd, eng typ, eng type, engine designation, engine name, engine model code, power unit, engine group code, "
        "engine desc, engine kind, engine label, motor type, motor family, engine variant, engine build"
    ),
    "make": (
        "make, mark, manufacturer, mk, mak, maker, marque, vehicle brand, mfr, vmake, car brand, made by, builder, "
        "built by, vehicle make, car make"
    ),
    "brand": "brand, manufacturer, mfg, manuf, brnd",
    "model": (
        "model, mdl, mod, vmodel, modl, submodel, vehicle type, type of car, type of vehicle, vehicle model, series, "
        "model variant, body model"
    ),
    "trim": (
        "trim, variant, version, body, style, body style, drivetrain, transmission, trans, gearbox, color, colour, "
        "paint, doors, drive, wheelbase, gvw, gvwr, seats, tire size, tyre size"
    ),
    "year": (
        "year, yr, my, model year, modelyear, yom, year of manufacture, year made, build year, built, production "
        "year, prod year, mdl yr, modyr, mdlyr, myear, yr model, modyear, vintage"
    ),
    "date": "date, dt, day, dte, dat",
    "time": "time, clock, hhmm, timestamp, minute, tm, tme, minutes",
    "month": "month, months, mth, mths, mos, mo, mnth, mnths",
    "mile": "mile, miles, mi",
    "km": "km, kms, kilometre, kilometer, kilometres, kilometers, k m, kmtr, klm",
    "odometer": (
        "odometer, clock, odo, odom, odometer reading, clock reading, speedo, meter reading, meter, odmtr, odr, "
        "odometr, speedometer, odometer value, meter value, current reading, mtr, dash, dash reading, speedometer "
        "reading, hub, hub reading, hubometer, instrument reading"
    ),
    "mileage": (
        "mileage, mlg, milage, mileage reading, mil, mlge, distance, distance travelled, distance run, run, distance "
        "reading"
    ),
    "in": (
        "in, incoming, arrival, arrived, received, rcvd, recd, intake, entry, check in, checkin, drop off, dropoff, "
        "dropped, came in, brought in, booked in, on arrival, logged, admitted, drop, arrive, arr, admission, rec, "
        "date rec, dropped off, when in, handed in, taken in, checked in, arrived on, date arrived, brought, left "
        "with us, drop off date, brought in on, came in on, check in date, off road, off road date, taken off road, "
        "workshop in, day in, wheeled in"
    ),
    "out": (
        "out, outgoing, departure, delivered, dlvd, released, pick up, pickup, picked up, check out, checkout, "
        "returned, left, on leaving, collected, handed over, handover, depart, dep, ready, delivery, dlv, leaving, "
        "date del, del date, delivered on, handed back, given back, returned on, went out, went home, released on, "
        "picked up on, collected on, delivered to customer, gone, back on road, back on road date, went back, back "
        "out, workshop out, day out, returned to customer, to customer on, back to owner"
    ),
    "open": (
        "open, opened, opn, start, started, begin, began, created, create, raised, written, write up, opening, "
        "issued, opened on, when opened, raised on, logged on, ticket date"
    ),
    "close": (
        "close, closed, cls, clsd, clos, finish, finished, completed, complete, completion, compl, end, ended, done, "
        "cashiered, finalized, finalised, closing, posted, cashed, cmpl, fin, signed off, finished on, closed on, "
        "completed on, when closed, wrapped up"
    ),
    "in_service": (
        "in service, first registration, first reg, 1st reg, put in service, registration date, reg date, first use, "
        "first registered, on road, on the road, road date, sold new, original sale, purchase date, date of sale, "
        "bought, date first registered, new since, service since, in use since, isd, in svc, in serv, insvc, first "
        "used, commissioned, delivered new, put on road, registered, date sold new, date new, sold on, first on road, "
        "road registered, in use from, on fleet since, fleet since, joined fleet, joined fleet on, acquired, acquired "
        "on, commissioning date, delivered new on, in service from, in service since, date put on road"
    ),
    "service": "service, svc, serv, srvc, maintenance, maint",
    "void": "void, voided, is void, cancelled, canceled, cancel, void flag",
    "status": (
        "status, stat, state, stage of order, sts, stts, order state, progress, phase, open or closed, stage of work, "
        "order stage, job status, condition of order, open closed, open or shut, state of order, state of job, ro "
        "state"
    ),
    "is_open": "still open, is open, open yes no, open y n, is it open",
    "is_closed": "is closed, closed yes no, closed y n, closed yet, is complete, is done",
    "location": (
        "location, loc, branch, site, shop location, store, depot, workshop location, garage, facility, shop, "
        "station, shop code, outlet, premises, strno, bay location, shop no, shop number, plant, locn, department, "
        "dept, location code, yard, which yard, which shop, premises no, workshop name, lot, outlet no, works, branch "
        "no, site no"
    ),
    "total": "total, tot, grand total, ttl, sum, sum total, totl, overall",
    "amount": "amount, amt, value charged, charge, charged, charges, billed, sold, amnt",
    "price": (
        "price, sell, retail, sale, selling, list, prc, selling price, sale price, revenue, sales, pr, sls, we "
        "charged, customer paid, customer price, charge to customer, price charged, sold at, sold for, invoiced, "
        "charge out, to customer, charged to customer, recharged, recharge, rechargeable, sales value, invoiced "
        "value, sell total, total sell, selling total, charged out, resale, extsell, we billed, billed to customer, "
        "revenue amount, sale value"
    ),
    "cost": (
        "cost, cst price, purchase price, buy price, buying price, wholesale, cogs, our cost, cost price, paid price, "
        "cst, dealer net, buying, purchase, bought for, we paid, cost to us, what we paid, own cost, shop cost, "
        "bought at, purchase cost, purchase value, outlay, extcost, buy total, we spent, expense, spend, price paid, "
        "our price"
    ),
    "extended": "extended, ext, extension, extd, xtd, ext price, line total, line amount",
    "net": "net, excl tax, ex tax, before tax, ex vat, excl vat",
    "gross": "gross, incl tax, inc tax, inc vat, incl vat",
    "tax": "tax, vat, gst, sales tax, tx, taxes, hst, pst, taxable, duty",
    "discount": (
        "discount, disc, dscnt, rebate, markup, margin, gp, profit, allowance, dsc, percent discount, surcharge, core"
    ),
    "payment": (
        "payment, pay, paid, tender, method, balance, due, deposit, terms, credit, card, payment method, paytype, "
        "cash, finance, insurer, insurance, claim, pay type, settled, settled on, paid date, pay date, date paid, how "
        "paid, cleared, owing, outstanding, remitted"
    ),
    "rate": "rate, hourly, per hour, labor rate, labour rate, per h, hour rate, labour rate per hour, door rate",
    "labor": "labor, labour, lbr, lab, labr",
    "part": "part, parts, pt, prt, spare, spare part, component part, spares, pts, prts",
    "hours": (
        "hours, hrs, hr, hour, h, labor time, labour time, labor units, flat rate hours, frh, hours billed, hours "
        "charged, flag hours, book hours, billed hours, sold hours, time units, aw, how long, time taken, time spent, "
        "hours spent, duration, time booked, clock time billed, flat rate, flat rate time, book time, booked hours, "
        "hrs sold, hrssld, time sold, time billed, labour units, labor time h, time h, manhours, man hours"
    ),
    "actual": "actual, clocked, worked, punched, elapsed, act, attended",
    "quantity": (
        "quantity, qty, quan, quant, qnty, pcs, pieces, count, how many, q, qt, pc, cnt, number used, no used, qty "
        "used, used, no off, number off, number fitted, amount fitted, qty fitted, pieces fitted, number of, no of "
        "parts, amount used, units used, issued, qty issued, qty out, qty sold, qtysld"
    ),
    "kind": (
        "kind, type, typ, ty, class, cls type, category, cat, line kind, line type, item type, charge type, typ cd, "
        "ctg, line is, charge kind, labour or part, labor or part, part or labor, part or labour, what kind, sort, "
        "cost type, line category, l p, p l, lab pts, labor part, part labor, labour part, t, typl, line sort, type "
        "of line, type of entry, entry type, entry, row kind, charge class, charge code, nature, bill type, lop, "
        "entry kind"
    ),
    "record": "record, rec, record type, rectype, rec type, segment, row type, rowtype, rcd",
    "component": (
        "component, comp, component code, comp code, cmp, assembly, assy, failed part, failed component, part name, "
        "cmpnt, part affected, object, component name, part failed, failed item, faulty part, item failed, what "
        "failed, faulty component"
    ),
    "system": "system, sys, area, section",
    "position": (
        "position, pos, posn, place, placement, cyl no, cylinder number, cylinder no, wheel position, corner, side, "
        "where, axle, bank, lh rh, l r, cyl pos, socket, location on vehicle, posit, install position, where fitted, "
        "fitted at, where on vehicle, fitting position, install location, mounted at, place on vehicle, spot, wheel, "
        "axle side, fr rr, which one, which side, which wheel, spot on vehicle, end, fitted on, where on car, "
        "location on car, left right, f r"
    ),
    "action": (
        "action, did, done, op, oper, act code, what done, work type, work code, what was done, activity, repair "
        "type, action taken, job type, actn, repair action, service type, disposition, work done code, operation "
        "type, repair code, work kind, act, verb, fix kind, task done, task performed, op done, what did we do, deed"
    ),
    "reason": (
        "reason, why, rsn, reason code, failure mode, why replaced, cause code, reason for replacement, reasn, "
        "failure reason, failure code, failure type, justification, removal reason, why done, why changed, why was it "
        "done, why fitted, ground, grounds, reason given, why it was done, motive, rationale, trigger, reason why, "
        "replaced because, because, grounds for work"
    ),
    "cause": (
        "cause, what found, found, finding, findings, diagnosis, diag, tech found, root cause, fault found, "
        "inspection result, technician found, tech findings, fault cause, failure found, diagnostic, determined, cse, "
        "what we found, what was wrong, why it failed, reason found, what was the cause, our finding, what turned up, "
        "inspection notes, reason of failure, reason for failure, turned out to be, what it was, technician "
        "diagnosis, mechanic findings, mechanic found, mechanics finding, what the mechanic found, diagnosed, verdict "
        "on fault"
    ),
    "correction": (
        "correction, what was done to fix, corrective action, resolution, remedy, repair performed, work performed, "
        "work done, fix made, repair done, work carried out, tech notes, technician notes, action performed, corr, "
        "correct, rectification, solution, work completed, repairs made, what we did, technician did, repair "
        "description, fixed by, performed, corrn, fix done, how fixed, what we fixed, cure, action carried out, work "
        "carried out text, what we did about it, put right by, job notes, technician's report, technician report, "
        "mechanic report, done text, repair text, what the mechanic did, job done, jobs done, job report, work "
        "report, work narrative, repair narrative, fix text, how we fixed it"
    ),
    "concern": (
        "concern, fault, faults, driver says, says, states, said, client says, why here, came in for, complaint, "
        "symptom, symptoms, customer states, customer says, cust states, problem, customer request, request, customer "
        "concern, customer complaint, reported fault, fault reported, issue, reported, cmplnt, stated, customer "
        "remark, work requested, reason for visit, driver report, driver reported, defect reported, complnt, compl "
        "text, visit reason, customer report, cncrn, requested, fault description, reported problem, defect, problem "
        "description, why it came in, customer said, owner says, owner said, owner complaint, driver said, driver "
        "note, what is wrong, came in with, asked for, work asked for, reason for coming, customer's words, customer "
        "words, brought in for, in for, told us, customer told us, what the customer told us, they said, compl, "
        "complain, driver complaint, customer description, owner description, grievance, gripe, what they said, "
        "customer comment, customer comments, drivers note, reported as, reported issue, defect as reported, what is "
        "up, in the customer's words, why it is here"
    ),
    "description": (
        "description, what, desc, descr, text, txt, dscr, narrative, details, wording, descrip, job description, dsc "
        "text, designation, name of part, work description, particulars, line text, item text, wording of line, job "
        "text, part or job, work or part, job or part, description of line, item description, part or labor, part or "
        "labour, component or job, job or component, part or work, opdesc, op desc, operation description, name of "
        "item, work or part name, line wording, job title, part title, labor or part text"
    ),
    "note": "note, notes, comment, comments, remark, remarks, memo, cmt, rmk, internal note, instructions, misc, info",
    "supplier": (
        "supplier, from, src, source of part, vendor, vend, source, supplied by, bought from, supp, sup, distributor, "
        "sublet to, suppl, vndr, parts source, purchased from, subcontractor, vnd, supplier name, vendor name, splr, "
        "jobber, where bought, got from, came from, ordered from, supplied from, dealer, wholesaler, merchant, "
        "outside shop, sublet vendor, factor, motor factor, factors, parts house, purchased at, sourced from, source "
        "of supply, supply house, parts store, bought in from, delivered by supplier, sup name"
    ),
    "origin": (
        "origin, condition, cond, quality, part type, new used, new or used, part condition, part quality, grade, "
        "part source type, n u r, part class, part kind, type of part, orig, build, part origin, new reman used, "
        "cndtn, new or reman, new used reman, state of part, kind of part, made how, part type code, oem reman, new "
        "or rebuilt, new reman, new rebuilt, part state, part cond, sourced as, new used code, new or old, quality of "
        "part, n r u"
    ),
    "technician": (
        "technician, tech, mechanic, mech, worker, fitter, tech id, tech no, done by, worked by, wrenched by, "
        "performed by, repaired by, fixed by, tech code, employee, emp, work by, tch, techn, operative, assigned "
        "tech, assigned to, tech initials, mechanic no, man, who, who did it, carried out by, wrench, worker id, "
        "hand, emp no, employee no, hands, tech number, who worked, worked on by, wrench no, mechanic code, mechanic "
        "initials, spanner, done by whom, techref, fitter no"
    ),
    "person": (
        "advisor, adviser, writer, sa, service writer, service advisor, salesman, sales rep, manager, contact, "
        "driver, advis, adv, operator, entered by, user, written by, opened by, closed by, created by, approved by, "
        "clerk, cashier, usr, oper, authorized by, inspector name, signed by, updated by, received by, receptionist, "
        "person, modified by, front desk, counter, counter person, settled by, booked in by, taken by, keyed by, "
        "agent, keeper, foreman, reporter, reported by, signed off by, collected by, brought by, brought in by, "
        "dispatcher, supervisor, desk, service desk, clerk initials"
    ),
    "name": "name, nm, first name, last name, surname, forename, full name, fname, lname, initials, company, nme",
    "phone": (
        "phone, telephone, tel, mobile, cell, fax, phone number, ph, phn, contact number, cell phone, sms, home "
        "phone, contact no, contact phone, daytime phone, mob"
    ),
    "email": "email, e mail, mail, email address",
    "address": (
        "address, street, addr, city, town, zip, zip code, postcode, post code, postal, county, country, adr, suburb, "
        "state province, mailing, province, house"
    ),
    "plate": (
        "plate, license, licence, license plate, licence plate, registration, reg, reg no, registration number, tag, "
        "number plate, lic, lic plate, rego, reg number, plate number, vrm, plt, lic no, tag number, registration no, "
        "vrn"
    ),
    "birth": "birth, born, dob, date of birth, age, gender, sex, ssn, driver license, title, salutation, language",
    "warranty": "warranty, wty, wrnty, warr, guarantee, guar, wnty, war, warr term, promise, promised, wtty, coverage",
    "dtc": (
        "dtc, fault code, trouble code, error code, dtcs, codes stored, fault codes, diagnostic code, stored code, "
        "diagnostic trouble code, obd, obd code, ecu code, scan code, flt cd, flt code, code read, code stored, codes "
        "read, trouble codes, diag code, fault cd, failure codes"
    ),
    "stage": (
        "stage, when read, read at, read when, before after, before or after, scan stage, pre post, timing, at stage, "
        "before or after repair, when scanned, scan time, taken at, read on"
    ),
    "check": (
        "check, inspection, test, tst, chk, verification, quality check, qc, final check, test type, check type, "
        "control, road test, verify, verified by, what was checked, final test, proof, check made, checked"
    ),
    "measure": (
        "measure, measurement, parameter, measured, meas, bench, reading type, measured quantity, measurand, param, "
        "test name, gauge, what measured"
    ),
    "value": (
        "value, val, reading, result value, measured value, rdg, read value, measured, figure, read, result figure, "
        "reading value"
    ),
    "result": "result, outcome, res, finding result, verdict, results",
    "pass": "pass, passed, ok, pass fail, good, p f, passfail, accepted, satisfactory, fail",
    "pull": (
        "pull, repetition, run, repeat, trial, pull number, attempt, pull no, repeat no, sample number, test number, "
        "test no, try, go"
    ),
    "cylinder": (
        "cylinder, cyl, cylinders, cyls, cylinder count, no of cylinders, number of cylinders, cyl count, num cyl"
    ),
    "exhaust": "exhaust, exh, exh valves, ex",
    "intake": "intake valves, int valves, inlet, inlet valves, int, intake, inl",
    "valve": "valve, valves, vlv, vlvs",
    "displacement": (
        "displacement, displ, liters, litres, liter, litre, cc, capacity, engine size, size, eng size, cid, ccm, "
        "engine displacement, disp, l"
    ),
    "fuel": "fuel, fuel type, kw, hp, power, bhp, horsepower, kilowatt, diesel, petrol, tank",
    "tool": (
        "promised, promise date, bin, shelf, weight, barcode, picture, photo, signature, attachment, web, url, "
        "priority, due date, promised date, follow up, reminder, next service, last service, next due, recall flag, "
        "marketing, campaign, loyalty, flag, waiting, waiter, printed, print, exported, updated, modified, changed, "
        "last update, last modified, lastupd, version no, serial label, sync, checksum, batch, internal, active, "
        "deleted, approval, authorization, authorisation, approved, signed, tire pressure, hour meter, engine hours, "
        "op code, opcode, operation code, labor op, labor code, labour code, labor operation, operation number, cost "
        "center, cost centre, gl, gl code, ledger, comeback, core charge, core value, mileage since, last mileage, "
        "last visit, previous, prev, next, hat, key tag, tag color, lift, hoist, bay, team, date promised, promised "
        "for, promised by, promised on, due by, expected, eta, estimated completion, stall, stall no, pack, shelf no, "
        "rack, drawer, hours on meter, key no, key number, key hook, waiting room, pages, revision, row id, record "
        "id, rowguid, etag, tyre pressure, labour op code, van pass, courtesy car, loan car, loaner, survey, rating, "
        "cost code, budget code, account code, department code, sales code, ledger code, reg expiry, inspection due, "
        "inspection due date, sticker, service due, next inspection, colour code, keys, tank level, fuel level, "
        "lines, number of lines, line count, no of lines, no of jobs, copies, slot"
    ),
    "part_number": (
        "pn, p n, part no, partno, part num, part nbr, part number, stock code, oem no, oe no, oem number, mfr part "
        "no, part ref, partref, stores part no, stores no, stores number, catalog no, catalogue no, catalogue number, "
        "material no, stock number, part id, mpn, item ref, item reference"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
