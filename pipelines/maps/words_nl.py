"""Dutch words of headers, with a workshop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "order, opdracht, werkorder, reparatieorder, werkbon, opdr, bon, dossier, werkopdracht, werkplaatsorder, "
        "orders, ordnr, opdrachtbon, reparatieopdracht, werkkaart, blad, werkblad, nr werkbon, bon nr, jobkaart, "
        "klusnr, klus, opdrachtnr"
    ),
    "job": "taak, bewerking, handeling",
    "repair": "reparatie, rep, herstelling, reparaties, herstel",
    "work": "werk, werkzaamheden, werkplaats, arbeid uitgevoerd",
    "shop": "werkplaats, garage",
    "visit": "bezoek, afspraak",
    "invoice": "factuur, fact, rekening, facturatie",
    "quote": "offerte, schatting, prijsopgave",
    "number": "nummer, nr, num, no, volgnummer nr, nummers",
    "id": "kenmerk, id, referentie, ref, sleutel, ident",
    "code": "code, cd",
    "line": "regel, rgl, regels, regelnummer, volgnummer, volgnr, lijn, regelnr",
    "item": "artikel, art, product, materiaal",
    "vehicle": "voertuig, vrtg, auto, wagen, voertuigen, vtg, vrachtwagen, bedrijfswagen, voert, machine, voertuig id",
    "fleet": "wagennummer, vlootnummer, vloot, wagenpark, parknummer, intern nr, intern nummer, voertuig intern",
    "unit": "eenheid, eenh, eh, maateenheid",
    "each": "stuk, per stuk, stukprijs, eenheidsprijs, per eenheid, stuks prijs, prijs per, pr stuk, per st",
    "customer": "klant, kl, eigenaar, houder, debiteur, opdrachtgever",
    "vin": "chassisnummer, chassis, vin, voertuigidentificatienummer, framenummer, chassisnr, chass",
    "engine": "motor, mot, motoren",
    "family": "familie, groep",
    "engine_family": (
        "motorcode, motortype, motorfamilie, motorserie, motorgroep, code motor, motoraanduiding, motorbenaming, code "
        "van de motor"
    ),
    "make": "merk, fabrikant, automerk",
    "brand": "merk onderdeel, onderdeelmerk",
    "model": "model, type, type voertuig, mod, voertuigtype, uitvoeringmodel, uitvoering type, typebenaming, modelnaam",
    "trim": "uitvoering, kleur, carrosserie, versnellingsbak, lak, deuren, transmissie, banden",
    "year": "jaar, bouwjaar, modeljaar, bj, bwjr",
    "date": "datum, dat, dag, dd, d d",
    "time": "tijd, tijdstip, uurtijd",
    "month": "maand, maanden, mnd, mnden",
    "mile": "mijl, mijlen",
    "km": "km, kilometer, kilometers",
    "odometer": (
        "kilometerstand, km stand, kmstand, teller, tellerstand, kilometerteller, stand, kmst, stand teller, km "
        "teller, kilometers bij binnenkomst, gelezen stand, kilometer stand, stand in, km aflezing, stand km, "
        "afgelezen stand, kilometers op teller, km bij binnenkomst"
    ),
    "mileage": "afgelegde kilometers, kilometrage",
    "in": (
        "binnenkomst, ontvangst, aanname, binnen, ontvangen, inkomend, aankomst, ingekomen, inname, bij binnenkomst, "
        "gebracht, intake, binnengebracht, gebracht op, ingeleverd, wanneer binnen, inleverdatum, ontvangen op, "
        "aangekomen, aangenomen, binnengekomen, binnengekomen op, ingebracht, aangeleverd, ingenomen, datum inname, "
        "kwam binnen, komt binnen, in werkplaats, dat in, bij inname, bij aankomst"
    ),
    "out": (
        "uit, aflevering, afgehaald, ophalen, vertrek, uitgifte, bij vertrek, afgeleverd, opgehaald, uitgaand, bij "
        "aflevering, teruggegeven, weg, opgehaald op, mee terug, uitgeleverd, klant opgehaald, afgegeven aan klant, "
        "dat uit, ging weg, meegenomen, weggegaan, uit werkplaats, teruggebracht, terug naar klant, terug, datum "
        "aflevering, bij uitgifte, bij ophalen"
    ),
    "open": (
        "geopend, aangemaakt, begin, start, opening, aanvang, aanmaak, gestart, wanneer, geopend op, orderdatum, "
        "datum order, datum opdracht"
    ),
    "close": (
        "gesloten, afgesloten, gereed, einde, afsluiting, klaar, gereedmelding, voltooid, eind, sluiting, afgerond, "
        "klaar op, gesloten op, gereed op, voltooid op, datum klaar, gereedgemeld, afgewerkt, dicht, afgemeld, klaar "
        "gemeld"
    ),
    "in_service": (
        "eerste toelating, datum eerste toelating, eerste registratie, ingebruikname, toelating, aankoopdatum, det, "
        "eerste tenaamstelling, inschrijving, eerste inschrijving, in gebruik, in dienst sinds, in gebruik sinds, op "
        "de weg sinds, in vloot sinds, datum deel, toegelaten op, op kenteken sinds"
    ),
    "service": "onderhoud, service, beurt",
    "void": "geannuleerd, vervallen",
    "status": (
        "status, toestand order, orderstatus, staat order, voortgang, open of gesloten, stand order, orderstand, "
        "status opdracht, staat, toestand, toestand bon, open dicht, status bon, stand van zaken"
    ),
    "is_open": "nog open, is open, open ja nee",
    "is_closed": "is gesloten, gesloten ja nee, is gereed",
    "location": (
        "vestiging, locatie, filiaal, loc, bedrijf, vest, werkplaatslocatie, standplaats, afdeling, garage, werf, "
        "werkplaats naam, vestigingscode, vest nr"
    ),
    "total": (
        "totaal, totaalbedrag, tot, som, eindbedrag, ordertotaal, factuurbedrag, eindtotaal, bontotaal, totaal bon, "
        "totaal opdracht, totaal te betalen"
    ),
    "amount": "bedrag, bedr, berekend, omzet",
    "price": (
        "prijs, verkoopprijs, verkoop, vkp, vk, vkprijs, berekend aan klant, klantprijs, verkocht, verkoopwaarde, "
        "verkoopbedrag, gefactureerd, in rekening, verkoop excl, regel bedrag, bedrag excl, gerekend, in rekening "
        "gebracht, aan klant, verkoop totaal, doorberekend, bedrag klant"
    ),
    "cost": (
        "kosten, kostprijs, inkoop, inkoopprijs, ikp, ink, inkprijs, kost, betaald, onze kosten, gekost, "
        "inkoopwaarde, eigen kosten, inkoop excl, inkoop totaal, kost ons, eigen kostprijs, uitgave, inkoopbedrag, "
        "ons betaald"
    ),
    "extended": "regelbedrag, regeltotaal, regelprijs, subtotaal",
    "net": "netto, excl btw, ex btw, exclusief btw",
    "gross": "bruto, incl btw, inclusief btw",
    "tax": "btw, belasting, btw bedrag, btw code",
    "discount": "korting, krt, marge, toeslag",
    "payment": (
        "betaling, betaald, betaalwijze, openstaand, aanbetaling, verzekering, betaald op, betaaldatum, voldaan, "
        "voldaan op, betaalmethode"
    ),
    "rate": "uurtarief, tarief, uurloon, uurprijs, tarief uur",
    "labor": "arbeid, arbeidsloon, loon, arb, arbeids",
    "part": "onderdeel, onderdelen, ond, reserveonderdeel, onderd, wisselstuk, deel, delen, onderdl",
    "hours": (
        "uren, uur, tijd, arbeidstijd, u, aantal uren, gewerkte uren, berekende uren, arbeidsuren, normtijd, "
        "werkuren, te, tijdseenheden, hoe lang, duur, tijdsduur, bestede tijd, bestede uren, gewerkt, uren berekend, "
        "tijd u, verkochte uren, bestede uren monteur, werktijd, gerekende uren, uren gerekend"
    ),
    "actual": "werkelijk, geklokt, werkelijke",
    "quantity": (
        "aantal, hoeveelheid, aant, stuks, hvh, ant, hoeveel, aantal stuks, aantal gebruikt, st, aantal st, aantal "
        "stuks gebruikt, verbruikt, aantal onderdelen"
    ),
    "kind": (
        "soort, type, categorie, regelsoort, regeltype, srt, aard, rubriek, soort regel, type regel, arbeid of "
        "onderdeel, kostensoort, regelcategorie, a o, o a, arbeid onderdeel, t, soort post, post, soort kosten, "
        "regelaard, kostentype"
    ),
    "record": "recordsoort, recordtype, record, regeltype record, rectype",
    "component": (
        "component, bouwgroep, onderdeelgroep, samenstel, getroffen onderdeel, componentcode, defect onderdeel, kapot "
        "onderdeel, defecte onderdeel, betreffend onderdeel, wat was stuk"
    ),
    "system": "systeem, gebied",
    "position": (
        "positie, plaats, zijde, kant, cilindernummer, pos, inbouwplaats, inbouwpositie, montageplaats, wiel, as, "
        "waar, waar gemonteerd, plek, locatie op voertuig, montageplek, plaats op voertuig, links rechts, v a, welke "
        "kant, welk wiel, welke, waar op voertuig"
    ),
    "action": (
        "actie, handeling, soort werk, soort werkzaamheid, verrichting, type werk, activiteit, soort reparatie, "
        "bewerking, uitgevoerde handeling, ingreep, wat gedaan, soort handeling, werksoort, verricht werk, "
        "handelingstype, wat"
    ),
    "reason": (
        "reden, reden vervanging, waarom, aanleiding, reden van vervanging, redencode, storingsreden, waarom "
        "vervangen, reden van het werk, reden werk, vervangen omdat, vervangreden, aanleiding werk, oorzaakcode, "
        "motief"
    ),
    "cause": (
        "oorzaak, diagnose, bevinding, bevindingen, vastgesteld, storingsoorzaak, constatering, geconstateerd, "
        "gevonden, wat gevonden, wat was er, gevonden oorzaak, gevonden fout, oorzaak storing, vaststelling, "
        "bevindingen monteur, wat we vonden, gevonden gebrek, gevonden defect, vastgestelde oorzaak, bevinding "
        "monteur, monteur vond, geconstateerd gebrek, oorzaak gevonden"
    ),
    "correction": (
        "oplossing, werkzaamheden, uitgevoerd werk, uitgevoerde werkzaamheden, herstel uitgevoerd, verholpen, "
        "remedie, correctie, uitgevoerd, uitgevoerde reparatie, verrichte werkzaamheden, gedaan, verricht, maatregel, "
        "werk uitgevoerd, wat gedaan, wat is gedaan, uitgevoerde werken, werk gedaan, herstelling uitgevoerd, "
        "reparatieomschrijving, verholpen door, uitgevoerde arbeid, verrichte arbeid, ingreep tekst, wat we deden, "
        "wat gedaan is, verrichting tekst, gedane werk, gedane arbeid, gerepareerd, hersteltekst, uitvoering tekst, "
        "werkverslag, reparatietekst, hoe verholpen, herstelling, uitgevoerde werk"
    ),
    "concern": (
        "klacht, klachten, klantklacht, symptoom, probleem, klantwens, gemeld, storing, wens, melding, "
        "klachtomschrijving, reden bezoek, klantverzoek, verzoek, gemelde klacht, defect, klantmelding, reden van "
        "bezoek, opmerking klant, wat zegt de klant, klant zegt, klant meldt, wens klant, klachtomschrijving klant, "
        "gemeld probleem, chauffeur meldt, gemelde storing, probleemomschrijving, aangegeven klacht, reden van komst, "
        "reden komst, wat is er mis, wat mankeert, klacht van klant, klacht klant, klacht van de klant, klant klaagt, "
        "klantopmerking, wat de klant zegt, bestuurder meldt, melding klant, melding chauffeur, verzoek klant, "
        "klantvraag, gevraagd werk, opgegeven klacht, aanmelding, gebrek, gebreken"
    ),
    "description": (
        "omschrijving, omschr, beschrijving, tekst, benaming, oms, toelichting, artikelomschrijving, "
        "werkomschrijving, regelomschrijving, onderdeelomschrijving, wat, werk of onderdeel, omschrijving regel, "
        "omschrijving onderdeel, omschrijving werk, onderdeel werk, werk onderdeel, onderdeel of werk, naam "
        "onderdeel, onderdeelnaam, tekst regel, regeltekst, klusomschrijving, artikelnaam"
    ),
    "note": "opmerking, opmerkingen, notitie, notities, commentaar, memo, opm",
    "supplier": (
        "leverancier, lev, leverancier naam, groothandel, uitbesteed aan, leveranciers, levr, gekocht bij, ingekocht "
        "bij, van wie, toeleverancier, onderaannemer, geleverd door, gehaald bij, ingekocht, onderdelenhuis"
    ),
    "origin": (
        "herkomst, kwaliteit, staat, conditie, nieuw gebruikt, soort onderdeel, type onderdeel, staat onderdeel, "
        "oorsprong, onderdeelsoort, onderdeelkwaliteit, nieuw of gebruikt, soort deel, staat van onderdeel, kwaliteit "
        "onderdeel, nieuw ruil, nieuw of ruil, staat ond, nieuw revisie, kwaliteit ond"
    ),
    "technician": (
        "monteur, technicus, mecanicien, mont, uitgevoerd door, medewerker, monteurcode, monteurnr, mdw, "
        "werkplaatsmedewerker, wie, gedaan door, uitvoerder, monteur nr, verholpen door monteur, monteur code, door "
        "monteur, sleutelaar, wie gedaan, mont nr, uitgevoerd monteur"
    ),
    "person": (
        "receptionist, adviseur, verkoper, chauffeur, bestuurder, contactpersoon, gebruiker, aangemaakt door, balie, "
        "serviceadviseur, werkplaatschef, ingevoerd door, aangenomen door, receptie, baliemedewerker, gebracht door, "
        "opgehaald door, gemeld door, melder, planner, intake door"
    ),
    "name": "naam, voornaam, achternaam, bedrijfsnaam, klantnaam, firma",
    "phone": "telefoon, tel, mobiel, gsm, fax, telefoonnummer, mobiele",
    "email": "email, e mail, mail, mailadres",
    "address": "adres, straat, woonplaats, postcode, plaatsnaam, land, huisnummer, gemeente",
    "plate": "kenteken, nummerplaat, kent, kentekennummer, kentekenplaat",
    "birth": "geboortedatum, geboren, geslacht, aanhef, taal",
    "warranty": "garantie, gar, waarborg",
    "dtc": "foutcode, foutcodes, storingscode, fout code, storingscodes, foutkode",
    "stage": (
        "moment, fase, voor na, uitgelezen, wanneer, tijdstip uitlezen, voor of na, uitleesmoment, voor of na "
        "reparatie, moment uitlezen"
    ),
    "check": "controle, proefrit, test, keuring, eindcontrole, nacontrole, controlepunt, soort controle, beproeving",
    "measure": "meting, grootheid, gemeten, parameter, meetgrootheid, soort meting, meetpunt",
    "value": "waarde, meetwaarde, aflezing, uitslag waarde, gemeten waarde, uitlezing",
    "result": "resultaat, uitkomst, uitslag",
    "pass": "goed, goedgekeurd, akkoord, ok, geslaagd, in orde",
    "pull": "herhaling, poging, meetreeks, run, herh, meting nr, nummer meting, herhaling nr",
    "cylinder": "cilinder, cilinders, cil, aantal cilinders, cyl",
    "exhaust": "uitlaat, uitl, uitlaatkleppen",
    "intake": "inlaat, inl, inlaatkleppen",
    "valve": "klep, kleppen",
    "displacement": "cilinderinhoud, liter, cc, slagvolume",
    "fuel": "brandstof, vermogen, pk, kw, brandstofsoort",
    "tool": (
        "magazijn, gewicht, foto, handtekening, prioriteit, volgende beurt, apk, apk datum, gewijzigd, afgedrukt, "
        "laatste bezoek, bewerkingscode, grootboek, kostenplaats, stelling, brug, beloofd, gewijzigd op, arbeidscode, "
        "beloofd op, toegezegd, schap, brug nr, werkplek, plek in werkplaats, standplaats werkplaats, apk tot, apk "
        "vervalt, leenauto, vervangend vervoer, sleutelnr, sleutel, aantal regels, brandstofniveau, beloofde datum, "
        "klaar beloofd, toegezegd op"
    ),
    "part_number": (
        "onderdeelnr, onderdeelnummer, artikelnr, artikelnummer, art nr, bestelnr, bestelnummer, artikelcode, "
        "onderdeelcode, magazijnnummer, art code, ond nr, stuknummer"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
