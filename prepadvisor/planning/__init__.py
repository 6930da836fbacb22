"""From a job and the house standards to advice: spots, grit range, places, grit steps, materials."""

from prepadvisor.planning.advise import advise

__all__ = ["advise"]
