"""Invented makers and the words of jobs in several languages. Component codes are the vocabulary's."""

from __future__ import annotations

from dataclasses import dataclass

from texts_fresh import FRESH_CODES, FRESH_SIDES, FRESH_WORDS
from texts_more import MORE_WORDS

MAKES = (
    ("Velmaro", "Kestra", "2.0 D4", "VK20D"),
    ("Velmaro", "Kestra", "1.6 P4", "VK16P"),
    ("Taskind", "Pell", "3.0 V6", "TP30P"),
    ("Ondelle", "Vanto", "2.2 D4", "OV22D"),
    ("Brontal", "Lumo", "1.4 P4", "BL14P"),
)
"""Maker, model, engine, and the shop's own code of the engine family: all invented."""

_CODES = (
    "water_pump",
    "alternator",
    "brake_pads",
    "wheel_bearing",
    "ignition_coil",
    "exhaust_valve",
    "thermostat",
    "engine_oil",
)


@dataclass(frozen=True)
class Job:
    """One kind of job as a shop writes it: the component meant, and the words."""

    code: str
    positions: tuple[str, ...]
    description: str
    concern: str
    cause: str
    correction: str


_SIDES = {
    "en": (("Front", "Rear"), ("LF", "RF", "LR", "RR")),
    "de": (("vorn", "hinten"), ("VL", "VR", "HL", "HR")),
    "fr": (("avant", "arrière"), ("AVG", "AVD", "ARG", "ARD")),
    "es": (("delantero", "trasero"), ("DI", "DD", "TI", "TD")),
    "it": (("anteriore", "posteriore"), ("AS", "AD", "PS", "PD")),
    "nl": (("voor", "achter"), ("LV", "RV", "LA", "RA")),
    "pt": (("dianteiro", "traseiro"), ("DE", "DD", "TE", "TD")),
    "sv": (("fram", "bak"), ("VF", "HF", "VB", "HB")),
    "pl": (("przód", "tył"), ("LP", "PP", "LT", "PT")),
}

_WORDS = {
    "en": (
        ("Water pump", "Coolant on the floor under the car", "Weep hole wet, shaft loose", "Fitted pump and gasket"),
        ("Alternator", "Battery light stays on", "No output at idle", "Fitted unit, 14.2 volt at idle"),
        ("Brake pads", "Squeal when stopping", "Pads down to 2 mm", "Fitted pads, bedded in"),
        ("Wheel bearing", "Hum that grows with speed", "Play felt by hand", "Pressed in bearing, torqued"),
        ("Ignition coil", "Runs rough, engine light on", "Misfire on one cylinder", "Fitted coil, cleared codes"),
        (
            "Exhaust valve",
            "Low power, shakes at idle",
            "Valve burnt, leak-down 60 percent",
            "Ground seat, fitted valve",
        ),
        ("Thermostat", "Heater blows cold", "Stuck open", "Fitted thermostat, bled system"),
        ("Engine oil and filter", "Due for service", "Due by mileage", "Changed oil, reset light"),
    ),
    "de": (
        ("Wasserpumpe", "Kühlwasser unter dem Wagen", "Welle lose, Bohrung nass", "Pumpe und Dichtung eingebaut"),
        ("Lichtmaschine", "Ladeleuchte brennt", "Keine Leistung im Leerlauf", "Eingebaut, 14,2 Volt"),
        ("Bremsbeläge", "Quietscht beim Bremsen", "Beläge auf 2 mm", "Beläge eingebaut, eingefahren"),
        ("Radlager", "Brummt mit der Fahrt", "Spiel fühlbar", "Lager eingepresst"),
        ("Zündspule", "Läuft unrund, Leuchte an", "Aussetzer auf einem Zylinder", "Spule ersetzt; Fehler gelöscht"),
        ("Auslassventil", "Wenig Kraft, schüttelt", "Ventil verbrannt, Verlust 60 %", "Sitz gefräst, Ventil neu"),
        ("Thermostat", "Heizung bleibt kalt", "Hängt offen", "Eingebaut und entlüftet"),
        ("Motoröl und Filter", "Wartung fällig", "Nach Kilometern fällig", "Öl gewechselt"),
    ),
    "fr": (
        ("Pompe à eau", "Fuite de liquide sous la voiture", "Axe avec du jeu", "Pompe et joint montés"),
        ("Alternateur", "Voyant de batterie allumé", "Ne débite pas au ralenti", "Monté, 14,2 volts"),
        ("Plaquettes de frein", "Grince au freinage", "Plaquettes à 2 mm", "Plaquettes posées, rodées"),
        ("Roulement de roue", "Bruit qui croît en roulant", "Jeu à la main", "Roulement pressé"),
        ("Bobine d'allumage", "Tourne mal, voyant moteur", "Raté sur un cylindre", "Bobine posée, défauts effacés"),
        ("Soupape d'échappement", "Manque de force", "Soupape brûlée", "Siège rectifié, soupape neuve"),
        ("Thermostat", "Chauffage froid", "Bloqué ouvert", "Posé et purgé"),
        ("Huile moteur et filtre", "Entretien dû", "Dû au kilométrage", "Vidange faite"),
    ),
    "es": (
        ("Bomba de agua", "Pierde agua bajo el coche", "Eje con juego", "Bomba y junta montadas"),
        ("Alternador", "Luz de batería encendida", "No carga al ralentí", "Montado, 14,2 voltios"),
        ("Pastillas de freno", "Chirría al frenar", "Pastillas a 2 mm", "Pastillas montadas"),
        ("Rodamiento de rueda", "Zumbido que crece", "Juego a mano", "Rodamiento prensado"),
        ("Bobina de encendido", "Funciona mal, luz de motor", "Falla un cilindro", "Bobina puesta, códigos borrados"),
        ("Válvula de escape", "Poca fuerza, tiembla", "Válvula quemada", "Asiento rectificado"),
        ("Termostato", "La calefacción no calienta", "Abierto", "Montado y purgado"),
        ("Aceite de motor y filtro", "Toca revisión", "Por kilómetros", "Aceite cambiado"),
    ),
    **MORE_WORDS,
}


def jobs_of(language: str) -> list[Job]:
    """The jobs of a language, in the order of the component codes."""
    is_fresh = language in FRESH_WORDS
    axle, wheel = (FRESH_SIDES if is_fresh else _SIDES)[language]
    cylinder = ("1", "2", "3", "4")
    places = {
        **dict.fromkeys(("brake_pads", "brake_rotor"), axle),
        **dict.fromkeys(("wheel_bearing", "shock_absorber"), wheel),
        **dict.fromkeys(("ignition_coil", "exhaust_valve", "fuel_injector"), cylinder),
    }
    codes, words = (FRESH_CODES, FRESH_WORDS) if is_fresh else (_CODES, _WORDS)
    return [Job(code, places.get(code, ()), *said) for code, said in zip(codes, words[language], strict=True)]
