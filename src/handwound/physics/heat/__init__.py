"""How heat is made, kept and given off: films of air, radiation, conduction, windings, and networks of all these."""
