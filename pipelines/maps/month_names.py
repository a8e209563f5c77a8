"""Names of the months in nine languages. A short name is whatever stands here: no name is guessed from its beginning.

From memory. Written in small letters without accents, as names are compared.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_NAMES = (
    # English; German; French; Spanish; Italian; Dutch; Portuguese; Swedish; Polish
    "jan january; januar janner jaenner; janv janvier; ene enero; gen gennaio; januari; janeiro; januari; sty stycznia",
    "feb february; februar feber; fev fevr fevrier; febrero; febbraio; februari; fevereiro; februari; lut lutego",
    "mar march; marz maerz mrz; mars; marzo; marzo; maart mrt; marco; mars; marca",
    "apr april; april; avr avril; abr abril; aprile; april; abril; april; kwi kwietnia",
    "may; mai; mai; mayo; mag maggio; mei; maio; maj; maja",
    "jun june; juni; juin; junio; giu giugno; juni; junho; juni; cze czerwca",
    "jul july; juli; juil juillet; julio; lug luglio; juli; julho; juli; lip lipca",
    "aug august; august; aou aout; ago agosto; agosto; augustus; agosto; augusti; sie sierpnia",
    "sep sept september; september; septembre; septiembre setiembre; set sett settembre; september; setembro; "
    "september; wrz wrzesnia",
    "oct october; okt oktober; octobre; octubre; ott ottobre; oktober; out outubro; oktober; paz pazdziernika",
    "nov november; november; novembre; noviembre; novembre; november; novembro; november; lis listopada",
    "dec december; dez dezember; decembre; dic diciembre; dic dicembre; december; dezembro; december; gru grudnia",
)

MONTH_NAMES: Mapping[str, int] = MappingProxyType(
    {name: number for number, names in enumerate(_NAMES, 1) for name in names.replace(";", "").split()}
)
"""Name -> number of the month."""
