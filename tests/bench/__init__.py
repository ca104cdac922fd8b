"""Benchmarks: started by hand, judged by ratios within one run, asserted by no test."""
