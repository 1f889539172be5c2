"""Readings of battery, cables and alternator; waveforms; what each says."""
