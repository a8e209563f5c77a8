"""What shops write for kinds of lines, actions and reasons, in all languages: ours -> theirs, by comma.

Words are compared in lower case without accents and signs. One ending in * is the beginning of a word in theirs.
"""

from __future__ import annotations

from collections.abc import Mapping

KINDS: Mapping[str, str] = {
    "labor": (
        "labor, man hours, time spent, bench time, labour, lbr, lab, work, job, time, hours, service, labo, labr, "
        "workmanship, arbeit*, lohn*, leistung, stunden, al, main d oeuvre, main d uvre, main oeuvre, mo, m o, "
        "heures, travail, travaux, mano de obra, mano obra, trabajo, mdo, horas, manodopera, mano d opera, lavoro, "
        "ore, arbeid*, werk, uren, loon, mao de obra, servico, trabalho, arbete, arbetskostnad, tid, arb, arbets*, "
        "robocizn*, praca, usluga, uslugi, rbh, operation, op, technician"
    ),
    "part": (
        "part, parts, prt, pt, pts, material*, mat, item, goods, spare*, component, prts, teil, teile, "
        "ersatzteil*, et, ware, artikel, piece*, pce, pces, fourniture*, pieza*, repuesto*, recambio*, "
        "refaccion*, rpto, ricamb*, pezzo, pezzi, materiale, onderdeel, onderdelen, materiaal, ond, peca, pecas, "
        "reservdel*, del, delar, vara, artiklar, czesc*, towar, czesci, product, stock, inventory"
    ),
    "sublet": (
        "sublet, sub, outside, outside work, outsourced, subcontract*, sent out, third party, outwork, external, "
        "contract*, hired in, slt, sblt, vendor work, outsource, sub contract, fremd*, extern*, fl, sous trait*, "
        "st, tiers, subcontrat*, terceros, tercero, trabajo externo, taller externo, esterno, esterna, lavorazione "
        "esterna, terzi, conto terzi, uitbesteed*, derden, terceir*, servico externo, trabajo externo, servicio "
        "externo, extern tjanst, lavoro esterno, lavori esterni, prestation externe, travail externe, externer "
        "dienst, legoarbete, lego*, underentrepren*, obca, obcy, obce, zewnetrz*, podwykon*, usluga obca, farmed "
        "out, sblet, uitbesteding"
    ),
    "fee": (
        "suplido*, fee, fees, charge*, misc, msc, miscellaneous, shop supplies, supplies, haz*, disposal, "
        "environmental, other, surcharge, env fee, levy, sundries, sundry, consumables, gebuhr*, gebuehr*, "
        "pauschal*, sonstig*, entsorgung*, kleinmaterial, nebenkosten, frais*, divers, forfait*, taxe, redevance, "
        "cargo*, tasa*, varios, gastos, otros, recargo, spese, varie, diritti, contributo, oneri, altro, kosten, "
        "toeslag*, overig*, diversen, milieu*, heffing, taxa*, encargo*, diversos, outros, despesa*, avgift*, "
        "ovrigt, oplat*, inne, pozostale, koszty, oplata, tarif"
    ),
}

ACTIONS: Mapping[str, str] = {
    "replaced": (
        "replac*, repl, rplc, rpl, r r, rr, r and r, r n r, renew*, swap*, changed, change, install*, inst, new, "
        "fitted, exchanged, exch, remove and replace, removed and replaced, rem rep, rpld, ersetz*, ers, "
        "ausgetauscht, austausch, getauscht, erneuer*, ern, gewechselt, wechsel*, tausch, remplac*, rempl, "
        "chang*, echang*, sustitu*, sust, reemplaz*, cambi*, camb, sostitu*, sost, vervang*, verv, vernieuw*, "
        "gewisseld, substitu*, subst, troc*, bytt, byte, utbyt*, bytte, byt, ersatt, wymien*, wymian*, wym"
    ),
    "repaired": (
        "mend*, patched, repair*, rep, rpr, rprd, fix*, mend*, weld*, restored, rebuilt, reworked, overhaul*, rprt, "
        "repd, repar*, instand*, inst gesetzt, behoben, uberhol*, geschweisst, repariert, arregl*, reconstru*, "
        "ripar*, rip, aggiust*, gereparee*, herstel*, gerep, conserta*, consert*, lagad, lagat, reparer*, lagning, "
        "napraw*, napr, regener*, remis en etat"
    ),
    "adjusted": (
        "adj*, adjust*, set, align*, calibrat*, tension*, tighten*, torqued, reset, tuned, tune, aligned, "
        "eingest*, einstell*, justier*, nachgest*, nachgezogen, gespannt, regle*, reglage, regl, ajust*, serre, "
        "resserre, regul*, calibra*, apret*, regol*, registra*, tarat*, afgest*, bijgest*, afstel*, ingesteld, "
        "gesteld, afin*, apert*, justera*, stallt, installd, wyregul*, ustaw*, dokrec*, skalib*"
    ),
    "cleaned": (
        "clean*, cln, cln d, clnd, flush*, wash*, decarbon*, degreas*, blown out, gereinigt, reinig*, gespult*, "
        "gesaubert, saub*, nettoy*, nett, rince, decrass*, limpi*, limp, lavad*, lavado, puli*, lavat*, "
        "schoongem*, gereinigd, gespoeld, limp*, rengjor*, rengor*, tvatt*, wyczysz*, czyszcz*, oczysz*, umyt*, "
        "przeplu*, spolad, polished"
    ),
    "inspected": (
        "look*, checked over, insp*, inspect*, check*, chk, chkd, ck, test*, tst, diag*, exam*, looked at, verif*, "
        "measured, scan*, evaluat*, gepruft*, pruf*, geprueft*, kontroll*, untersuch*, begutacht*, sichtpruf*, "
        "control*, controle*, inspecc*, comprob*, revis*, revisad*, ispez*, prova*, provat*, collaud*, gecontrol*, "
        "geinspect*, nagekeken, nazicht, gekeurd, vistori*, inspec*, ensaiad*, besikt*, undersok*, provad, "
        "sprawdz*, przegl*, zbadan*, skontrol*, kontrola"
    ),
    "declined": (
        "decl*, refus*, reject*, not done, deferred, postponed, customer declined, cust decl, not approved, "
        "abgelehnt, abgel, verweiger*, nicht ausgefuhrt, zuruckgestellt, rechaz*, rifiut*, rimand*, geweiger*, "
        "afgewezen, niet uitgevoerd, recus*, rejeit*, nao autorizado, no autorizado, no aceptado, avboj*, nekad, "
        "avvis*, odmow*, odrzuc*, niewykonan*, non autorizzato, non effettue, afgekeurd"
    ),
}

REASONS: Mapping[str, str] = {
    "failed": (
        "fail*, broke*, defect*, fault*, leak*, burn*, snapped, seized, crack*, bad, inop*, no good, ng, dead, "
        "blown, stuck, shorted, failure, brk, broken, malfunction, not working, defekt*, ausgefall*, ausfall, "
        "kaputt, gebroch*, undicht*, bruch, schaden, defaill*, panne, casse*, hs, rompu*, grille, en panne, "
        "fuite, fall*, averi*, roto, rota, rotura, estropead*, guast*, rott*, difett*, kapot, stuk, storing, "
        "gebroken, lek, avari*, quebrad*, falh*, defeito, trasig*, fel, sonder, haverer*, haveri, awari*, "
        "uszkodz*, zepsut*, pek*, usterk*, fld"
    ),
    "worn": (
        "worn*, wear*, wore, worn out, wrn, verschliss*, verschleiss, abgenutz*, abgefahr*, use, usee, usure, "
        "uses, desgast*, gastad*, gasto, usura, usurat*, consum*, logor*, verslet*, slijtage, versl, slite*, "
        "slitage, slit*, utslit*, zuzyt*, zuzyc*, end of life, past limit, v"
    ),
    "found_at_inspection": (
        "visto*, durchsicht, bei durchsicht, vu*, sett*, gezien*, widzian*, zauwaz*, found*, inspection, found at "
        "check, at inspection, insp, mpi, during service, on check, spotted, bei pruf*, bei inspektion, bei "
        "kontrolle, befund, bei wartung, pruf*, inspektion, kontrolle, constat*, controle, a l inspection, au "
        "controle, inspeccion, en revision, en inspeccion, hallad*, detectad*, revision, ispezione, controllo, "
        "rilevat*, riscontrat*, in revisione, bij controle, keuring, inspectie, geconstateerd, bij keuring, "
        "inspecao, vistoria, na revisao, detetad*, na inspecao, vid kontroll, besiktning, kontroll, upptackt*, przy "
        "kontroli, podczas*, przy przegladzie, kontrola, wykryt*, en revisi*"
    ),
    "preventive": (
        "prevent*, pm, p m, maint*, sched*, due, interval, routine, service, planned, mileage, time, age, "
        "vorsorg*, vorbeug*, praventiv*, praeventiv*, wartung*, intervall, fallig*, turnus*, planmassig*, entretien*, "
        "echeance, program*, mantenim*, preventiv*, manutenz*, tagliando, onderhoud*, gepland, manuten*, "
        "forebygg*, underhall, profilakt*, zapobieg*, prewenc*, obslug*, planow*, prevt, precaution*, periodic*, "
        "programm*"
    ),
    "access": (
        "access*, to reach, r and i, for other work, in the way, zugang*, zugang, wegen anderer*, mitarbeit, "
        "freileg*, acces, demontage, acceso, por acceso, accesso, smontaggio, toegang*, bereik*, acesso, "
        "atkomst*, dostep*, dla dostepu, adjacent"
    ),
    "recall": (
        "recall*, campaign*, tsb, ruckruf*, rueckruf*, rappel*, campana*, campanha*, retirada, richiam*, "
        "campagn*, terugroep*, recolha, chamamento, aterkall*, akcja*, wezwan*, przywol*, kampanj*, aktion*, "
        "recall campaign"
    ),
    "customer_request": (
        "customer*, request*, cust req, cust, owner*, upgrade, asked, kundenwunsch*, wunsch*, kunde, "
        "kundenauftrag, demande*, souhait*, client*, peticion*, solicitud*, cliente, pedido*, a peticion*, "
        "richiest*, su richiesta, klant*, verzoek*, wens*, solicit*, onskemal*, kund*, kundonskemal, zyczen*, "
        "klient*, prosb*, creq"
    ),
    "unknown": (
        "unknown, unk, not known, unsure, other, tbd, not stated, unbekannt*, unklar, inconnu*, desconoc*, "
        "sconosciut*, ignot*, onbekend*, desconhec*, okand*, nieznan*, brak danych, uknown, n k"
    ),
}
