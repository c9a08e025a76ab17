"""Replaying a construction from geometry alone. Shares no code with the planner beyond `geometry`."""

from seamproof.referee.replay import Replay, replay

__all__ = ["Replay", "replay"]
