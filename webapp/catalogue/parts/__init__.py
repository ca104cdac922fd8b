"""The parts of the record, one module each (long ones have a second beside them)."""
