from __future__ import annotations

import pytest

from longmile.pipelines.coding.mentions import read_line


# "Replaced" and the words: the position read. Common practice, no source.
@pytest.mark.parametrize(
    ("words", "position"),
    [
        ("LF and RF wheel bearings", "lf,rf"),
        ("wheel bearing, left front", "lf"),
        ("N/S/F wheel bearing", "lf"),
        ("all four struts", "all"),
        ("front struts", "lf,rf"),
        ("front strut", ""),
        ("both rear shocks", "lr,rr"),
        ("right side lower ball joint", "rf"),
        ("RR pads", "rear"),
        ("front and rear brake pads", "front,rear"),
        ("coil cyl #3", "3"),
        ("injectors 1, 3 and 5", "1,3,5"),
        ("spark plug in number two cylinder", "2"),
        ("exhaust valve 3a", "3a"),
        ("valve spring cyl 4 intake", "in4"),
        ("all spark plugs", "all"),
        ("valve cover gasket bank 2", "bank_2"),
        ("valve cover gaskets both banks", "bank_1,bank_2"),
        ("valve cover gasket on the left bank", ""),
        ("right engine mount", "right"),
        ("left rear door lock actuator", "lr"),
        ("water pump left", ""),
    ],
)
def test_position_is_read_by_the_scheme_of_the_component(words: str, position: str):
    (mention,) = read_line("labor", {"correction": f"Replaced {words}"}).mentions
    assert mention.position == position


def test_each_of_two_parts_has_its_own_position():
    mentions = read_line("labor", {"correction": "Replaced LF caliper and RR wheel bearing"}).mentions
    assert {m.component_code: m.position for m in mentions} == {"brake_caliper": "lf", "wheel_bearing": "rr"}


def test_a_trouble_code_tells_the_cylinder_where_nothing_else_does():
    told = read_line("labor", {"correction": "P0303, replaced ignition coil"}).mentions[0].position
    other = read_line("labor", {"correction": "P0303, replaced ignition coil cyl 2"}).mentions[0].position
    assert (told, other) == ("3", "2")
