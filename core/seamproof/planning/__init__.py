"""Finding a construction. Never imports the referee, nor the other way round."""

from seamproof.planning.plan import plan
from seamproof.planning.pressing import order_for_pressing, plan_pressing

__all__ = ["order_for_pressing", "plan", "plan_pressing"]
