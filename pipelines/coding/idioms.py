"""Ways of writing that several signs or words make up: "R&R", "75,000 mi", "bank 1 sensor 2", "crank shaft".

Common practice, no source. Put in place in this order, before a text is cut into words.
"""

from __future__ import annotations

import re

IDIOMS: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern), put)
    for pattern, put in (
        (r"\br\s*(?:&|\+|and|n|')\s*r(?:'?d|'?ed|s)?\b", " rnr "),
        (r"\br\s*(?:&|\+|and)\s*i(?:'?d|'?ed)?\b", " rni "),
        (r"\br\.\s?(?:&|and)?\s?r\.", " rnr "),
        (r"\ba\s?\.\s?c\.|\ba\s*&\s*c\b|\bair[- ]con(?:d|ditioning|ditioner|dition)?\b|\ba/c\b|\bac\b", " ac "),
        (r"\bt\s*-?\s*stat\b", " thermostat "),
        (r"\bo\s?-?\s?r(?:in)?gs?\b", " oring "),
        (r"\bu\s?-\s?joints?\b", " u joint "),
        (r"\bb(?:an)?k?\s*#?\s*([12])[\s,./-]*s(?:en(?:sor)?|nsr)?\s*#?\s*([12])\b", r" b\1s\2 "),
        (r"\bs(?:en(?:sor)?)?\s*#?([12])[\s,./-]*b(?:an)?k?\s*#?([12])\b", r" b\2s\1 "),
        (r"\bsw(?:ay)?[ -]?bars?\b|\banti[ -]?(?:roll|sway)[ -]?bars?\b|\bstab(?:ili[sz]er)?[ -]bars?\b", " sway bar "),
        (
            r"\bbreak(?:s|e)?\b(?= (?:pad|rotor|flush|fluid|caliper|line|hose|shoe|job|service|clean|system|pedal|drum"
            r"|booster|light|master))",
            "brake",
        ),
        (r"\b(front|rear|frt|rr)\s+breaks?\b", r"\1 brake"),
        (r"\bu/?s(?=\s+(?:o2|oxy|ho2s|sens|snsr|cat\b))", "upstream"),
        (r"\bd/?s(?=\s+(?:o2|oxy|ho2s|sens|snsr|cat\b))", "downstream"),
        (r"\bdown[ -]str(?:ea)?m?\b", "downstream"),
        (r"\bup[ -]str(?:ea)?m\b", "upstream"),
        (r"\b(crank|cam|drive|prop) shafts?\b", r"\1shaft"),
        (r"\bbal(?=\s+j(?:oi?nt|n?t)s?\b)", "ball"),
        (r"\b(clnt|coolant|ovrflw|overflow|washer|steering) res\b", r"\1 reservoir"),
        (r"\bblw(?=\s+m(?:tr|otor)\b|\s+res)", "blower"),
        (r"\bd(?:oo)?r\s+lk\b", "door lock"),
        (r"\bdr(?=\s+(?:lock|ltch|latch|act|hndl|handle|win|wndw|window|hinge|panel|aja?r|mirror|window)\b)", "door"),
        (r"(?<=psi)\s+comp?\b|\bcomp(?=\s+(?:test|tst|low|#)\b)", " compression"),
        (r"\btrans mission\b", "transmission"),
        (r"\bre-?us(?:ed?|ing)\b", "reuse"),
        (r"\bch(?:ar)?ge?d?\s+(?=(?:the\s+)?b(?:att?|t)e?r?y?i?)", "recharge "),
        (r"\bcrk(?=\s+(?:pos|sens|snsr|seal|pulley|ply|shaft|brg))", "crank"),
        (r"\bcrk\b", "crack"),
        (r"(?<!\d)(?<!\d\s)\bft(?=\s)", "front"),
        (r"\btr(?=\s+ends?\b)|(?<=\binr )tr\b|(?<=\botr )tr\b|(?<=\binner )tr\b|(?<=\bouter )tr\b", "tie rod"),
        (
            r"\blose\b(?!\s+(?:pressure|prime|coolant|water|power|oil|fluid|comm|signal|charge|air|track|gas|brake))",
            "loose",
        ),
        (r"\bbolt-on\b", " "),
        (r"\bb(?:an)?k\s*#?\s*(1|2|one|two|too|won)\b", r" bank \1 "),
        (r"\bnumber (one|two|1|2) bank?\b", r" bank \1 "),
        (r"\bcool(?=\s+fl)", "coolant"),
        (r"\b\d+(?:\.\d)?\s*(?:qts?|quarts?|l|ltrs?|liters?|litres?)\.?\s*(?:of\s*)?\d+w-?\d+\b", " engine oil "),
        (r"\be\.g\.", " "),
        (r"\bw/(?=\s|(?:new|oem|the|a|re)[a-z]*\b)", " with "),
        (r"\b(?:no|nr|num)\.?\s*(?=\d)|\bnumber\s+(?=\d)", "#"),
        (
            r"\b\d{1,3}(?:,\d{3})+\s*(?:mi|mls|miles?|kms?|k)?\b|\b\d{2,3}\s?k(?:\s?(?:mi|miles?|kms?))?\b"
            r"|\b\d{4,6}\s*(?:mi|miles?|kms?)\b",
            " <miles> ",
        ),
        (r"\b\d{1,2}/32(?:nds?|ds)?\b\"?|\b\d+(?:\.\d+)?\s*(?:mm|mil)\b", " <length> "),
        (
            r"\b(?:\d{2,}|\d+\.\d+)\s*a\b|\b\d+(?:\.\d+)?\s*(?:v|volts?|amps?|psi|kpa|ohms?|inhg|cca|deg|degrees?|f)\b",
            " <reading> ",
        ),
        (r"\b\d+(?:\.\d+)?\s*(?:%|percent\b|pct\b)", " <percent> "),
        (r"\b(?:qty|quantity)[.:]?\s*(\d{1,2})\b", r" x\1 "),
        (r"\((\d{1,2})\)|\b(\d{1,2})\s?x\b(?!\s*\d)|\bx\s?(\d{1,2})\b", r" x\1\2\3 "),
    )
)
"""What is looked for in small letters, and what is put in its place."""
