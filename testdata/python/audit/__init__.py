"""A second auditor: judges plans by docs/meaning.md alone, and shares no code with primaprova.

Days are ordinals (datetime.date.toordinal), minutes are whole numbers, times are minutes from
midnight on the wall clock of the season's time zone. Section numbers are those of the page.
"""
