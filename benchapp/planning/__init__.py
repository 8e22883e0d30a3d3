"""A day as activities: scheduled, replayed for its chances, asked and told; the time to finish.

Pure: a recipe, a room and what past days teach come in. Views, reports and the edges may come in.
"""
