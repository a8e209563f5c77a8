"""Codes of one to four letters for kinds, actions, origins and states, by language; too short to be read anywhere else.

Initials of the words most often used (common practice, no source). A letter that could be two is left out.
"""

from __future__ import annotations

from collections.abc import Mapping

_ENGLISH = {
    "kind": (
        "labor=l w h lb la lbr lab svc hr, part=p m pt pr prt pts mt mat, sublet=s x os sb su slt ol sub, "
        "fee=f fe ms msc sh hz fr ch mc"
    ),
    "action": (
        "replaced=r x rr rp rpl rn rx xch inst, repaired=f fx rpr rep mn, inspected=i in is ck chk insp lk dg "
        "ts, adjusted=a aj ad adj st set, cleaned=c cl cn cln fl, declined=d dc dn dec"
    ),
    "origin": "new=n o nw oe am oem, remanufactured=r x rm rmn ex xch, rebuilt=b rb rbt rc, used=u us usd sh",
    "status": "open=o a op opn wip, closed=c f i cl cls inv cmp, void=v x vd vo can cxl",
    "stage": "arrival=a b i, after_repair=r o p",
    "reason": (
        "failed=f fl fld brk fail ng, worn=w wr wrn wn, found_at_inspection=i fnd insp ins fi mpi, "
        "preventive=p pm prv mnt sch, access=a acc, recall=r rcl rec cam, customer_request=c cr req cst crq, "
        "unknown=unk na"
    ),
}
LETTERS: Mapping[str, Mapping[str, str]] = {
    "en": _ENGLISH,
    "de": {
        "kind": (
            "labor=a l aw lo ar al azl, part=t e m et tl ma mt te at, sublet=f fl fr fd, fee=g s pa gb ge so km pau"
        ),
        "action": (
            "replaced=e t w er ern ers neu et tau, repaired=r i rep rp inst, inspected=p k pr prf kon ktr, "
            "adjusted=j n ein einst jus, cleaned=s rei, declined=a abg abl"
        ),
        "origin": "new=n o nt ne, remanufactured=a at aus, used=g ge geb, rebuilt=u ub",
        "status": "open=o, closed=g f e a, void=s",
        "stage": "arrival=v e, after_repair=n a",
        "reason": (
            "failed=d def dk aus, worn=v ver vs, found_at_inspection=p b bef ins prf, preventive=w wa vor wtg, "
            "access=z, recall=r rr, customer_request=k kw kd"
        ),
    },
    "fr": {
        "kind": "labor=m mo mdo, part=p pc pce pr pie fo, sublet=s st sst, fee=f d fr fd fra dv",
        "action": (
            "replaced=r e rem rmp ech chg, repaired=p rep, inspected=c v ctr ver con, adjusted=g a reg rgl, "
            "cleaned=n net, declined=ref"
        ),
        "origin": "new=n, remanufactured=e, used=o u, rebuilt=r",
        "status": "open=o e, closed=c f t, void=a",
        "stage": "arrival=e, after_repair=s",
        "reason": "failed=d p, worn=u, found_at_inspection=c, preventive=e, access=a, recall=r",
    },
    "es": {
        "kind": (
            "labor=m mo mdo, part=r p re rep rec rc pz pza rpt ref, sublet=s t e te ext ste tx, fee=g c ca gas sup var"
        ),
        "action": (
            "replaced=s c cam sus, repaired=r rep, inspected=i v rev ins com, adjusted=a aju, cleaned=l lim, "
            "declined=rec"
        ),
        "origin": "new=n o, remanufactured=r, used=u",
        "status": "open=a, closed=c f, void=n x",
        "stage": "arrival=e a, after_repair=s d",
        "reason": "failed=f a, worn=d, found_at_inspection=i, preventive=p m, customer_request=c",
    },
    "it": {
        "kind": "labor=m l mo mdo man, part=r p ri ric pz, sublet=e t le est te, fee=s sp spe va",
        "action": (
            "replaced=s sos, repaired=r rip, inspected=c v con ver, adjusted=g reg, cleaned=p pul, declined=rif"
        ),
        "origin": "new=n o, remanufactured=r, used=u",
        "status": "open=a, closed=c f, void=n",
        "stage": "arrival=i p, after_repair=u d",
        "reason": "failed=g r, worn=u, found_at_inspection=c i, preventive=p",
    },
    "nl": {
        "kind": "labor=a ar arb ln, part=o m od ond mt mat, sublet=u e d ub uit dd, fee=k ts tsl ko mil",
        "action": (
            "replaced=v ver vrv, repaired=r h rep her, inspected=c con ctr, adjusted=a afs, cleaned=s rei, declined=gew"
        ),
        "origin": "new=n o, remanufactured=r, used=g",
        "status": "open=o, closed=g a, void=v",
        "stage": "arrival=v b, after_repair=n u",
        "reason": "failed=d s, worn=v, found_at_inspection=c k, preventive=p o",
    },
    "pt": {
        "kind": "labor=m mo mdo sv, part=p pc pec mt, sublet=t s e te ter ext, fee=x d tx div",
        "action": (
            "replaced=s t sub tro, repaired=r rep, inspected=i v ver ins, adjusted=a afi aju, cleaned=l lim, "
            "declined=rec"
        ),
        "origin": "new=n o, remanufactured=r, used=u",
        "status": "open=a, closed=f c e, void=x n",
        "stage": "arrival=e a, after_repair=s d",
        "reason": "failed=f a, worn=d g, found_at_inspection=i, preventive=p",
    },
    "sv": {
        "kind": "labor=a ar arb, part=d r rd res del mt, sublet=l u le lego ext ut, fee=v av avg",
        "action": (
            "replaced=b by byt, repaired=r l rep lag, inspected=k kon ktr, adjusted=j jus, cleaned=ren, declined=avb"
        ),
        "origin": "new=n o, remanufactured=u, used=b",
        "status": "open=o p, closed=s k a, void=m",
        "stage": "arrival=f, after_repair=e",
        "reason": "failed=f t, worn=s, found_at_inspection=k b, preventive=u",
    },
    "pl": {
        "kind": "labor=r rb rob rbh, part=c cz tow mat, sublet=o u uo obc zew, fee=i op opl in",
        "action": (
            "replaced=w wym, repaired=n nap, inspected=s k spr kon, adjusted=r reg, cleaned=c czy, declined=odm"
        ),
        "origin": "new=n o, remanufactured=r, used=u",
        "status": "open=o, closed=z, void=a",
        "stage": "arrival=p",
        "reason": "failed=u a, worn=z, found_at_inspection=k, preventive=p",
    },
}
"""language -> list -> "ours=their letters", by comma."""
