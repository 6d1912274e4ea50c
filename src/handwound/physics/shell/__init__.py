"""Thin and thick shells of revolution: cones, domes, rolls, pleats, formers; their stiffness, notes and breakup."""
