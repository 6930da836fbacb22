"""The rule engine of the house standards: schema, conditions, layers, engine, audit, compare."""
