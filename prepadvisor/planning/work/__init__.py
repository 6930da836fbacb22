"""All the work of a job, planned once: tasks, their order, stages, minutes, film and the booth."""
