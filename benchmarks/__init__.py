"""How often the diagnosis is right, how sure it may be, and how fast it is: every figure of the documents.

`python -m benchmarks` takes speed, then accuracy on 2,000 made armatures, then writes the documents; `speed`,
`accuracy` and `pages` after it do one of the three.
"""
