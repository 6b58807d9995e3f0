"""How often the diagnosis is right, how sure it may be, and how fast it is: every figure of the documents.

`python -m benchmarks` runs them all and writes the documents; `python -m benchmarks --help` names each.
"""
