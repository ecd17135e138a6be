"""What to buy and what comes off: boards, sheet, rolls, lengths, items, strip."""
