"""All that is computed about a rig, each subject when it is first asked for."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from rigbook.compute.boxes import Boxes
from rigbook.compute.limits import Limits
from rigbook.graph.rig import Rig

if TYPE_CHECKING:
    from rigbook.compute.aims import BoxAim
    from rigbook.compute.cables import Run
    from rigbook.compute.crossovers import Crossover
    from rigbook.compute.delays import Delay, SubAlignment
    from rigbook.compute.exposure import Exposure
    from rigbook.compute.levels import Levels
    from rigbook.compute.loads import AmpChannel
    from rigbook.compute.mains import Mains
    from rigbook.compute.places import Places
    from rigbook.compute.racks import RackFigures, Stood
    from rigbook.compute.radio import Radio
    from rigbook.compute.room import BoxInRoom, Loop
    from rigbook.compute.structure import Chain, Preamp


def results(rig: Rig) -> Results:
    """The results of a rig: the same object each time, so that no check computes what another has computed."""
    # kept with the rig, like its own cached properties, so that both go together
    got = rig.__dict__.get("_results")
    if not isinstance(got, Results):
        got = rig.__dict__["_results"] = Results(rig)
    return got


class Results:
    """Figures of a rig, subject by subject."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.plan = rig.plan

    @cached_property
    def limits(self) -> Limits:
        """Limits of the plan's checks."""
        return Limits(self.plan)

    @cached_property
    def boxes(self) -> Boxes:
        """What each speaker is for."""
        return Boxes(self.rig)

    @cached_property
    def places(self) -> Places:
        """Where things are."""
        from rigbook.compute.places import Places

        return Places(self.plan)

    @cached_property
    def amp_channels(self) -> tuple[AmpChannel, ...]:
        """Amplifier channels with their loads."""
        from rigbook.compute.loads import amp_channels

        return amp_channels(self.rig)

    @cached_property
    def cable_runs(self) -> tuple[Run, ...]:
        """Speaker cables from amplifier output to box."""
        from rigbook.compute.cables import runs

        return runs(self.rig, self.amp_channels, self.limits)

    @cached_property
    def chains(self) -> tuple[Chain, ...]:
        """Gain structure from bus leg to box."""
        from rigbook.compute.structure import chains

        return chains(self.rig, self.boxes, self.amp_channels, self.limits)

    @cached_property
    def preamps(self) -> tuple[Preamp, ...]:
        """Levels at the inputs."""
        from rigbook.compute.structure import preamps

        return preamps(self.rig, self.limits)

    @cached_property
    def crossovers(self) -> tuple[Crossover, ...]:
        """Where mains and subs meet."""
        from rigbook.compute.crossovers import crossovers

        return crossovers(self.boxes, self.places)

    @cached_property
    def delays(self) -> tuple[Delay, ...]:
        """Delays of fills and delay boxes."""
        from rigbook.compute.delays import delays

        return delays(self.boxes, self.places, self.limits)

    @cached_property
    def sub_alignments(self) -> tuple[SubAlignment, ...]:
        """Subs against mains in time."""
        from rigbook.compute.delays import sub_alignments

        return sub_alignments(self.boxes, self.places)

    @cached_property
    def levels(self) -> Levels:
        """Direct sound over the audience."""
        from rigbook.compute.levels import Levels

        return Levels(self.plan, self.boxes, self.places, self.amp_channels, self.cable_runs)

    @cached_property
    def aims(self) -> tuple[BoxAim, ...]:
        """Where boxes should point."""
        from rigbook.compute.aims import aims

        return aims(self.levels)

    @cached_property
    def boxes_in_room(self) -> tuple[BoxInRoom, ...]:
        """Boxes against the reverberation of the room."""
        from rigbook.compute.room import boxes_in_room

        return boxes_in_room(self.levels, self.places)

    @cached_property
    def loops(self) -> tuple[Loop, ...]:
        """Gain before feedback."""
        from rigbook.compute.room import loops

        return loops(self.rig, self.boxes, self.levels, self.places, self.limits)

    @cached_property
    def exposures(self) -> tuple[Exposure, ...]:
        """What people get."""
        from rigbook.compute.exposure import exposures

        return exposures(self.plan, self.levels)

    @cached_property
    def mains(self) -> Mains:
        """Mains power."""
        from rigbook.compute.mains import Mains

        return Mains(self.plan, self.limits)

    @cached_property
    def racks(self) -> tuple[RackFigures, ...]:
        """Racks and weights."""
        from rigbook.compute.racks import rack_figures

        return rack_figures(self.plan, self.mains)

    @cached_property
    def stood(self) -> tuple[Stood, ...]:
        """What stands on stands."""
        from rigbook.compute.racks import stood

        return stood(self.plan)

    @cached_property
    def radio(self) -> Radio:
        """Radio frequencies."""
        from rigbook.compute.radio import Radio

        return Radio(self.plan)
