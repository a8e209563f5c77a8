"""Polish words of headers, with a workshop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "zlecenie, zlecenia, zlec, zl, zlecenie naprawy, karta pracy, karta, zamówienie, nr zlecenia, zlecenie "
        "serwisowe, zleceń, nr karty, karta nr, arkusz, nr naprawy, numer naprawy, zlec nr, nr zlec"
    ),
    "job": "zadanie, operacja, zadania",
    "repair": "naprawa, naprawy, napr",
    "work": "praca, prace, warsztat, prac, warsztatu",
    "shop": "warsztat, serwis",
    "visit": "wizyta, wizyty",
    "invoice": "faktura, faktury, fv, rachunek",
    "quote": "kosztorys, wycena, oferta",
    "number": "numer, nr, num, lp",
    "id": "identyfikator, id, referencja, klucz",
    "code": "kod, kodu",
    "line": "linia, wiersz, pozycja, poz, pozycji, wiersza, lp, linii, nr pozycji",
    "item": "artykuł, towar, produkt, materiał, towaru",
    "vehicle": "pojazd, pojazdu, samochód, auto, poj, samochodu, pojazdy, maszyna, wóz, nr poj, pojazd nr, nr auta",
    "fleet": "flota, numer boczny, nr boczny, nr taborowy",
    "unit": "jednostka, jm, j m, jedn, jednostka miary, jednostki",
    "each": "jednostkowa, jedn cena, cena jednostkowa, za sztukę, cena jedn, cena jedn netto, jedn, za szt",
    "customer": "klient, klienta, właściciel, kontrahent, posiadacz, właściciela",
    "vin": "vin, numer nadwozia, nr nadwozia, nadwozie, nr vin, numer podwozia, nr podwozia, nadwozia",
    "engine": "silnik, silnika, siln",
    "family": "rodzina, grupa, rodziny",
    "engine_family": (
        "kod silnika, typ silnika, rodzina silnika, oznaczenie silnika, rodzina silników, kod jednostki, symbol "
        "silnika, jednostka napędowa"
    ),
    "make": "marka, producent pojazdu, marki, marka pojazdu",
    "brand": "producent, marka części",
    "model": "model, modelu, model pojazdu, typ pojazdu, typ, odmiana modelu",
    "trim": "kolor, nadwozie typ, skrzynia, wersja, barwa, drzwi, opony",
    "year": "rok, rok produkcji, rocznik, rok modelowy, rok prod, rok budowy",
    "date": "data, dt, dzień, dnia, daty",
    "time": "godzina, godz przyjęcia",
    "month": "miesiąc, miesiące, miesięcy, mies, mc",
    "mile": "mila, mile, mil",
    "km": "km, kilometry, kilometrów",
    "odometer": (
        "stan licznika, licznik, stan km, stan licz, licznika, wskazanie licznika, drogomierz, odczyt licznika, km na "
        "liczniku, stan km przy przyjęciu, licznik km, stan drogomierza, stan licznika km, odczyt km, km odczyt, "
        "wskazanie"
    ),
    "mileage": "przebieg, przebiegu, przeb",
    "in": (
        "przyjęcie, przyjęcia, wjazd, przyjazd, wejście, przyjęto, przy przyjęciu, przyj, przyjęty, na wejściu, "
        "dostarczono, przyjęte, przywieziono, data przyjęcia, przybycie, przyjechał, oddano do serwisu, przyjęto dn, "
        "przyjęto dnia, wjechał, przywieziono dnia, dostarczony, oddany do naprawy, przyjęty dnia, data przyj, przy "
        "przyj"
    ),
    "out": (
        "wydanie, wydania, odbiór, wyjazd, wyjście, wydano, przy wydaniu, wyd, odbioru, na wyjściu, odebrano, "
        "odebrany, oddano, zwrócono, data odbioru, odebrane, wydany, wydano dn, wydano dnia, wyjechał, odebrano dnia, "
        "zwrot, data wyd, przy odbiorze, oddano klientowi, wydane klientowi"
    ),
    "open": (
        "otwarcie, otwarcia, początek, utworzenia, rozpoczęcie, rozpoczęcia, utworzono, założenia, wystawienia, "
        "otwarto, start, kiedy, data zlecenia, data założenia, data wystawienia"
    ),
    "close": (
        "zamknięcie, zamknięcia, koniec, zakończenie, zakończenia, zakończono, zamknięto, ukończenia, zak, data "
        "zakończenia, zakończone, data ukończenia, gotowe dnia, zakończono dnia, ukończono, skończono, data zamkn, "
        "gotowe"
    ),
    "in_service": (
        "pierwsza rejestracja, data rejestracji, pierwszej rejestracji, data pierwszej rejestracji, rejestracja "
        "pierwsza, data zakupu, dopuszczenie do ruchu, w eksploatacji od, data pierwszej rej, pierwsza rej, w ruchu "
        "od, we flocie od, w użyciu od, zarejestrowany"
    ),
    "service": "serwis, obsługa, przegląd, usługa serwisowa",
    "void": "anulowane, anulowano, anulowany",
    "status": (
        "status, stan zlecenia, stan, etap zlecenia, otwarte czy zamknięte, status zlecenia, otwarte zamknięte, stan "
        "karty"
    ),
    "is_open": "nadal otwarte, czy otwarte, otwarte tak nie",
    "is_closed": "czy zamknięte, zamknięte tak nie, czy zakończone",
    "location": (
        "oddział, lokalizacja, filia, zakład, placówka, punkt serwisowy, oddziału, baza, nazwa warsztatu, punkt, "
        "zajezdnia"
    ),
    "total": (
        "razem, suma, ogółem, wartość zlecenia, łącznie, suma zlecenia, kwota razem, wartość razem, do zapłaty, "
        "wartość karty, suma do zapłaty, łączna kwota"
    ),
    "amount": "kwota, wartość, należność, wart, kwoty",
    "price": (
        "cena, cena sprzedaży, sprzedaż, ceny, policzono klientowi, cena klienta, sprzedano za, wartość netto, kwota "
        "netto, cena netto, wart netto, policzono, wart sprzedaży, obciążono klienta, klient płaci, kwota sprzedaży, "
        "wartość sprzedaży"
    ),
    "cost": (
        "koszt, koszty, cena zakupu, zakup, koszt własny, zakupu, zapłaciliśmy, nasz koszt, kosztowało, wartość "
        "zakupu, cena nabycia, koszt zak, wydatek, koszt dla nas, zakup netto, koszt nabycia, kosztowało nas"
    ),
    "extended": "wartość pozycji, suma pozycji, kwota pozycji, wartość linii",
    "net": "netto, bez vat",
    "gross": "brutto, z vat",
    "tax": "vat, podatek, stawka vat, stawka podatku",
    "discount": "rabat, upust, marża, narzut",
    "payment": (
        "płatność, zapłacono, forma płatności, termin płatności, zaliczka, ubezpieczenie, saldo, zapłacono dnia, data "
        "zapłaty, uregulowano, sposób płatności"
    ),
    "rate": "stawka godzinowa, stawka, stawka rbh",
    "labor": "robocizna, robocizny, rob",
    "part": "część, części, cz, część zamienna, części zamienne, czesci, zamienna, zamiennej",
    "hours": (
        "godziny, godz, rbh, rg, czas, roboczogodziny, czas pracy, godzin, liczba godzin, czas naprawy, h, jak długo, "
        "czas trwania, przepracowany czas, przepracowane godziny, rbg, rob godz, roboczogodz, czas rbh, godz pracy, "
        "sprzedane godziny"
    ),
    "actual": "rzeczywisty, faktyczny, rzeczywiste",
    "quantity": (
        "ilość, il, liczba, szt, sztuki, ilości, ile, ile sztuk, użyto sztuk, sztuk, ilość szt, zużyto, ilość użyta, "
        "il szt"
    ),
    "kind": (
        "rodzaj, typ, kategoria, rodzaj pozycji, typ pozycji, rodz, klasa, typ linii, rodzaj linii, rodzaj wiersza, "
        "robocizna czy część, kategoria pozycji, rodzaj kosztu, r c, t, rodz poz, typ poz, praca czy część, robocizna "
        "część, rodzaj wpisu"
    ),
    "record": "rekord, typ rekordu, rodzaj rekordu, typ wiersza",
    "component": (
        "podzespół, element, zespół, komponent, kod komponentu, uszkodzona część, podzespołu, uszkodzony element, "
        "wadliwa część, uszkodzony podzespół, co uszkodzone"
    ),
    "system": "układ, system, obszar",
    "position": (
        "położenie, strona, miejsce, miejsce montażu, numer cylindra, nr cylindra, umiejscowienie, koło, oś, miejsce "
        "zabudowy, gdzie, gdzie zamontowano, miejsce w pojeździe, miejsce na pojeździe, umieszczenie, lokalizacja "
        "części, lewa prawa, przód tył, które koło, która strona, gdzie w pojeździe, który"
    ),
    "action": (
        "czynność, działanie, rodzaj pracy, rodzaj naprawy, rodzaj czynności, czynności, typ naprawy, rodzaj prac, "
        "operacja, rodzaj działania, co wykonano kod, zabieg, typ czynności"
    ),
    "reason": (
        "powód, powód wymiany, dlaczego, powodu, kod powodu, przyczyna wymiany, uzasadnienie, po co, czemu, powód "
        "naprawy, powód czynności, przyczyna czynności, wymieniono bo, powód prac, powód działania, motyw"
    ),
    "cause": (
        "przyczyna, diagnoza, stwierdzono, ustalenia, przyczyna usterki, rozpoznanie, przyczyna awarii, przyczyny, co "
        "znaleziono, znaleziono, wykryto, wykryta usterka, przyczyna uszkodzenia, stwierdzona przyczyna, stwierdzona "
        "usterka, co stwierdzono, wynik diagnozy, ustalono, wykryta przyczyna, znaleziona usterka, co wykryto, opinia "
        "mechanika, stwierdzenie"
    ),
    "correction": (
        "wykonane prace, naprawa wykonana, rozwiązanie, wykonano, zakres wykonanych prac, opis naprawy, sposób "
        "naprawy, wykonane czynności, wykonana naprawa, co zrobiono, zrobiono, wykonana praca, wykonane naprawy, "
        "usunięcie usterki, sposób usunięcia, przebieg naprawy, naprawiono, co zrobiliśmy, wykonano naprawę, opis "
        "wykonanych prac, usunięto, jak naprawiono, zrobione, wykonane, raport mechanika, opis wykonania, wykonana "
        "czynność opis"
    ),
    "concern": (
        "usterka, skarga, objaw, objawy, zgłoszenie, zgłoszona usterka, problem, usterki, życzenie klienta, opis "
        "usterki, uwagi klienta, reklamacja, zgłoszenie klienta, zgłoszone usterki, opis zgłoszenia, powód wizyty, "
        "cel wizyty, co mówi klient, klient mówi, klient zgłasza, zgłaszany problem, zgłoszony problem, zgłoszenie "
        "kierowcy, opis problemu, co się dzieje, życzenie, zgłosz klienta, zgłosz, klient zgłosił, zgłoszone przez "
        "klienta, opis klienta, słowa klienta, dolegliwość, co dolega, na co skarży się klient, zgłoszona wada, "
        "objawy według klienta, kierowca zgłasza, zlecone prace, żądanie klienta, co zgłosił klient"
    ),
    "description": (
        "opis, nazwa, opis pozycji, treść, tekst, nazwa części, nazwa towaru, nazwa usługi, opisu, co, praca lub "
        "część, opis pracy, opis czynności, opis części, nazwa pozycji, część lub praca, praca część, nazwa poz, "
        "część czy praca, nazwa elementu, opis linii, nazwa czynności, opis poz"
    ),
    "note": "uwagi, uwaga, notatka, notatki, komentarz, adnotacje, dodatkowe uwagi",
    "supplier": (
        "dostawca, dostawcy, dost, podwykonawca, hurtownia, zakupiono w, kupiono u, kupione od, skąd, sklep, "
        "hurtownia części, dostawca cz, kupione w, sprzedawca części, zakupiono u, dostarczył"
    ),
    "origin": (
        "pochodzenie, jakość, stan części, nowa używana, typ części, rodzaj części, jakość części, nowa czy używana, "
        "stan, rodzaj zamiennika, pochodzenie części, nowa regenerowana, nowa czy regenerowana, stan cz, nowy używany"
    ),
    "technician": (
        "mechanik, technik, mech, pracownik, monter, wykonał, wykonawca, mechanika, kto, wykonane przez, zrobił, "
        "naprawiający, wykonał mechanik, kto wykonał, wykonujący, nr mech, nr pracownika, kod mechanika, naprawiał"
    ),
    "person": (
        "doradca, przyjmujący, sprzedawca, kierowca, osoba kontaktowa, użytkownik, utworzył, kierownik, doradca "
        "serwisowy, przyjął, przyjmujący zlecenie, przyjął zlecenie, biuro obsługi, dostarczył pojazd, odebrał, "
        "zgłaszający, zgłosił, recepcja"
    ),
    "name": "imię, nazwisko, firma, nazwa klienta, nazwa firmy, imię i nazwisko",
    "phone": "telefon, tel, komórka, telefonu, fax",
    "email": "email, e mail, mail, poczta",
    "address": "adres, ulica, miasto, kod pocztowy, miejscowość, kraj, poczta miejscowość",
    "plate": "rejestracja, nr rej, nr rejestracyjny, numer rejestracyjny, tablica, tablice, rej, rejestracyjny",
    "birth": "data urodzenia, urodzony, pesel, nip, płeć, język",
    "warranty": "gwarancja, gwarancji, gwar",
    "dtc": "kod usterki, kod błędu, kody usterek, kod awarii, kody błędów, błąd sterownika",
    "stage": (
        "etap, moment, przed po, faza, kiedy odczytano, moment odczytu, przed czy po naprawie, przed naprawą po "
        "naprawie"
    ),
    "check": "kontrola, sprawdzenie, próba, test, jazda próbna, kontrola końcowa, rodzaj kontroli, badanie",
    "measure": "pomiar, wielkość, parametr, mierzona wielkość, rodzaj pomiaru, pomiaru",
    "value": "wartość pomiaru, odczyt, wartość zmierzona, wartość, zmierzono, zmierzona wartość, wynik pomiaru",
    "result": "wynik, rezultat, wyniki",
    "pass": "zaliczono, pozytywny, ok, zgodny, zaliczony, poprawny",
    "pull": "powtórzenie, próba nr, powtórka, seria, pomiar nr, numer pomiaru, numer próby",
    "cylinder": "cylinder, cylindry, cyl, liczba cylindrów, cylindrów, ilość cylindrów, cylindra",
    "exhaust": "wydech, wydechowe, wydechowych, wyd zaw",
    "intake": "dolot, ssące, dolotowe, ssących, dolotowych",
    "valve": "zawór, zawory, zaworów, zaw",
    "displacement": "pojemność, litry, cm3, pojemność silnika, poj silnika",
    "fuel": "paliwo, moc, km mocy, kw, rodzaj paliwa",
    "tool": (
        "magazyn, waga, zdjęcie, podpis, priorytet, następny przegląd, badanie techniczne, zmieniono, wydrukowano, "
        "ostatnia wizyta, kod operacji, konto, półka, termin, termin realizacji, planowane, planowany odbiór, data "
        "modyfikacji, stanowisko, podnośnik, obiecany termin, planowana data, przewidywany termin, stanowisko nr, "
        "stanowisko naprawcze, miejsce w warsztacie, regał, auto zastępcze, nr kluczyka, kluczyki, liczba pozycji, "
        "liczba wierszy, poziom paliwa, obiecano, obiecane na, przewidywany odbiór, następne badanie, ważność badania"
    ),
    "part_number": (
        "nr części, numer części, nr katalogowy, numer katalogowy, indeks, indeks części, nr kat, nr kat części, "
        "symbol części, symbol, kod części, kod towaru, numer kat, nr indeksu, nr cz"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
