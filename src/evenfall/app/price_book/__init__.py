"""The price book: rates as YAML and as a workbook, and a supplier's list taken into them."""
