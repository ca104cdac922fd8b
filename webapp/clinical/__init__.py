"""What the record computes: pure functions, exact numbers, no clock, no storage.

Each module here that a tablet needs too has a namesake in `static/js/clinical/`; both
give the same answers, held by `fixtures/vectors/`.
"""
