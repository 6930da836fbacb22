"""The tools of `prepadvisor standards`, one module a tool, and what they print."""
