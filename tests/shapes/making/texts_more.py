"""The words of jobs in further languages, in the order of the component codes in `texts`."""

from __future__ import annotations

MORE_WORDS: dict[str, tuple[tuple[str, str, str, str], ...]] = {
    "it": (
        ("Pompa acqua", "Perde acqua sotto l'auto", "Albero con gioco", "Montata pompa e guarnizione"),
        ("Alternatore", "Spia batteria accesa", "Non carica al minimo", "Montato, 14,2 volt"),
        ("Pastiglie freno", "Fischia in frenata", "Pastiglie a 2 mm", "Montate pastiglie"),
        ("Cuscinetto ruota", "Ronzio che cresce", "Gioco a mano", "Cuscinetto pressato"),
        ("Bobina accensione", "Gira male, spia motore", "Manca un cilindro", "Montata bobina"),
        ("Valvola di scarico", "Poca forza, trema", "Valvola bruciata", "Sede rettificata"),
        ("Termostato", "Riscaldamento freddo", "Bloccato aperto", "Montato e spurgato"),
        ("Olio motore e filtro", "Tagliando", "Per chilometri", "Cambiato olio"),
    ),
    "nl": (
        ("Waterpomp", "Koelvloeistof onder de auto", "As heeft speling", "Pomp en pakking gemonteerd"),
        ("Dynamo", "Acculampje brandt", "Laadt niet stationair", "Gemonteerd, 14,2 volt"),
        ("Remblokken", "Piept bij remmen", "Blokken op 2 mm", "Blokken gemonteerd"),
        ("Wiellager", "Gebrom bij snelheid", "Speling voelbaar", "Lager geperst"),
        ("Bobine", "Loopt onregelmatig, lampje aan", "Slaat over op een cilinder", "Bobine geplaatst"),
        ("Uitlaatklep", "Weinig kracht", "Klep verbrand", "Zitting geslepen, klep nieuw"),
        ("Thermostaat", "Kachel blijft koud", "Hangt open", "Geplaatst en ontlucht"),
        ("Motorolie en filter", "Beurt nodig", "Op kilometers", "Olie ververst"),
    ),
    "pt": (
        ("Bomba de água", "Perde água debaixo do carro", "Veio com folga", "Bomba e junta montadas"),
        ("Alternador", "Luz da bateria acesa", "Não carrega ao ralenti", "Montado, 14,2 volts"),
        ("Pastilhas de travão", "Chia ao travar", "Pastilhas com 2 mm", "Pastilhas montadas"),
        ("Rolamento de roda", "Zumbido que cresce", "Folga à mão", "Rolamento prensado"),
        ("Bobina de ignição", "Trabalha mal, luz do motor", "Falha um cilindro", "Bobina montada"),
        ("Válvula de escape", "Pouca força, treme", "Válvula queimada", "Sede retificada"),
        ("Termóstato", "Aquecimento frio", "Preso aberto", "Montado e purgado"),
        ("Óleo do motor e filtro", "Revisão", "Por quilómetros", "Óleo mudado"),
    ),
    "sv": (
        ("Vattenpump", "Kylvätska under bilen", "Axeln glappar", "Pump och packning monterad"),
        ("Generator", "Batterilampan lyser", "Laddar inte på tomgång", "Monterad, 14,2 volt"),
        ("Bromsbelägg", "Gnisslar vid bromsning", "Belägg 2 mm", "Belägg monterade"),
        ("Hjullager", "Brummar med farten", "Glapp för hand", "Lager pressat"),
        ("Tändspole", "Går ojämnt, lampa tänd", "Misständning på en cylinder", "Spole monterad"),
        ("Avgasventil", "Svag, skakar", "Ventil bränd", "Säte slipat, ny ventil"),
        ("Termostat", "Värmen blir kall", "Fast öppen", "Monterad och luftad"),
        ("Motorolja och filter", "Dags för service", "Efter mätaren", "Olja bytt"),
    ),
    "pl": (
        ("Pompa wody", "Płyn pod autem", "Luz na wałku", "Założona pompa i uszczelka"),
        ("Alternator", "Świeci kontrolka ładowania", "Nie ładuje na biegu jałowym", "Założony, 14,2 V"),
        ("Klocki hamulcowe", "Piszczy przy hamowaniu", "Klocki 2 mm", "Klocki założone"),
        ("Łożysko koła", "Szum rosnący z prędkością", "Wyczuwalny luz", "Łożysko wprasowane"),
        ("Cewka zapłonowa", "Nierówna praca, kontrolka", "Nie pali jeden cylinder", "Cewka założona"),
        ("Zawór wydechowy", "Słaba moc, trzęsie", "Zawór wypalony", "Gniazdo szlifowane"),
        ("Termostat", "Nie grzeje", "Zacięty otwarty", "Założony, odpowietrzony"),
        ("Olej silnikowy i filtr", "Przegląd", "Wg przebiegu", "Olej wymieniony"),
    ),
}
