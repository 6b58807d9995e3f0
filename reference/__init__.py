"""An armature solved the plain way, to judge the fast engine by; shares no code with it.

`armature` describes one armature, `dense` solves it by linear algebra, `spice` by a circuit
simulator, `meter` adds what a real meter adds, `makers` makes cases for scoring.
"""
