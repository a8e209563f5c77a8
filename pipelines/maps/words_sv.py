"""Swedish words of headers, with a workshop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "order, arbetsorder, verkstadsorder, reparationsorder, ordernr, ao, uppdrag, ärende, arbetskort, jobbkort, ao "
        "nr, blad, arbetskort nr, jobbkort nr, ärende nr, verkstadskort"
    ),
    "job": "uppgift, moment, jobb",
    "repair": "reparation, rep, reparationer",
    "work": "arbete, verkstad, arbeten, verkstads, arbets",
    "shop": "verkstad",
    "visit": "besök, bokning",
    "invoice": "faktura, fakt, kvitto, fakturering",
    "quote": "offert, uppskattning",
    "number": "nummer, nr, num",
    "id": "id, referens, ref, nyckel, beteckning id",
    "code": "kod, kd",
    "line": "rad, radnummer, radnr, rader, löpnummer, löpnr",
    "item": "artikel, art, produkt, vara",
    "vehicle": "fordon, bil, fordons, bilar, lastbil, vagn, ford, maskin, fordonsid, bilnr, bil nr, fordonsnummer",
    "fleet": "vagnnummer, flotta, vagnpark, internnummer",
    "unit": "enhet, enh, måttenhet",
    "each": "styck, per styck, styckpris, à pris, apris, a pris, enhetspris, pris st, pris per st",
    "customer": "kund, ägare, kundnr, brukare",
    "vin": "chassinummer, chassi, chassinr, vin, identifieringsnummer, ramnummer",
    "engine": "motor, mot, motorer",
    "family": "familj, grupp",
    "engine_family": "motorkod, motortyp, motorfamilj, motorserie, motorbeteckning, motorns kod, motorgrupp",
    "make": "märke, fabrikat, bilmärke",
    "brand": "tillverkare, delmärke",
    "model": "modell, mod, typ, modellbeteckning, typbeteckning, modellnamn, biltyp",
    "trim": "färg, kaross, växellåda, utförande, variant, dörrar, däck",
    "year": "år, årsmodell, modellår, tillverkningsår, årsm",
    "date": "datum, dat, dag, dtm",
    "time": "klockslag, klocka",
    "month": "månad, månader, mån",
    "mile": "engelsk mil, miles",
    "km": "km, kilometer",
    "odometer": (
        "mätarställning, mätare, vägmätare, km ställning, ställning, mätarst, mätställning, avläst mätare, avläst km, "
        "km vid inlämning, mätare in, vägmätarställning, kilometerställning, km tal, mätarst km, km avläst, avläst "
        "mätarställning, mätarvärde, kilometer vid ankomst, km vid ankomst"
    ),
    "mileage": "körsträcka, sträcka",
    "in": (
        "inkommen, inlämning, inlämnad, ankomst, in, mottagen, mottagning, vid ankomst, inlämnat, inkom, ink, "
        "inlämnad datum, inlämnad av, kom in, inlämningsdatum, ankom, lämnad in, inkom datum, mottogs, inlämnad den, "
        "inkommet, lämnades in, kom, inskriven, intagen, togs in, inkommet datum, vid mottagning"
    ),
    "out": (
        "ut, utlämning, utlämnad, hämtad, avgång, leverans, vid utlämning, avhämtad, utl, återlämnad, hämtat, lämnad "
        "ut, hämtningsdatum, uthämtad, lämnades, åter, uthämtat, utlämnad den, hämtades, åkte, lämnad till kund, "
        "återlämnat, utskriven bil, gick ut, tillbaka"
    ),
    "open": (
        "öppnad, skapad, start, öppnat, påbörjad, början, upprättad, när, öppnad datum, orderdatum, datum order, "
        "skapad datum"
    ),
    "close": (
        "stängd, avslutad, klar, färdig, slut, avslut, slutförd, avslutat, klar datum, färdigdatum, klardatum, "
        "avslutsdatum, slutdatum, klart, färdigt, avslutningsdatum, stängt"
    ),
    "in_service": (
        "första registrering, registreringsdatum, i trafik, trafikdatum, första trafikdag, första ibruktagning, tagen "
        "i trafik, inköpsdatum, ibruktagen, i trafik sedan, i bruk sedan, i drift sedan, i flottan sedan, registrerad "
        "första gången, ibruktagen datum"
    ),
    "service": "service, underhåll",
    "void": "makulerad, annullerad",
    "status": (
        "status, tillstånd order, läge, orderstatus, öppen eller stängd, ärendestatus, öppen stängd, läge på order, "
        "orderläge"
    ),
    "is_open": "fortfarande öppen, är öppen, öppen ja nej",
    "is_closed": "är stängd, stängd ja nej, är klar",
    "location": (
        "plats, filial, anläggning, verkstadsort, ort, verkstadsplats, enhet verkstad, avdelning, verkstadsnamn, "
        "gård, filialnr, verkstad namn"
    ),
    "total": (
        "total, totalt, summa, totalbelopp, ordersumma, slutsumma, totalsumma, summa order, order total, att betala"
    ),
    "amount": "belopp, debiterat, debiterad, bel",
    "price": (
        "pris, försäljningspris, försäljning, utpris, försälj, debiterat kund, kundpris, sålt för, pris till kund, "
        "fakturerat, försäljningsvärde, att betala för rad, debiterat, radbelopp exkl, kund betalar, debiterat "
        "belopp, såld för, försäljningssumma"
    ),
    "cost": (
        "kostnad, inköp, inköpspris, inpris, självkostnad, kostn, betalat, vår kostnad, kostade, inköpsvärde, "
        "inköpskostnad, inköpsv, inköpssumma, kostade oss, egen kostnad, utlägg, vårt pris"
    ),
    "extended": "radbelopp, radsumma, radtotal, radpris",
    "net": "netto, exkl moms, exklusive moms",
    "gross": "brutto, inkl moms, inklusive moms",
    "tax": "moms, skatt, momssats",
    "discount": "rabatt, avdrag, marginal, påslag",
    "payment": (
        "betalning, betald, betalsätt, förfallodag, försäkring, saldo, betaldatum, betald den, betalat den, "
        "betalningsdatum, betalningssätt"
    ),
    "rate": "timpris, timkostnad, timdebitering",
    "labor": "arbetskostnad, arb, arbetslön",
    "part": "del, delar, reservdel, reservdelar, resdel, detalj, rd",
    "hours": (
        "timmar, tim, arbetstid, tid, h, debiterade timmar, antal timmar, arbetstimmar, schablontid, hur länge, "
        "tidsåtgång, arbetad tid, nedlagd tid, debiterad tid, arbetad tid h, tid h, debiterad arbetstid, sålda "
        "timmar, timmar debiterade"
    ),
    "actual": "verklig, stämplad, faktisk",
    "quantity": (
        "antal, mängd, kvantitet, ant, st, hur många, hur mycket, antal använt, förbrukat, antal st, antal delar"
    ),
    "kind": (
        "typ, slag, art, kategori, radtyp, sort, slag av rad, typ av post, arbete eller del kod, radkategori, "
        "kostnadsslag, a d, arbete del typ, t, typ av rad, postslag, radslag kod"
    ),
    "record": "posttyp, post, radslag",
    "component": (
        "komponent, detaljgrupp, komponentkod, byggdel, berörd del, felande del, trasig del, defekt del, vad var "
        "trasigt, felaktig del"
    ),
    "system": "system, område",
    "position": (
        "position, placering, sida, läge på bil, cylindernummer, pos, hjul, axel, monteringsplats, var, var monterad, "
        "läge, plats på bilen, monterad var, läge i bil, läge på fordon, sida på bil, fram bak, v h, vilken sida, "
        "vilket hjul, vilken, var på bilen"
    ),
    "action": (
        "åtgärd, åtgärdskod, arbetstyp, typ av arbete, aktivitet, åtgärdstyp, utfört, moment, typ av åtgärd, gjort "
        "vad, ingrepp, arbetsslag"
    ),
    "reason": (
        "orsakskod, anledning, skäl, bytesorsak, anledning till byte, motivering, varför, varför bytt, skäl till "
        "byte, orsak till byte, orsak till åtgärd, bytt därför, orsak till arbete, motiv, åtgärdsorsak, varför gjort"
    ),
    "cause": (
        "orsak, diagnos, felorsak, iakttagelse, konstaterat, funnet, fynd, vad vi hittade, hittat fel, funnet fel, "
        "felets orsak, konstaterat fel, fel funnet, vad som hittades, hittat, felsökning, vi hittade, upptäckt fel, "
        "orsak hittad, mekanikerns fynd, diagnos text, konstaterades"
    ),
    "correction": (
        "utfört arbete, utförda arbeten, åtgärdat, utförd åtgärd, lösning, åtgärdsbeskrivning, utförd reparation, "
        "korrigering, vad vi gjorde, vad som gjordes, gjort, utfört, åtgärd text, åtgärdad, reparation utförd, "
        "åtgärdsbeskrivning text, åtgärdstext, arbetsbeskrivning utförd, utförd text, reparation, detta gjordes, "
        "gjord åtgärd, arbete utfört, så åtgärdades, mekanikerns rapport, reparationstext"
    ),
    "concern": (
        "klagomål, reklamation, symptom, symtom, kundens beskrivning, felbeskrivning, problem, kundönskemål, "
        "anmärkning kund, kundklagomål, felanmälan, önskemål, kundens klagomål, fel, upplevt fel, besöksorsak, anmält "
        "fel, vad kunden säger, kunden säger, kundens önskemål, kundens felbeskrivning, anmält problem, föraren "
        "säger, besvär, upplevd, kundens anmälan, kundens felanmälan, orsak till besök, felanmälan kund, kundanmälan, "
        "kunden uppger, uppgivet fel, rapporterat fel, rapporterat, kundens ord, kundbeskrivning, förarens anmälan, "
        "felrapport, vad är fel, beställt arbete, önskat arbete, begäran"
    ),
    "description": (
        "beskrivning, benämning, text, besk, radtext, artikeltext, arbetsbeskrivning, specifikation, vad, arbete "
        "eller del, beskrivning av rad, radbeskrivning, delbenämning, arbetsmoment, arbete del, del eller arbete, "
        "arbete eller reservdel, artikelbenämning, radbenämning, delens namn, benämning rad"
    ),
    "note": "anteckning, anteckningar, kommentar, notering, anmärkning, anm, noteringar, övrigt",
    "supplier": (
        "leverantör, lev, underleverantör, leverantörer, grossist, återförsäljare, köpt från, köpt av, inköpt från, "
        "från, inköpsställe, varifrån, levererad av, inköpt hos, köpt hos, delleverantör"
    ),
    "origin": (
        "ursprung, kvalitet, skick, ny begagnad, typ av del, deltyp, delskick, delkvalitet, ny eller begagnad, sort "
        "av del, delens skick, typ av reservdel, ny utbytes, ny renoverad, delstatus, nytt begagnat"
    ),
    "technician": (
        "mekaniker, tekniker, montör, mek, utförd av, anställd, mekanikernr, vem, gjord av, gjort av, arbetare, "
        "utfört av, sign, signatur mekaniker, mek nr, mekanikerkod, gjordes av, utfördes av, montör nr"
    ),
    "person": (
        "kundmottagare, rådgivare, säljare, förare, kontakt, användare, skapad av, chaufför, handläggare, "
        "verkmästare, mottagen av, inlämnad av, hämtad av, anmäld av, anmälare, reception, kundtjänst"
    ),
    "name": "namn, förnamn, efternamn, företag, kundnamn, beteckning",
    "phone": "telefon, tel, mobil, fax, telefonnummer, mobilnummer",
    "email": "epost, e post, mejl, mail",
    "address": "adress, gata, postnummer, postort, stad, land, gatuadress",
    "plate": "registreringsnummer, regnr, reg nr, registreringsskylt, reg, nummerskylt",
    "birth": "födelsedatum, personnummer, kön, språk",
    "warranty": "garanti, gar, garantitid",
    "dtc": "felkod, felkoder, fel kod",
    "stage": (
        "tidpunkt, skede, före efter, avläst vid, fas, avläst, när, före eller efter, före eller efter reparation, "
        "när avläst"
    ),
    "check": "kontroll, provkörning, prov, test, slutkontroll, kontrollpunkt, efterkontroll, besiktning",
    "measure": "mätning, storhet, parameter, mätt, mätpunkt, mätstorhet",
    "value": "värde, mätvärde, avläsning, uppmätt, uppmätt värde",
    "result": "resultat, utfall",
    "pass": "godkänd, ok, godkänt, klarade, bra",
    "pull": "upprepning, försök, omgång, mätomgång, mätning nr, mätningsnummer, prov nr",
    "cylinder": "cylinder, cylindrar, cyl, antal cylindrar",
    "exhaust": "avgas, avgasventiler, utlopp",
    "intake": "insug, insugsventiler, inlopp",
    "valve": "ventil, ventiler",
    "displacement": "slagvolym, cylindervolym, liter",
    "fuel": "bränsle, effekt, hk, kw, drivmedel",
    "tool": (
        "lager, vikt, foto, underskrift, prioritet, nästa service, ändrad, utskriven, senaste besök, operationskod, "
        "konto, lovad, lovat, lovat datum, utlovat, utlovat datum, beräknad klar, lyft, lyftplats, plats i verkstan, "
        "plats i verkstaden, arbetsplats, box, verkstadsplats nr, hylla, hyllplats, lånebil, nyckelnr, antal rader, "
        "bränslenivå, besiktning senast, nästa besiktning, lovat klart"
    ),
    "part_number": (
        "artikelnr, artikelnummer, reservdelsnummer, detaljnr, det nr, detnr, delnr, reservdelsnr, artikelkod, "
        "beställningsnr, art nr"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
