"""French words of headers, with a workshop's abbreviations: notion -> the words for it, by comma."""

from __future__ import annotations

from collections.abc import Mapping

HEADER_WORDS: Mapping[str, str] = {
    "order": (
        "ordre, ordre de réparation, ordre réparation, or, bon de travail, bon travail, fiche, fiche travail, "
        "dossier, commande, ot, ordre de travail, fiche atelier, bt, bon, ordre atelier, dos, n or, n bon, feuille, "
        "feuille n, numéro or, n intervention, numéro intervention, numéro de fiche, ordre n, n d ordre"
    ),
    "job": "tâche, opération, prestation",
    "repair": "réparation, rép, réparations, dépannage",
    "work": "travail, travaux, atelier, intervention",
    "shop": "atelier, garage",
    "visit": "visite, passage, rendez vous, rdv",
    "invoice": "facture, fact, facturation",
    "quote": "devis, estimation",
    "number": "numéro, num, no, n, nº, nr, numeros",
    "id": "identifiant, réf, référence, clé, ident, refer",
    "code": "code, cod",
    "line": "ligne, lig, lignes, rang, ordre ligne, lgn, poste",
    "item": "article, art, produit, fourniture",
    "vehicle": (
        "véhicule, véh, vehicules, voiture, auto, automobile, véhic, camion, engin, vhl, numéro véhicule, auto n, "
        "machine"
    ),
    "fleet": "parc, numéro de parc, n parc, no parc, flotte, numéro interne, n interne, code parc, matricule véhicule",
    "unit": "unité, un, unite de mesure, uté",
    "each": "unitaire, unit, pu, p u, prix unitaire, à l unité, pu ht, p u ht, prix un",
    "customer": "client, cli, propriétaire, titulaire, détenteur, clt, compte",
    "vin": (
        "vin, châssis, numéro de série, n de série, no série, numéro de châssis, n châssis, num serie, identification "
        "véhicule, numéro d identification, n d identification, n vin, num châssis"
    ),
    "engine": "moteur, mot, motorisation, moteurs",
    "family": "famille, groupe, fam",
    "engine_family": (
        "type moteur, code moteur, famille moteur, série moteur, gamme moteur, famille de moteur, type de moteur, "
        "désignation moteur, sigle moteur, repère moteur, type du moteur"
    ),
    "make": "marque, constructeur, mq, marq, constr, marque véhicule",
    "brand": "marque pièce, fabricant, équipementier",
    "model": "modèle, mod, type véhicule, mdl, type, gamme, modèle véhicule",
    "trim": "finition, couleur, carrosserie, boîte, teinte, version, portes, transmission, gabarit, pneus",
    "year": "année, an, millésime, année modèle, mill, annee de fabrication",
    "date": "date, dt, jour, le, dat",
    "time": "heure, horaire",
    "month": "mois",
    "mile": "mille, milles, miles",
    "km": "km, kilomètres, kilomètre, kms",
    "odometer": (
        "compteur, relevé compteur, kilométrage compteur, cpt, odomètre, relevé, km compteur, relevé km, compteur km, "
        "lecture compteur, index, km relevés, km relevé, km affichés, index compteur, lecture km"
    ),
    "mileage": "kilométrage, kilom, klm, kilo",
    "in": (
        "entrée, arrivée, réception, reçu, dépôt, entr, récept, à l entrée, entree atelier, prise en charge, à l "
        "arrivée, ent, déposé, déposé le, entré le, reçu le, arrivé le, amené, dépose véhicule, date réception, "
        "réceptionné le, réceptionné, amené le, rentré le, arrivé, entre le, pris en charge le, dépôt véhicule, "
        "véhicule reçu, à la réception"
    ),
    "out": (
        "sortie, livraison, restitution, départ, sort, retour, à la sortie, rendu, enlèvement, restit, livr, repris, "
        "repris le, rendu le, récupéré, remis le, sorti le, remise au client, reprise, livré le, livré, ressorti le, "
        "reparti, reparti le, parti le, retiré le, rendu au client, rendu client, à la restitution, à la livraison"
    ),
    "open": (
        "ouverture, ouvert, début, création, créé, ouv, commencé, émission, quand, ouvert le, date ordre, date du "
        "dossier"
    ),
    "close": (
        "clôture, fermeture, fin, clos, terminé, clôturé, achevé, achèvement, fermé, clot, clôt, fermé le, terminé "
        "le, clos le, soldé le, achevé le, date fin, fini, fini le, clôture le, facturé le"
    ),
    "in_service": (
        "mise en circulation, première mise en circulation, 1ère mise en circulation, mec, dmec, mise en service, "
        "première immatriculation, date immatriculation, 1ère immatriculation, date d achat, 1ere mec, pmec, date "
        "immat, circulation, mise en circ, 1re mise en circ, 1re mise en circulation, première circulation, date de "
        "mise en circulation, 1ère mec, date mec, 1re immat, 1ere immat, en service depuis, en circulation depuis, "
        "date 1ere circulation, mis en circulation, date d entrée en parc, entrée en flotte, entrée au parc"
    ),
    "service": "entretien, service, révision",
    "void": "annulé, annulée, annulation",
    "status": (
        "statut, état, etat dossier, situation, avancement, stat, ouvert ou clos, état du dossier, statut dossier, "
        "ouvert clos, état or, état de l or, état ordre"
    ),
    "is_open": "encore ouvert, est ouvert, ouvert oui non",
    "is_closed": "est clos, clos oui non, est terminé",
    "location": (
        "site, agence, établissement, garage, succursale, lieu, atelier site, dépôt site, point de service, "
        "emplacement, etab, antenne, point de vente, centre, lieu atelier, implantation, atelier nom, nom atelier"
    ),
    "total": (
        "total, montant total, tot, somme, total dossier, total facture, total général, net à payer, total à payer, "
        "montant dossier, total or, montant facture"
    ),
    "amount": "montant, mt, mnt, mont, facturé, valeur facturée, mtt",
    "price": (
        "prix, prix de vente, pv, vente, tarif, px, ventes, prix vente, facturé client, prix client, facturé ht, "
        "vendu, prix facturé, montant vente, prix ht, mt ht ligne, montant ht ligne, mt ht, mt ligne, vente ht, pv "
        "total, total ht ligne, prix facturé client, refacturé"
    ),
    "cost": (
        "coût, coûts, prix d achat, pa, achat, prix de revient, revient, prix achat, pr, déboursé, px achat, payé, "
        "notre prix, prix coûtant, prix revient, valeur achat, coût ht, px revient, coût pour nous, coût atelier, "
        "achat ht, montant achat, coût d achat, dépense, pa ht"
    ),
    "extended": "montant ligne, total ligne, prix total",
    "net": "ht, hors taxe, net, hors taxes, h t",
    "gross": "ttc, brut, t t c, toutes taxes comprises",
    "tax": "tva, taxe, taux tva, taxes",
    "discount": "remise, rabais, rem, ristourne, marge",
    "payment": (
        "paiement, règlement, payé, mode de paiement, solde, acompte, échéance, assurance, encaissement, réglé, réglé "
        "le, encaissé le, payé le, moyen de paiement, date règlement, reste dû"
    ),
    "rate": "taux horaire, taux, taux mo",
    "labor": "main d oeuvre, mo, main d'oeuvre, m o, mdo, main oeuvre",
    "part": (
        "pièce, pièces, pce, pces, pièce détachée, pièces détachées, rechange, pièce de rechange, pc, piece rechange"
    ),
    "hours": (
        "heures, temps, tps, hrs, h, nb heures, heures facturées, temps passé, temps facturé, temps barème, nombre d "
        "heures, hres, heures mo, durée, combien de temps, temps main d oeuvre, heures passées, temps alloué, temps "
        "de travail, tps h, temps h, temps vendu, heures vendues, temps mo, durée h"
    ),
    "actual": "réel, pointé, pointées, pointage",
    "quantity": (
        "quantité, qté, qte, nombre, nb, nbre, qtt, quant, combien, quantité posée, nbre pièces, qté posée, qté "
        "utilisée, quantité utilisée, nb pièces, nb unités"
    ),
    "kind": (
        "type, genre, nature, catégorie, type ligne, cat, nature ligne, sorte, categ, sorte de ligne, type de ligne, "
        "genre ligne, mo ou pièce, catégorie de ligne, type poste, mo pièce, m p, famille de ligne, t, type lig, "
        "poste type, nature de ligne, rubrique"
    ),
    "record": "enregistrement, type enregistrement, type d enregistrement, enr, typ enr",
    "component": (
        "organe, composant, code organe, élément, pièce concernée, pièce en cause, organe concerné, sous ensemble, "
        "cpsnt, pièce défectueuse, organe défaillant, élément défectueux"
    ),
    "system": "système, fonction, circuit",
    "position": (
        "position, emplacement, côté, cote, place, numéro de cylindre, n cylindre, localisation, pos, essieu, roue, "
        "empl, où, endroit, lieu sur véhicule, où posé, lieu de pose, côté posé, av ar, g d, roue n, av ar g d, place "
        "sur véhicule, où sur véhicule, gauche droite, quel côté, quelle roue"
    ),
    "action": (
        "action, acte, type intervention, type de travail, nature travaux, nature intervention, opération effectuée, "
        "geste, type d intervention, nature de l intervention, nature des travaux, nature de l'opération, nature "
        "opération, type opération, type d'opération, travail type, verbe, opé"
    ),
    "reason": (
        "motif, raison, motif remplacement, motif de remplacement, cause remplacement, pourquoi, code motif, motif "
        "dépose, raison du remplacement, pourquoi changé, raison du changement, motif de l intervention, motif du "
        "changement, motif d intervention, raison de l intervention, remplacé car, motif dépose pièce, motif "
        "opération, justification"
    ),
    "cause": (
        "cause, diagnostic, constat, constatation, constaté, diag, origine panne, cause panne, cause de la panne, "
        "trouvé, origine de la panne, origine, ce qui a été trouvé, trouvé par, panne constatée, défaut constaté, "
        "expertise, raison de la panne, constat mécano, constat atelier, constat mécanicien, ce qu'on a trouvé, cause "
        "trouvée, cause réelle, cause constatée, défaut trouvé, panne trouvée, expertise atelier, diagnostic atelier, "
        "trouvaille"
    ),
    "correction": (
        "correction, réparation effectuée, travaux effectués, travail effectué, solution, remède, intervention "
        "effectuée, travaux réalisés, compte rendu, réparation réalisée, action corrective, réalisé, effectué, "
        "travail réalisé, mesure prise, ce qui a été fait, fait, travail fait, remise en état, réparations "
        "effectuées, opérations réalisées, remède apporté, ce qu'on a fait, remise en état faite, réparation faite, "
        "travaux faits, exécuté, travail exécuté, travaux exécutés, intervention faite, fait par atelier, description "
        "travaux, texte réparation, rapport mécanicien, action menée, remédié, opérations effectuées, détail "
        "intervention"
    ),
    "concern": (
        "plainte, réclamation, symptôme, symptômes, demande, demande client, panne, défaut signalé, panne signalée, "
        "défaut, motif visite, motif de la visite, motif entrée, doléance, dire du client, problème, signalé, plainte "
        "client, demande du client, remarque client, anomalie, motif de visite, motif d entrée, dires client, "
        "signalement, ce que dit le client, le client dit, motif client, demande du conducteur, dysfonctionnement "
        "signalé, défaillance signalée, plaintes, doléances client, raison de la visite, travaux demandés, motif, "
        "motif du passage, objet de la visite, objet visite, ce que signale le client, client signale, le client "
        "signale, plainte conducteur, plainte du conducteur, demande de travaux, dire client, problème client, défaut "
        "client, constaté par le client, symptôme client, observations client, anomalie signalée, le conducteur dit, "
        "motif de passage, pourquoi venu, griefs"
    ),
    "description": (
        "description, intervention, prestation, désignation, libellé, lib, desc, désign, texte, intitulé, descriptif, "
        "détail, libelle ligne, libel, quoi, objet, pièce ou travail, libellé article, description ligne, désignation "
        "pièce, pièce ou main d oeuvre, pièce ou mo, libellé intervention, libellé ligne, nom de la pièce, nom pièce, "
        "libellé pièce, désignation ligne, intitulé ligne, pièce travail, travail ou pièce, désignation article"
    ),
    "note": "note, notes, commentaire, commentaires, remarque, remarques, observation, observations, obs, comm, rmq",
    "supplier": (
        "fournisseur, fourn, four, frs, distributeur, sous traitant, fourniss, provenance fournisseur, acheté chez, "
        "acheté à, vendeur pièces, provenance, distributeur pièces, magasin fournisseur, grossiste"
    ),
    "origin": (
        "origine, état pièce, qualité, provenance, type de pièce, type pièce, neuf occasion, neuf ou occasion, nature "
        "pièce, qualité pièce, état de la pièce, neuf ou usagé, neuf ou échange, provenance pièce, état, genre de "
        "pièce, qualité de la pièce, neuf éch std, neuf échange, neuf, état pce, neuf reconditionné, neuf occas, "
        "qualité pce"
    ),
    "technician": (
        "mécanicien, technicien, méca, mécano, ouvrier, tech, compagnon, intervenant, opérateur, effectué par, "
        "réalisé par, matricule, code mécanicien, salarié, mec, qui, fait par, exécuté par, mécanicien n, monteur, "
        "méca n, ouvrier n, n ouvrier, code ouvrier, qui a fait, posé par, exécutant"
    ),
    "person": (
        "conseiller, réceptionnaire, vendeur, chauffeur, conducteur, responsable, contact, utilisateur, saisi par, "
        "créé par, chef d atelier, secrétaire, ouvert par, conseiller service, réceptionné par, amené par, repris "
        "par, accueil, secrétariat, agent, signalé par, reçu par, comptoir"
    ),
    "name": "nom, prénom, raison sociale, société, nom client, entreprise",
    "phone": "téléphone, tél, portable, mobile, fax, tel portable, gsm",
    "email": "courriel, email, mail, e mail, mél",
    "address": "adresse, rue, ville, code postal, cp, pays, voie, adr, commune",
    "plate": (
        "immatriculation, immat, plaque, immatr, plaque d immatriculation, numéro d immatriculation, imma, no immat"
    ),
    "birth": "date de naissance, naissance, né le, civilité, sexe, langue, permis",
    "warranty": "garantie, gar, garanties, garanti",
    "dtc": (
        "code défaut, codes défaut, code panne, code erreur, défaut mémorisé, code anomalie, codes défauts, code d "
        "erreur"
    ),
    "stage": (
        "moment, étape, phase, avant après, lu à, relevé à, stade, moment lecture, avant ou après, avant après "
        "réparation, moment du relevé"
    ),
    "check": (
        "contrôle, vérification, essai, essai routier, test, point de contrôle, contrôle final, point contrôlé, "
        "vérif, type de contrôle, point vérifié, essai réalisé, vérifié, contrôle effectué"
    ),
    "measure": "mesure, grandeur, paramètre, type de mesure, mesuré, grandeur mesurée",
    "value": "valeur, relevé valeur, val, valeur mesurée, lecture, mesuré, valeur lue, relevé mesure",
    "result": "résultat, rés, result",
    "pass": "conforme, réussi, bon, ok, validé, concluant",
    "pull": "essai numéro, répétition, passage numéro, n essai, répét, série, n mesure, mesure n, numéro d essai",
    "cylinder": "cylindre, cylindres, cyl, nombre de cylindres, nb cylindres, nb cyl",
    "exhaust": "échappement, éch, échap",
    "intake": "admission, adm",
    "valve": "soupape, soupapes, soup",
    "displacement": "cylindrée, litres, cm3",
    "fuel": "carburant, énergie, puissance, cv, kw, énerg, ch",
    "tool": (
        "stock, poids, photo, signature, priorité, échéance contrôle, contrôle technique, prochain entretien, "
        "modifié, imprimé, prochaine visite, dernière visite, compte comptable, code opération, rayon, casier, date "
        "modification, code mo, pont, promis, date promise, promise, promis le, promise le, restitution prévue, "
        "livraison prévue, centre de coût, baie, pont n, poste de travail, place atelier, emplacement magasin, "
        "emplacement stock, n clé, clé n, prêt véhicule, véhicule de prêt, contrôle technique le, prochaine échéance, "
        "nb lignes, nombre de lignes, niveau carburant, promis pour, date promesse, relance"
    ),
    "part_number": (
        "réf pièce, ref pce, référence pièce, n pièce, référence constructeur, réf oe, réf constructeur, réf article, "
        "code pièce, référence article, n article, numéro pièce, numéro de pièce, réf, réf fabricant, réf "
        "fournisseur, réf catalogue, code article"
    ),
}
"""Several words by one comma are one phrase. A word may stand under several notions; the whole header decides."""
