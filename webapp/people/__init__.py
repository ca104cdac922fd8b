"""People and tablets: who may do what, and from where."""
