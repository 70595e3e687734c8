"""What leaves the workshop for other programs and for paper, and what comes in from a spreadsheet.

Knows the log and the engine; knows nothing of the network.
"""
