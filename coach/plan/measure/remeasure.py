"""Cord and size of a plan for given hands: the same ties, other lengths."""

from dataclasses import replace

from coach.plan.measure.tension import Hands
from coach.plan.plan_model import Plan


def remeasured(plan: Plan, hands: Hands) -> Plan:
    """Return the plan with the cord and size that these hands make of it."""
    return replace(plan, hands=hands)
