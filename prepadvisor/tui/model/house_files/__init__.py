"""Files of a house that are edited as forms: the shop file, and the numbers of the line model."""
