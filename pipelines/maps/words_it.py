"""Italian words of headers, with a workshop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "ordine, commessa, odl, ordine di lavoro, ordine di riparazione, scheda, scheda lavoro, pratica, foglio di "
        "lavoro, ord, comm, bolla, ordine lavoro, ordine riparazione, commesse, prat, scheda officina, foglio lavoro, "
        "foglio, n foglio, rif ordine, rif commessa, n intervento, nr intervento, n odl, comm n"
    ),
    "job": "operazione, attività, lavorazione, mansione",
    "repair": "riparazione, rip, riparazioni",
    "work": "lavoro, lavori, officina, intervento",
    "shop": "officina",
    "visit": "visita, appuntamento",
    "invoice": "fattura, fatt, ricevuta, fatturazione",
    "quote": "preventivo, stima",
    "number": "numero, num, n, no, nr, nro, n°, progressivo numero",
    "id": "identificativo, id, riferimento, rif, chiave",
    "code": "codice, cod, cd",
    "line": "riga, righe, rigo, linea, progressivo, progr, prog, posizione riga, voce",
    "item": "articolo, art, prodotto, materiale",
    "vehicle": (
        "veicolo, veic, auto, vettura, macchina, autovettura, mezzo, veicoli, autoveicolo, camion, automezzo, n mezzo"
    ),
    "fleet": "flotta, parco, numero mezzo, numero interno, matricola mezzo",
    "unit": "unità, um, unità di misura, u m",
    "each": "unitario, unit, prezzo unitario, pu, cadauno, cad",
    "customer": "cliente, cli, proprietario, intestatario, committente",
    "vin": "telaio, numero di telaio, numero telaio, n telaio, num telaio, nr telaio, vin, matricola telaio",
    "engine": "motore, mot, motorizzazione, motori",
    "family": "famiglia, gruppo",
    "engine_family": (
        "codice motore, tipo motore, sigla motore, famiglia motore, serie motore, cod motore, famiglia di motori, "
        "denominazione motore, motore codice, sigla del motore"
    ),
    "make": "marca, casa, casa costruttrice, costruttore, marchio",
    "brand": "marca ricambio, produttore",
    "model": "modello, mod, mdl, tipo veicolo, versione modello, tipo, versione",
    "trim": "allestimento, colore, carrozzeria, cambio, versione, porte, trasmissione, pneumatici",
    "year": (
        "anno, anno modello, anno di costruzione, anno costruzione, anno produzione, anno imm, anno immatricolazione"
    ),
    "date": "data, dt, giorno, dat",
    "time": "ora, orario",
    "month": "mese, mesi",
    "mile": "miglio, miglia",
    "km": "km, chilometri, chilometro, kms",
    "odometer": (
        "contachilometri, lettura contachilometri, odometro, lettura, contakm, km letti, lettura km, km "
        "contachilometri, conta km, km percorsi, km segnati, km rilevati, kilometri, km strumento, lettura strumento"
    ),
    "mileage": "chilometraggio, percorrenza, chilom, kilometraggio",
    "in": (
        "ingresso, entrata, accettazione, arrivo, ricevimento, consegna cliente, ing, all ingresso, accett, in "
        "ingresso, in entrata, ricevuto, ricevuto il, portato, consegnato da cliente, arrivato, data ricevimento, "
        "data arrivo, entrato, dt ingr, ingr, entrato il, arrivato il, preso in carico, presa in carico, ricezione, "
        "data ricezione, in accettazione, arrivo in officina"
    ),
    "out": (
        "uscita, riconsegna, consegna, ritiro, usc, in uscita, all uscita, restituzione, ritirato, ritirato il, "
        "restituito, riconsegnato, consegnato il, uscito, dt usc, uscito il, consegnato, riconsegnato il, reso, reso "
        "il, restituito il, alla riconsegna, alla consegna, resa"
    ),
    "open": (
        "apertura, aperto, inizio, creazione, creato, emissione, aperta, ap, quando, aperta il, data ordine, data "
        "commessa, aperto il"
    ),
    "close": (
        "chiusura, chiuso, fine, completato, completamento, terminato, chiusa, chius, fine lavori, termine, "
        "ultimazione, chiusa il, finito, finita il, terminata, conclusione, data fine, chiuso il, finito il, "
        "completato il, terminato il, ultimato, ultimata"
    ),
    "in_service": (
        "immatricolazione, data immatricolazione, prima immatricolazione, messa in servizio, messa su strada, immatr, "
        "data acquisto, data di immatricolazione, 1a immatricolazione, entrata in servizio, imm, data imm, anno imm "
        "prima, prima imm, messa in circolazione, immatricolato il, in servizio dal, in circolazione dal, data 1 "
        "immatricolazione, in flotta dal, data entrata in servizio"
    ),
    "service": "servizio, manutenzione, tagliando",
    "void": "annullato, annullata, stornato",
    "status": (
        "stato, stato ordine, stato commessa, situazione, avanzamento, aperta o chiusa, stato pratica, stato scheda, "
        "aperta chiusa, stato lavoro"
    ),
    "is_open": "ancora aperta, è aperta, aperta sì no",
    "is_closed": "è chiusa, chiusa sì no",
    "location": (
        "sede, filiale, punto vendita, stabilimento, officina sede, luogo, succursale, centro, reparto, punto "
        "assistenza, officina nome, nome officina, base, cantiere"
    ),
    "total": "totale, importo totale, tot, somma, totale commessa, totale documento, totale ordine",
    "amount": "importo, imp, ammontare, addebito, addebitato",
    "price": (
        "prezzo, prezzo di vendita, vendita, pv, listino, prz, prezzo vendita, ricavo, addebitato al cliente, prezzo "
        "cliente, venduto, fatturato, prezzo addebitato, prezzo finale, valore vendita, imp riga, addebito cliente, "
        "importo vendita, ricavo riga, prezzo al cliente, venduto a, totale voce, addebitato cliente, fatturato "
        "cliente"
    ),
    "cost": (
        "costo, costi, prezzo di acquisto, acquisto, prezzo acquisto, pa, pagato, costato, nostro costo, prezzo di "
        "costo, costo nostro, valore acquisto, costo acq, costo acquisto, costo per noi, costo riga, spesa, costo "
        "interno, costo sostenuto"
    ),
    "extended": "importo riga, totale riga, subtotale, prezzo totale, importo di riga",
    "net": "netto, imponibile, senza iva, iva esclusa, s iva, escl iva, i e",
    "gross": "lordo, ivato, iva inclusa, iva compresa, c iva, incl iva",
    "tax": "iva, imposta, aliquota, aliquota iva, tasse",
    "discount": "sconto, sc, abbuono, margine, ricarico, sc %, sconto %",
    "payment": (
        "pagamento, pagato, modalità di pagamento, saldo, acconto, scadenza, assicurazione, incasso, saldato, saldata "
        "il, pagato il, incassato il, incassato, data saldo, modalità pagamento"
    ),
    "rate": "tariffa oraria, tariffa, costo orario, prezzo orario",
    "labor": "manodopera, mano d opera, mdo, mano opera, man",
    "part": "ricambio, ricambi, pezzo, pezzi, parte, parti, pz, ric",
    "hours": (
        "ore, hrs, h, tempo, tempo di lavoro, ore fatturate, ore lavoro, ore addebitate, tempi, tempario, ore "
        "manodopera, quanto tempo, durata, tempo impiegato, ore impiegate, ore add, ore lav, ore vendute, tempo ore, "
        "ore imputate, tempo addebitato"
    ),
    "actual": "effettive, effettivo, timbrate",
    "quantity": (
        "quantità, pezzi, qta, qtà, q tà, pezzi numero, quant, qt, quanti, quante, quantità usata, pz, pezzi usati, "
        "qta usata, n pezzi, nr pezzi, pezzi montati"
    ),
    "kind": (
        "tipo, genere, categoria, tipologia, tipo riga, natura, cat, tipo voce, tipo di riga, tipo addebito, "
        "categoria riga, manodopera o ricambio, genere riga, tipo di voce, m r, t, t riga, voce tipo, natura riga, "
        "tipo costo, voce"
    ),
    "record": "record, tipo record, tipo rec, tracciato, tr",
    "component": (
        "componente, organo, gruppo componente, elemento, parte guasta, particolare, codice componente, complessivo, "
        "pezzo guasto, parte difettosa, organo guasto, elemento guasto"
    ),
    "system": "sistema, impianto",
    "position": (
        "posizione, lato, pos, numero cilindro, n cilindro, ubicazione, punto, ruota, asse, posiz, dove, dove "
        "montato, lato montaggio, punto di montaggio, posizione montaggio, posto, ant post, sx dx, quale, quale "
        "ruota, punto montaggio, lato veicolo, dove sul veicolo"
    ),
    "action": (
        "azione, tipo intervento, tipo di intervento, tipo lavoro, operazione eseguita, tipo di lavoro, tipo "
        "lavorazione, tipo operazione, cosa fatto, tipo riparazione, operaz, intervento, lavorazione, operazione, "
        "attività svolta, tipo att, opera"
    ),
    "reason": (
        "motivo, ragione, motivo sostituzione, motivo della sostituzione, causale, perché, motivazione, causale "
        "sostituzione, perchè, perché cambiato, motivo del cambio, motivo lavoro, ragione sostituzione, sostituito "
        "perché, motivo intervento, ragione lavoro, motivo del lavoro, giustificazione"
    ),
    "cause": (
        "causa, diagnosi, riscontro, riscontrato, causa guasto, rilevato, causa del guasto, accertato, esito "
        "diagnosi, anomalia trovata, cosa trovato, trovato, guasto trovato, causa riscontrata, origine guasto, causa "
        "difetto, difetto riscontrato, accertamento, causa accertata, causa trovata, riscontrata, guasto riscontrato, "
        "accertato in officina, esito controllo, cosa abbiamo trovato, diagnosi tecnica, anomalia riscontrata, "
        "rilievo tecnico"
    ),
    "correction": (
        "correzione, lavoro eseguito, lavori eseguiti, riparazione eseguita, rimedio, soluzione, intervento eseguito, "
        "azione correttiva, eseguito, interventi eseguiti, lavoro svolto, lavorazioni eseguite, rip eseguita, cosa è "
        "stato fatto, fatto, lavoro fatto, riparazione fatta, intervento svolto, intervento effettuato, lavori "
        "effettuati, lavoro effettuato, descrizione intervento, riparazione effettuata, lavori svolti, interv "
        "eseguito, cosa fatto, cosa abbiamo fatto, svolto, operazioni eseguite, operazione svolta, riparazione "
        "svolta, come riparato, relazione meccanico, descrizione riparazione, opera eseguita"
    ),
    "concern": (
        "lamentela, reclamo, sintomo, sintomi, difetto, difetto lamentato, guasto, richiesta, richiesta cliente, "
        "problema, guasto segnalato, motivo visita, motivo della visita, segnalazione, segnalazione cliente, "
        "anomalia, difetto segnalato, inconveniente, motivo ingresso, richiesta del cliente, lamentato, difetto "
        "dichiarato, inconveniente lamentato, cosa dice il cliente, il cliente dice, dichiarato dal cliente, difetto "
        "riferito, lamentela cliente, difetto del cliente, problema segnalato, segnalato, sintomo riferito, richiesta "
        "intervento, cosa lamenta il cliente, cliente lamenta, lamenta, dichiarato, difetto riferito dal cliente, "
        "riferito, problema cliente, anomalia lamentata, guasto lamentato, richiesto, lavoro richiesto, lavori "
        "richiesti, motivo di ingresso, motivo accettazione, note cliente, segnalato dal cliente, reclamo cliente, "
        "cosa non va"
    ),
    "description": (
        "descrizione, descr, desc, dettaglio, testo, denominazione, designazione, dicitura, descriz, cosa, che cosa, "
        "oggetto, lavoro o ricambio, descrizione ricambio, descrizione lavoro, lavorazione descrizione, descrizione "
        "voce, voce, descriz voce, ricambio o lavoro, nome ricambio, nome del ricambio, lavoro o pezzo, descrizione "
        "riga, descrizione articolo, denominazione ricambio, testo riga"
    ),
    "note": "nota, note, commento, commenti, osservazioni, annotazioni, appunti, osservazione",
    "supplier": (
        "fornitore, forn, distributore, terzista, ricambista, acquistato da, comprato da, comprato presso, acquistato "
        "presso, grossista, magazzino fornitore, ricambi da, negozio ricambi, preso da"
    ),
    "origin": (
        "origine, provenienza, condizione, qualità, stato ricambio, tipo ricambio, tipo di ricambio, nuovo usato, "
        "stato pezzo, tipo pezzo, qualità ricambio, condizione ricambio, nuovo o usato, stato del pezzo, stato del "
        "ricambio, tipo pezzo ricambio, qualità pezzo, nuovo rigenerato, nuovo usato rigenerato, stato ric, nuovo o "
        "rigenerato"
    ),
    "technician": (
        "meccanico, tecnico, mecc, operaio, tec, addetto, operatore officina, eseguito da, matricola, riparatore, "
        "chi, fatto da, lavorato da, esecutore, matr op, matr operaio, matr, operatore, matricola operaio, cod "
        "operaio, chi ha fatto, svolto da, mano, meccanico n, cod tecnico"
    ),
    "person": (
        "accettatore, consulente, venditore, autista, conducente, contatto, utente, responsabile, capo officina, "
        "operatore, inserito da, creato da, aperto da, referente, banco, portato da, ritirato da, segnalato da, preso "
        "in carico da, addetto accettazione, conducente nome"
    ),
    "name": "nome, cognome, ragione sociale, nominativo, azienda, ditta",
    "phone": "telefono, tel, cellulare, cell, fax, recapito",
    "email": "email, posta elettronica, e mail, mail, pec",
    "address": "indirizzo, via, città, cap, provincia, comune, paese, civico, località",
    "plate": "targa, targhe, targa veicolo, tg",
    "birth": "data di nascita, nascita, sesso, lingua, codice fiscale, partita iva, patente",
    "warranty": "garanzia, gar, garanzie",
    "dtc": (
        "codice guasto, codice errore, codici guasto, codice difetto, codici errore, codice anomalia, errore "
        "centralina, errore"
    ),
    "stage": (
        "momento, fase, prima dopo, lettura fase, letto, prima o dopo, momento lettura, prima o dopo riparazione, "
        "quando letto"
    ),
    "check": (
        "prova, verifica, controllo, prova su strada, collaudo, test, controllo finale, ispezione, tipo di controllo, "
        "tipo prova"
    ),
    "measure": "misura, grandezza, parametro, misurazione, tipo misura, rilievo, grandezza misurata",
    "value": "valore, valore misurato, val, valore letto, misurato, valore rilevato, rilevato valore",
    "result": "risultato, esito, ris",
    "pass": "superato, conforme, ok, idoneo, positivo, superata",
    "pull": "ripetizione, prova numero, ciclo, tentativo, n prova, n misura, misura n, numero prova",
    "cylinder": "cilindro, cilindri, cil, numero cilindri, n cilindri, numero di cilindri",
    "exhaust": "scarico, scar",
    "intake": "aspirazione, asp, ammissione",
    "valve": "valvola, valvole, valv",
    "displacement": "cilindrata, litri, cc, cm3",
    "fuel": "carburante, alimentazione, potenza, cv, kw",
    "tool": (
        "magazzino, peso, foto, firma, priorità, prossimo tagliando, revisione, scadenza revisione, modificato, "
        "stampato, ultima visita, codice operazione, scaffale, ponte, data prevista, consegna prevista, conto, centro "
        "di costo, data promessa, promesso, promessa, promesso per, stampa, data stampa, ponte n, box, postazione, "
        "posto officina, posto in officina, posto di lavoro, consegna promessa, auto sostitutiva, vettura di "
        "cortesia, n chiavi, n righe, numero righe, livello carburante, sollecito, bollo, scadenza"
    ),
    "part_number": (
        "cod ricambio, codice ricambio, cod articolo, art ricambio, cod pezzo, codice pezzo, codice articolo, nr "
        "ricambio, n pezzo, rif ricambio, cod prodotto, codice"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
