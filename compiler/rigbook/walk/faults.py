"""Every single fault of a rig that the walk test is asked to find."""

from __future__ import annotations

from rigbook.graph.rig import Rig
from rigbook.walk.cable_faults import cable_faults
from rigbook.walk.desk_faults import desk_faults
from rigbook.walk.fault import Bench, Fault
from rigbook.walk.hum_faults import hum_faults
from rigbook.walk.input_faults import input_faults
from rigbook.walk.insert_faults import bypassed, insert_faults
from rigbook.walk.send_faults import send_faults
from rigbook.walk.unit_faults import unit_faults
from rigbook.walk.wires import Wires

KINDS = (cable_faults, desk_faults, unit_faults, input_faults, hum_faults, send_faults, insert_faults)


def faults(rig: Rig, wires: Wires) -> tuple[Fault, ...]:
    """Each fault once, by its key."""
    bench = Bench(rig, wires)
    return tuple({f.key: f for f in bypassed(bench, (f for kind in KINDS for f in kind(bench)))}.values())
