"""The language of rule files: reading them, what each word means, and layers laid over one another."""
