"""Replaying a construction from geometry alone. Shares no code with the planner beyond `geometry`."""

from seamproof.referee.faces import check_template, read_face
from seamproof.referee.reasons import Reason
from seamproof.referee.replay import Replay, Seen, replay

__all__ = ["Reason", "Replay", "Seen", "check_template", "read_face", "replay"]
