"""German words of headers, with a workshop's abbreviations: notion -> the words for it, by comma.

Umlauts are written out as letters with marks; ae, oe, ue and the bare letter are recognised too.
"""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "auftrag, aufträge, auftr, aufnr, reparaturauftrag, werkstattauftrag, vorgang, vorg, arbeitsauftrag, rep "
        "auftrag, serviceauftrag, kundenauftrag, belegauftrag, beleg, akte, laufzettel, wa, ra, auf, beleg nr, "
        "auftragsbuch, auftrag nr, blatt, blatt nr, zettel, wapo, vorgang nr, lfz, werkstattbeleg"
    ),
    "job": "tätigkeit",
    "repair": "reparatur, reparaturen, instandsetzung",
    "work": "arbeit, arbeiten, werkstatt",
    "shop": "werkstatt, betrieb",
    "visit": "besuch, termin, werkstattbesuch",
    "invoice": "rechnung, rechn, rg, re nr, faktura, rechnungs",
    "quote": "angebot, kostenvoranschlag, kva, voranschlag, schätzung",
    "number": "nummer, nr, num, nummern, lfd nr, no",
    "id": "kennung, schlüssel, kenn, referenz, identnummer, ident, bezug",
    "code": "code, kürzel, kz, kennziffer, kode",
    "line": (
        "zeile, zeilen, zeilennummer, posnr, positionsnummer, pos nr, pos, laufende, lfd, position, auftragsposition, "
        "lfdnr, zl, posn, zl nr"
    ),
    "item": "artikel, art, ware, material, bestell",
    "vehicle": (
        "fahrzeug, fahrzeuge, fzg, kfz, wagen, auto, pkw, lkw, fz, mobil, kraftfahrzeug, maschine, fahrzeugnr kurz"
    ),
    "fleet": "wagennummer, wagen nr, fuhrpark, fuhrparknummer, inventarnummer, flotte",
    "unit": (
        "einheit, einh, mengeneinheit, masseinheit, me, maßeinheit, streckeneinheit, wegeinheit, einheit tacho, "
        "einheit strecke"
    ),
    "each": (
        "einzel, je, pro, stückpreis, einzelpreis, ep, je stück, pro stück, e preis, einzelpr, stk preis, preis je "
        "stück, vk einzel, einzel vk"
    ),
    "customer": "kunde, kunden, kd, kdnr, halter, eigentümer, besitzer, auftraggeber, debitor, kundin, kund",
    "vin": (
        "fahrgestellnummer, fahrgestell, fin, fahrgestellnr, fahrzeugidentnummer, fahrzeugidentifizierungsnummer, "
        "fgst, fgstnr, fahrzeug ident, fahrzeugident, fahrzeug identifizierungsnummer, rahmennummer, fgnr, fg nr, "
        "fahrgst, fahrzeug identnr, fahrzeug identnummer, identifizierungsnummer, fin nr, stamm nr, stammnummer, "
        "fahrgestell nr vin"
    ),
    "engine": "motor, motoren, triebwerk, mot, aggregat, antrieb",
    "family": "familie, baureihe, reihe, gruppe, baumuster",
    "engine_family": (
        "mkb, motorkennbuchstabe, motorkennbuchstaben, motorkennung, motorcode, motortyp, motorbaureihe, "
        "motorfamilie, motorgruppe, motorbauart, mot code, mot typ, motorenfamilie, motorbezeichnung, motorenkennung, "
        "motorkürzel, motor kennung, motorreihe, motorbez, motorart, motorbauform, aggregatecode"
    ),
    "make": (
        "hersteller, fabrikat, marke, fabr, fahrzeughersteller, herst, fahrzeugmarke, hersteller des fahrzeugs, "
        "automarke"
    ),
    "brand": "teilehersteller, hersteller teil",
    "model": (
        "modell, typ, modellbezeichnung, fahrzeugtyp, mod, fahrzeugmodell, handelsbezeichnung, baureihe, fahrzeug "
        "typ, ausführung, modellreihe"
    ),
    "trim": (
        "ausstattung, farbe, karosserie, getriebe, aufbau, lack, variante, antrieb, türen, aufbauart, gesamtgewicht, "
        "reifen"
    ),
    "year": "jahr, baujahr, modelljahr, bj, mj, bauj, herstellungsjahr, produktionsjahr, jg, jahrgang",
    "date": "datum, dat, tag, am",
    "time": "zeit, uhrzeit, uhr",
    "month": "monat, monate, mon, monaten",
    "mile": "meile, meilen",
    "km": "km, kilometer, kilom",
    "odometer": (
        "kilometerstand, km stand, kmstand, tacho, tachostand, zählerstand, zähler, kmst, km st, stand, tachometer, "
        "km stand alt, wegstrecke, km stand bei annahme, tachometerstand, wegstreckenzähler, km zähler, kilometer "
        "stand, zählerstand km, km abgabe, kilometerzähler, kmz, km annahme, stand km, tachokilometer, "
        "wegstreckenstand"
    ),
    "mileage": "laufleistung, fahrleistung, gelaufene kilometer",
    "in": (
        "eingang, annahme, eingegangen, ankunft, angenommen, ein, eingangs, annahme am, bei annahme, einlieferung, "
        "anlieferung, hereinnahme, bei eingang, gebracht, zugang, anl, empfang, gebracht am, abgegeben, wann "
        "gekommen, angeliefert, hereingenommen, eingang am, gekommen, anlieferdatum, werkstatteingang, reingekommen, "
        "hereingekommen, angenommen am, entgegengenommen, ankunft am, annahmezeit, rein, eingegangen am, gekommen am, "
        "kam am, kommt"
    ),
    "out": (
        "ausgang, abholung, ausgabe, auslieferung, übergabe, aus, abgeholt, bei ausgang, bei abholung, rückgabe, "
        "abgang, ausgeliefert, bei übergabe, ausgangs, abgegeben an, zurückgegeben, abgeholt am, geholt, fertig "
        "abgeholt, herausgegeben, abgefahren, abholdatum, abgabe, bei abgabe, raus, rausgegangen, ging am, übergeben, "
        "übergeben am, zurück, zurück am, werkstattausgang, ausgangsdatum, auslieferdatum, km abgabe"
    ),
    "open": (
        "eröffnet, angelegt, beginn, start, offen, eröffnung, erstellt, anlage, begonnen, anfang, von, erfasst, "
        "auftragsanlage, wann, angelegt am, eröffnet am, datum auftrag"
    ),
    "close": (
        "abgeschlossen, abschluss, ende, fertig, fertigstellung, erledigt, schluss, geschlossen, beendet, fertig am, "
        "bis, fertiggestellt, abschl, ferti, fertigmeldung, fertig seit, abgeschlossen am, beendet am, abgerechnet, "
        "abgerechnet am, fertigstellungsdatum, fertiggemeldet, erledigt am, beendigung"
    ),
    "in_service": (
        "erstzulassung, ez, zulassung, erstzul, zulassungsdatum, tag der erstzulassung, inbetriebnahme, zugelassen, "
        "kaufdatum, erstzulassungsdatum, erst zulassung, in betrieb seit, im einsatz seit, erstzul datum, zugelassen "
        "am, ez datum, im fuhrpark seit, in dienst seit, zugelassen seit"
    ),
    "service": "dienst, wartung, service, inspektion",
    "void": "storniert, storno, annulliert, ungültig",
    "status": (
        "status, zustand auftrag, auftragsstatus, stand auftrag, bearbeitungsstand, auftragszustand, stat, offen oder "
        "zu, auftragsstand, offen zu, offen erledigt, auftragszust, abschlussstatus, stand des auftrags"
    ),
    "is_open": "noch offen, ist offen, offen ja nein",
    "is_closed": "ist erledigt, erledigt ja nein, abgeschlossen ja nein, ist fertig",
    "location": (
        "standort, filiale, betrieb, niederlassung, werkstattort, betriebsstätte, ort werkstatt, zweigstelle, haus, "
        "betr, fil, werkstattnr, nl, betriebsnr, haus nr, werkstatt name, werkstattname, betriebsteil, hof, "
        "annahmestelle"
    ),
    "total": (
        "gesamt, summe, total, gesamtbetrag, endbetrag, rechnungsbetrag, ges, auftragssumme, gesamtsumme, "
        "gesamtpreis, endsumme, auftragswert"
    ),
    "amount": "betrag, wert, berechnet, erlös, umsatz, betr eur",
    "price": (
        "preis, verkaufspreis, vk, vkpreis, vk preis, verkauf, vp, berechnet dem kunden, kundenpreis, kunde zahlt, "
        "verrechnet, verkaufswert, fakturiert, g preis, gesamtpreis netto, vk gesamt, vk netto, verkauf netto, erlös "
        "netto, kunde bezahlt, dem kunden berechnet, weiterberechnet, vk betrag, berechnet netto"
    ),
    "cost": (
        "kosten, einkauf, einkaufspreis, ek, ekpreis, ek preis, einstand, einstandspreis, selbstkosten, einst, ekp, "
        "gekostet, eigener preis, einkaufswert, wareneinsatz, kosten netto, einstand ges, ek gesamt, ek netto, ek "
        "betrag, kostet uns, unser preis, unser einkauf, bezahlt für teil, einkauf netto, kosten für uns"
    ),
    "extended": (
        "positionsbetrag, zeilenbetrag, zeilensumme, positionspreis, positionswert, gesamtpreis, zeilenwert, "
        "positionssumme, pos summe, gp"
    ),
    "net": "netto, nettopreis, nettobetrag, ohne mwst, zzgl mwst",
    "gross": "brutto, bruttopreis, inkl mwst, bruttobetrag",
    "tax": (
        "mwst, ust, steuer, mehrwertsteuer, umsatzsteuer, steuersatz, mwstsatz, steuerschlüssel, mwst satz, steuer "
        "prozent, mwst betrag"
    ),
    "discount": "rabatt, nachlass, skonto, marge, aufschlag",
    "payment": (
        "zahlung, zahlungsart, bezahlt, zahlart, fällig, anzahlung, offener betrag, versicherung, mahnung, kasse, "
        "zahlweise, offen betrag, beglichen, beglichen am, zahldatum, zahlungsdatum, bezahlt am, zahlungsziel"
    ),
    "rate": "stundensatz, stundenverrechnungssatz, satz, verrechnungssatz, svs",
    "labor": "lohn, arbeitslohn, arbeitsleistung, löhne, lohnarbeit",
    "part": "teil, teile, ersatzteil, ersatzteile, et, ers, tl",
    "hours": (
        "stunden, std, arbeitszeit, aw, arbeitswerte, zeiteinheiten, ze, stunde, arbeitsstunden, arbeitswert, "
        "arbeitsdauer, vorgabezeit, lohnstunden, zeitvorgabe, stdn, h, arb std, wie lange, dauer, zeitaufwand, zeit, "
        "zeitwert, arbeitsstd, lohnzeit, stdn berechnet, berechnete stunden, std berechnet, arbeitszeit std, "
        "zeitbedarf, fakturierte stunden, aw zahl"
    ),
    "actual": "gestempelt, tatsächlich, istzeit, ist",
    "quantity": (
        "menge, anzahl, anz, stück, stk, mng, stückzahl, st, wie viele, wieviel, verbaut stück, mge, menge stk, "
        "stückmenge, verbraucht, entnommen"
    ),
    "kind": (
        "art, zeilenart, positionsart, posart, kategorie, sorte, leistungsart, typ, artkennzeichen, klasse, pos art, "
        "was für eine zeile, zeilentyp, positionstyp, lohn oder teil, kostenart, art der zeile, belegart, l t, t l, "
        "lohn teil, lohn teile, postyp, t, art zeile, positionskategorie, art pos, was ist das, belegzeile, "
        "verrechnungsart, verr art"
    ),
    "record": "satzart, satz art, satzkennung, satztyp, datensatz, datensatzart, sa, kennzeichen satz",
    "component": (
        "bauteil, baugruppe, komponente, betroffenes teil, bt, bauteilcode, schadteil, bauteilgruppe, bauteilname, "
        "defektes teil, schadhaftes teil, betroffenes bauteil, was defekt"
    ),
    "system": "system, bereich",
    "position": (
        "einbauort, einbaulage, seite, lage, einbauposition, einbaustelle, zylindernummer, zylinder nr, stelle, zyl "
        "nr, ort, radposition, einbauseite, verbaut, verbauort, wo, welche seite, wo verbaut, einbau, rad, achse, li "
        "re, links rechts, vo hi, welches rad, welcher zylinder, platz am fahrzeug, radstelle, wo am fahrzeug"
    ),
    "action": (
        "tätigkeit, massnahme, maßnahme, aktion, arbeitsart, art der arbeit, reparaturart, tätigkeitsart, was "
        "gemacht, arbeitscode, ausgeführt, tat, vorgangsart, arbeitsgang, verrichtung, vorgehen, art der tätigkeit, "
        "handlung, was gemacht wird, getan was, arbeitsschritt, eingriff"
    ),
    "reason": (
        "grund, ausfallgrund, anlass, tauschgrund, schadensart, schadenart, warum, ursachencode, begründung, "
        "austauschgrund, wechselgrund, schadensgrund, schadenscode, grund des austauschs, ausbaugrund, weshalb, "
        "wieso, warum getauscht, anlass des tauschs, auslöser, motiv, wechsel weil, tauschanlass, warum gemacht, wozu"
    ),
    "cause": (
        "ursache, befund, diagnose, feststellung, schadensursache, fehlerursache, festgestellt, gefunden, "
        "schadursache, diagnosebefund, was war, woran lag es, gefundener fehler, fehler gefunden, schadensbefund, "
        "grund des fehlers, schadensbild, befundtext, ursachentext, diagnosetext, werkstattbefund, mechanikerbefund, "
        "was gefunden, was haben wir gefunden, gefundene ursache, fehler lag an, prüfbefund"
    ),
    "correction": (
        "abhilfe, behebung, ausgeführte arbeit, durchgeführte arbeit, durchgeführte arbeiten, ausgeführte arbeiten, "
        "reparaturmassnahme, erledigt durch, lösung, reparaturtext, arbeitsbericht, reparaturbericht, "
        "instandsetzungstext, durchführung, korrektur, arbeit ausgeführt, reparaturbeschreibung, fehlerbehebung, "
        "gemacht, was gemacht wurde, was wurde gemacht, arbeit erledigt, behoben durch, ausgeführt text, "
        "tätigkeitsbericht, arbeiten ausgeführt, durchgeführt, was getan, was wir gemacht haben, ausgeführt, "
        "erledigung, ausführung, ausführungstext, arbeitstext ausgeführt, behebungstext, getane arbeit, getan, "
        "erledigte arbeiten, instandsetzungsbericht, mechanikerbericht, reparaturhergang, wie behoben, gemachte "
        "arbeit, maßnahmentext"
    ),
    "concern": (
        "beanstandung, kundenbeanstandung, kundenangabe, beschwerde, reklamation, mangel, kundenwunsch, "
        "fehlerbeschreibung, problem, kundenaussage, symptom, symptome, kundenmeldung, gemeldeter fehler, "
        "auftragstext, klage, störung, kundenangaben, anliegen, beanst, schadensmeldung, defekt, kundenreklamation, "
        "mängel, fahrerangabe, fehlermeldung, schaden, fahrermeldung, was der kunde sagt, kunde sagt, kunde meldet, "
        "kundenbeschreibung, was ist defekt, fehlerbild, kundenbemerkung, fahrer meldet, kundentext, anlass des "
        "besuchs, auftragsgrund, angaben des kunden, was klemmt, mangel laut kunde, beanstandung laut kunde, "
        "besuchsgrund, grund des besuchs, kundenmeinung, kundenschilderung, schilderung, kundenhinweis, kunde klagt, "
        "klagt über, gemeldet, gemeldeter mangel, meldung, was der kunde meint, auftragswunsch, kundenproblem, fahrer "
        "sagt, fahrerbeanstandung, beschwerdetext, worum geht es, mängelangabe"
    ),
    "description": (
        "bezeichnung, beschreibung, text, bez, benennung, arbeitstext, leistungstext, teilebezeichnung, beschr, "
        "positionstext, leistung, artikeltext, artikelbezeichnung, zeilentext, arbeitsbeschreibung, langtext, "
        "kurztext, tätigkeitstext, was, leistung oder teil, arbeit oder teil, bezeichnung der position, "
        "arbeitsbezeichnung, posbez, was für ein teil, teil oder arbeit, position bezeichnung, bez teil, pos "
        "bezeichnung, arbeit teil, leistung teil, artikelname, teilename, arbeitsname"
    ),
    "note": "bemerkung, bemerkungen, notiz, notizen, kommentar, hinweis, anmerkung, interne, vermerk, info, bem",
    "supplier": (
        "lieferant, lieferanten, lief, lieferer, bezugsquelle, zulieferer, liefer, fremdfirma, bezogen von, gekauft "
        "bei, woher, händler, grosshändler, teilehändler, bezogen bei, zukauf, bezug, geliefert von, teilelieferant, "
        "kreditor, bezogen"
    ),
    "origin": (
        "herkunft, zustand, qualität, teileart, teilezustand, neu gebraucht, teilequalität, beschaffenheit, "
        "teileherkunft, neu oder gebraucht, teilart, art des teils, neuteil at, neu at, neu gebr, zustand teil, zust, "
        "teilzustand, neu alt, neu oder at, teil neu"
    ),
    "technician": (
        "mechaniker, monteur, techniker, bearbeiter werkstatt, mechanikernr, mech, geselle, mitarbeiter, ma, "
        "monteurnr, schrauber, personalnummer, ausführender, mitarb, mitarbeiternr, mechatroniker, wer, schlosser, "
        "ausgeführt von, gemacht von, arbeiter, monteurkürzel, werker, bearbeitet durch, handwerker, schrauber nr, "
        "mechaniker nr, mechanikerkürzel, durchgeführt von, gearbeitet von, hand, wer hat es gemacht, mitarb nr"
    ),
    "person": (
        "berater, annehmer, serviceberater, sachbearbeiter, bearbeiter, ansprechpartner, fahrer, benutzer, erfasser, "
        "verkäufer, meister, kundenberater, sb, disponent, angelegt von, erfasst von, freigegeben von, geändert von, "
        "annehmer name, entgegengenommen von, angenommen von, kundendienstberater, kdb, empfang person, theke, "
        "melder, gemeldet von, abgeholt von, gebracht von, dispo, aufgenommen von"
    ),
    "name": "name, vorname, nachname, firma, kundenname, zuname, familienname",
    "phone": "telefon, tel, handy, mobil, fax, telefonnummer, rufnummer, mobilnummer, festnetz",
    "email": "email, e mail, mail, mailadresse",
    "address": (
        "adresse, anschrift, strasse, straße, str, plz, wohnort, stadt, land, hausnummer, postleitzahl, ort kunde"
    ),
    "plate": (
        "kennzeichen, amtliches kennzeichen, amtl kennzeichen, kennz, polizeiliches kennzeichen, nummernschild, kfz "
        "kennzeichen"
    ),
    "birth": "geburtsdatum, geburtstag, geb, anrede, geschlecht, sprache, titel, alter",
    "warranty": "garantie, gewährleistung, gewähr, gar, zusage, kulanz, gewährl",
    "dtc": (
        "fehlercode, fehlercodes, fehlerspeicher, fehler code, fehlernummer, dtc, störcode, störungscode, fehlerkode, "
        "fc, fehlerspeichereintrag"
    ),
    "stage": (
        "zeitpunkt, ausgelesen, wann, phase, vorher nachher, vor nach, auslesezeitpunkt, lesezeitpunkt, vor oder nach "
        "reparatur, vorher oder nachher"
    ),
    "check": (
        "prüfung, prüfpunkt, kontrolle, probefahrt, endkontrolle, test, prüfart, geprüft, prüfschritt, nachprüfung"
    ),
    "measure": (
        "messung, messgrösse, messgröße, messart, messpunkt, parameter, gemessen, messwertart, prüfgröße, messgr"
    ),
    "value": "wert, messwert, ablesung, istwert, ablesewert, gemessener wert, anzeige",
    "result": "ergebnis, resultat, prüfergebnis",
    "pass": "bestanden, in ordnung, io, i o, ok, gut, erfüllt",
    "pull": "wiederholung, durchgang, versuch, lauf, messreihe, wdh, messung nr, messnummer, wiederholungsnr",
    "cylinder": "zylinder, zyl, zylinderzahl, zylinderanzahl, anzahl zylinder, anz zyl, zylinder anzahl",
    "exhaust": "auslass, auslassventile, auslaß, av, ausl",
    "intake": "einlass, einlassventile, einlaß, ev, einl",
    "valve": "ventil, ventile, vent",
    "displacement": "hubraum, ccm, liter",
    "fuel": "kraftstoff, leistung kw, kw, ps, kraftstoffart, motorleistung, hsn, tsn, schlüsselnummer",
    "tool": (
        "lagerort, lager, gewicht, bild, unterschrift, priorität, anhang, termin fertig, nächste hu, hu, "
        "hauptuntersuchung, nächster service, gedruckt, geändert, änderung, geändert am, arbeitsnummer, "
        "arbeitsposition, leistungsnummer, konto, kostenstelle, erlöskonto, letzte änderung, letzter besuch, export, "
        "gelöscht, freigabe, ap nummer, betriebsstunden, hebebühne, zugesagt, zugesagt am, versprochen, wunschtermin, "
        "arbeitsplatz, bühne, lagerplatz, fach, fachnr, stellplatz, box, platz nr, schlüsselbrett, tankinhalt, "
        "tankstand, ersatzwagen, leihwagen, wiedervorlage, hu fällig, tüv, service fällig, seiten, anzahl positionen, "
        "anzahl zeilen, zeilen anzahl, datensatz nr, satznr, versprochen bis, fertig bis, soll fertig, zugesagt bis"
    ),
    "part_number": (
        "teilenr, teile nr, artnr, art nr, teilenummer, ersatzteilnummer, artikelnummer, oe nummer, oe nr, "
        "sachnummer, sachnr, et nr, bestellnummer, bestellnr, materialnr, materialnummer, teil nr, teileident, "
        "artikelcode"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
