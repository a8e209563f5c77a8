"""Words of other languages, and of English learned elsewhere, as technicians write them among English ones.

Common practice, no source. Only words that mean one thing in a workshop.
"""

from __future__ import annotations

from longmile.pipelines.coding.word_table import listed

FOREIGN_WORDS = listed(
    """
ac: aircon aircondition clima climate climatisation clime klima klimaanlage
alternator: alternador alternateur alternatore generatore lichtmaschine
axle: achse asse axis eje essieu
ball joint: rotil rotula rotule
battery: accu accumulator akku akumulator bateria bateries batteri batterie
bearing: cojinete cuscinetto lager lozysko rodamiento roulement rulment
belt: cinghia correa courroie curea pasek riemen
brake: bremse frane frein freno hamulec
brake pad: bremsbelag klocki pastiglia pastiglie pastilla pastillas placute plaket plakets plakette plaqette
    plaquette plaquettes
broken: kaput kaputt roto rotto
cabin filter: habitacle habitaculo
cable: kabel
caliper: etrier pinza sattel zacisk
camshaft: nockenwelle
catalytic converter: catalizador catalizator catalysator catalyseur katalizator katalysator katalyst
change: cambio chang changement wechsel
clutch: ambreiaj embrage embrague embrayage frizione kupplung sprzeglo
coil: bobina bobine spule
collector: colector collecteur collettore
compressor: compresor compresseur compressore kompressor
cylinder head: chiulasa culasse culata culatta testata zylinderkopf
diesel: gasoil gasoleo gazole
door: drzwi puerta
drive shaft: cardan kardan
engine: moteur motore silnik
engine control unit: calculateur calculator centralina centralita steuergerat
exhaust: auspuff echappement escape scarico
fan: ventilador ventilateur ventilator ventola
filter: filtr filtre filtro
fluid: flussigkeit lichid liquid liquide liquido
front: anteriore avant delantero vorn vorne
fuel: benzin benzine carburant essence gasolina petrol
gasket: dichtung garnitura guarnizione junta
gearbox: getriebe
hose: durite manguera manichon schlauch tubo
injector: einspritzduse iniettore injecteur inyector
inner: interior
left: gauche izquierda izquierdo links sinistra
light: faro lampada lampara phare
lower: inferieur inferior
mirror: retroviseur retrovisor retrovizor
oil: aceite huile oel olio ulei
outer: exterior
pulley: polea poulie puleggia
pump: bomb bomba pomba pomp pompa pompe pumpe
radiator: kuhler radiador radiateur radiatore
rear: arriere hinten posteriore trasero
right: derecha derecho destra droit droite rechts
rotor: bremsscheibe scheibe
sensor: captador capteur captor fuhler geber sensore sonda sonde
shock absorber: ammortizzatore amortiguador amortisor amortisseur amortisseurs amortizator amortizer amortizor
    stossdampfer
spark plug: bougie bougies bujia bujias bujie candela candele candle candles zundkerze
spring: feder molla muelle resorte ressort
stabilizer: estabilizador stabilisateur stabilisator stabilizator stabilizatore
starter: anlasser arranque demaror demarreur demarror
steering: direccion direction lenkung sterzo
switch: interrupteur interruptor schalter
tensioner: galet roll tendeur tensor
thermostat: termostat termostato thermostato
timing: distribucion distribution distribuzion distribuzione
timing belt: zahnriemen
tire: anvelopa gomma neumatico pneu pneus reifen
turbo: turbina
upper: superieur superior
valve: klappe klep soupape soupapes supapa valvola valvula ventil ventile
water: acqua agua eau wasser
wheel: kolo roue rueda ruota
window: fenster ventana
wiper: essuie
worn: finito gastado uzat
""",
    apart=None,
)
"""English word or words to foreign ones."""
