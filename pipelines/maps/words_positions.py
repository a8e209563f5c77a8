"""What shops write for places on a vehicle, in all languages: wheels, axles, sides. Only to know such a column by.

Words are compared in lower case without accents and signs. From memory; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

POSITIONS: Mapping[str, str] = {
    "front": (
        "front, frt, fr, fwd, vorn, vorne, va, vorderachse, avant, av, avt, delantero, delantera, del, delante, "
        "anteriore, ant, davanti, voor, vooras, dianteiro, dianteira, frente, fram, framaxel, przod, przednia, przedni"
    ),
    "rear": (
        "rear, back, rr axle, hinten, ha, hinterachse, arriere, ar, arr, trasero, trasera, tras, detras, posteriore, "
        "post, dietro, achter, achteras, traseiro, traseira, atras, bak, bakaxel, tyl, tylna, tylny"
    ),
    "left": (
        "left, lh, lhs, l h, ns, n s, nearside, links, li, lks, gauche, g, izquierda, izquierdo, izq, sinistra, "
        "sinistro, sx, linkerkant, esquerda, esquerdo, esq, vanster, va sida, lewa, lewy, lewo, drivers, driver side"
    ),
    "right": (
        "right, rh, rhs, r h, os, o s, offside, rechts, re, rts, droite, droit, d, derecha, derecho, der, dcha, "
        "destra, destro, dx, rechterkant, direita, direito, dir, hoger, hoger sida, prawa, prawy, prawo, passenger "
        "side"
    ),
    "corner": (
        "lf, rf, lr, rr, fl, fr, rl, lhf, rhf, lhr, rhr, nsf, osf, nsr, osr, left front, right front, left rear, "
        "right rear, front left, front right, rear left, rear right, vl, vr, hl, hr, vorne links, vorne rechts, "
        "hinten links, hinten rechts, vorn links, vorn rechts, avg, avd, arg, ard, avant gauche, avant droit, "
        "arriere gauche, arriere droit, dd, di, td, ti, del izq, del der, tras izq, tras der, delantera izquierda, "
        "delantera derecha, trasera izquierda, trasera derecha, as, ad, ps, pd, ant sx, ant dx, post sx, post dx, "
        "anteriore sinistra, anteriore destra, posteriore sinistra, posteriore destra, lv, rv, la, ra, linksvoor, "
        "rechtsvoor, linksachter, rechtsachter, de, te, dianteiro esquerdo, dianteiro direito, traseiro esquerdo, "
        "traseiro direito, vf, hf, vb, hb, vanster fram, hoger fram, vanster bak, hoger bak, lp, pp, lt, pt, lewy "
        "przod, prawy przod, lewy tyl, prawy tyl"
    ),
    "several": (
        "all, both, set, pair, alle, beide, satz, tous, les deux, jeu, todos, ambos, juego, tutti, entrambi, serie, "
        "allemaal, paar, todas, ambas, alla, bada, wszystkie, oba, upper, lower, inner, outer, oben, unten, innen, "
        "aussen, center, centre, middle, bank, cyl, cylinder, zyl"
    ),
}
