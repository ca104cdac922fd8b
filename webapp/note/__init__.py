"""The signed note on paper: a pure function from a case to PDF bytes."""
