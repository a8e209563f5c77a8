"""Beginnings of words by which sentences are told apart: what a customer says, what was found, what was done.

In all languages, by space; compared in lower case without accents. A phrase is joined by _. From memory.
"""

from __future__ import annotations

from collections.abc import Mapping

TEXTS: Mapping[str, str] = {
    "said": (
        "customer client driver states says noise noisy rattl squeal squeak grind clunk hum knock vibrat shak pull "
        "won_t wont doesn does_not will_not when cold_start hard_start start warning light stays smell drip puddle "
        "rough stall overheat hot due_for please request hesitat jerk slip kunde klapper gerausch quietsch poltert "
        "brummt vibrier zittert schuttel springt startet lampe leuchtet leuchte brennt macht riecht tropft verliert "
        "wird wenig beim zieht heult ruckel bruit grince claque couine vibr tremble demarre voyant allume chauffe "
        "fume odeur tire perte manque quand ruido chill vibra arranca testigo luz enciende calienta huele pierde "
        "falta cuando tira jala zumb golpete rumore fischia cigola vibra parte spia accesa scalda odore perde manca "
        "quando tira ronzio trema batte rammelt piept gebrom trilt start lampje brandt wordt ruikt lekt trekt bromt "
        "kraakt bij ruido chiar vibra pega luz acende acesa aquece cheira perde falta quando puxa treme zumbido "
        "skramlar gnisslar vibrerar startar lampa lampan lyser blir luktar lacker drar surrar skakar dags later "
        "stuka piszcz drga odpala kontrolka swieci grzeje pachnie cieknie brak sciaga halas szarpie buczy"
    ),
    "found": (
        "worn leak burnt burned cracked broken weak low loose seized corroded damaged defective failed open_circuit "
        "out_of_spec past_limit found excessive play mm percent volt psi stuck torn dry contaminated clogged dirty "
        "verschlissen verbrannt undicht lose spiel gebrochen gerissen defekt schwach ausgeschlagen korrodiert fest "
        "verstopft nass festgestellt "
        "use usee brule fuite jeu casse fissure defectueu faible corrode grippe bouche desserre colmat "
        "gastad desgast quemad fuga holgura roto rota fisura defectuos floj corroid agarrotad tapad sucio "
        "usurat bruciat perdita gioco rott crepat difettos debole corros grippat intasat consumat lasco "
        "versleten verbrand lek speling gebroken gescheurd defect zwak gecorrodeerd vast verstopt los "
        "gast queimad fuga folga partid rachad defeituos frac corroid gripad entupid "
        "slit brand lackage glapp trasig sprucken defekt svag rostig karvar igensatt los "
        "zuzyt spalon nieszczeln luz pekni uszkodzon slab skorodowan zatart zapchan"
    ),
    "done": (
        "replac fitted install renew chang swap adjust repair clean flush bled reset tighten torqued rebuilt welded "
        "lubricat road_test tested ground pressed bedded removed refill top_up topped ersetz erneuer eingebaut "
        "ausgebaut gewechselt getauscht eingestellt repariert gereinigt entluftet nachgezogen gefrast probefahrt "
        "aufgefullt gewuchtet instand montiert remplac monte pose change regle repare nettoye purge serre rode "
        "essai rempli remis refait equilibr cambiad sustituid montad colocad ajustad reparad limpiad purgad apretad "
        "rectificad probad rellenad instalad sostituit montat cambiat registrat riparat pulit spurg serrat "
        "rettificat provat rabboccat pressat equilibrat vervangen gemonteerd geplaatst vernieuwd afgesteld "
        "gerepareerd gereinigd ontlucht aangedraaid geslepen proefrit bijgevuld substituid montad trocad colocad "
        "afinad ajustad reparad limp purgad apertad rectificad testad calibr bytt bytte bytta monterat monterad "
        "justerat lagat lagad rengjort luftat draget slipat provkort fyllt balanser wymieni zamontowa zalozon "
        "wyregulowa naprawi wyczyszcz odpowietrz dokrecon przetart jazda_prob uzupelni wywazon"
    ),
}
