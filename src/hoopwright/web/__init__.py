"""The same tool in the browser: thin doors to the rooms below, and the pages they open.

`application(settings)` gives the server's application; `serve` in the command line runs it.
Nothing is worked out here that the command line lacks.
"""
