"""Where things are, in metres, with named places looked up; and where boxes point."""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

from rigbook.language.record import Record
from rigbook.language.values.positions import Position, Turn
from rigbook.physics.aim import aim_at
from rigbook.plan.model import Channel, Plan, Unit


class Spot(NamedTuple):
    """A point in metres: x to house right, y out towards the audience, z up from the floor of the audience."""

    x: float
    y: float
    z: float


class Aim(NamedTuple):
    """Where a box points in degrees: 0 out, + to house right; tilt + up. `said` is False where the plan is silent."""

    turn: float
    tilt: float
    roll: float
    said: bool


class Places:
    """Points and aims of a plan; None for what stands nowhere."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan

    def unit(self, name: str) -> Spot | None:
        """Where a unit stands."""
        unit = self._plan.units.get(name)
        return self.spot(unit.position) if unit else None

    def channel(self, channel: Channel) -> Spot | None:
        """Where the source of a channel stands."""
        return self.spot(channel.record.get("at"))

    def spot(self, position: object, depth: int = 4) -> Spot | None:
        """The point of a position as read; a named place is looked up among places, then units."""
        if not isinstance(position, Position):
            return None
        if not position.place:
            return Spot(position.x, position.y, position.z)
        if depth == 0:
            return None
        named = self._plan.places.get(position.place)
        unit = self._plan.units.get(position.place)
        return self.spot(named if named is not None else (unit.position if unit else None), depth - 1)

    def aim(self, unit: Unit) -> Aim:
        """Where a box points: as typed; `at NAME` by geometry, its tilt too where none is typed."""
        turn, tilt = unit.aim, unit.record.get("tilt")
        roll = 90.0 if unit.record.get("turned") else 0.0
        up = tilt.degrees if isinstance(tilt, Turn) else None
        if turn is not None and turn.target:
            here, there = self.spot(unit.position), self._target(turn.target)
            if here and there and here != there:
                across, upward = aim_at(here, there)
                return Aim(across, upward if up is None else up, roll, True)
        return Aim(turn.degrees if turn else 0.0, up or 0.0, roll, turn is not None and not turn.target)

    def _target(self, name: str) -> Spot | None:
        found = self.spot(Position(0, 0, 0, name, name))
        if found:
            return found
        named = (c for c in self._plan.channels if "-".join(c.name.lower().split()) == name)
        return next((spot for c in named if (spot := self.channel(c))), None)

    @cached_property
    def room(self) -> Record | None:
        """The room as read."""
        got = self._plan.sections.get("room")
        return got if isinstance(got, Record) else None

    @cached_property
    def mix(self) -> Spot | None:
        """The ears at the mix position; 1.7 m up where no height is typed (someone stands there)."""
        spot = self.spot(self.room.get("mix-position")) if self.room else None
        return Spot(spot.x, spot.y, spot.z or 1.7) if spot else None

    @cached_property
    def temperature_c(self) -> float:
        """Air temperature, °C; 20 where the plan is silent."""
        got = self.room.get("temperature") if self.room else None
        return float(got.value) if got else 20.0

    @cached_property
    def humidity_pct(self) -> float:
        """Relative humidity, %; 50 where the plan is silent."""
        got = self.room.get("humidity") if self.room else None
        return float(got.value) * 100 if got else 50.0
