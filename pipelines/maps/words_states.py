"""What shops write for part origins, order states, yes and no, units, in all languages: ours -> theirs, by comma.

Words are compared in lower case without accents and signs. One ending in * is the beginning of a word in theirs.
"""

from __future__ import annotations

from collections.abc import Mapping

ORIGINS: Mapping[str, str] = {
    "new": (
        "new, oem, oe, original*, aftermarket, am, a m, genuine, brand new, nw, std, standard, neu, neue, "
        "neuteil*, erstausruster, neuware, nachbau, zubehor, neuf*, neuve*, neufs, origine, d origine, adaptable, "
        "nuev*, alternativo, nuov*, originale, concorrenza, nieuw*, origineel, imitatie, nov*, paralel*, ny, "
        "nytt, nya, orig, nowy, nowa, nowe, oryginal*, zamiennik*"
    ),
    "remanufactured": (
        "reman*, reconditioned, recon, remfd, rmn, rman, exchange*, exch, factory reman, x change, austausch*, at, "
        "tauschteil*, generaluberholt, aufbereit*, werksuberholt, echange*, echange standard, es, reconditionn*, "
        "renov*, remanufactur*, intercambio, reacondicion*, rigenerat*, rigen, ricondizion*, rotazione, ruil*, "
        "reman ruil, remanufatur*, recondicion*, base de troca, fabriksrenover*, utbytes*, bytesdel, fabrycznie*, "
        "regenerow*, wymienna"
    ),
    "rebuilt": (
        "rebuil*, rbt, rblt, overhaul*, refurb*, rebld, uberholt*, ueberholt*, "
        "instandgesetzt, aufgearbeitet, revidiert, reconstrui*, refait*, revise*, remis a neuf, reconstr*, "
        "rectific*, reparad*, revisionat*, ricostruit*, rifatt*, gereviseerd*, gerev, rev, hersteld, herbouwd, "
        "reconstruid*, retific*, renoverad*, ombyggd, odbudow*, naprawian*, po naprawie, po regeneracji"
    ),
    "used": (
        "used, usd, second hand, secondhand, 2nd hand, salvage*, recycled, recyc, junkyard, pre owned, "
        "gebraucht*, gebr, occasion*, occ, d occasion, usage, recup*, reemploi, usad*, segunda mano, desguace, de "
        "segunda, usat*, gebruikt*, tweedehands, sloop*, segunda mao, sucata, begagnad*, beg, skrot*, uzywan*, "
        "uzyw, z demontazu"
    ),
}

STATUSES: Mapping[str, str] = {
    "open": (
        "open*, opn, in progress, wip, active, pending, waiting*, started, ongoing, in work, hold, on hold, new, "
        "opened, offen*, in arbeit, in bearbeitung, angelegt, laufend, ouvert*, en cours, en attente, ouverte, "
        "abiert*, en curso, en proceso, pendiente, apert*, in corso, in lavorazione, in attesa, in behandeling, "
        "lopend, openstaand, abert*, em curso, em andamento, pendente, em aberto, oppen*, oppet, pagaende, "
        "paborjad, otwart*, w toku, w realizacji, w trakcie, unfinished, not closed"
    ),
    "closed": (
        "clos*, cls, clsd, complet*, invoiced, paid, done, finish*, finali*, posted, billed, delivered, cashed, "
        "ready, archived, geschlossen, abgeschlossen, erledigt, fertig*, fakturiert, berechnet, bezahlt, "
        "abgerechnet, zu, ferme*, termine*, clotur*, facture*, livre*, solde, cerrad*, terminad*, facturad*, "
        "finalizad*, entregad*, cobrad*, chius*, completat*, fatturat*, terminat*, consegnat*, evas*, geslot*, "
        "afgeslot*, gereed, gefactureerd, klaar, afgerond, opgeleverd, fechad*, concluid*, faturad*, encerrad*, "
        "entregue, stangd, stangt, avslut*, klar, fakturer*, fardig*, zamkni*, zakoncz*, zafaktur*, zrealizow*, "
        "gotow*, wydan*"
    ),
    "void": (
        "void*, cancel*, cxl, cncl, deleted, del, scrapped, voided, storn*, annullier*, geloscht, abgebrochen, "
        "ungultig, verworfen, annul*, ann, supprim*, abandon*, anulad*, cancelad*, anul*, nulo, nula, baja, "
        "annullat*, stornat*, nullo, geannul*, vervallen, verwijderd, makuler*, avbruten, annullerad, struken, "
        "anulow*, skasow*"
    ),
}

ODOMETER_UNITS: Mapping[str, str] = {
    "mi": "mi, mile*, mls, meile*, mille*, milla*, migli*, mijl*, milha*, mil, engelsk mil, m",
    "km": "km, kms, kilomet*, kilometr*, quilomet*, chilometr*, k, kilometer, klm",
}

YES_NO: Mapping[str, str] = {
    "true": (
        "y, yes, true, t, 1, x, ja, j, wahr, oui, o, vrai, v, si, s, verdadero, vero, sim, verdadeiro, waar, "
        "sant, tak, prawda, ok, pass*, p, bestanden, i o, io, erfullt, conforme, reussi*, aprobad*, apto, "
        "superat*, idoneo, goed*, geslaagd, aprovad*, godkan*, zaliczon*, pozytyw*, good, gut, akkoord, correct*, "
        "bon, positiv*"
    ),
    "false": (
        "n, no, false, f, 0, nein, falsch, non, faux, falso, nao, nee, onwaar, nej, falskt, nie, falsz, fail*, "
        "not ok, nok, nicht bestanden, n i o, nio, non conforme, echoue*, reprobad*, no apto, suspens*, non "
        "superat*, non idoneo, afgekeurd, niet goed, reprovad*, underkan*, niezalicz*, negat*, bad, schlecht, "
        "niet akkoord, mauvais, rejete*, rechazad*, respint*"
    ),
}

STAGES: Mapping[str, str] = {
    "arrival": (
        "arrival, arriv*, in, before*, pre, initial, on arrival, intake, first, incoming, pre repair, vorher, "
        "vor*, eingang, annahme, bei annahme, ankunft, avant*, entree, a l entree, llegada, antes*, entrada, "
        "ingreso, arrivo, prima*, ingresso, aankomst, voor*, binnenkomst, chegada, ankomst, fore*, inlamning, "
        "przed*, przyjecie, wjazd, inicial, iniziale"
    ),
    "after_repair": (
        "after*, post, out, final, after repair, post repair, exit, last, nachher, nach*, ausgang, apres*, "
        "sortie, a la sortie, despues*, salida, dopo*, uscita, na*, uit, vertrek, aflevering, depois*, saida, "
        "apos*, efter*, utlamning, po*, wydanie, wyjazd, finale, po naprawie, na reparatie"
    ),
}
"""Read on arrival, or after the repair."""

MEASURES: Mapping[str, str] = {
    "compression": (
        "compression*, compr, kompression*, compresion*, compressione, compressie*, compressao, kompresj*, "
        "cylinder compression, cyl compression"
    ),
    "relative_compression": "relative compression, relative kompression, rel compression",
    "leak_down": (
        "leak down*, leakdown, cylinder leakage, leakage, druckverlust*, fuite cylindre, fuga*, perdita*, "
        "lekverlies, lektest, vazamento, lackage*, szczelnosc*"
    ),
    "injector_balance": (
        "injector balance, inj balance, injektorabgleich, einspritzmengenabweichung, balance injecteur*, balance "
        "de inyector*"
    ),
    "injector_return_flow": "injector return*, return flow, leak off, rucklauf*, retour injecteur*, retorno inyector*",
    "fuel_pressure": (
        "fuel pressure, kraftstoffdruck, pression carburant, presion de combustible, presion combustible, "
        "pressione carburante, brandstofdruk, pressao de combustivel, bransletryck, cisnienie paliwa"
    ),
    "fuel_rail_pressure": (
        "rail pressure, fuel rail pressure, raildruck, pression rail, presion rail, pressione rail, raildruk"
    ),
    "oil_pressure": (
        "oil pressure, oildruck, oldruck, oeldruck, pression d huile, pression huile, presion de aceite, presion "
        "aceite, pressione olio, oliedruk, pressao do oleo, pressao de oleo, oljetryck, cisnienie oleju"
    ),
    "coolant_temperature": (
        "coolant temp*, kuhlmitteltemperatur, kuhlwassertemperatur, temperature liquide*, temperatura "
        "refrigerante, temperatura liquido*, koelvloeistoftemperatuur, kylvatskatemperatur, temperatura plynu"
    ),
    "boost_pressure": (
        "boost*, ladedruck, pression turbo, presion turbo, pressione turbo, turbodruk, laadruk, pressao do turbo, "
        "laddtryck"
    ),
    "battery_voltage": (
        "battery volt*, batt volt*, batteriespannung, tension batterie, voltaje bateria, tension bateria, "
        "tensione batteria, accuspanning, tensao bateria, batterispanning, napiecie akumulatora"
    ),
    "charging_voltage": (
        "charging volt*, ladespannung, tension de charge, voltaje de carga, tensione di ricarica, laadspanning, "
        "tensao de carga, laddspanning"
    ),
    "valve_clearance": (
        "valve clearance, valve lash, ventilspiel, jeu aux soupapes, jeu soupape*, juego de valvulas, gioco "
        "valvole, klepspeling, folga de valvulas, ventilspel, luz zaworow*"
    ),
    "brake_pad_thickness": (
        "pad thickness, brake pad thickness, belagdicke, belagstarke, epaisseur plaquette*, espesor pastilla*, "
        "spessore pastigli*, remblokdikte, espessura pastilha*, belaggstjocklek, grubosc klock*"
    ),
    "brake_rotor_thickness": (
        "rotor thickness, disc thickness, scheibendicke, bremsscheibendicke, epaisseur disque*, espesor disco*, "
        "spessore disc*, schijfdikte"
    ),
    "tire_tread_depth": (
        "tread*, tread depth, profiltiefe, profondeur sculpture*, profundidad dibujo, profondita battistrada, "
        "profieldiepte, profundidade piso, monsterdjup, glebokosc bieznika"
    ),
}
"""Only where shops' words differ from our code with its underscores as spaces."""

CHECKS: Mapping[str, str] = {
    "road_test_miles": (
        "road test*, probefahrt*, essai routier, essai sur route, prueba de ruta, prueba de carretera, prova su "
        "strada, proefrit, teste de estrada, provkorning, jazda probna, test drive"
    ),
    "leak_check": (
        "leak check*, leaks, leak test, dichtheit*, dichtigkeit*, controle fuite*, etancheite, control de fugas, "
        "prueba de fugas, controllo perdite, lekcontrole, lektest, controle de fugas, lackagekontroll, szczelnosc"
    ),
    "misfire_count": (
        "misfire*, fehlzundung*, rates, rate d allumage, fallos de encendido, mancate accensioni, overslagen, "
        "falhas de ignicao, misstandning*"
    ),
    "code_returned": (
        "code return*, codes return*, code came back, fehlercode wieder*, code revenu, codigo volvio, codice "
        "ricomparso, code terug"
    ),
    "pressure_test": (
        "pressure test*, druckprufung, abdrucken, essai de pression, prueba de presion, prova di pressione, "
        "druktest, afpersen, teste de pressao, tryckprov*"
    ),
    "idle_quality": "idle*, idle quality, leerlauf*, ralenti, stationair*, minimo, tomgang*",
    "noise_check": "noise*, gerausch*, bruit*, ruido*, rumor*, geluid*, ljud*",
    "fluid_level": "fluid level*, flussigkeitsstand*, niveau*, nivel*, livello*, vloeistofniveau, vatskeniva*",
    "wheel_torque": (
        "wheel torque, radmuttern, drehmoment*, couple roue*, par de apriete*, coppia ruote, aanhaalmoment*, "
        "aperto rodas, momentdrag*"
    ),
    "alignment": (
        "alignment, achsvermessung, spur, geometrie, alineacion, assetto, convergenza, uitlijning, alinhamento, "
        "hjulinstallning, geometria"
    ),
    "function_check": (
        "function*, functional, funktion*, fonctionnement, funcionamiento, funzionamento, werking, funcionamento"
    ),
}
"""Only where shops' words differ from our code with its underscores as spaces."""

UNITS: Mapping[str, str] = {
    "psi": "psi, lbs, lb in2, lbf",
    "kpa": "kpa",
    "bar": "bar, bars",
    "percent": "percent, pct, prozent, pour cent, por ciento, por cento, per cento, procent",
    "ml_per_min": "ml min, ml per min, ml minute",
    "ohm": "ohm*, ohms",
    "inh2o": "inh2o, in h2o, inwc",
    "inhg": "inhg, in hg",
    "fahrenheit": "f, deg f, fahrenheit, degf",
    "celsius": "c, deg c, celsius, degc, grad c",
    "gram": "g, gr, gram*, gramm",
    "mm": "mm, millim*",
    "in": "in, inch*, zoll, pouce*, pulgada*, pollic*, polegada*",
    "degree": "deg, degree*, grad, degre*, grado*, gradi, graden, grau*",
    "ampere": "a, amp*, ampere*",
    "volt": "v, volt*",
}
"""Units of bench readings."""
