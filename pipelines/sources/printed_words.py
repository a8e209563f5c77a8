"""Words that stand on the lines of a printed list which are no records: totals, pages, ends, counts, print dates.

From memory, in nine languages. Small letters; they are compared without capitals.
"""

from __future__ import annotations


def _words(text: str) -> tuple[str, ...]:
    """The words or phrases between the commas."""
    return tuple(phrase.strip() for phrase in text.split(","))


TOTAL_WORDS = _words(
    "total, totals, totaux, totale, totali, totaal, totalt, sum, sums, summe, summa, somme, somma, suma, soma, "
    "som, subtotal, subtotals, sub-total, sub total, sous-total, sous total, subtotale, subtotaal, zwischensumme, "
    "endsumme, gesamt, gesamtsumme, insgesamt, grand total, grand totals, overall total, total général, total "
    "general, total geral, totale generale, eindtotaal, delsumma, razem, łącznie, ogółem, suma częściowa, count, "
    "anzahl, aantal, antal, carried forward, brought forward, übertrag, report total, page total"
)
"""Beginnings of a total line; the rest of the cell must be made of TAIL_WORDS, numbers and dates."""

PAGE_WORDS = _words("page, seite, blatt, pagina, página, pág, pag, sheet, strona, str, sida, hoja, folha")

_ARTICLES = _words(
    "the, for, of, per, in, on, from, to, until, and, all, this, für, von, bis, der, die, das, des, dem, den, "
    "und, je, pro, du, de, la, le, les, pour, par, et, del, el, los, las, por, y, di, della, dello, dei, delle, "
    "il, e, da, do, dos, em, voor, van, het, en, dla, na, z, i, för, av, på, och"
)

_AMOUNTS = _words(
    "amount, net, gross, incl, excl, tax, vat, mwst, netto, brutto, tva, iva, btw, moms, ht, ttc, eur, usd, gbp, "
    "chf, pln, sek, cad, aud, general, général, geral, generale, sum, total, summe, betrag, montant, importe, "
    "importo, valor, bedrag, kwota, belopp"
)

_WHAT_IS_COUNTED = _words(
    "report, list, records, rows, lines, orders, order, jobs, job, parts, labor, labour, hours, month, year, day, "
    "date, week, liste, bericht, auftrag, aufträge, teile, arbeit, stunden, monat, jahr, tag, woche, pièces, "
    "mois, année, jour, commande, ordre, rapport, état, lista, informe, orden, órdenes, mes, año, día, elenco, "
    "ordine, ordini, mese, anno, giorno, relatório, ordem, ordens, mês, ano, dia, lijst, overzicht, maand, jaar, "
    "dag, opdracht, raport, zlecenie, zlecenia, miesiąc, rok, dzień, månad, år, rapporten, listan"
)

TAIL_WORDS = frozenset((*_ARTICLES, *_AMOUNTS, *_WHAT_IS_COUNTED, *PAGE_WORDS))
"""What may follow a total word in its cell."""

CURRENCIES = _words("eur, usd, gbp, chf, pln, sek, nok, dkk, cad, aud, brl, mxn, kr, zł, h, hrs, std")
"""Words beside a number that leave it one."""

OF_WORDS = _words("of, von, de, di, van, af, av, sur, z")

COUNT_WORDS = _words(
    "row, rows, record, records, lines, entries, datensätze, datensatz, zeilen, einträge, enregistrements, "
    "enregistrement, lignes, registros, filas, linhas, righe, regels, rijen, wierszy, rekordów, rader, poster"
)

COUNT_TAILS = _words(
    "selected, found, affected, printed, exported, listed, in all, total, gefunden, gedruckt, exportiert, "
    "trouvés, trouvées, encontrados, trovati, gevonden"
)

END_LINES = _words(
    "end of report, end of list, end of file, end of data, report end, end of export, ende der liste, ende des "
    "berichts, ende der auswertung, listenende, ende des ausdrucks, fin du rapport, fin de la liste, fin de "
    "l'état, fin del informe, fin del listado, fine elenco, fine report, fine stampa, einde lijst, einde rapport, "
    "einde overzicht, fim do relatório, fim da lista, koniec raportu, koniec listy, slut på lista, slut på "
    "rapport"
)
"""Whole lines, stars and dashes around them aside."""

BARE_ENDS = _words("end, ende, fin, fine, einde, fim, koniec, slut")
"""Whole lines only where stars or dashes stand around them: *** END ***."""

PRINT_WORDS = _words(
    "printed, printed on, printed at, print date, run date, report date, created, created on, exported, exported "
    "on, gedruckt, gedruckt am, druckdatum, erstellt, erstellt am, stand, imprimé le, édité le, impreso el, "
    "stampato il, afgedrukt op, impresso em, wydrukowano, utskriven, utskrivet"
)
"""Before a date or time that is the rest of the line."""
