"""The templates as files for a laser, a knife cutter or a printed jig."""
