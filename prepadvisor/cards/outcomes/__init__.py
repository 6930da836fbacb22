"""What became of finished work: gathered from job files, and set as text."""
