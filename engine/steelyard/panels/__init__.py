"""Words, tables and fields for the page: pure functions from a sketch and its analysis to plain JSON data.

Nothing here computes statics and nothing here is ever given an answer that is kept back: the session
passes the analysis that may be shown. Text is data; the page decides how it looks.
"""
