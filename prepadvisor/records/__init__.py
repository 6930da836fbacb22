"""What is talked about: frozen records without I/O."""
