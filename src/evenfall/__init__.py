"""Evenfall: a flat-roof refurbishment worked out from one job file. Start reading at flow.py."""
