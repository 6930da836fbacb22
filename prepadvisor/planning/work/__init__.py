"""All the work of a job, planned once: tasks, their order, stages, minutes, film and the booth."""

from prepadvisor.planning.work.plan import plan_work

__all__ = ["plan_work"]
