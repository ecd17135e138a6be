"""Cutting: boards, sheets, rolls, lengths and packs."""
