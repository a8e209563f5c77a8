"""Words of a line that tell nothing of why something was done."""

from __future__ import annotations

from longmile.pipelines.coding.word_table import word_set

SMALL_TALK = word_set(
    """
a adapt align alignment all also an and another are as at away back balanced bank be been being bill both but by can
carried carry charge complete completed cost customer day did display do done down drive driven due during each
equal for free fresh full good got had has have he her hey him his hour i in include includes including is it job
knew labor left lower may month must n new no now oem of off ok okay old one only original other our out outer part
parts per perform performed place please plus premium pressed program quality registered right road same sent she
shop side simple so supplied supply system take test tested thank thanks that the their then there they this time to
today together truck unit up upper use used vehicle w was we week were when where which while whilst will with work
would yes you
"""
)
"""Passed over when words that were not understood are counted."""
