"""What past sessions teach: times, ink, spoilage, screws; hints at the bench; better recipes.

Pure: folded sessions in. Planning, views, reports and the edges may come in.
"""
